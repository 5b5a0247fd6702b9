"""The boundary of a region as arrays, prepared for questions about its width: which segments face each other."""

from collections.abc import Sequence

import numpy as np

from parts.cached import cached_property
from parts.geometry.loop import Loop
from parts.geometry.narrow.candidates import facets_of, facing_pairs, followers
from parts.geometry.narrow.few import few_facing_pairs
from parts.geometry.search.grid import Floats, Indices, near_between
from parts.geometry.segments import Mask, Segments
from parts.tolerance import PARALLEL_RAD

# Above this many segments one search over arrays is quicker than a plain sweep (measured in tests/bench).
MANY_SEGMENTS = 200
# So many times more it is where no corner points into the region: then there are few places to try.
_MORE_WITHOUT_CORNERS = 3


class Boundary:
    """All segments of the loops of a region, the region on their left, each seeing `limit` mm far.

    The arrays are made when they are asked for, since of most parts no pair of segments is left.
    """

    def __init__(self, loops: Sequence[Loop], limit: float) -> None:
        self._loops = loops
        self._limit = limit

    @cached_property
    def segments(self) -> Segments:
        """All segments."""
        return Segments.of([segment for loop in self._loops for segment in loop.segments])

    @cached_property
    def _sizes(self) -> Indices:
        return np.array([len(loop.segments) for loop in self._loops], dtype=np.int64)

    @cached_property
    def loop(self) -> Indices:
        """The index of each segment's loop."""
        return np.repeat(np.arange(len(self._loops)), self._sizes)

    @cached_property
    def after(self) -> Indices:
        """The index of the segment after each."""
        return followers(self._sizes)

    @cached_property
    def before(self) -> Indices:
        """The index of the segment before each."""
        before = np.empty_like(self.after)
        before[self.after] = np.arange(len(self.after))
        return before

    @cached_property
    def corner(self) -> Mask:
        """Whether the start of each segment is a corner that points into the region."""
        return self.segments.turn_between(self.before, np.arange(len(self.after))) < -PARALLEL_RAD

    @cached_property
    def _boxes(self) -> Floats:
        return self.segments.boxes()

    @cached_property
    def pairs(self) -> tuple[Indices, Indices]:
        """Index arrays (i < j) of the pairs of segments that may have a neck between them, told by where they are.

        Lines that meet at a corner have none: any chord between them gets shorter toward it.
        """
        if self._are_few:
            found = np.array(list(few_facing_pairs(self._loops, self._limit)), dtype=np.int64).reshape(-1, 2)
            return found[:, 0], found[:, 1]
        i, j = facing_pairs(facets_of(self.segments, self._sizes, self._limit), self._limit)
        start, end, bulge = self.segments.start, self.segments.end, self.segments.bulge
        one_corner = ((end[i] == start[j]) | (end[j] == start[i])) & (bulge[i] == 0) & (bulge[j] == 0)
        return i[~one_corner], j[~one_corner]

    @property
    def _are_few(self) -> bool:
        """Whether pairs of segments are quicker told one by one than in arrays."""
        count = sum(len(loop.segments) for loop in self._loops)
        if MANY_SEGMENTS < count <= _MORE_WITHOUT_CORNERS * MANY_SEGMENTS:
            return all(min(loop.turns) >= -PARALLEL_RAD for loop in self._loops)
        return count <= MANY_SEGMENTS

    def near(self, boxes: Floats) -> tuple[Indices, Indices]:
        """Return index arrays (of the boxes, of the segments): at least the segments that come into each box."""
        return near_between(boxes, self._boxes)
