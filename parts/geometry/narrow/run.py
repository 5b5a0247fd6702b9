"""A run: two pieces of boundary at one distance from each other, parallel lines or concentric arcs.

The circles that touch both pieces have their centres on the *path* midway between them, a line or an
arc itself. Other boundary that comes between them takes parts of the path away.
"""

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from parts.geometry.intersect import circle_crossings, line_crossings
from parts.geometry.segment import Arc, Line, Point, Segment, cross, distance
from parts.tolerance import PARALLEL_RAD, SAME_NECK_MM, SAME_POINT_MM


@dataclass(frozen=True)
class Run:
    """The path midway between two pieces of boundary, and the width between them in mm."""

    path: Segment
    width: float


def run_between(a: Line, b: Line) -> Run | None:
    """Return the run between two lines that face each other with the region on the left of both."""
    (ux, uy), (vx, vy) = a.heading, b.heading
    if ux * vx + uy * vy > 0 or abs(cross(ux, uy, vx, vy)) > PARALLEL_RAD:
        return None
    width = cross(ux, uy, b.start[0] - a.start[0], b.start[1] - a.start[1])
    low = max(a.fraction_of(b.end), 0.0)
    high = min(a.fraction_of(b.start), 1.0)
    if width <= SAME_POINT_MM or (high - low) * a.length <= SAME_POINT_MM:
        return None
    (px, py), (qx, qy), half = a.at(low), a.at(high), width / 2
    return Run(Line((px - half * uy, py + half * ux), (qx - half * uy, qy + half * ux)), width)


def free_runs(run: Run, around: Sequence[Segment]) -> Iterator[Run]:
    """Yield the stretches of a run where a circle across it has none of the segments inside.

    A circle comes to touch a segment, or leaves it, only where its centre is at its radius from an end,
    the line or the circle of that segment: the path is cut there, and each piece tried in its middle.
    """
    radius = run.width / 2
    around = [segment for segment in around if _may_block(run.path, segment, radius)]
    stops = {0.0, 1.0}
    for segment in around:
        stops.update(run.path.fraction_of(p) for p in _touches(run.path, segment, radius))
    cuts = sorted(stop for stop in stops if 0 <= stop <= 1)
    free: list[tuple[float, float]] = []
    for low, high in itertools.pairwise(cuts):
        middle = run.path.at((low + high) / 2)
        if all(distance(middle, segment.nearest(middle)) >= radius - SAME_POINT_MM for segment in around):
            if free and free[-1][1] == low:
                free[-1] = (free[-1][0], high)
            else:
                free.append((low, high))
    for low, high in free:
        if (high - low) * run.path.length > SAME_NECK_MM:
            yield Run(_piece(run.path, low, high), run.width)


def _may_block(path: Segment, segment: Segment, radius: float) -> bool:
    """Whether a circle with its centre on the path may have some of a segment inside; quickly told of lines alone."""
    if not (isinstance(path, Line) and isinstance(segment, Line)):
        return True
    (px, py), (ux, uy), room = path.start, path.heading, radius - SAME_POINT_MM
    ax, ay, bx, by = segment.start[0] - px, segment.start[1] - py, segment.end[0] - px, segment.end[1] - py
    across_a, across_b = ux * ay - uy * ax, ux * by - uy * bx
    if min(across_a, across_b) >= room or max(across_a, across_b) <= -room:
        return False
    along_a, along_b = ux * ax + uy * ay, ux * bx + uy * by
    return max(along_a, along_b) > -room and min(along_a, along_b) < path.length + room


def _touches(path: Segment, segment: Segment, radius: float) -> Iterator[Point]:
    """Yield the points of the whole path at `radius` from an end, the line or the circle of a segment."""
    for end in (segment.start, segment.end):
        yield from circle_crossings(path, end, radius)
    if isinstance(segment, Arc):
        for r in (segment.radius + radius, abs(segment.radius - radius)):
            if r > SAME_POINT_MM:
                yield from circle_crossings(path, segment.centre, r)
    else:
        (x, y), (ux, uy) = segment.start, segment.heading
        for off in (-radius, radius):
            yield from line_crossings(path, (x - off * uy, y + off * ux), segment.heading)


def _piece(path: Segment, low: float, high: float) -> Segment:
    if isinstance(path, Line):
        return Line(path.at(low), path.at(high))
    return Arc(path.at(low), path.at(high), math.tan((high - low) * path.sweep / 4))
