"""Square cells over the plane: which of many small boxes come near each other, in time that grows with their number."""

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

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
