"""Square cells over the plane: which of many small boxes come near each other, in time that grows with their number."""

import itertools
import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from parts.geometry.segment import Point, Segment

Floats: TypeAlias = NDArray[np.float64]
Indices: TypeAlias = NDArray[np.int64]

_FORWARD = ((0, 0), (0, 1), (1, -1), (1, 0), (1, 1))
"""A cell and those of its neighbours that come after it: each pair of neighbouring cells is met once."""


def near_boxes(boxes: Floats, reach: float) -> tuple[Indices, Indices]:
    """Return index arrays (i < j) of the pairs of boxes (n x 4) within `reach` mm in x and in y.

    Each box is filed under the cell that holds its middle; cells are as large as the largest box and the reach.
    """
    low, high = boxes[:, :2], boxes[:, 2:]
    size = float((high - low).max()) + reach
    at = np.floor(((low + high) / 2 - boxes[:, :2].min(axis=0)) / size).astype(np.int64) + 1
    rows = int(at[:, 1].max()) + 2
    key = at[:, 0] * rows + at[:, 1]
    order = np.argsort(key, kind="stable")
    ranked = key[order]
    found = []
    for dx, dy in _FORWARD:
        wanted = ranked + dx * rows + dy
        start = np.searchsorted(ranked, wanted, side="left")
        if (dx, dy) == (0, 0):
            start = np.arange(1, len(ranked) + 1)
        count = np.searchsorted(ranked, wanted, side="right") - start
        i, within = spread(count)
        i, j = order[i], order[start[i] + within]
        near = np.all((low[i] <= high[j] + reach) & (low[j] <= high[i] + reach), axis=1)
        found.append((i[near], j[near]))
    a, b = (np.concatenate(column) for column in zip(*found, strict=True))
    return np.minimum(a, b), np.maximum(a, b)


def spread(count: Indices) -> tuple[Indices, Indices]:
    """Return for counts c0, c1, ...: each index as often as counted, and the numbers 0, 1, ... within each."""
    index = np.repeat(np.arange(len(count)), count)
    return index, np.arange(len(index)) - np.repeat(np.cumsum(count) - count, count)


class Cells:
    """Numbered things filed under cells by points along them, to be found again from points along a path."""

    def __init__(self, size: float) -> None:
        self._size = size
        self._filed: dict[tuple[int, int], list[int]] = defaultdict(list)

    def file(self, index: int, points: Iterable[Point]) -> None:
        """File a thing by points that each of it is within a quarter of a cell of."""
        for cell in {self._cell(p) for p in points}:
            self._filed[cell].append(index)

    def near(self, points: Iterable[Point]) -> list[int]:
        """Return, in order, at least the things within half a cell of what the points stand for."""
        cells = {(x + dx, y + dy) for x, y in map(self._cell, points) for dx in (-1, 0, 1) for dy in (-1, 0, 1)}
        return sorted(set(itertools.chain.from_iterable(self._filed[cell] for cell in cells if cell in self._filed)))

    def stops(self, path: Segment) -> Sequence[Point]:
        """Return points along a segment such that each of it is within a quarter of a cell of one."""
        count = math.ceil(2 * path.length / self._size)
        return [path.at((i + 0.5) / count) for i in range(count)]

    def _cell(self, p: Point) -> tuple[int, int]:
        return math.floor(p[0] / self._size), math.floor(p[1] / self._size)
