"""An index of bounding boxes, to be asked again and again which of them are near a place."""

from collections.abc import Sequence

import numpy as np

from parts.geometry.search.grid import Floats
from parts.geometry.segment import Box
from parts.geometry.view import BoxTree

_SOME_BOXES, _MANY_BOXES = 150, 2_000
"""Above so many boxes arrays are quicker than going through them all, and then a tree (measured in tests/bench)."""


class BoxIndex:
    """Many boxes: gone through up to some, above that compared in arrays, above more in an R-tree."""

    def __init__(self, boxes: Sequence[Box]) -> None:
        self._boxes = boxes
        every = np.array(boxes) if len(boxes) > _SOME_BOXES else None
        self._tree = BoxTree(every) if every is not None and len(boxes) > _MANY_BOXES else None
        self._columns: Floats | None = None if every is None else np.ascontiguousarray(every.T)

    def near(self, box: Box, reach: float) -> list[int]:
        """Return the indices, in order, of the boxes within `reach` mm of another one in x and in y."""
        x0, y0, x1, y1 = box[0] - reach, box[1] - reach, box[2] + reach, box[3] + reach
        if self._tree:
            return self._tree.meeting((x0, y0, x1, y1))
        if self._columns is not None:
            lows_x, lows_y, highs_x, highs_y = self._columns
            met = (lows_x <= x1) & (x0 <= highs_x) & (lows_y <= y1) & (y0 <= highs_y)
            near: list[int] = met.nonzero()[0].tolist()
            return near
        return [i for i, (ax, ay, bx, by) in enumerate(self._boxes) if ax <= x1 and x0 <= bx and ay <= y1 and y0 <= by]


def crowded(boxes: Floats, reach: float, most: int) -> bool:
    """Tell whether more than `most` pairs of boxes (n x 4) come within `reach` mm of each other in x and in y.

    Counts a few boxes at a time, and no further than it must, so that it takes little time and memory whatever
    the boxes are.
    """
    tree, found, at, step = BoxTree(boxes), 0, 0, 16
    while at < len(boxes):
        grown = boxes[at : at + step] + np.array([-reach, -reach, reach, reach])
        hits = tree.meetings(grown)
        found, at = found + hits, at + step
        if found > 2 * most + at:  # each pair is met from both its ends, and each box meets itself
            return True
        step = 16 if hits > 100_000 else 2 * step
    return False
