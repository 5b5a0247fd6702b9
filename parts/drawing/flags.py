"""Flags: the numbered marks of findings, each on a leader from its place to free paper nearby.

Findings alike share the number of their row. A few of them bear it; the places of the others have a dot.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from parts.drawing.frame import Frame
from parts.drawing.leaders import ACROSS_LEADER
from parts.drawing.primitives import Dot, Group, NumberedMark, Path, Polygon
from parts.drawing.room import Occupancy
from parts.finding import FindingRow
from parts.geometry import Box, Line, Point, distance
from parts.geometry.search import Floats

SHARE = 0.12
"""Share of the paper that the marks may fill; more of them are drawn smaller."""
HALF_WIDE = 0.574
"""Half the width of a mark's room in sizes of marks: half as wide as a triangle is, and a hair."""
ACROSS_BOX = 8
"""How many times as much it costs on a page, which has more room than paper, to run through lettering or a mark."""
MOST_ALIKE = 3
"""Findings of one row that have a flag each."""


def mark_size(count: int, text: float, paper: Box) -> float:
    """Return how large each of `count` marks is drawn."""
    area = (paper[2] - paper[0]) * (paper[3] - paper[1])
    return min(1.9 * text, math.sqrt(SHARE * area / max(count, 1)))


def keep_clear(frame: Frame, room: Occupancy, rows: Sequence[FindingRow]) -> None:
    """Make it dear to letter over the places that flags will point at."""
    for finding in (finding for row in rows for finding in row.findings):
        (x, y), r = frame.point(finding.at), frame.sizes.text / 2
        room.draw((Line((x - r, y), (x + r, y)),), 3.0)


def place(frame: Frame, room: Occupancy, rows: Sequence[FindingRow], paper: Box) -> tuple[Group, ...]:
    """Return the flags of each row, having taken their room; the first carries the dots of those without.

    Findings of one place stand side by side, the first on the leader, each linked to the one before.
    Where no free paper is left, marks stand in rows beneath `paper`.
    """
    size = mark_size(sum(len(row.findings[:MOST_ALIKE]) for row in rows), frame.sizes.text, paper)
    ground = Ground(frame, room, size, paper)
    spare = _rows(paper, size)
    clusters: dict[tuple[int, int], list[Point]] = {}
    groups = []
    for row, finding in ((each, finding) for each in rows for finding in each.findings[:MOST_ALIKE]):
        at = frame.point(finding.at)
        cluster = clusters.setdefault((round(at[0] / size * 4), round(at[1] / size * 4)), [])
        start, mark_at = ground.beside(cluster) or (at, ground.near(at) or next(spare))
        cluster.append(mark_at)
        room.claim(_square(mark_at, size))
        leader = _leader(start, mark_at, size, linked=start in cluster)
        room.draw((leader,), 1.0)
        room.lead((leader,))
        mark = NumberedMark(mark_at, finding.severity, row.number, size)
        dots = [] if start in cluster else [at]
        dots += [frame.point(other.at) for other in row.findings[MOST_ALIKE:]] if finding is row.first else []
        dotted = (Dot(dot, frame.sizes.text / 5) for dot in dots)
        groups.append(Group("finding", (Path("leader", (leader,)), *dotted, mark), str(row.number)))
    return tuple(groups)


@dataclass(frozen=True, slots=True)
class Ground:
    """The paper that marks of one size look for a place on."""

    frame: Frame
    room: Occupancy
    size: float
    paper: Box

    def near(self, place: Point) -> Point | None:
        """Return the free place for a mark that costs least, in rings around what it points at."""
        best, least = None, math.inf
        for radius, ring in self._rings(place):
            if radius > least:
                break
            costs = self._costs(place, ring, least - radius)
            k = int(np.argmin(costs))
            if radius + costs[k] < least:
                best, least = (float(ring[0, k]), float(ring[1, k])), radius + float(costs[k])
        return best

    def beside(self, cluster: Sequence[Point]) -> tuple[Point, Point] | None:
        """Return a mark of a cluster and a free place next to it, near the cluster's first and clear of lines."""
        step = 1.16 * self.size
        steps = ((step, 0.0), (0.0, step), (-step, 0.0), (0.0, -step))
        pairs = [((x, y), (x + dx, y + dy)) for x, y in cluster for dx, dy in steps]
        pairs.sort(key=lambda pair: distance(cluster[0], pair[1]) + self._covered(pair[1]))
        return next((pair for pair in pairs if self._free(pair[1])), None)

    def _rings(self, place: Point) -> Iterator[tuple[float, Floats]]:
        """Yield rings about a place, each its radius and the x and y of its points."""
        x0, y0, x1, y1 = self.paper
        radius, furthest, ring = 1.3 * self.size, math.hypot(x1 - x0, y1 - y0), 0
        while radius < furthest:
            count = max(12, math.floor(2 * math.pi * radius / self.size))
            angles = [2 * math.pi * (i + 0.5 * (ring % 2)) / count + math.pi / 4 for i in range(count)]
            xs = [place[0] + radius * math.cos(angle) for angle in angles]
            yield radius, np.array((xs, [place[1] + radius * math.sin(angle) for angle in angles]))
            radius += 0.7 * self.size
            ring += 1

    def _covered_all(self, points: Floats) -> Floats:
        """What the lines cost that marks at many points would lie on, infinite where one isn't free."""
        (x, y), (x0, y0, x1, y1), half, r = points, self.paper, self.size / 2, HALF_WIDE * self.size
        boxes = x - r, y - r, x + r, y + r
        on_paper = (x0 + half <= x) & (x <= x1 - half) & (y0 + half <= y) & (y <= y1 - half)
        free = on_paper & self.room.free_boxes(boxes)
        dear = 2.4 if self.room.apart else 0.8
        costs: Floats = np.where(free, dear * self.size * self.room.cover_boxes(boxes), math.inf)
        return costs

    def _free(self, at: Point) -> bool:
        (x, y), (x0, y0, x1, y1), half = at, self.paper, self.size / 2
        on_paper = x0 + half <= x <= x1 - half and y0 + half <= y <= y1 - half
        return on_paper and self.room.free(_square(at, self.size))

    def _covered(self, at: Point) -> float:
        """What the lines cost that a mark would lie on."""
        return 0.8 * self.size * self.room.cover(_square(at, self.size))

    def _costs(self, place: Point, ring: Floats, most: float) -> Floats:
        """What marks on a ring cost beyond their distance, each with its leader; infinite where that is over `most`.

        What takes longest is reckoned last, and of those alone that may still be the best.
        """
        costs = self._covered_all(ring)
        for more in (self._run_over, self._crossed, self._on_material):
            some = np.flatnonzero(costs < most)
            if len(some):
                x, y = ring[:, some]
                costs[some] += more(np.array((np.full_like(x, place[0]), np.full_like(y, place[1]), x, y)))
        return np.where(costs < most, costs, math.inf)

    def _run_over(self, leaders: Floats) -> Floats:
        costs: Floats = 0.3 * self.size * self.room.along_lines(leaders)
        return costs

    def _crossed(self, leaders: Floats) -> Floats:
        costs = np.multiply(self.size * (ACROSS_BOX if self.room.apart else 1), self.room.crossed_lines(leaders))
        if self.room.apart:
            costs = costs + ACROSS_LEADER * self.size * self.room.crossed_leaders(leaders)
        return costs

    def _on_material(self, leaders: Floats) -> Floats:
        return np.where(self.frame.solid_about(leaders[2], leaders[3]), 0.7 * self.size, 0.0)


def _leader(start: Point, end: Point, size: float, linked: bool) -> Line:
    """The line from a place, or from the edge of the mark before, to the edge of a mark."""
    whole = Line(start, end)
    edge = min(0.5, size / 2 / whole.length)
    return Line(whole.at(edge) if linked else start, whole.at(1 - edge))


def _square(at: Point, size: float) -> Polygon:
    (x, y), r = at, HALF_WIDE * size
    return ((x - r, y - r), (x + r, y - r), (x + r, y + r), (x - r, y + r))


def _rows(paper: Box, size: float) -> Iterator[Point]:
    """Places in rows beneath the paper, from the left."""
    step, row = 1.15 * size, 1
    while True:
        x = paper[0] + step / 2
        while x <= paper[2] - step / 2:
            yield x, paper[1] - (row - 0.5) * step
            x += step
        row += 1
