"""DXF entities -> pieces: lines, arcs, polylines, ellipses, splines, in the plane of the drawing.

An entity's own coordinates may lie in a mirrored frame: extrusion (0, 0, -1), as left by mirroring, turns x
over (the reference's arbitrary axis algorithm). Any other tilt is three-dimensional and not read.
"""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise
from typing import TypeAlias

from parts.errors import Unreadable
from parts.geometry import Arc, Line, Loop, Point
from parts.read.affine import Affine, scaling
from parts.read.coordinate import coordinate
from parts.read.curve_kinds import Bezier, EllipticArc
from parts.read.dxf.colours import colour
from parts.read.dxf.records import Rec
from parts.read.dxf.splines import BSpline, through
from parts.read.limits import MOST_BULGE, shown
from parts.read.pieces import DONUT, TOO_TIGHT, WIDE, Piece, Stroke, bulged, circular, line, placed
from parts.read.wide import Span, outline

MIRRORED = scaling(-1, 1)
UPRIGHT = Affine()

_FULL_DEG = 360.0
_LEVEL = 1e-6  # drawing units that a line may rise, as rounding leaves it
_CLOSED = 1
_OF_VERTEX = frozenset({40, 41, 42})
_NOT_FLAT = 8 | 16 | 64  # of a POLYLINE: in space, a mesh, faces
_FRAME_VERTEX = 16  # a control point of a smoothed POLYLINE, not on it

Strokes: TypeAlias = tuple[Stroke, ...]
ShapeReader: TypeAlias = Callable[[Rec], "Strokes | None"]


@dataclass(frozen=True, slots=True)
class Vertex:
    """A corner of a polyline, and the bulge and the widths of what follows it."""

    at: Point
    bulge: float = 0.0
    widths: tuple[float, float] = (0.0, 0.0)


def frame(rec: Rec) -> Affine | None:
    """Return where an entity's own coordinates lie on the drawing; None where they are tilted out of it."""
    x, y, z = rec.number(210, 0.0), rec.number(220, 0.0), rec.number(230, 1.0)
    if abs(x) > _LEVEL or abs(y) > _LEVEL or z == 0:
        return None
    return UPRIGHT if z > 0 else MIRRORED


def polyline(head: Rec, vertices: Sequence[Rec]) -> Strokes | None:
    """Return a POLYLINE of R12 with its VERTEX records; None where it isn't flat."""
    flags = head.whole(70)
    on_it = [v for v in vertices if not v.whole(70) & _FRAME_VERTEX]
    flat = len({round(v.number(30, 0.0) / _LEVEL) for v in on_it}) <= 1
    to = frame(head)
    if to is None or flags & (_NOT_FLAT & ~8) or not flat:
        return None
    start, end = head.number(40, 0.0), head.number(41, 0.0)
    corners = [Vertex(v.point(), v.number(42, 0.0), (abs(v.number(40, start)), abs(v.number(41, end)))) for v in on_it]
    return _chained(head, corners, bool(flags & _CLOSED), to)


def _line(rec: Rec) -> Strokes | None:
    if abs(rec.number(30, 0.0) - rec.number(31, 0.0)) > _LEVEL:
        return None
    return _stroke(rec, line(rec.point(), rec.point(11)), False, UPRIGHT)


def _circle(rec: Rec) -> Strokes | None:
    return _stroke(rec, (circular(rec.point(), _radius(rec)),), True, frame(rec))


def _arc(rec: Rec) -> Strokes | None:
    start, end = rec.number(50), rec.number(51)
    sweep = (end - start) % _FULL_DEG
    if sweep == 0:
        return _circle(rec)
    arc = circular(rec.point(), _radius(rec), math.radians(start), math.radians(sweep))
    return _stroke(rec, (arc,), False, frame(rec))


def _radius(rec: Rec) -> float:
    radius = rec.number(40)
    if radius < 0:
        x, y = rec.point()
        raise Unreadable(
            f"{'an' if rec.kind == 'ARC' else 'a'} {rec.kind} on layer {shown(rec.text(8, '0'))} at {x:g}, {y:g} has a "
            f"radius of {radius:g}, which can't be negative"
        )
    return radius


def _lwpolyline(rec: Rec) -> Strokes | None:
    to = frame(rec)
    if to is None:
        return None
    everywhere = abs(rec.number(43, 0.0))
    corners: list[Vertex] = []
    for at, more in zip(rec.points(), _by_vertex(rec), strict=True):
        said = {code: coordinate(value, f"group {code} of a {rec.kind}") for code, value in more}
        widths = abs(said.get(40, everywhere)), abs(said.get(41, everywhere))
        corners.append(Vertex(at, said.get(42, 0.0), widths))
    return _chained(rec, corners, bool(rec.whole(70) & _CLOSED), to)


def _by_vertex(rec: Rec) -> list[list[tuple[int, bytes]]]:
    """Widths and bulge of each vertex of an LWPOLYLINE, which stand after its x."""
    found: list[list[tuple[int, bytes]]] = []
    for code, value in rec.groups:
        if code == 10:
            found.append([])
        elif code in _OF_VERTEX and found:
            found[-1].append((code, value))
    return found


def _ellipse(rec: Rec) -> Strokes | None:
    to = frame(rec)
    if to is None:
        return None
    (ux, uy), ratio = rec.point(11), rec.number(40)
    if to is MIRRORED:  # centre and axis are the drawing's own; only the way round is turned over
        ratio = -ratio
    start, end = rec.number(41, 0.0), rec.number(42, 2 * math.pi)
    sweep = (end - start) % (2 * math.pi)
    full = min(sweep, 2 * math.pi - sweep) < 1e-9
    curve = EllipticArc(
        rec.point(), (ux, uy), (-uy * ratio, ux * ratio), 0.0 if full else start, 2 * math.pi if full else sweep
    )
    return _stroke(rec, (curve,), full, UPRIGHT, "ellipse")


def _spline(rec: Rec) -> Strokes | None:
    levels = {round(z / _LEVEL) for code in (30, 31) for z in rec.numbers(code)}
    if len(levels) > 1:
        return None
    points, on_it = rec.points(), rec.points(11)
    spline = BSpline(rec.whole(71, 3), tuple(rec.numbers(40)), tuple(points), tuple(rec.numbers(41)) if points else ())
    if not points and len(on_it) > 1:
        spans: tuple[Bezier, ...] = through(on_it)
    elif spline.is_sound:
        spans = tuple(spline.spans())
    else:
        return None
    ends_meet = bool(spans) and math.dist(spans[0].points[0], spans[-1].points[-1]) <= _LEVEL
    return _stroke(rec, spans, ends_meet, UPRIGHT, "spline")


def _chained(rec: Rec, corners: Sequence[Vertex], closed: bool, to: Affine) -> Strokes | None:
    """The strokes of a polyline: its middle, or what its widths leave around it."""
    ring = [*corners, corners[0]] if closed and corners else corners
    spans = [
        Span(piece, a.widths[0] / 2, a.widths[1] / 2)
        for a, b in pairwise(ring)
        for piece in bulged(a.at, b.at, _bulge(rec, a.bulge))
        if isinstance(piece, Line | Arc)
    ]
    if not any(span.at_start or span.at_end for span in spans):
        return _stroke(rec, [span.middle for span in spans], closed, to)
    return tuple(stroke for strokes in _widened(rec, spans, closed, to) for stroke in strokes or ())


def _widened(rec: Rec, spans: Sequence[Span], closed: bool, to: Affine) -> Iterator[Strokes | None]:
    """The outlines of the stretches that have a width, and the middle of those that have none."""
    runs = [(wide, list(run)) for wide, run in groupby(spans, lambda span: bool(span.at_start or span.at_end))]
    whole = closed and len(runs) == 1
    if closed and len(runs) > 1 and runs[0][0] == runs[-1][0]:
        runs = [*runs[1:-1], (runs[0][0], runs[-1][1] + runs[0][1])]
    for wide, run in runs:
        chains = outline(run, closed=whole) if wide else None
        if chains is None:
            yield _stroke(rec, [span.middle for span in run], whole, to, TOO_TIGHT if wide else "line")
            continue
        kind = DONUT if whole and _is_donut(run) else WIDE
        for i, chain in enumerate(chains):
            yield _stroke(rec, chain, True, to, "line" if i else kind)


def _is_donut(spans: Sequence[Span]) -> bool:
    """Whether the middle is a circle, as of what is drawn as a ring."""
    return Loop(tuple(span.middle for span in spans)).circle is not None


def _bulge(rec: Rec, bulge: float) -> float:
    if abs(bulge) > MOST_BULGE:
        raise Unreadable(
            f"a {rec.kind} in it has a bulge of {bulge:g}, an arc that lacks a hair of a full circle; "
            "draw it as a circle, or as it is meant"
        )
    return bulge


def _stroke(rec: Rec, pieces: Sequence[Piece], closed: bool, to: Affine | None, kind: str = "line") -> Strokes | None:
    if to is None:
        return None
    moved = tuple(pieces) if to is UPRIGHT else tuple(p for piece in pieces for p in placed(piece, to))
    return (Stroke(moved, closed, rec.text(8, "0"), kind, rec.text(6), colour(rec)),)


READERS: Mapping[str, ShapeReader] = {
    "LINE": _line, "CIRCLE": _circle, "ARC": _arc, "LWPOLYLINE": _lwpolyline, "ELLIPSE": _ellipse,
    "SPLINE": _spline,
}  # fmt: skip
