"""Which bounding boxes come near each other: the search that keeps exact work to the pairs that need it."""

from collections.abc import Iterator, Sequence

import numpy as np

from parts.geometry.search.grid import Floats, Indices, meet, near_between
from parts.geometry.segment import Box

_MANY_BOXES = 150
"""Above this many boxes the sweep is quicker over arrays, a batch at a time (measured in tests/bench)."""
_BATCH = 64
"""Boxes that the sweep takes on at a time."""


def near_pairs(boxes: Sequence[Box], reach: float) -> Iterator[tuple[int, int]]:
    """Yield each pair of indices (i < j) whose boxes come within `reach` mm of each other in x and in y.

    A sweep from left to right, in the order of which they come: by the one further right, then by the other.
    """
    return _swept(boxes, reach) if len(boxes) <= _MANY_BOXES else _swept_in_batches(boxes, reach)


def pairs_between(a: Sequence[Box], b: Sequence[Box], reach: float) -> list[tuple[int, int]]:
    """Return the indices (of a, of b), in order, of boxes within `reach` mm of each other in x and in y."""
    if not a or not b:
        return []
    i, k = near_between(np.array(a), np.array(b), reach)
    return sorted(zip(i.tolist(), k.tolist(), strict=True))


def _swept(boxes: Sequence[Box], reach: float) -> Iterator[tuple[int, int]]:
    order = sorted(range(len(boxes)), key=[box[0] for box in boxes].__getitem__)
    still_open: list[tuple[float, float, float, int]] = []  # how far right, down and up each reaches
    for j in order:
        x0, y0, x1, y1 = boxes[j]
        still_open = [each for each in still_open if each[0] >= x0]
        for _, low, high, i in still_open:
            if low <= y1 and y0 <= high:
                yield (i, j) if i < j else (j, i)
        still_open.append((x1 + reach, y0 - reach, y1 + reach, j))


def _swept_in_batches(boxes: Sequence[Box], reach: float) -> Iterator[tuple[int, int]]:
    """The same sweep, many boxes at a time against those that are still open."""
    order: Indices = np.argsort(np.array([box[0] for box in boxes]), kind="stable")
    every: Floats = np.array(boxes)[order]
    still_open = np.empty(0, dtype=np.int64)
    for start in range(0, len(every), _BATCH):
        batch = np.arange(start, min(start + _BATCH, len(every)))
        still_open = still_open[every[still_open, 2] + reach >= every[start, 0]]
        still_open = np.append(still_open, batch)
        grown = every[batch] + np.array([-reach, -reach, reach, reach])
        at, k = np.nonzero(meet(grown[:, None], every[still_open]))
        j, i = batch[at], still_open[k]
        one, other = order[i[i < j]], order[j[i < j]]
        yield from zip(np.minimum(one, other).tolist(), np.maximum(one, other).tolist(), strict=True)
