"""DXF entities -> pieces: lines, arcs, polylines, ellipses, splines, in the plane of the drawing.

An entity's own coordinates may lie in a mirrored frame: extrusion (0, 0, -1), as left by mirroring, turns x
over (the reference's arbitrary axis algorithm). Any other tilt is three-dimensional and not read.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise
from typing import TypeAlias

from parts.geometry import Point
from parts.read.affine import Affine, scaling
from parts.read.curve_kinds import Bezier, EllipticArc
from parts.read.dxf.records import Rec
from parts.read.dxf.splines import BSpline, through
from parts.read.pieces import Piece, Stroke, bulged, circular, line, placed

MIRRORED = scaling(-1, 1)
UPRIGHT = Affine()

_FULL_DEG = 360.0
_LEVEL = 1e-6  # drawing units that a line may rise, as rounding leaves it
_CLOSED = 1
_NOT_FLAT = 8 | 16 | 64  # of a POLYLINE: in space, a mesh, faces
_FRAME_VERTEX = 16  # a control point of a smoothed POLYLINE, not on it

ShapeReader: TypeAlias = Callable[[Rec], "Stroke | None"]


def frame(rec: Rec) -> Affine | None:
    """Return where an entity's own coordinates lie on the drawing; None where they are tilted out of it."""
    x, y, z = rec.number(210, 0.0), rec.number(220, 0.0), rec.number(230, 1.0)
    if abs(x) > _LEVEL or abs(y) > _LEVEL or z == 0:
        return None
    return UPRIGHT if z > 0 else MIRRORED


def polyline(head: Rec, vertices: Sequence[Rec]) -> Stroke | None:
    """Return a POLYLINE of R12 with its VERTEX records; None where it isn't flat."""
    flags = head.whole(70)
    on_it = [v for v in vertices if not v.whole(70) & _FRAME_VERTEX]
    flat = len({round(v.number(30, 0.0) / _LEVEL) for v in on_it}) <= 1
    to = frame(head)
    if to is None or flags & (_NOT_FLAT & ~8) or not flat:
        return None
    corners = [(v.point(), v.number(42, 0.0)) for v in on_it]
    return _stroke(head, _chain(corners, bool(flags & _CLOSED)), bool(flags & _CLOSED), to)


def _line(rec: Rec) -> Stroke | None:
    if abs(rec.number(30, 0.0) - rec.number(31, 0.0)) > _LEVEL:
        return None
    return _stroke(rec, line(rec.point(), rec.point(11)), False, UPRIGHT)


def _circle(rec: Rec) -> Stroke | None:
    return _stroke(rec, (circular(rec.point(), abs(rec.number(40))),), True, frame(rec))


def _arc(rec: Rec) -> Stroke | None:
    start, end = rec.number(50), rec.number(51)
    sweep = (end - start) % _FULL_DEG
    if sweep == 0:
        return _circle(rec)
    arc = circular(rec.point(), abs(rec.number(40)), math.radians(start), math.radians(sweep))
    return _stroke(rec, (arc,), False, frame(rec))


def _lwpolyline(rec: Rec) -> Stroke | None:
    bulges: list[float] = []
    values = iter(rec.numbers(42))
    for code, _ in rec.groups:
        if code == 10:
            bulges.append(0.0)
        elif code == 42 and bulges:
            bulges[-1] = next(values)
    closed = bool(rec.whole(70) & _CLOSED)
    corners = list(zip(rec.points(), bulges, strict=True))
    return _stroke(rec, _chain(corners, closed), closed, frame(rec))


def _ellipse(rec: Rec) -> Stroke | None:
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


def _spline(rec: Rec) -> Stroke | None:
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


def _chain(corners: Sequence[tuple[Point, float]], closed: bool) -> list[Piece]:
    ring = [*corners, corners[0]] if closed and corners else corners
    return [piece for (a, bulge), (b, _) in pairwise(ring) for piece in bulged(a, b, bulge)]


def _stroke(rec: Rec, pieces: Sequence[Piece], closed: bool, to: Affine | None, kind: str = "line") -> Stroke | None:
    if to is None:
        return None
    moved = tuple(pieces) if to is UPRIGHT else tuple(p for piece in pieces for p in placed(piece, to))
    return Stroke(moved, closed, rec.text(8, "0"), kind)


READERS: Mapping[str, ShapeReader] = {
    "LINE": _line, "CIRCLE": _circle, "ARC": _arc, "LWPOLYLINE": _lwpolyline, "ELLIPSE": _ellipse,
    "SPLINE": _spline,
}  # fmt: skip
