"""The boundary of a region, prepared for questions about its width: which segments face each other."""

from collections.abc import Iterable, Iterator, Sequence
from functools import cache, cached_property
from typing import NamedTuple

from parts.geometry.facing import facets_of, facing_pairs
from parts.geometry.loop import Loop
from parts.geometry.near import near_pairs
from parts.geometry.segment import Box, Line, Segment, cross
from parts.geometry.view import near_boxes_of
from parts.tolerance import PARALLEL_RAD

# Above this many segments one search over arrays is quicker than a plain sweep (measured in tests/bench).
MANY_SEGMENTS = 200


class Side(NamedTuple):
    """One segment of the boundary with its neighbours, and whether its start is a corner into the region."""

    loop: int
    before: Segment
    segment: Segment
    after: Segment
    corner: bool


class Boundary:
    """All segments of the loops of a region, the region on their left, each seeing `limit` mm far."""

    def __init__(self, loops: Sequence[Loop], limit: float) -> None:
        self._loops = loops
        self._owners = [(n, k) for n, loop in enumerate(loops) for k in range(len(loop.segments))]
        self._segments = [segment for loop in loops for segment in loop.segments]
        self.side = cache(self._side)
        self._beside: list[list[int]] = []
        if len(self._segments) <= MANY_SEGMENTS:
            self.pairs = list(near_pairs(self._boxes, limit))
            self._beside = _neighbours(self.pairs, len(self._boxes))
        else:
            self.pairs = facing_pairs(facets_of(loops, limit), limit)

    def _side(self, index: int) -> Side:
        """Return the segment of this index, counted through all loops, with its neighbours."""
        loop, k = self._owners[index]
        segments = self._loops[loop].segments
        before, segment, after = segments[k - 1], segments[k], segments[(k + 1) % len(segments)]
        return Side(loop, before, segment, after, turns_right(before, segment))

    def near(self, asked: Sequence[tuple[int, Box]]) -> Iterator[list[Segment]]:
        """Yield, for each box beside the segment of an index, at least the segments that come into it.

        The box lies within half the limit of that segment.
        """
        if self._beside:
            near: Iterable[list[int]] = (self._beside[index] for index, _ in asked)
        else:
            near = near_boxes_of([box for _, box in asked], self._boxes, 0.0)
        return ([self._segments[i] for i in indices] for indices in near)

    @cached_property
    def _boxes(self) -> list[Box]:
        return [segment.box for segment in self._segments]

    def make_one_corner(self, i: int, j: int) -> bool:
        """Whether two segments are lines that meet at a corner: any chord between them gets shorter toward it."""
        a, b = self._segments[i], self._segments[j]
        return (a.end == b.start or b.end == a.start) and isinstance(a, Line) and isinstance(b, Line)


def goes_on(before: Segment, after: Segment) -> bool:
    """Whether the boundary goes over from one segment into the next without a corner."""
    (ax, ay), (bx, by) = before.heading_at_end, after.heading_at_start
    return abs(cross(ax, ay, bx, by)) <= PARALLEL_RAD and ax * bx + ay * by > 0


def turns_right(before: Segment, after: Segment) -> bool:
    """Whether the boundary has a corner between two segments that points into the region.

    Where it turns straight back, as at the cusp between two arcs, it does so if what comes in runs to the
    left of what goes out: s before the cusp, seen along `before` of curvature k, the one is k s²/2 to the
    left of their common tangent, the other, of curvature l, -l s²/2.
    """
    (ax, ay), (bx, by) = before.heading_at_end, after.heading_at_start
    turn = cross(ax, ay, bx, by)
    if abs(turn) > PARALLEL_RAD:
        return turn < 0
    return ax * bx + ay * by < 0 and before.curvature + after.curvature > 0


def _neighbours(pairs: Sequence[tuple[int, int]], count: int) -> list[list[int]]:
    """For each index the indices it is paired with, itself first."""
    near = [[i] for i in range(count)]
    for i, j in pairs:
        near[i].append(j)
        near[j].append(i)
    return near
