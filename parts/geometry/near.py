"""Which boxes come near each other: the search that keeps exact work to the pairs that need it."""

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence

from parts.geometry.segment import Box, Point


def near_pairs(boxes: Sequence[Box], reach: float) -> Iterator[tuple[int, int]]:
    """Yield each pair of indices (i < j) whose boxes come within `reach` mm of each other in x and in y.

    A sweep from left to right over the boxes, keeping those that are still within reach.
    """
    order = sorted(range(len(boxes)), key=lambda i: boxes[i][0])
    open_boxes: list[int] = []
    for j in order:
        x0, y0, _, y1 = boxes[j]
        open_boxes = [i for i in open_boxes if boxes[i][2] + reach >= x0]
        for i in open_boxes:
            other = boxes[i]
            if other[1] - reach <= y1 and y0 <= other[3] + reach:
                yield (i, j) if i < j else (j, i)
        open_boxes.append(j)


def near_points(points: Sequence[Point], reach: float) -> Iterator[tuple[int, int]]:
    """Yield each pair of indices (i < j) of points within `reach` mm of each other in x and in y."""
    filed: dict[tuple[int, int], list[int]] = defaultdict(list)
    for j, (x, y) in enumerate(points):
        column, row = math.floor(x / reach), math.floor(y / reach)
        for dx in (-1, 0, 1):
            for dy in (-1, 0, 1):
                for i in filed.get((column + dx, row + dy), ()):
                    if abs(points[i][0] - x) <= reach and abs(points[i][1] - y) <= reach:
                        yield i, j
        filed[column, row].append(j)
