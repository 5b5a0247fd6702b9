"""A run: two pieces of boundary at one distance from each other, parallel lines or concentric arcs.

The circles that touch both pieces have their centres on the *path* midway between them, a line or an
arc itself. Other boundary that comes between them takes parts of the path away.
"""

import itertools
import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from parts.geometry.meet import circle_crossings, line_crossings
from parts.geometry.near import near_points
from parts.geometry.segment import Arc, Line, Point, Segment, cross, distance
from parts.tolerance import PARALLEL_RAD, SAME_NECK_MM, SAME_POINT_MM


@dataclass(frozen=True)
class Run:
    """The path midway between two pieces of boundary, and the width between them in mm."""

    path: Segment
    width: float

    @property
    def chord(self) -> tuple[Point, Point]:
        """The chord across the middle of the run, from the right of the path to its left."""
        middle = self.path.at(0.5)
        hx, hy = self.path.heading_at(middle) if isinstance(self.path, Arc) else self.path.heading
        half = self.width / 2
        return (middle[0] + half * hy, middle[1] - half * hx), (middle[0] - half * hy, middle[1] + half * hx)


def run_between(a: Segment, b: Segment) -> Run | None:
    """Return the run between two segments that face each other with the region on the left of both."""
    if isinstance(a, Line) and isinstance(b, Line):
        return _between_lines(a, b)
    if isinstance(a, Arc) and isinstance(b, Arc) and distance(a.centre, b.centre) <= SAME_POINT_MM:
        return _between_arcs(a, b)
    return None


def _between_lines(a: Line, b: Line) -> Run | None:
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


def _between_arcs(a: Arc, b: Arc) -> Run | None:
    """The run between two concentric arcs: the inner one turns right, the outer one left."""
    inner, outer = (a, b) if a.bulge < b.bulge else (b, a)
    width = outer.radius - inner.radius
    if inner.bulge > 0 or outer.bulge < 0 or width <= SAME_POINT_MM:
        return None
    low, high = _common_angles(outer, inner.reversed())
    if (high - low) * outer.radius <= SAME_POINT_MM:
        return None
    radius, (cx, cy) = (inner.radius + outer.radius) / 2, outer.centre
    start, end = ((cx + radius * math.cos(t), cy + radius * math.sin(t)) for t in (low, high))
    return Run(Arc(start, end, math.tan((high - low) / 4)), width)


def _common_angles(a: Arc, b: Arc) -> tuple[float, float]:
    """The longest range of angles, seen from the common centre, that two left-turning arcs share."""
    start_a, start_b = (math.atan2(arc.start[1] - arc.centre[1], arc.start[0] - arc.centre[0]) for arc in (a, b))
    turn = 2 * math.pi
    ranges = [
        (max(start_a, at), min(start_a + a.sweep, at + b.sweep)) for at in (start_b - turn, start_b, start_b + turn)
    ]
    return max(ranges, key=lambda span: span[1] - span[0])


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


def joined(runs: Sequence[tuple[Run, int, int]]) -> Iterator[tuple[Run, int, int]]:
    """Yield the longest run of each chain of runs of one width whose paths meet end to end."""
    ends = [end for run, _, _ in runs for end in (run.path.start, run.path.end)]
    links = [
        (i // 2, j // 2)
        for i, j in near_points(ends, 2 * SAME_NECK_MM)  # a piece too short to count may lie between
        if abs(runs[i // 2][0].width - runs[j // 2][0].width) <= SAME_NECK_MM
    ]
    chains: dict[int, list[tuple[Run, int, int]]] = defaultdict(list)
    for root, entry in zip(_roots(len(runs), links), runs, strict=True):
        chains[root].append(entry)
    for chain in chains.values():
        yield max(chain, key=lambda entry: entry[0].path.length)


def _roots(count: int, links: Iterable[tuple[int, int]]) -> list[int]:
    """The representative of each of `count` things, one for all that are linked."""
    parent = list(range(count))

    def root(i: int) -> int:
        while parent[i] != i:
            parent[i] = parent[parent[i]]
            i = parent[i]
        return i

    for one, other in links:
        parent[root(other)] = root(one)
    return [root(i) for i in range(count)]
