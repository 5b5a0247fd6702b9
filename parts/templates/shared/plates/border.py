"""Borders: a line cut out along the edge of a plate, with gaps in it where bridges hold what is inside."""

import math
from collections.abc import Iterator
from typing import NamedTuple

import shapely

from parts.artwork import Metal
from parts.geometry import Point

APART = 400.0
"""How far bridges over a border stand from each other at most, mm: sheet of some millimetres doesn't sag (by eye)."""
_LEVEL = 0.85
# How level a border runs, or upright, where a bridge crosses it: 1 is wholly.
_STEP_MM = 0.5


class Sides(NamedTuple):
    """A plate's size, the middle of its straight sides, and how far from their ends no bridge stands."""

    size: Point
    middle: Point
    ends: float


def ring(plate: Metal, inset: float, width: float) -> shapely.Geometry:
    """Return a line along the edge of a plate, so far in from it and so wide."""
    return shapely.difference(_inset(plate, inset), _inset(plate, inset + width))


def gapped(plate: Metal, inset: float, width: float, gap: float, sides: Sides) -> shapely.Geometry:
    """Return the same with a gap in the middle of each side, and in long ones with more beside it."""
    along = _inset(plate, inset + width / 2).exterior
    gaps = [
        _across(along, at, gap, 2 * width)
        for axis in (0, 1)
        for at in _crossings(along, _places(sides.middle[axis], sides.size[axis], sides.ends), sides.size, axis == 0)
    ]
    return shapely.difference(ring(plate, inset, width), shapely.union_all(gaps))


def _inset(plate: Metal, far: float) -> shapely.Polygon:
    """The plate without so much of it along the edge."""
    return shapely.buffer(plate.geoms[0], -far, quad_segs=64, join_style="mitre", mitre_limit=4)


def _places(middle: float, long: float, ends: float) -> list[float]:
    """Where bridges cross a border along a side: in its middle, and evenly beside it where the side is long."""
    count = max(math.ceil((long - 2 * ends) / APART), 1)
    step = (long - 2 * ends) / count
    return [middle + step * (i - (count - 1) / 2) for i in range(count)]


def _crossings(ring: shapely.LinearRing, places: list[float], size: Point, level: bool) -> Iterator[Point]:
    """Yield where a ring is at these x where it runs level, or at these y where it runs upright."""
    width, height = size
    for at in places:
        line = shapely.LineString([(at, -1), (at, height + 1)] if level else [(-1, at), (width + 1, at)])
        for point in shapely.get_coordinates(shapely.intersection(ring, line)).tolist():
            (ax, ay), (bx, by) = _along(ring, (point[0], point[1]))
            if (abs(bx - ax) if level else abs(by - ay)) >= _LEVEL * math.hypot(bx - ax, by - ay):
                yield point[0], point[1]


def _along(ring: shapely.LinearRing, at: Point) -> tuple[Point, Point]:
    """Two points of a ring close before and after one of it."""
    far = shapely.line_locate_point(ring, shapely.Point(at))
    (before,), (after,) = (
        shapely.get_coordinates(shapely.line_interpolate_point(ring, (far + by) % ring.length)).tolist()
        for by in (-_STEP_MM, _STEP_MM)
    )
    return (before[0], before[1]), (after[0], after[1])


def _across(ring: shapely.LinearRing, at: Point, wide: float, long: float) -> shapely.Polygon:
    """A strip across a ring, so wide along it."""
    (ax, ay), (bx, by) = _along(ring, at)
    ux, uy = (bx - ax) / math.hypot(bx - ax, by - ay), (by - ay) / math.hypot(bx - ax, by - ay)
    corners = ((wide / 2, long / 2), (-wide / 2, long / 2), (-wide / 2, -long / 2), (wide / 2, -long / 2))
    return shapely.Polygon([(at[0] + ux * a - uy * b, at[1] + uy * a + ux * b) for a, b in corners])
