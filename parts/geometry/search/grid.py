"""Bounding boxes binned into rows: which of many come near each other, in time that grows with their number.

A box is n x 4: least x, least y, greatest x, greatest y. Each is filed in the row that holds its middle, from left to
right; rows are as high as the boxes, so what comes near one is in a few rows, within a stretch of each.
"""

from collections.abc import Iterable, Iterator
from typing import Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

Floats: TypeAlias = NDArray[np.float64]
Indices: TypeAlias = NDArray[np.int64]

# Pairs looked at in one go: what they take stays in the processor's cache.
_BATCH = 200_000
# Up to so many pairs, or boxes of the first kind, comparing all is quicker than to file boxes in rows (tests/bench).
_FEW_PAIRS, _FEW_BOXES = 100_000, 20
# What the key of a box may be off by rounding, as a share of the greatest.
_ROUNDING = 1e-15


def near_boxes(boxes: Floats, reach: float) -> Iterator[tuple[Indices, Indices]]:
    """Yield index arrays (i < j) of the pairs of boxes within `reach` mm in x and in y, boxes of about one size."""
    if not len(boxes):
        return
    rows = _Rows(boxes, reach)
    x0, y0, x1, y1 = rows.boxes
    side = rows.wide + reach
    one, every = rows.row, np.arange(len(boxes))
    same = every + 1, rows.place(one, x1 + side, "right")
    below = rows.place(one + 1, x0 - side, "left"), rows.place(one + 1, x1 + side, "right")
    for start, end in (same, below):
        for i, j in _ranges(start, end):
            near = (x0[i] <= x1[j] + reach) & (x0[j] <= x1[i] + reach)
            i, j = i[near], j[near]
            near = (y0[i] <= y1[j] + reach) & (y0[j] <= y1[i] + reach)
            a, b = rows.order[i[near]], rows.order[j[near]]
            yield np.minimum(a, b), np.maximum(a, b)


def near_points(points: NDArray[np.complex128], reach: float) -> tuple[Indices, Indices]:
    """Return index arrays (i < j) of the pairs of points, x + iy, within `reach` mm of each other in x and in y."""
    return _together(near_boxes(np.stack([points.real, points.imag, points.real, points.imag], axis=1), reach))


def near_between(a: Floats, b: Floats, reach: float = 0.0) -> tuple[Indices, Indices]:
    """Return index arrays (of a, of b) of the boxes of one kind within `reach` mm of those of another, of any sizes."""
    a = a + np.array([-reach, -reach, reach, reach])
    if len(a) * len(b) <= _FEW_PAIRS or len(a) <= _FEW_BOXES:
        i, k = np.nonzero(meet(a[:, None], b[None]))
        return i, k
    exponent = np.frexp(np.maximum(b[:, 2] - b[:, 0], b[:, 3] - b[:, 1]))[1] // 2  # four times as large: others
    alike = (np.flatnonzero(exponent == each) for each in np.unique(exponent))
    return _together((i, of[k]) for of in alike for i, k in _near_of_one_size(a, b[of]))


def _together(batches: Iterable[tuple[Indices, Indices]]) -> tuple[Indices, Indices]:
    none = np.empty(0, dtype=np.int64)
    i, k = (np.concatenate(column) for column in zip((none, none), *batches, strict=True))
    return i, k


def _near_of_one_size(a: Floats, b: Floats) -> Iterator[tuple[Indices, Indices]]:
    """Yield index arrays of the boxes that meet; the second are of about one size."""
    rows = _Rows(b, float((a[:, 3] - a[:, 1]).mean()))
    first, last = rows.of(a[:, 1] - rows.high), rows.of(a[:, 3] + rows.high)
    i, within = spread(last - first + 1)
    row, low, high = first[i] + within, a[i, 0] - rows.wide, a[i, 2] + rows.wide
    sorted_b = rows.boxes.T
    for at, k in _ranges(rows.place(row, low, "left"), rows.place(row, high, "right")):
        of = i[at]
        met = meet(a[of], sorted_b[k])
        yield of[met], rows.order[k[met]]


def meet(a: Floats, b: Floats) -> NDArray[np.bool_]:
    """Return whether boxes (... x 4) meet."""
    met: NDArray[np.bool_] = (a[..., 0] <= b[..., 2]) & (b[..., 0] <= a[..., 2])
    met &= (a[..., 1] <= b[..., 3]) & (b[..., 1] <= a[..., 3])
    return met


class _Rows:
    """Boxes in rows, each in its row from left to right: `order` are their indices so, `boxes` their four columns.

    `wide` and `high` are half the width and the height of the largest; rows are as high as that and `more`.
    """

    def __init__(self, boxes: Floats, more: float) -> None:
        x, y = (boxes[:, 0] + boxes[:, 2]) / 2, (boxes[:, 1] + boxes[:, 3]) / 2
        self.wide, self.high = ((boxes[:, 2:] - boxes[:, :2]).max(axis=0) / 2).tolist()
        self._left, self._low = float(x.min()), float(y.min())
        self._long = float(x.max()) - self._left
        self._height = 2 * self.high + more or 1.0
        self._count = 1 + int((float(y.max()) - self._low) // self._height)
        row = self.of(y)
        key = self._key(row, x)
        self.order = np.argsort(key, kind="stable")
        self._keys, self.row = key[self.order], row[self.order]
        self.boxes: Floats = np.ascontiguousarray(boxes[self.order].T)

    def of(self, y: Floats) -> Indices:
        """Return the rows, of those there are, at heights."""
        return np.clip((y - self._low) // self._height, 0, self._count - 1).astype(np.int64)

    def place(self, row: Indices, x: Floats, side: Literal["left", "right"]) -> Indices:
        """Return how many come before places in rows, or on their right side not after; rather too few or too many."""
        slack = _ROUNDING * float(self._keys[-1])
        return np.searchsorted(self._keys, self._key(row, x) + (slack if side == "right" else -slack), side)

    def _key(self, row: Indices, x: Floats) -> Floats:
        """One number a place, that sorts as row and x do."""
        key: Floats = np.clip(x - self._left, -0.25, self._long + 0.25)
        key += row * (self._long + 1.0)
        return key


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
