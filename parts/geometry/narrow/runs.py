"""Runs: pieces of boundary at one distance from each other, parallel lines or concentric arcs; of many pairs at once.

The circles that touch both pieces have their centres on the *path* midway between them, a line or an arc itself.
Other boundary that comes between them takes parts of the path away.
"""

from collections.abc import Iterable, Sequence
from typing import NamedTuple, TypeAlias

import numpy as np

from parts.geometry.narrow.boundary import Boundary
from parts.geometry.narrow.tangency import may_touch, touches
from parts.geometry.search.boxes import near_pairs
from parts.geometry.search.grid import Floats, Indices, near_points, spread
from parts.geometry.segment import Line, Segment
from parts.geometry.segments import Mask, Points, Segments, cross, dot
from parts.tolerance import PARALLEL_RAD, SAME_NECK_MM, SAME_POINT_MM

_NEARLY_OPPOSITE = -0.999999
"""Cosine between headings: quickly leaves out what is clearly not parallel, far beyond rounding."""


class Runs(NamedTuple):
    """The paths midway between pieces of boundary, the widths between these in mm, and the pairs they are of."""

    path: Segments
    width: Floats
    pair: Indices

    @classmethod
    def along(cls, paths: Iterable[Segment], width: float) -> "Runs":
        """Return runs of one width along paths, each with its own index in place of a pair."""
        path = Segments.of(list(paths))
        return cls(path, np.full(len(path.start), width), np.arange(len(path.start)))

    def where(self, kept: Mask | Indices) -> "Runs":
        """Return some of them."""
        return Runs(self.path.where(kept), self.width[kept], self.pair[kept])

    @property
    def chord(self) -> tuple[Points, Points]:
        """The chords across the middles of the runs, from the right of the path to its left."""
        middle = self.middle
        across = self.width / 2 * (1j * self.path.heading_at(np.arange(len(middle)), middle))
        return middle - across, middle + across

    @property
    def middle(self) -> Points:
        """The middles of the paths."""
        every = np.arange(len(self.width))
        return self.path.at(every, np.full(len(every), 0.5))


def runs_between(of: Segments, a: Indices, b: Indices) -> Runs:
    """Return the runs between pairs of segments that face each other with the region on the left of both."""
    bent_a, bent_b = of.bulge[a] != 0, of.bulge[b] != 0
    lines = np.flatnonzero(~bent_a & ~bent_b)
    arcs = np.flatnonzero(bent_a & bent_b)
    found = [_between_lines(of, a[lines], b[lines], lines)]
    if len(arcs):
        found.append(_between_arcs(of, a[arcs], b[arcs], arcs))
    start, end, bulge, width, pair = (np.concatenate(column) for column in zip(*found, strict=True))
    return Runs(Segments.between(start, end, bulge), width, pair)


def runs_between_lines(lines: Sequence[Line], least: float, limit: float) -> Runs:
    """Return the runs from `least` to under `limit` mm wide between lines that face each other.

    Few lines do: arrays are made only where two may.
    """
    near = near_pairs([line.box for line in lines], limit)
    pairs = [(i, j) for i, j in near if _may_face(lines[i], lines[j], limit)]
    if not pairs:
        return _NONE
    a, b = np.array(pairs, dtype=np.int64).T
    runs = runs_between(Segments.of(lines), a, b)
    return runs.where((runs.width >= least) & (runs.width < limit))


def _may_face(a: Line, b: Line, limit: float) -> bool:
    """Whether two lines are nearly opposite, the second on the left of the first and less than the limit away."""
    (ux, uy), (vx, vy), (ax, ay), (bx, by) = a.heading, b.heading, a.start, b.start
    return ux * vx + uy * vy < _NEARLY_OPPOSITE and 0 < ux * (by - ay) - uy * (bx - ax) < limit


_NONE = Runs.along((), 0.0)

Columns: TypeAlias = tuple[Points, Points, Floats, Floats, Indices]
"""Starts, ends and bulges of paths, widths and pairs."""


def _between_lines(of: Segments, a: Indices, b: Indices, pair: Indices) -> Columns:
    u, v = of.heading[a], of.heading[b]
    opposite = (dot(u, v) <= 0) & (np.abs(cross(u, v)) <= PARALLEL_RAD)
    a, b, u, pair = a[opposite], b[opposite], u[opposite], pair[opposite]
    width = cross(u, of.start[b] - of.start[a])
    low = np.maximum(of.fraction_of(a, of.end[b]), 0.0)
    high = np.minimum(of.fraction_of(a, of.start[b]), 1.0)
    off = width / 2 * (1j * u)
    faces = (width > SAME_POINT_MM) & ((high - low) * of.length[a] > SAME_POINT_MM)
    start, end = of.at(a, low) + off, of.at(a, high) + off
    return start[faces], end[faces], np.zeros(np.count_nonzero(faces)), width[faces], pair[faces]


def _between_arcs(of: Segments, a: Indices, b: Indices, pair: Indices) -> Columns:
    """The runs between concentric arcs: the inner one turns right, the outer one left."""
    inner, outer = np.where(of.bulge[a] < of.bulge[b], (a, b), (b, a))
    width = of.radius[outer] - of.radius[inner]
    faces = (np.abs(of.centre[a] - of.centre[b]) <= SAME_POINT_MM) & (width > SAME_POINT_MM)
    faces &= (of.bulge[inner] < 0) & (of.bulge[outer] > 0)
    inner, outer, width, pair = inner[faces], outer[faces], width[faces], pair[faces]
    low, high = _common_angles(of, outer, inner)
    long = (high - low) * of.radius[outer] > SAME_POINT_MM
    inner, outer, width, pair, low, high = (column[long] for column in (inner, outer, width, pair, low, high))
    radius, centre = (of.radius[inner] + of.radius[outer]) / 2, of.centre[outer]
    start, end = (centre + radius * (np.cos(t) + 1j * np.sin(t)) for t in (low, high))
    return start, end, np.tan((high - low) / 4), width, pair


def _common_angles(of: Segments, outer: Indices, inner: Indices) -> tuple[Floats, Floats]:
    """The longest intersection of the angles, seen from the common centre, of a left- and a right-turning arc."""
    start_a = np.angle(of.start[outer] - of.centre[outer])
    start_b = np.angle(of.end[inner] - of.centre[inner])
    at = start_b + 2 * np.pi * np.array([[-1.0], [0.0], [1.0]])
    low, high = np.maximum(start_a, at), np.minimum(start_a + of.sweep[outer], at - of.sweep[inner])
    longest = np.argmax(high - low, axis=0), np.arange(len(outer))
    return low[longest], high[longest]


def free_stretches(runs: Runs, boundary: Boundary) -> Runs:
    """Return the stretches of runs where a circle across has none of the boundary inside.

    A circle comes to touch a segment, or leaves it, only where its centre is at its radius from an end,
    the line or the circle of that segment: the path is cut there, and each piece tried in its middle.
    """
    if not len(runs.width):
        return runs
    path, radius, of = runs.path, runs.width / 2, boundary.segments
    i, k = boundary.near(path.boxes() + radius[:, None] * np.array([-1.0, -1.0, 1.0, 1.0]))
    may = may_touch(path, of, radius, i, k)
    order = np.argsort(i[may], kind="stable")
    i, k = i[may][order], k[may][order]
    run, low, high = _pieces(path, touches(path, of, radius, i, k))
    middle = path.at(run, (low + high) / 2)
    count = np.bincount(i, minlength=len(radius))
    piece, within = spread(count[run])
    other = k[(np.cumsum(count) - count)[run[piece]] + within]
    inside = np.abs(middle[piece] - of.nearest(other, middle[piece])) < radius[run[piece]] - SAME_POINT_MM
    free = np.bincount(piece[inside], minlength=len(run)) == 0
    goes_on = free[1:] & free[:-1] & (run[1:] == run[:-1])
    first, last = free & ~np.append(False, goes_on), free & ~np.append(goes_on, False)
    run, low, high = run[first], low[first], high[last]
    long = (high - low) * path.length[run] > SAME_NECK_MM
    run, low, high = run[long], low[long], high[long]
    bulge = np.tan((high - low) * path.sweep[run] / 4)
    return Runs(Segments.between(path.at(run, low), path.at(run, high), bulge), runs.width[run], runs.pair[run])


def _pieces(path: Segments, cuts: Iterable[tuple[Indices, Points]]) -> tuple[Indices, Floats, Floats]:
    """Paths cut at points: of each piece, in order, its path and the fractions of that where it starts and ends."""
    every = np.arange(len(path.start))
    found = [(every, np.zeros(len(every))), (every, np.ones(len(every)))]
    for k, points in cuts:
        fraction = path.fraction_of(k, points)
        on = (fraction > 0) & (fraction < 1)
        found.append((k[on], fraction[on]))
    of, at = (np.concatenate(column) for column in zip(*found, strict=True))
    order = np.lexsort((at, of))
    of, at = of[order], at[order]
    piece = (of[1:] == of[:-1]) & (at[1:] > at[:-1])
    return of[:-1][piece], at[:-1][piece], at[1:][piece]


def joined(runs: Runs) -> Runs:
    """Return the longest run of each chain of runs of one width whose paths meet end to end."""
    count = len(runs.width)
    i, j = near_points(np.concatenate([runs.path.start, runs.path.end]), 2 * SAME_NECK_MM)
    i, j = i % max(count, 1), j % max(count, 1)  # a piece too short to count may lie between
    same = np.abs(runs.width[i] - runs.width[j]) <= SAME_NECK_MM
    root = _roots(count, zip(i[same].tolist(), j[same].tolist(), strict=True))
    order = np.lexsort((-runs.path.length, root))
    return runs.where(order[np.diff(root[order], prepend=-1) != 0])


def _roots(count: int, links: Iterable[tuple[int, int]]) -> Indices:
    """The representative of each of `count` things, one for all that are linked: union-find with path halving."""
    parent = list(range(count))

    def root(i: int) -> int:
        while parent[i] != i:
            parent[i] = parent[parent[i]]
            i = parent[i]
        return i

    for one, other in links:
        parent[root(other)] = root(one)
    return np.array([root(i) for i in range(count)], dtype=np.int64)
