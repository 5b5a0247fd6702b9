"""Intersections of segments: crossings, tangencies and overlaps, in closed form on true arcs."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from parts.geometry.loop import Loop
from parts.geometry.search.boxes import near_pairs
from parts.geometry.segment import Arc, Line, Point, Segment, cross, distance
from parts.tolerance import PARALLEL_RAD, SAME_POINT_MM, TANGENT_MM


@dataclass(frozen=True, slots=True)
class Meeting:
    """A point of intersection of two segments; `loop_a` <= `loop_b` are the indices of their loops."""

    loop_a: int
    loop_b: int
    at: Point


def meetings(loops: Sequence[Loop]) -> Iterator[Meeting]:
    """Yield the intersections of segments of the loops, except of neighbours at their common end."""
    owners = [(i, k) for i, loop in enumerate(loops) for k in range(len(loop.segments))]
    segments = [segment for loop in loops for segment in loop.segments]
    for a, b in near_pairs([segment.box for segment in segments], SAME_POINT_MM):
        (loop_a, at_a), (loop_b, at_b) = owners[a], owners[b]
        shared: list[Point] = []
        if loop_a == loop_b:
            if loops[loop_a].circle:
                continue
            shared = _shared(segments[a], at_b - at_a, len(loops[loop_a].segments))
        if len(shared) == 1 and only_touch_there(segments[a], segments[b], shared[0]):
            continue
        for point in meeting_points(segments[a], segments[b]):
            if all(distance(point, end) > TANGENT_MM for end in shared):
                yield Meeting(loop_a, loop_b, point)


def meeting_points(a: Segment, b: Segment) -> list[Point]:
    """Return the intersections of two segments, where they cross or are tangent; of an overlap, its ends."""
    ends = [end for end in (a.start, a.end) if _on(b, end)]
    ends += [end for end in (b.start, b.end) if _on(a, end)]
    crossings = [p for p in carrier_crossings(a, b) if _on(a, p) and _on(b, p)]
    middle = [a.at(0.5)] if len(ends) == 4 and _on(b, a.at(0.5)) else []  # one over the other, end to end
    return ends + crossings + middle


def _shared(a: Segment, steps: int, count: int) -> list[Point]:
    """The ends that a segment shares with another of its loop, `steps` further in a chain of `count`."""
    return ([a.end] if steps == 1 else []) + ([a.start] if steps == count - 1 else [])


def only_touch_there(a: Segment, b: Segment, joint: Point) -> bool:
    """Tell whether two neighbours have no intersection but their joint, so that nothing is to be searched.

    So it is with lines that don't run back over each other, with a line that leaves an arc's circle outwards, and
    with what goes over into an arc smoothly: the whole line or circle touches the arc's whole circle there and
    nowhere else. Of two circles that are tangent but for an angle, the other crossing is at twice the angle over
    the difference of their curvatures.
    """
    before, after = (a, b) if a.end == joint else (b, a)
    (ax, ay), (bx, by) = before.heading_at_end, after.heading_at_start
    on, off = ax * bx + ay * by > 0, abs(cross(ax, ay, bx, by)) > PARALLEL_RAD
    if isinstance(a, Line) and isinstance(b, Line):
        return on or off
    if on and not off and abs(a.curvature - b.curvature) * TANGENT_MM > 2 * PARALLEL_RAD:
        return True
    if isinstance(a, Line):
        return isinstance(b, Arc) and _leaves_outwards(a, b, joint)
    return isinstance(b, Line) and _leaves_outwards(b, a, joint)


def _leaves_outwards(line: Line, arc: Arc, joint: Point) -> bool:
    """Tell whether a line leaves the circle of an arc at their joint so steeply that it comes no more near it.

    At s mm along the line the power of its point is s (s + 2 `half`), the other crossing lying behind the joint. So
    what is within SAME_POINT_MM of the circle is within TANGENT_MM of the joint, with a margin of two.
    """
    (ux, uy), (cx, cy) = line.heading, arc.centre
    on = 1 if line.start == joint else -1
    half = -on * ((cx - joint[0]) * ux + (cy - joint[1]) * uy)
    return half * TANGENT_MM > 2 * arc.radius * SAME_POINT_MM


def _on(segment: Segment, p: Point) -> bool:
    if isinstance(segment, Arc):
        off = abs(distance(segment.centre, p) - segment.radius)
        slack = TANGENT_MM + segment.radius * 1e-12  # what rounding may make of `off` where the centre is far away
        return off <= slack and distance(segment.nearest(p), p) <= SAME_POINT_MM
    return distance(segment.nearest(p), p) <= SAME_POINT_MM


def carrier_crossings(a: Segment, b: Segment) -> list[Point]:
    """Return the intersections of the whole lines and circles that carry two segments."""
    if isinstance(a, Line):
        return line_crossings(a, b.start, b.heading) if isinstance(b, Line) else _on_arc(b, a.start, a.heading)
    if isinstance(b, Line):
        return _on_arc(a, b.start, b.heading)
    return _on_both(*sorted((a, b), key=lambda arc: arc.radius))


def _on_arc(arc: Arc, through: Point, heading: Point) -> list[Point]:
    """The intersections of a line with the circle of an arc.

    At t along the line the power of its point is t² + 2 b t + c. Worked from the arc's start, and by the
    root that adds, it is exact on shallow arcs too, whose centre is far away.
    """
    cx, cy = arc.to_centre
    wx, wy = through[0] - arc.start[0], through[1] - arc.start[1]
    b, c = (wx - cx) * heading[0] + (wy - cy) * heading[1], arc.power(through)
    if b * b - c < -2 * arc.radius * SAME_POINT_MM:
        return []
    far = -b - math.copysign(math.sqrt(max(b * b - c, 0.0)), b)
    roots = (far, c / far) if far else (0.0,)
    return [(through[0] + t * heading[0], through[1] + t * heading[1]) for t in roots]


def _on_both(a: Arc, b: Arc) -> list[Point]:
    """The intersections of the circles of two arcs, on their radical axis: along it their powers are equal.

    The smaller circle comes first: the line is crossed with that.
    """
    (ax, ay), (bx, by) = a.to_centre, b.to_centre
    ex, ey = b.start[0] - a.start[0], b.start[1] - a.start[1]
    nx, ny = ex + bx - ax, ey + by - ay
    apart = math.hypot(nx, ny)
    if apart <= SAME_POINT_MM:
        return []
    nx, ny = nx / apart, ny / apart
    off = (ex * ex + ey * ey + 2 * (ex * bx + ey * by)) / (2 * apart)
    return _on_arc(a, (a.start[0] + off * nx, a.start[1] + off * ny), (-ny, nx))


def line_crossings(a: Segment, through: Point, heading: Point) -> list[Point]:
    """Return the intersections of the whole line or circle of `a` with the line through a point."""
    if isinstance(a, Arc):
        return _line_circle(through, heading, a.centre, a.radius)
    (ux, uy), (vx, vy) = a.heading, heading
    sine = cross(ux, uy, vx, vy)
    if abs(sine) <= PARALLEL_RAD:
        return []
    along = cross(through[0] - a.start[0], through[1] - a.start[1], vx, vy) / sine
    return [(a.start[0] + along * ux, a.start[1] + along * uy)]


def circle_crossings(a: Segment, centre: Point, radius: float) -> list[Point]:
    """Return the intersections of the whole line or circle of `a` with another circle."""
    if isinstance(a, Line):
        return _line_circle(a.start, a.heading, centre, radius)
    return circles_meet(a.centre, a.radius, centre, radius)


def circles_meet(one: Point, one_radius: float, other: Point, other_radius: float) -> list[Point]:
    """Return the intersections of two circles, by their centres and radii."""
    apart = distance(one, other)
    too_far = apart > one_radius + other_radius + SAME_POINT_MM
    too_near = apart < abs(one_radius - other_radius) - SAME_POINT_MM
    if too_far or too_near or apart <= SAME_POINT_MM:
        return []
    along = (apart**2 + one_radius**2 - other_radius**2) / (2 * apart)
    half = math.sqrt(max(one_radius**2 - along**2, 0.0))
    ux, uy = (other[0] - one[0]) / apart, (other[1] - one[1]) / apart
    foot = one[0] + along * ux, one[1] + along * uy
    return [(foot[0] - s * half * uy, foot[1] + s * half * ux) for s in (-1, 1)]


def _line_circle(through: Point, heading: Point, centre: Point, radius: float) -> list[Point]:
    along = (centre[0] - through[0]) * heading[0] + (centre[1] - through[1]) * heading[1]
    foot = through[0] + along * heading[0], through[1] + along * heading[1]
    off = distance(foot, centre)
    if off > radius + SAME_POINT_MM:
        return []
    half = math.sqrt(max(radius**2 - off**2, 0.0))
    return [(foot[0] + s * half * heading[0], foot[1] + s * half * heading[1]) for s in (-1, 1)]
