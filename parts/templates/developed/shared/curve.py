"""A curve that a formula gives, as arcs that run on into each other, no point further off than `WITHIN_MM`."""

import math
from collections.abc import Callable
from typing import NamedTuple, TypeAlias

from parts.artwork import biarc
from parts.geometry import Arc, Line, Point, Vertex

WITHIN_MM = 0.005
"""How far arcs may be off the curve: below what any machine places."""
_LOOKED_AT = (0.2, 0.4, 0.6, 0.8)
_MOST_HALVINGS = 12


class Station(NamedTuple):
    """A point of a curve and its heading there, radians."""

    at: Point
    heading: float


Curve: TypeAlias = Callable[[float], Station]


def arcs_along(curve: Curve, start: float, end: float, halvings: int = _MOST_HALVINGS) -> list[Vertex]:
    """Return the vertices of the curve between two of its parameters, without the end's.

    Raises:
        GeometryError: if the curve folds back.
    """
    one, other = curve(start), curve(end)
    first, middle = biarc(one.at, one.heading, other.at, other.heading)
    if not halvings or _is_near(curve, start, end, (first, middle, (*other.at, 0.0))):
        return [first, middle]
    half = (start + end) / 2
    return [*arcs_along(curve, start, half, halvings - 1), *arcs_along(curve, half, end, halvings - 1)]


def _is_near(curve: Curve, start: float, end: float, vertices: tuple[Vertex, ...]) -> bool:
    (ax, ay, a), (bx, by, b), (cx, cy, _) = vertices
    pieces = [
        Arc(p, q, bulge) if abs(bulge) * math.dist(p, q) > 1e-9 else Line(p, q)
        for p, q, bulge in (((ax, ay), (bx, by), a), ((bx, by), (cx, cy), b))
    ]
    points = (curve(start + share * (end - start)).at for share in _LOOKED_AT)
    return all(min(math.dist(piece.nearest(p), p) for piece in pieces) <= WITHIN_MM for p in points)
