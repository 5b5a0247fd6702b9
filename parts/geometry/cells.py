"""Rows over the plane: which of many small boxes come near each other, in time that grows with their number."""

from collections.abc import Iterator
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Floats: TypeAlias = NDArray[np.float64]
Indices: TypeAlias = NDArray[np.int64]

# Pairs looked at in one go: what they take stays in the processor's cache.
_BATCH = 200_000


def near_boxes(boxes: Floats, reach: float) -> tuple[Indices, Indices]:
    """Return index arrays (i < j) of the pairs of boxes (n x 4) within `reach` mm in x and in y.

    Each box is filed in the row that holds its middle, from left to right; rows are as high as the highest box and
    the reach. What comes near a box has its middle in the same row or the next, no further to a side than the widest
    box allows.
    """
    if not len(boxes):
        return np.empty(0, dtype=np.int64), np.empty(0, dtype=np.int64)
    middle = (boxes[:, :2] + boxes[:, 2:]) / 2
    wide, high = ((boxes[:, 2:] - boxes[:, :2]).max(axis=0) / 2).tolist()
    row = np.floor((middle[:, 1] - middle[:, 1].min()) / (2 * high + reach or 1.0))
    order = np.lexsort((middle[:, 0], row))
    boxes, row = boxes[order], row[order].astype(np.int64)
    x0, y0, x1, y1 = (np.ascontiguousarray(column) for column in boxes.T)
    # one number a box, that sorts as row and place do: rows are further apart than any reach
    left = middle[:, 0].min() - wide - reach
    apart = middle[:, 0].max() + wide + reach - left + 1.0
    key = row * apart + (middle[order, 0] - left)
    slack = wide + reach + float(key[-1]) * 1e-15
    same = np.arange(1, len(key) + 1), np.searchsorted(key, x1 + slack - left + row * apart, side="right")
    below = (np.searchsorted(key, edge - left + (row + 1) * apart) for edge in (x0 - slack, x1 + slack))
    found = []
    for start, end in (same, tuple(below)):
        for i, j in _ranges(start, end):
            near = (x0[i] <= x1[j] + reach) & (x0[j] <= x1[i] + reach)
            i, j = i[near], j[near]
            near = (y0[i] <= y1[j] + reach) & (y0[j] <= y1[i] + reach)
            found.append((order[i[near]], order[j[near]]))
    a, b = (np.concatenate(column) for column in zip(*found, strict=True))
    return np.minimum(a, b), np.maximum(a, b)


def near_points(points: NDArray[np.complex128], reach: float) -> tuple[Indices, Indices]:
    """Return index arrays (i < j) of the pairs of points, x + iy, within `reach` mm of each other in x and in y."""
    return near_boxes(np.stack([points.real, points.imag, points.real, points.imag], axis=1), reach)


def _ranges(start: Indices, end: Indices) -> Iterator[tuple[Indices, Indices]]:
    """Yield in batches each index i with every index from start[i] up to end[i]."""
    count = np.maximum(end - start, 0)
    total = np.cumsum(count)
    cuts = np.searchsorted(total, np.arange(_BATCH, total[-1] + _BATCH + 1, _BATCH), side="left") + 1
    low = 0
    for high in cuts.tolist():
        i, within = spread(count[low:high])
        i += low
        yield i, start[i] + within
        low = high


def spread(count: Indices) -> tuple[Indices, Indices]:
    """Return for counts c0, c1, ...: each index as often as counted, and the numbers 0, 1, ... within each."""
    index = np.repeat(np.arange(len(count)), count)
    return index, np.arange(len(index)) - np.repeat(np.cumsum(count) - count, count)
