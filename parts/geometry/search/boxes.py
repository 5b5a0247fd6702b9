"""Which boxes come near each other: the search that keeps exact work to the pairs that need it."""

from collections.abc import Iterator, Sequence

from parts.geometry.segment import Box


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
