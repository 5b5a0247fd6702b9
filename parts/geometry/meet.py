"""Where segments meet: crossings, touches and overlaps, in closed form on true arcs."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from parts.geometry.loop import Loop
from parts.geometry.near import near_pairs
from parts.geometry.segment import Arc, Line, Point, Segment, cross, distance
from parts.tolerance import PARALLEL_RAD, SAME_POINT_MM, TANGENT_MM


@dataclass(frozen=True, slots=True)
class Meeting:
    """A point where two segments meet; `loop_a` <= `loop_b` are the indices of their loops."""

    loop_a: int
    loop_b: int
    at: Point


def meetings(loops: Sequence[Loop]) -> Iterator[Meeting]:
    """Yield where segments of the loops meet, except neighbours at their common end."""
    owners = [(i, k) for i, loop in enumerate(loops) for k in range(len(loop.segments))]
    segments = [segment for loop in loops for segment in loop.segments]
    for a, b in near_pairs([segment.box for segment in segments], SAME_POINT_MM):
        (loop_a, at_a), (loop_b, at_b) = owners[a], owners[b]
        shared: list[Point] = []
        if loop_a == loop_b:
            shared = _shared(segments[a], at_b - at_a, len(loops[loop_a].segments))
        if shared and _only_touch_there(segments[a], segments[b]):
            continue
        for point in meeting_points(segments[a], segments[b]):
            if all(distance(point, end) > TANGENT_MM for end in shared):
                yield Meeting(loop_a, loop_b, point)


def meeting_points(a: Segment, b: Segment) -> list[Point]:
    """Return the points where two segments cross or touch; of an overlap, its ends."""
    ends = [end for end in (a.start, a.end) if distance(b.nearest(end), end) <= SAME_POINT_MM]
    ends += [end for end in (b.start, b.end) if distance(a.nearest(end), end) <= SAME_POINT_MM]
    crossings = [p for p in _carrier_crossings(a, b) if _on(a, p) and _on(b, p)]
    return ends + crossings


def _shared(a: Segment, steps: int, count: int) -> list[Point]:
    """The ends that a segment shares with another of its loop, `steps` further in a chain of `count`."""
    return ([a.end] if steps == 1 else []) + ([a.start] if steps == count - 1 else [])


def _only_touch_there(a: Segment, b: Segment) -> bool:
    """Whether two neighbours are lines that don't run back over each other: nothing is to be searched."""
    if isinstance(a, Arc) or isinstance(b, Arc):
        return False
    (ax, ay), (bx, by) = a.heading, b.heading
    return ax * bx + ay * by > 0 or abs(cross(ax, ay, bx, by)) > PARALLEL_RAD


def _on(segment: Segment, p: Point) -> bool:
    return distance(segment.nearest(p), p) <= SAME_POINT_MM


def _carrier_crossings(a: Segment, b: Segment) -> list[Point]:
    """Where the whole lines and circles that carry two segments cross or touch."""
    if isinstance(b, Line):
        return line_crossings(a, b.start, b.heading)
    return circle_crossings(a, b.centre, b.radius)


def line_crossings(a: Segment, through: Point, heading: Point) -> list[Point]:
    """Return where the whole line or circle of `a` crosses or touches the line through a point."""
    if isinstance(a, Arc):
        return _line_circle(through, heading, a.centre, a.radius)
    (ux, uy), (vx, vy) = a.heading, heading
    sine = cross(ux, uy, vx, vy)
    if abs(sine) <= PARALLEL_RAD:
        return []
    along = cross(through[0] - a.start[0], through[1] - a.start[1], vx, vy) / sine
    return [(a.start[0] + along * ux, a.start[1] + along * uy)]


def circle_crossings(a: Segment, centre: Point, radius: float) -> list[Point]:
    """Return where the whole line or circle of `a` crosses or touches another circle."""
    if isinstance(a, Line):
        return _line_circle(a.start, a.heading, centre, radius)
    apart = distance(a.centre, centre)
    too_far = apart > a.radius + radius + SAME_POINT_MM
    too_near = apart < abs(a.radius - radius) - SAME_POINT_MM
    if too_far or too_near or apart <= SAME_POINT_MM:
        return []
    along = (apart**2 + a.radius**2 - radius**2) / (2 * apart)
    half = math.sqrt(max(a.radius**2 - along**2, 0.0))
    ux, uy = (centre[0] - a.centre[0]) / apart, (centre[1] - a.centre[1]) / apart
    foot = a.centre[0] + along * ux, a.centre[1] + along * uy
    return [(foot[0] - s * half * uy, foot[1] + s * half * ux) for s in (-1, 1)]


def _line_circle(through: Point, heading: Point, centre: Point, radius: float) -> list[Point]:
    along = (centre[0] - through[0]) * heading[0] + (centre[1] - through[1]) * heading[1]
    foot = through[0] + along * heading[0], through[1] + along * heading[1]
    off = distance(foot, centre)
    if off > radius + SAME_POINT_MM:
        return []
    half = math.sqrt(max(radius**2 - off**2, 0.0))
    return [(foot[0] + s * half * heading[0], foot[1] + s * half * heading[1]) for s in (-1, 1)]
