"""Ink: the lines already drawn, as a weight in each cell of a coarse grid.

Good for choosing between places, never for measuring. Weights are multiples of a half, so that their sums are exact
in whatever order they are added.
"""

import math
from collections.abc import Iterable, Sequence
from itertools import chain
from typing import TypeAlias

import numpy as np

from parts.geometry.cells import Floats, Indices
from parts.geometry.segment import Box, Line, Segment

Boxes: TypeAlias = tuple[Floats, Floats, Floats, Floats]
"""Bounding boxes as arrays: least x, least y, greatest x, greatest y."""

MOST_CELLS = 2000
"""Cells of the grid along each axis to either side of the origin; what lies further out is on no paper."""
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

    def mark(self, segments: Iterable[Segment], weight: float) -> None:
        """Take note of drawn lines and arcs; a cell keeps the greatest weight it is given."""
        i, j = self._cells(list(segments))
        if not len(i):
            return
        self._reach(int(i.min()), int(j.min()), int(i.max()), int(j.max()))
        at = (i - self._low[0]) * self._weights.shape[1] + (j - self._low[1])
        flat = self._weights.reshape(-1)
        flat[at] = np.maximum(flat[at], weight)
        self._sums = None

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
        sums, (count_i, count_j) = self._summed, self._weights.shape
        i0, j0, i1, j1 = (math.floor(each / self.cell) for each in box)
        i0, i1 = (min(max(i - self._low[0], 0), count_i) for i in (i0, i1 + 1))
        j0, j1 = (min(max(j - self._low[1], 0), count_j) for j in (j0, j1 + 1))
        return float(sums[i1, j1] - sums[i0, j1] - sums[i1, j0] + sums[i0, j0])

    def along(self, line: Line) -> float:
        """Return the weight of the cells that a line runs over, each counted once."""
        i, j = _cells_of_lines([line], self.cell)
        fresh = np.ones(len(i), dtype=np.bool_)
        fresh[1:] = (i[1:] != i[:-1]) | (j[1:] != j[:-1])  # a straight line comes back to no cell
        i, j = i - self._low[0], j - self._low[1]
        fresh &= (i >= 0) & (i < self._weights.shape[0]) & (j >= 0) & (j < self._weights.shape[1])
        return float(self._weights[i[fresh], j[fresh]].sum())

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
        lines = [segment for segment in segments if isinstance(segment, Line)]
        i, j = _cells_of_lines(lines, self.cell)
        points = [_points(segment, self.cell) for segment in segments if not isinstance(segment, Line)]
        if points:
            x, y = np.array(list(chain.from_iterable(points))).T
            i = np.concatenate((i, np.floor(x / self.cell).astype(np.int64)))
            j = np.concatenate((j, np.floor(y / self.cell).astype(np.int64)))
        near = (abs(i) <= MOST_CELLS) & (abs(j) <= MOST_CELLS)
        return (i, j) if near.all() else (i[near], j[near])

    def _reach(self, low_i: int, low_j: int, high_i: int, high_j: int) -> None:
        """Make the grid large enough to hold these cells."""
        (i, j), (count_i, count_j) = self._low, self._weights.shape
        before = i - low_i, j - low_j
        after = high_i - (i + count_i - 1), high_j - (j + count_j - 1)
        if max(*before, *after) > 0:
            pads = [
                (a + _SPARE if a > 0 else 0, b + _SPARE if b > 0 else 0) for a, b in zip(before, after, strict=True)
            ]
            self._weights = np.pad(self._weights, pads)
            self._low = i - pads[0][0], j - pads[1][0]


def _steps(segment: Segment, cell: float) -> int:
    """In how many steps of at most half a cell a segment is walked."""
    return max(1, math.ceil(segment.length / cell * 2))


def _points(segment: Segment, cell: float) -> list[tuple[float, float]]:
    steps = _steps(segment, cell)
    return [segment.at(i / steps) for i in range(steps + 1)]


def _cells_of_lines(lines: Sequence[Line], cell: float) -> tuple[Indices, Indices]:
    """The cells of points along lines, line by line in order."""
    if len(lines) == 1:
        (line,) = lines
        steps = _steps(line, cell)
        share = np.arange(steps + 1) / steps
        (ax, ay), (bx, by) = line.start, line.end
        x, y = ax + share * (bx - ax), ay + share * (by - ay)
    else:
        steps_of = np.array([_steps(line, cell) for line in lines], dtype=np.int64)
        ends = np.array([(*line.start, *line.end) for line in lines]).reshape(-1, 4)
        each, first = np.repeat(np.arange(len(lines)), steps_of + 1), np.cumsum(steps_of + 1) - (steps_of + 1)
        share = (np.arange(len(each)) - first[each]) / steps_of[each]
        ax, ay, bx, by = ends[each].T
        x, y = ax + share * (bx - ax), ay + share * (by - ay)
    return np.floor(x / cell).astype(np.int64), np.floor(y / cell).astype(np.int64)


def _within(index: int) -> int:
    return min(max(index, -MOST_CELLS), MOST_CELLS)
