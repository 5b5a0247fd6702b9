"""A foot drawn onto the underside of a figure, or a lug onto its top, and discs seated in it: on true lines and arcs.

The disc that rounds the corner beside the foot is rolled up along the foot's side until it touches the figure;
what lies above it there becomes metal. So every joint is tangent, whatever the figure's edge does. A lug is
the same upside down. Loops run counter-clockwise. Lengths are mm.
"""

import math
from bisect import bisect
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import NamedTuple

from parts.errors import GeometryError
from parts.geometry.draft import Vertex
from parts.geometry.figure.touch import (
    SHARES,
    Touch,
    first,
    may_reach,
    of_them_near,
    segments_near,
    touches,
    touches_of,
)
from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Line, Point, Segment, distance
from parts.tolerance import LIMIT_SLACK_MM, PARALLEL_RAD, SAME_POINT_MM
from parts.units import format_figures


class Seam(NamedTuple):
    """Where a foot is to join a figure: its sides `half` beside the upright line at `x`, the discs of `radius` touch.

    `side` is 1 for a foot below the figure, -1 for a lug above; left and right are as seen with the foot below.
    """

    x: float
    half: float
    radius: float
    side: int
    left: Touch
    right: Touch


def highest_seat(loops: Sequence[Loop], x: float, clearance: float, ceiling: float = math.inf) -> Touch | None:
    """Return the highest place on the upright line at `x` that is in the metal and this far from every loop.

    The first loop is the outside, the others are openings. None where there is no such place. None is above the
    `ceiling`; one at it touches nothing: its segment is -1.
    """
    beside = [segments_near(loop, x, clearance) for loop in loops]
    near = [segment for each in beside for _, segment in each]
    outside, *openings = (loop for loop, each in zip(loops, beside, strict=True) if each or loop is loops[0])
    crossing = [of_them_near(each, x, 0.0) for each in beside]
    crossed = sorted(touch.height for each in crossing for touch in touches_of(each, x, 0.0))
    runs_along = any(_is_upright(segment) for each in crossing for _, segment in each)
    if not runs_along and _is_barred(crossed, near, x, clearance):
        return None
    places = sorted((touch for each in beside for touch in touches_of(each, x, clearance)), reverse=True)
    if ceiling < math.inf:
        below = [touch for touch in places if touch.height <= ceiling]
        at = min(below, key=lambda touch: ceiling - touch.height, default=None)
        is_there = at is not None and ceiling - at.height <= LIMIT_SLACK_MM
        places = below if is_there else [Touch(ceiling, -1, (x, ceiling)), *below]
    for touch in places:
        centre = x, touch.height
        if (
            _is_between(crossed, touch.height, clearance - 2 * LIMIT_SLACK_MM)  # what doesn't cost as much first
            and not _is_met(near, centre, clearance - LIMIT_SLACK_MM)
            and _holds(outside, centre)
            and not any(_holds(opening, centre) for opening in openings)
        ):
            return touch
    return None


def clearance_on(loops: Sequence[Loop], x: float) -> float:
    """Return how far the best of some places on the upright line at `x` is from every loop; 0 without any in the metal.

    There may be better places. The first loop is the outside, the others are openings.
    """
    outside, *openings = loops
    heights = sorted(touch.height for loop in loops for touch in touches(loop, x, 0.0))
    pieces = sorted(pairwise(heights), key=lambda piece: piece[0] - piece[1])
    if not pieces:
        return 0.0
    low, high = pieces[0]
    near = [segment for loop in loops for _, segment in segments_near(loop, x, (high - low) / 2)]
    best = 0.0
    for low, high in pieces:
        middle = x, (low + high) / 2
        if high - low <= 2 * best or not _holds(outside, middle) or any(_holds(each, middle) for each in openings):
            continue
        for share in SHARES:
            y = low + share * (high - low)
            if min(y - low, high - y) > best:
                best = max(best, _nearness(near, (x, y)))
    return best


def _nearness(segments: Iterable[Segment], p: Point) -> float:
    """How far the nearest segment is."""
    nearest = math.inf
    for segment in segments:
        if may_reach(segment, 1, p[1], nearest):
            nearest = min(nearest, distance(segment.nearest(p), p))
    return nearest


def _holds(loop: Loop, p: Point) -> bool:
    """As `Loop.contains`, without the boxes of all its segments, which a few questions aren't worth."""
    return sum(segment.crossings_right_of(p) for segment in loop.segments) % 2 == 1


def _is_barred(crossed: Sequence[float], near: Iterable[Segment], x: float, clearance: float) -> bool:
    """Tell whether all of the upright line is too near to where it is crossed, or to the start of a segment.

    What is asked for each place costs more than to lay these intervals end to end. Yes is sure, no isn't.
    """
    if not crossed:
        return True
    room = clearance - 2 * LIMIT_SLACK_MM
    intervals = [(y - room, y + room) for y in crossed]
    for segment in near:
        off, y = x - segment.start[0], segment.start[1]
        if abs(off) < room:
            rise = math.sqrt(room**2 - off**2)
            intervals.append((y - rise, y + rise))
    reached = crossed[0]
    for low, high in sorted(intervals):
        if low >= reached:
            break
        reached = max(reached, high)
    return reached >= crossed[-1]


def _is_upright(segment: Segment) -> bool:
    """Tell whether an upright line may cross a segment at no one place."""
    return isinstance(segment, Line) and abs(segment.heading[0]) <= PARALLEL_RAD


def _is_between(heights: Sequence[float], y: float, room: float) -> bool:
    """Tell whether a place keeps so much room from each of the sorted heights."""
    i = bisect(heights, y)
    return (i == 0 or y - heights[i - 1] >= room) and (i == len(heights) or heights[i] - y >= room)


def _is_met(segments: list[Segment], p: Point, room: float) -> bool:
    """Tell whether a segment is nearer; it becomes the first of them, since the next place meets it as a rule too."""
    for i, segment in enumerate(segments):
        if may_reach(segment, 1, p[1], room) and distance(segment.nearest(p), p) < room:
            segments.insert(0, segments.pop(i))
            return True
    return False


def is_beside(loop: Loop, p: Point, room: float) -> bool:
    """Tell whether a point is nearer than `room` to a loop."""
    near = (s for s in loop.segments if may_reach(s, 0, p[0], room) and may_reach(s, 1, p[1], room))
    return any(distance(segment.nearest(p), p) < room for segment in near)


def highest_within(loop: Loop, x: float, half: float) -> float:
    """Return the height of the loop's highest point between the upright lines `half` to both sides of `x`.

    Raises:
        GeometryError: if the loop has none there.
    """
    near = segments_near(loop, x, half)
    heights = [touch.height for side in (x - half, x + half) for touch in touches_of(near, side, 0.0)]
    for _, segment in near:
        tops = [segment.start]
        if isinstance(segment, Arc):
            top = segment.centre[0], segment.centre[1] + segment.radius
            tops += [top] if segment.covers(top) else []
        heights += [py for px, py in tops if abs(px - x) <= half]
    if not heights:
        raise GeometryError(f"The outline passes {format_figures(half)} and more beside {format_figures(x)}.")
    return max(heights)


def seam(loop: Loop, x: float, width: float, radius: float, side: int = 1) -> Seam:
    """Return where a foot of `width` about the upright line at `x` joins the loop, below it or (side -1) above.

    Raises:
        GeometryError: if the figure doesn't reach over both rounds.
    """
    half = width / 2
    near = segments_near(loop, x, half + 2 * radius)
    left, right = (first(near, x + s * side * (half + radius), radius, side) for s in (-1, 1))
    return Seam(x, half, radius, side, left, right)


def attached(loop: Loop, at: Seam, end: Sequence[Vertex]) -> Loop:
    """Return the loop with a foot at a seam, its sides rounded into the figure.

    `end` is what is beyond the two sides, counter-clockwise; it lies further out than the loop between them
    and than the rounds.
    """
    (left, right), s = (at.left, at.right), at.side
    first, last = loop.segments[right.segment], loop.segments[left.segment]
    n = len(loop.segments)
    between = (right.segment + 1 + k for k in range((left.segment - right.segment - 1) % n))
    new: list[Vertex] = [
        (*last.start, part_of(last, 0.0, last.fraction_of(left.at))),
        (*left.at, _round(at, left, -s)),
        (at.x - s * at.half, left.height, 0.0),
        *end,
        (at.x + s * at.half, right.height, _round(at, right, s)),
        (*right.at, part_of(first, first.fraction_of(right.at), 1.0)),
        (*first.end, 0.0),
    ]
    return Loop((*path(new), *(loop.segments[k % n] for k in between)))


def _round(at: Seam, touch: Touch, beside: int) -> float:
    """Bulge of the round between the point touched and the foot's side, on the right of the foot (1) or its left."""
    if not at.radius:
        return 0.0
    x = at.x + beside * (at.half + at.radius)
    seen = math.atan2(abs(touch.at[1] - touch.height), beside * (touch.at[0] - x))  # the foot's side is seen at pi
    return -math.tan((math.pi - seen) / 4)


def part_of(segment: Segment, low: float, high: float) -> float:
    """Return the bulge of the part of a segment between two fractions of its length."""
    return math.tan((high - low) * segment.sweep / 4) if isinstance(segment, Arc) else 0.0


def path(vertices: Sequence[Vertex]) -> list[Segment]:
    """Return the segments of an open chain, those of no length left out, its two ends kept to the last bit."""
    made: list[Segment] = []
    (x, y, bulge), *others = vertices
    for end_x, end_y, following in others:
        start, end = (x, y), (end_x, end_y)
        apart, bows = distance(start, end), bulge
        bulge = following
        if abs(bows) * apart / 2 > SAME_POINT_MM:  # how far it bows
            made.append(Arc(start, end, bows))
        elif apart > SAME_POINT_MM:
            made.append(Line(start, end))
        else:
            continue
        x, y = end
    *_, (x, y, _) = vertices
    last = made[-1]
    if last.end != (x, y):
        made[-1] = Arc(last.start, (x, y), last.bulge) if isinstance(last, Arc) else Line(last.start, (x, y))
    return made
