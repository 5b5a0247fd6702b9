"""Metal: what of a plate stays, as polygons, on its way from an outline to lines and arcs.

metal    a shapely MultiPolygon in mm: valid, exteriors counter-clockwise, interiors clockwise, no piece in another's
         metal; what came of curves are chords within FLAT_MM of them that turn by no more than MOST_TURN, one to the
         next, so that a corner can be told from a curve
"""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import TypeAlias, cast

import numpy as np
import shapely
from shapely.geometry.polygon import orient

from parts.errors import GeometryError
from parts.geometry import Arc, Loop, Point, Segment, holders

Metal: TypeAlias = shapely.MultiPolygon

FLAT_MM = 0.005
"""How far at most a chord is from the curve that it stands for: a tenth of what arcs are fitted within."""

MOST_TURN = math.radians(6)
"""How far at most two chords of one curve turn from one to the next: a drawn corner turns more."""

_LEAST_CHORDS = 16
_SLOPE = math.tan(MOST_TURN)
_TOO_SHORT_MM = 1e-4
# Chords as short as this aren't halved for their turn: there the curve itself has a corner, a cusp.


def metal_from(shape: shapely.Geometry) -> Metal:
    """Return what of any shape is area, as metal; the pieces from left to right, then upwards."""
    polygons = [part for part in _flat(shapely.make_valid(shape)) if part.area > 0]
    return shapely.MultiPolygon([orient(part) for part in sorted(polygons, key=lambda part: part.bounds)])


def without_specks(metal: Metal, least: float) -> Metal:
    """Return metal without pieces and openings of a smaller area than the least, mm2."""
    kept = [
        shapely.Polygon(piece.exterior, [ring for ring in piece.interiors if shapely.Polygon(ring).area >= least])
        for piece in pieces(metal)
        if piece.area >= least
    ]
    return metal_from(shapely.MultiPolygon(kept))


def pieces(metal: Metal) -> tuple[shapely.Polygon, ...]:
    """Return the pieces of metal: what would fall apart if nothing held it."""
    return tuple(cast("Sequence[shapely.Polygon]", metal.geoms))


def metal_of(loops: Sequence[Loop]) -> Metal:
    """Return the metal within loops that don't meet: an even number of loops around a place is off the metal.

    Raises:
        GeometryError: if loops meet or cross, so that they bound no area.
    """
    around = holders(loops)
    rings = [[p for segment in loop.segments for p in segment_points(segment)] for loop in loops]
    holes: list[list[list[Point]]] = [[] for _ in loops]
    for ring, outer in zip(rings, around, strict=True):
        if len(outer) % 2:
            holes[outer[0]].append(ring)
    shells = [i for i, outer in enumerate(around) if len(outer) % 2 == 0]
    made = shapely.MultiPolygon([orient(shapely.Polygon(rings[i], holes[i])) for i in shells])
    if not made.is_valid:
        raise GeometryError("The loops meet or cross each other, so they bound no area.")
    return made


def one_wide(metal: Metal) -> Metal:
    """Return metal so large that it is 1 mm wide from left to right, its lower left at the origin."""
    x0, y0, x1, _ = metal.bounds
    return metal_from(shapely.transform(metal, lambda points: (points - (x0, y0)) / (x1 - x0)))


def disc(centre: Point, radius: float) -> shapely.Polygon:
    """Return a disc, near enough for metal."""
    return shapely.Point(centre).buffer(radius, quad_segs=quarter_chords(radius))


def quarter_chords(radius: float) -> int:
    """Return how many chords a quarter of a circle needs to be near enough for metal."""
    return max(math.ceil(math.pi / 4 / math.acos(max(1 - FLAT_MM / radius, 0.0))), _LEAST_CHORDS)


def segment_points(segment: Segment) -> list[Point]:
    """Return points along a line or an arc, near enough for metal; its start first, its end left out."""
    if not isinstance(segment, Arc):
        return [segment.start]
    span = min(4 * math.asin(min(math.sqrt(FLAT_MM / (2 * segment.radius)), 1.0)), MOST_TURN)
    return segment.points(max(math.ceil(abs(segment.sweep) / span - 1e-9), 1))[:-1]


def curve_points(controls: Sequence[Point]) -> list[Point]:
    """Return points along a Bézier curve of three or four control points (two: a line), near enough for metal.

    They lie on the curve, at even steps of its parameter but where it turns most; the start first, the end left out.
    How many are enough for the chord error: G. Wang, "The subdivision method for finding the intersection between two
    Bézier curves or surfaces", Zhejiang University Journal (1984), as quoted in textbooks (from memory).
    """
    if len(controls) == 2:
        return [controls[0]]
    legs = [leg for leg in pairwise(controls) if leg[0] != leg[1]]
    turned = sum([abs(_turn(*a, b[1])) for a, b in pairwise(legs)])
    bend = max([math.dist((2 * b[0] - a[0], 2 * b[1] - a[1]), c) for a, b, c in _threes(controls)])
    degree = len(controls) - 1
    flat = math.sqrt(degree * (degree - 1) * bend / (8 * FLAT_MM))
    count = max(math.ceil(flat), math.ceil(turned / MOST_TURN), 1)
    steps = [i / count for i in range(count)]
    points = [controls[0], *_on_curve(controls, steps[1:]), controls[-1]]
    steps.append(1.0)
    while sharp := _sharp(points):
        for i in reversed(sharp):
            middle = (steps[i] + steps[i + 1]) / 2
            steps.insert(i + 1, middle)
            points[i + 1 : i + 1] = _on_curve(controls, [middle])
    return points[:-1]


def _on_curve(controls: Sequence[Point], steps: Sequence[float]) -> list[Point]:
    """The points of a Bézier curve at parameters, by its polynomial."""
    (x0, y0), (x1, y1), (x2, y2) = controls[:3]
    if len(controls) == 3:
        ax, ay, bx, by = x0 - 2 * x1 + x2, y0 - 2 * y1 + y2, 2 * (x1 - x0), 2 * (y1 - y0)
        return [((ax * t + bx) * t + x0, (ay * t + by) * t + y0) for t in steps]
    x3, y3 = controls[3]
    cx, cy, bx, by = 3 * (x1 - x0), 3 * (y1 - y0), 3 * (x0 - 2 * x1 + x2), 3 * (y0 - 2 * y1 + y2)
    ax, ay = x3 - x0 + 3 * (x1 - x2), y3 - y0 + 3 * (y1 - y2)
    return [(((ax * t + bx) * t + cx) * t + x0, ((ay * t + by) * t + cy) * t + y0) for t in steps]


def _sharp(points: Sequence[Point]) -> list[int]:
    """The chords, by their starts, that turn too far to a neighbour and can be halved."""
    found: set[int] = set()
    for i, ((px, py), (qx, qy), (rx, ry)) in enumerate(_threes(points)):
        ax, ay, bx, by = qx - px, qy - py, rx - qx, ry - qy
        if abs(ax * by - ay * bx) > _SLOPE * (ax * bx + ay * by):
            a, b = math.hypot(ax, ay), math.hypot(bx, by)
            if max(a, b) > _TOO_SHORT_MM:
                found.update([i] if a > 2 * b else [i + 1] if b > 2 * a else [i, i + 1])
    return sorted(found)


def _threes(points: Sequence[Point]) -> Iterator[tuple[Point, Point, Point]]:
    """Each point with the two that follow it."""
    return zip(points, points[1:], points[2:], strict=False)


def _turn(before: Point, at: Point, after: Point) -> float:
    """The turn from one chord to the next, radians, positive to the left."""
    ax, ay, bx, by = at[0] - before[0], at[1] - before[1], after[0] - at[0], after[1] - at[1]
    return math.atan2(ax * by - ay * bx, ax * bx + ay * by)


def _flat(shape: shapely.Geometry) -> list[shapely.Polygon]:
    """The polygons of a shape, however its collections are nested."""
    parts = np.atleast_1d(shapely.get_parts(shape))
    if len(parts) == 1 and parts[0].geom_type == "Polygon":
        return [parts[0]]
    return [polygon for part in parts if part.geom_type in _AREAS for polygon in _flat(part)]


_AREAS = ("Polygon", "MultiPolygon", "GeometryCollection")
