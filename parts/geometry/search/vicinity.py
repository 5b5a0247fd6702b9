"""The vicinity of places: which segments of some loops come near a point or a line, and which region it is in."""

import math
from collections.abc import Container, Iterator, Sequence
from typing import NamedTuple

from parts.geometry.loop import Loop
from parts.geometry.search.index import BoxIndex
from parts.geometry.segment import Box, Point, Segment, distance


class Near(NamedTuple):
    """A segment and the index of its loop."""

    loop: int
    segment: Segment


class Vicinity:
    """All segments of some loops, to be asked again and again what is near a place."""

    def __init__(self, loops: Sequence[Loop]) -> None:
        self._near = [Near(n, segment) for n, loop in enumerate(loops) for segment in loop.segments]
        boxes = [near.segment.box for near in self._near]
        self._right = max((box[2] for box in boxes), default=-math.inf)
        self._index = BoxIndex(boxes)

    def near(self, box: Box, reach: float) -> Iterator[Near]:
        """Yield the segments whose boxes come within `reach` mm of a box, in the order of the loops."""
        return (self._near[i] for i in self._index.near(box, reach))

    def nearest(self, p: Point, reach: float, leaving_out: Container[int] = ()) -> Iterator[tuple[Near, Point]]:
        """Yield each segment that comes within `reach` mm of a point, with its point nearest to it.

        Left out are those of the loops of the indices given.
        """
        for near in self.near((*p, *p), reach):
            if near.loop in leaving_out:
                continue
            foot = near.segment.nearest(p)
            if distance(p, foot) <= reach:
                yield near, foot

    def inside(self, p: Point, count: int) -> bool:
        """Tell whether a point lies within an odd number of the first `count` loops, on their true arcs."""
        if p[0] > self._right:
            return False
        beside = self.near((p[0], p[1], self._right, p[1]), 0.0)
        return sum(segment.crossings_right_of(p) for loop, segment in beside if loop < count) % 2 == 1
