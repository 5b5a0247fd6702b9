"""Nesting: which loops contain which, decided on the true arcs; bounding boxes only save work."""

from collections.abc import Sequence

from parts.geometry.loop import Loop
from parts.geometry.search.boxes import near_pairs


def holders(loops: Sequence[Loop]) -> list[list[int]]:
    """Return for each loop the indices of the loops that it lies in, smallest first.

    The loops neither touch nor cross: a loop lies in another when one point of it does.
    """
    boxes = [loop.box for loop in loops]
    found: list[list[int]] = [[] for _ in loops]
    for i, j in near_pairs(boxes, 0.0):
        for inner, outer in ((i, j), (j, i)):
            a, b = boxes[inner], boxes[outer]
            boxed = b[0] <= a[0] and b[1] <= a[1] and a[2] <= b[2] and a[3] <= b[3]
            if boxed and loops[outer].contains(loops[inner].segments[0].at(0.5)):
                found[inner].append(outer)
    return [sorted(outer, key=lambda k: (loops[k].area, k)) for outer in found]
