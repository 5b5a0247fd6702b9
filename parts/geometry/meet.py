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
        shared = (
            _shared(segments[a], segments[b], at_b - at_a, len(loops[loop_a].segments))
            if loop_a == loop_b
            else []
        )
        if (
            shared
            and isinstance(segments[a], Line)
            and isinstance(segments[b], Line)
            and not _folded(segments[a], segments[b])
        ):
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


def _shared(a: Segment, b: Segment, steps: int, count: int) -> list[Point]:
    """The common ends of two segments of one loop, `steps` apart in a chain of `count`."""
    shared = []
    if steps == 1:
        shared.append(a.end)
    if steps == count - 1:
        shared.append(a.start)
    return shared


def _folded(a: Line, b: Line) -> bool:
    """Whether two neighbouring lines run back over each other."""
    (ax, ay), (bx, by) = a.heading, b.heading
    return ax * bx + ay * by < 0 and abs(cross(ax, ay, bx, by)) <= PARALLEL_RAD


def _on(segment: Segment, p: Point) -> bool:
    return distance(segment.nearest(p), p) <= SAME_POINT_MM


def _carrier_crossings(a: Segment, b: Segment) -> list[Point]:
    """Where the whole lines and circles that carry two segments cross or touch."""
    if isinstance(a, Line):
        return _line_line(a, b) if isinstance(b, Line) else _line_circle(a, b)
    return _line_circle(b, a) if isinstance(b, Line) else _circle_circle(a, b)


def _line_line(a: Line, b: Line) -> list[Point]:
    (ux, uy), (vx, vy) = a.heading, b.heading
    sine = cross(ux, uy, vx, vy)
    if abs(sine) <= PARALLEL_RAD:
        return []
    along = cross(b.start[0] - a.start[0], b.start[1] - a.start[1], vx, vy) / sine
    return [(a.start[0] + along * ux, a.start[1] + along * uy)]


def _line_circle(a: Line, b: Arc) -> list[Point]:
    (ux, uy), (cx, cy) = a.heading, b.centre
    along = (cx - a.start[0]) * ux + (cy - a.start[1]) * uy
    foot = a.start[0] + along * ux, a.start[1] + along * uy
    off = distance(foot, b.centre)
    if off > b.radius + SAME_POINT_MM:
        return []
    half = math.sqrt(max(b.radius**2 - off**2, 0.0))
    return [(foot[0] + s * half * ux, foot[1] + s * half * uy) for s in (-1, 1)]


def _circle_circle(a: Arc, b: Arc) -> list[Point]:
    apart = distance(a.centre, b.centre)
    too_far = apart > a.radius + b.radius + SAME_POINT_MM
    too_near = apart < abs(a.radius - b.radius) - SAME_POINT_MM
    if too_far or too_near or apart <= SAME_POINT_MM:
        return []
    along = (apart**2 + a.radius**2 - b.radius**2) / (2 * apart)
    half = math.sqrt(max(a.radius**2 - along**2, 0.0))
    ux, uy = (b.centre[0] - a.centre[0]) / apart, (b.centre[1] - a.centre[1]) / apart
    foot = a.centre[0] + along * ux, a.centre[1] + along * uy
    return [(foot[0] - s * half * uy, foot[1] + s * half * ux) for s in (-1, 1)]
