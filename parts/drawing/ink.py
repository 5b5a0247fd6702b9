"""Ink: the lines already drawn, as a weight in each cell of a coarse grid.

Good for choosing between places, never for measuring. Weights are multiples of a half, so that their sums are exact
in whatever order they are added.
"""

import math
from collections.abc import Iterable, Sequence
from copy import copy
from itertools import chain
from typing import TypeAlias

import numpy as np

from parts.geometry import Arc, Box, Line, Point, Segment
from parts.geometry.search import Floats, Indices

Boxes: TypeAlias = tuple[Floats, Floats, Floats, Floats]
"""Bounding boxes as arrays: least x, least y, greatest x, greatest y."""

GridBlock: TypeAlias = tuple[int, int, int, int]
"""A block of cells: least i, least j, greatest i, greatest j."""

MOST_CELLS = 2000
"""Cells of the grid along each axis to either side of the origin; what lies further out is on no paper."""
_FEW = 4
"""Lines up to which each is marked by itself."""
_SPARE = 12
"""Cells that the grid is made larger by than is needed at once."""


class Ink:
    """The grid; `cell` is the side of its cells in mm of paper."""

    def __init__(self, cell: float, box: Box) -> None:
        self.cell = cell
        low_i, low_j, high_i, high_j = (_within(math.floor(each / cell)) for each in box)
        self._low = low_i - _SPARE, low_j - _SPARE
        self._weights = np.zeros((high_i - low_i + 1 + 2 * _SPARE, high_j - low_j + 1 + 2 * _SPARE))
        self._sums: Floats | None = None

    def branch(self) -> "Ink":
        """Return the same, to be marked without marking this."""
        other = copy(self)
        other._weights = self._weights.copy()
        return other

    def mark(self, segments: Iterable[Segment], weight: float) -> None:
        """Take note of drawn lines and arcs; a cell keeps the greatest weight it is given."""
        others = []
        for segment in segments:
            if isinstance(segment, Line) and (block := self._block(segment)):
                self._mark_block(block, weight)
            else:
                others.append(segment)
        if len(others) <= _FEW and all(isinstance(segment, Line) for segment in others):
            for line in others:
                self._mark_line(line, weight)
        elif others:
            self._mark_cells(*self._cells(others), weight)
        self._sums = None

    def _mark_line(self, line: Segment, weight: float) -> None:
        """Mark the cells of one line, the same as `_cells` has: for a few lines quicker than arrays."""
        run_over = [(i, j) for i, j in _run_over(line, self.cell) if abs(i) <= MOST_CELLS and abs(j) <= MOST_CELLS]
        if not run_over:
            return
        along_i, along_j = [i for i, _ in run_over], [j for _, j in run_over]
        self._reach((min(along_i), min(along_j), max(along_i), max(along_j)))
        (low_i, low_j), weights = self._low, self._weights
        for i, j in run_over:
            if weights[i - low_i, j - low_j] < weight:
                weights[i - low_i, j - low_j] = weight

    def _block(self, line: Line) -> GridBlock | None:
        """The cells of a horizontal or vertical line, first and last in both directions; None of any other line."""
        (ax, ay), (bx, by) = line.start, line.end
        if ax != bx and ay != by:
            return None
        i, j = _within(math.floor(ax / self.cell)), _within(math.floor(ay / self.cell))
        if ax == bx:
            m = _within(math.floor((ay + (by - ay)) / self.cell))
            return (i, j, i, m) if j <= m else (i, m, i, j)
        k = _within(math.floor((ax + (bx - ax)) / self.cell))
        return (i, j, k, j) if i <= k else (k, j, i, j)

    def _mark_block(self, block: GridBlock, weight: float) -> None:
        self._reach(block)
        (i, j), (i0, j0, i1, j1) = self._low, block
        cells = self._weights[i0 - i : i1 - i + 1, j0 - j : j1 - j + 1]
        np.maximum(cells, weight, out=cells)

    def _mark_cells(self, i: Indices, j: Indices, weight: float) -> None:
        if len(i):
            self._reach((int(i.min()), int(j.min()), int(i.max()), int(j.max())))
            at = (i - self._low[0]) * self._weights.shape[1] + (j - self._low[1])
            flat = self._weights.reshape(-1)
            flat[at] = np.maximum(flat[at], weight)

    def under(self, boxes: Boxes) -> Floats:
        """Return the weight of the cells that each box touches."""
        sums, (count_i, count_j) = self._summed, self._weights.shape
        i0, j0, i1, j1 = (np.floor(each / self.cell).astype(np.int64) for each in boxes)
        i0, i1 = (np.minimum(np.maximum(i - self._low[0], 0), count_i) for i in (i0, i1 + 1))
        j0, j1 = (np.minimum(np.maximum(j - self._low[1], 0), count_j) for j in (j0, j1 + 1))
        total: Floats = sums[i1, j1] - sums[i0, j1] - sums[i1, j0] + sums[i0, j0]
        return total

    def under_box(self, box: Box) -> float:
        """Return the weight of the cells that one box touches."""
        (i, j), (i0, j0, i1, j1) = self._low, (math.floor(each / self.cell) for each in box)
        return self._in_block((i0 - i, j0 - j, i1 - i, j1 - j))

    def along(self, line: Line) -> float:
        """Return the weight of the cells that a line runs over, each counted once."""
        if block := self._block(line):
            (i, j), (i0, j0, i1, j1) = self._low, block
            return self._in_block((i0 - i, j0 - j, i1 - i, j1 - j))
        (low_i, low_j), (count_i, count_j) = self._low, self._weights.shape
        at = [(i - low_i, j - low_j) for i, j in _run_over(line, self.cell)]
        return float(sum(self._weights.item(i, j) for i, j in at if 0 <= i < count_i and 0 <= j < count_j))

    def _in_block(self, block: GridBlock) -> float:
        """The weight of a block of cells, counted from the grid's first."""
        i0, j0, i1, j1 = block
        return float(self._weights[max(i0, 0) : max(i1 + 1, 0), max(j0, 0) : max(j1 + 1, 0)].sum())

    def along_lines(self, ends: Floats) -> Floats:
        """Return the same of each of many lines: rows of x and y of their starts, then of their ends."""
        each, i, j = _cells_of_lines(ends, self.cell)
        i -= self._low[0]
        j -= self._low[1]
        count_i, count_j = self._weights.shape
        fresh = (i >= 0) & (i < count_i) & (j >= 0) & (j < count_j)
        at: Indices = i * count_j + j
        fresh[1:] &= (at[1:] != at[:-1]) | (each[1:] != each[:-1])  # a straight line comes back to no cell
        weights = self._weights.reshape(-1)[at[fresh]]
        return np.bincount(each[fresh], weights=weights, minlength=ends.shape[1]).astype(np.float64)

    @property
    def _summed(self) -> Floats:
        """The summed-area table: at (i, j) the weight of all cells below i and below j."""
        if self._sums is None:
            count_i, count_j = self._weights.shape
            self._sums = np.zeros((count_i + 1, count_j + 1))
            inner = self._sums[1:, 1:]
            np.cumsum(self._weights, axis=0, out=inner)
            np.cumsum(inner, axis=1, out=inner)
        return self._sums

    def _cells(self, segments: Sequence[Segment]) -> tuple[Indices, Indices]:
        """The cells that segments run over, as two arrays."""
        lines = [(*segment.start, *segment.end) for segment in segments if isinstance(segment, Line)]
        _, i, j = _cells_of_lines(np.array(lines).reshape(-1, 4).T, self.cell)
        points = [_points(segment, self.cell) for segment in segments if not isinstance(segment, Line)]
        if points:
            x, y = np.array(list(chain.from_iterable(points))).T
            i = np.concatenate((i, np.floor(x / self.cell).astype(np.int64)))
            j = np.concatenate((j, np.floor(y / self.cell).astype(np.int64)))
        near = (abs(i) <= MOST_CELLS) & (abs(j) <= MOST_CELLS)
        return (i, j) if near.all() else (i[near], j[near])

    def _reach(self, block: GridBlock) -> None:
        """Make the grid large enough to hold these cells."""
        (low_i, low_j, high_i, high_j), (i, j), (count_i, count_j) = block, self._low, self._weights.shape
        before = i - low_i, j - low_j
        after = high_i - (i + count_i - 1), high_j - (j + count_j - 1)
        if max(*before, *after) > 0:
            pads = [
                (a + _SPARE if a > 0 else 0, b + _SPARE if b > 0 else 0) for a, b in zip(before, after, strict=True)
            ]
            self._weights = np.pad(self._weights, pads)
            self._low = i - pads[0][0], j - pads[1][0]


def _points(arc: Arc, cell: float) -> list[Point]:
    """Points along an arc, at most half a cell apart."""
    return arc.points(max(1, math.ceil(arc.length / cell * 2)))


def _run_over(line: Segment, cell: float) -> set[tuple[int, int]]:
    """The cells of points at most half a cell apart along a line."""
    (ax, ay), (bx, by) = line.start, line.end
    dx, dy, floor = bx - ax, by - ay, math.floor
    steps = max(math.ceil(math.hypot(dx, dy) / cell * 2), 1)
    shares = [k / steps for k in range(steps + 1)]
    return {(floor((ax + share * dx) / cell), floor((ay + share * dy) / cell)) for share in shares}


def _cells_of_lines(ends: Floats, cell: float) -> tuple[Indices, Indices, Indices]:
    """The cells of points at most half a cell apart along lines: the index of the line, then the cell's indices."""
    ax, ay, bx, by = ends
    dx, dy = bx - ax, by - ay
    lengths = np.array([*map(math.hypot, dx.tolist(), dy.tolist())])
    steps = np.maximum(np.ceil(lengths / cell * 2), 1.0).astype(np.int64)
    count = steps + 1
    each = np.repeat(np.arange(len(steps)), count)
    share = (np.arange(len(each)) - (np.cumsum(count) - count)[each]) / steps[each]
    x, y = ax[each] + share * dx[each], ay[each] + share * dy[each]
    return each, np.floor(x / cell).astype(np.int64), np.floor(y / cell).astype(np.int64)


def _within(index: int) -> int:
    return index if -MOST_CELLS <= index <= MOST_CELLS else min(max(index, -MOST_CELLS), MOST_CELLS)
