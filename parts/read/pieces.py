"""Pieces: what a drawing is made of before it is lines and arcs, in drawing units.

piece    a line, an arc, or a curve (`parts.read.curve_kinds`)
stroke   pieces drawn end to end as one entity, closed or open, on a layer
spot     a point on a layer: a centre to drill
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeAlias

from parts.geometry import Arc, Line, Point, distance
from parts.read.affine import Affine
from parts.read.curve_kinds import Bezier, EllipticArc
from parts.tolerance import SAME_POINT_MM

Curve: TypeAlias = EllipticArc | Bezier
Piece: TypeAlias = Line | Arc | Curve

WIDE, DONUT, TOO_TIGHT = "wide line", "donut", "wide line bent tightly"
"""Kinds of strokes around a line with a width; the last is its middle, where its sides can't be told."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """One entity's pieces, end to end; `linetype` and `colour`, as `#rrggbb`, as far as the entity itself says them."""

    pieces: tuple[Piece, ...]
    closed: bool
    layer: str
    kind: str = "line"
    linetype: str = ""
    colour: str = ""


@dataclass(frozen=True, slots=True)
class Spot:
    """A point to drill."""

    at: Point
    layer: str


@dataclass(frozen=True, slots=True)
class LeftOut:
    """An entity that isn't read: what it is, where it is, and whether metal may be missing for it."""

    kind: str
    layer: str
    at: Point
    matters: bool = True


def line(start: Point, end: Point) -> tuple[Piece, ...]:
    """Return a line, or nothing where it has no length at all."""
    return (Line(start, end),) if start != end else ()


def bulged(start: Point, end: Point, bulge: float) -> tuple[Piece, ...]:
    """Return an arc, or the line it is where it bows by nothing."""
    if distance(start, end) <= SAME_POINT_MM or abs(bulge) * distance(start, end) / 2 <= SAME_POINT_MM:
        return line(start, end)
    return (Arc(start, end, bulge),)


def circular(centre: Point, radius: float, start: float = 0.0, sweep: float = 2 * math.pi) -> EllipticArc:
    """Return a circle or an arc of one, left-turning where the sweep is positive; angles in radians."""
    return EllipticArc(centre, (radius, 0.0), (0.0, radius), start, sweep)


def placed(piece: Piece, to: Affine) -> tuple[Piece, ...]:
    """Return a piece where it is placed: an arc stays one wherever a circle does."""
    if isinstance(piece, Line):
        return line(to.point(piece.start), to.point(piece.end))
    if isinstance(piece, Bezier | EllipticArc):
        return (piece.moved(to),)
    if to.keeps_circles:
        bulge = piece.bulge if to.determinant > 0 else -piece.bulge
        return bulged(to.point(piece.start), to.point(piece.end), bulge)
    return (as_elliptic(piece).moved(to),)


def as_elliptic(arc: Arc) -> EllipticArc:
    """Return the arc by centre and directions, so that it can be stretched."""
    (cx, cy), (ax, ay) = arc.centre, arc.start
    u = ax - cx, ay - cy
    return EllipticArc(arc.centre, u, (-u[1], u[0]), 0.0, arc.sweep)


def anchors(piece: Piece) -> Iterator[Point]:
    """Yield points that tell about where a piece is."""
    if isinstance(piece, Bezier):
        yield from piece.points
    elif isinstance(piece, EllipticArc):
        yield from (piece.at(t) for t in range(piece.spans + 1))
    else:
        yield piece.start
        yield piece.at(0.5)
        yield piece.end
