"""The centroid of the area inside a loop, exact on true arcs."""

import math
from collections.abc import Iterable

from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Point, Segment, cross


def centroid(loop: Loop) -> Point:
    """Return the centroid of the area inside a loop; its start where it encloses nothing."""
    ox, oy = loop.segments[0].start  # taken from here, so that nothing is lost far from the origin
    pieces = [piece for segment in loop.segments for piece in _pieces(segment, ox, oy)]
    area = math.fsum(size for size, _, _ in pieces)
    if not area:
        return ox, oy
    x = math.fsum(size * x for size, x, _ in pieces) / area
    y = math.fsum(size * y for size, _, y in pieces) / area
    return ox + x, oy + y


def centre_of_mass(outside: Loop, cut_outs: Iterable[Loop]) -> Point:
    """Return the centre of mass of a flat figure: that of its area without what is cut out of it."""
    parts = [(outside.area, centroid(outside)), *((-loop.area, centroid(loop)) for loop in cut_outs)]
    area = sum(size for size, _ in parts)
    return sum(size * x for size, (x, _) in parts) / area, sum(size * y for size, (_, y) in parts) / area


def _pieces(segment: Segment, ox: float, oy: float) -> list[tuple[float, float, float]]:
    """Signed area and centroid of the triangle from the origin to a segment and, of an arc, of its circular segment."""
    ax, ay, bx, by = segment.start[0] - ox, segment.start[1] - oy, segment.end[0] - ox, segment.end[1] - oy
    triangle = cross(ax, ay, bx, by) / 2, (ax + bx) / 3, (ay + by) / 3
    if not isinstance(segment, Arc):
        return [triangle]
    cap = segment.swept_area - cross(*segment.start, *segment.end) / 2
    half = abs(segment.sweep) / 2
    if half < 0.02:  # a parabola as near as makes no difference: its centre is two fifths up
        up = 0.4
    else:  # from the centre of the circle, 2 r sin³ h / (3 (h - sin h cos h)): handbooks, circular segment
        off = 2 * math.sin(half) ** 3 / (3 * (half - math.sin(half) * math.cos(half)))
        up = (off - math.cos(half)) / (1 - math.cos(half))
    mx, my = (ax + bx) / 2, (ay + by) / 2
    px, py = segment.at(0.5)
    return [triangle, (cap, mx + up * (px - ox - mx), my + up * (py - oy - my))]
