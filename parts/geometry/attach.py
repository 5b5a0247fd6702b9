"""A foot drawn onto the underside of a figure, and discs seated in it: exact, on true lines and arcs.

The disc that rounds the corner beside the foot is rolled up along the foot's side until it touches the figure;
what lies above it there becomes metal. So every joint is tangent, whatever the figure's edge does.
Loops run counter-clockwise. Lengths are mm.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from parts.errors import GeometryError
from parts.geometry.draft import Vertex
from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Line, Point, Segment, distance
from parts.tolerance import LIMIT_SLACK_MM, PARALLEL_RAD


class Touch(NamedTuple):
    """Where a disc on an upright line touches a loop: height of its centre, which segment, the point touched."""

    height: float
    segment: int
    at: Point


def touches(loop: Loop, x: float, radius: float) -> Iterator[Touch]:
    """Yield where a disc centred on the upright line at `x` is as far as its radius from a segment of the loop.

    With a radius of 0, where the line crosses the loop.
    """
    for i, segment in enumerate(loop.segments):
        (ex, ey), off = segment.start, x - segment.start[0]
        if abs(off) <= radius:
            rise = math.sqrt(radius**2 - off**2)
            yield from (Touch(ey + s * rise, i, (ex, ey)) for s in (-1, 1))
        beside = _beside_arc(segment, x, radius) if isinstance(segment, Arc) else _beside_line(segment, x, radius)
        yield from (Touch(height, i, at) for height, at in beside)


def _beside_line(line: Line, x: float, radius: float) -> Iterator[tuple[float, Point]]:
    (sx, sy), (ux, uy) = line.start, line.heading
    if abs(ux) <= PARALLEL_RAD:
        return
    for away in (-radius, radius):
        along = (x + away * uy - sx) / ux
        if 0 <= along <= line.length:
            foot = sx + along * ux, sy + along * uy
            yield foot[1] + away * ux, foot


def _beside_arc(arc: Arc, x: float, radius: float) -> Iterator[tuple[float, Point]]:
    (cx, cy), r = arc.centre, arc.radius
    for reach in (r - radius, r + radius):
        if reach > 0 and abs(x - cx) <= reach:
            rise = math.sqrt(reach**2 - (x - cx) ** 2)
            for up in (-rise, rise):
                foot = cx + (x - cx) * r / reach, cy + up * r / reach
                if arc.covers(foot):
                    yield cy + up, foot


def first_from_below(loop: Loop, x: float, radius: float) -> Touch:
    """Return where a disc that rises along the upright line at `x` touches the loop first.

    Raises:
        GeometryError: if it passes.
    """
    found = min(touches(loop, x, radius), default=None)
    if found is None:
        raise GeometryError(f"A disc of {radius:.4g} mm at {x:.4g} mm passes beside the outline.")
    return found


def highest_seat(loops: Sequence[Loop], x: float, clearance: float) -> Touch | None:
    """Return the highest place on the upright line at `x` that is in the metal and this far from every loop.

    The first loop is the outside, the others are openings. None where there is no such place.
    """
    outside, *openings = loops
    found = sorted((touch for loop in loops for touch in touches(loop, x, clearance)), reverse=True)
    for touch in found:
        centre = x, touch.height
        in_metal = outside.contains(centre) and not any(opening.contains(centre) for opening in openings)
        if in_metal and room_at(loops, centre) >= clearance - LIMIT_SLACK_MM:
            return touch
    return None


def room_at(loops: Iterable[Loop], p: Point) -> float:
    """Return how far a point is from the nearest of the loops, infinite where there is none."""
    every = (segment for loop in loops for segment in loop.segments)
    return min((distance(segment.nearest(p), p) for segment in every), default=math.inf)


def lowest_within(loop: Loop, x: float, half: float) -> float:
    """Return the height of the loop's lowest point between the upright lines `half` to both sides of `x`.

    Raises:
        GeometryError: if the loop has none there.
    """
    heights = [touch.height for side in (x - half, x + half) for touch in touches(loop, side, 0.0)]
    for segment in loop.segments:
        bottom = [segment.start]
        if isinstance(segment, Arc):
            lowest = segment.centre[0], segment.centre[1] - segment.radius
            bottom += [lowest] if segment.covers(lowest) else []
        heights += [py for px, py in bottom if abs(px - x) <= half]
    if not heights:
        raise GeometryError(f"The outline passes {half:.4g} mm and more beside {x:.4g} mm.")
    return min(heights)


def attached(loop: Loop, x: float, width: float, end: Sequence[Vertex], radius: float) -> Loop:
    """Return the loop with a foot of `width` about the upright line at `x` below it, its sides rounded into the figure.

    `end` is what is below the two sides, from left to right; it lies below the loop between them and below
    the rounds, see `first_from_below`.

    Raises:
        GeometryError: if the figure doesn't reach over both rounds.
    """
    left = first_from_below(loop, x - width / 2 - radius, radius)
    right = first_from_below(loop, x + width / 2 + radius, radius)
    around = list(_between(loop, right, left))
    into = [(*left.at, _round(x - width / 2 - radius, left, radius, 0.0)), (x - width / 2, left.height, 0.0)]
    out = [(x + width / 2, right.height, _round(x + width / 2 + radius, right, radius, math.pi))]
    return Loop.through([*around, *into, *end, *out])


def _round(x: float, touch: Touch, radius: float, side: float) -> float:
    """Bulge of the round between the point touched and the foot's side, seen from the centre at the angle `side`."""
    if not radius:
        return 0.0
    seen = math.atan2(touch.at[1] - touch.height, touch.at[0] - x)
    return -math.tan(abs(side - seen) / 4)


def _between(loop: Loop, first: Touch, last: Touch) -> Iterator[Vertex]:
    """Yield the vertices of the loop from one point of it on, up to another, without that."""
    n, start = len(loop.segments), loop.segments[first.segment].fraction_of(first.at)
    stop = loop.segments[last.segment].fraction_of(last.at)
    yield *first.at, _part(loop.segments[first.segment], start, 1.0)
    for k in range(first.segment + 1, first.segment + (last.segment - first.segment - 1) % n + 1):
        segment = loop.segments[k % n]
        yield *segment.start, _part(segment, 0.0, 1.0)
    yield *loop.segments[last.segment].start, _part(loop.segments[last.segment], 0.0, stop)


def _part(segment: Segment, low: float, high: float) -> float:
    """Bulge of the part of a segment between two fractions of its length."""
    return math.tan((high - low) * segment.sweep / 4) if isinstance(segment, Arc) else 0.0
