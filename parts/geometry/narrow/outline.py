"""An outline's segments as arrays, and its short stretches that turn back on themselves."""

import math
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from parts.data import threshold
from parts.geometry.loop import Loop
from parts.geometry.search.grid import Floats, Indices
from parts.tolerance import PARALLEL_RAD

LEAST_TURN = math.radians(threshold("tip", "least_turn_deg"))
FLANK_TURN = math.radians(threshold("tip", "flank_turn_deg"))
# A stretch of more segments than this within two reaches is dust, not a drawn tip; keeps the search linear.
_MOST_SEGMENTS = 400
# A tip no wider than the reach is no longer along its outline than this many reaches: a half circle has 1.6.
LONGEST = 2.0


class Outline:
    """A closed chain as arrays: the turn at each segment's start, its sweep and length, and sums of them."""

    def __init__(self, loop: Loop) -> None:
        corner = np.array(loop.corners)
        sweep = np.array([getattr(segment, "sweep", 0.0) for segment in loop.unsplit])
        self.start = np.array([segment.start for segment in loop.unsplit])
        self.corner, self.sweep = corner, sweep
        self.length = np.array([segment.length for segment in loop.unsplit])
        # once round before and after, so that nothing has to wrap
        turns = np.tile(corner, 3)
        self._way = np.concatenate([[0.0], np.cumsum(np.tile(self.length, 3))])
        self._heading = np.cumsum(turns) + np.concatenate([[0.0], np.cumsum(np.tile(sweep, 3))[:-1]])
        self._sweep = np.tile(sweep, 3)

    def _place(self, vertex: Indices, way: Floats) -> tuple[Indices, Floats]:
        """The segment so far along from a vertex, counted from once round before, and the part of it behind."""
        n = len(self.corner)
        at = self._way[vertex + n] + way
        k = (np.searchsorted(self._way, at, side="right") - 1).clip(0, 3 * n - 1)
        return k, (at - self._way[k]) / (self._way[k + 1] - self._way[k])

    def turned(self, vertex: Indices, way: Floats) -> Floats:
        """Return how far the outline turns between a vertex and `way` mm along from it, less than once round.

        Backward where `way` is negative. The turn at the vertex itself isn't counted.
        """
        n = len(self.corner)
        k, part = self._place(vertex, way)
        there = self._heading[k] + part * self._sweep[k]
        here = self._heading[vertex + n] - np.where(way < 0, self.corner[vertex], 0.0)
        turned: Floats = there - here
        return turned


def stretches(outline: Outline, longest: float) -> Iterator[tuple[int, int]]:
    """Yield (first segment, count of segments) of each stretch that turns left enough to be a tip."""
    corner, n = outline.corner, len(outline.corner)
    first: Indices = np.arange(n)
    turned, run = corner.copy(), np.zeros(n)
    for count in range(min(n - 1, _MOST_SEGMENTS)):
        most = math.pi - PARALLEL_RAD if count else math.inf
        turning = np.flatnonzero((turned > LEAST_TURN + PARALLEL_RAD) & (turned < most))
        if len(turning):
            i = first[turning]
            for k in i[_has_flanks(outline, i, count)] if count else i:
                yield int(k), count
        last = (first + count) % n
        run = run + outline.length[last]
        turned = turned + outline.sweep[last] + corner[(last + 1) % n]
        near = run <= longest
        first, turned, run = first[near], turned[near], run[near]
        if not len(first):
            return


def _has_flanks(outline: Outline, i: Indices, count: int) -> NDArray[np.bool_]:
    """Whether as far beyond each end as it is between the ends, the outline has turned no more than a flank may."""
    j = (i + count) % len(outline.corner)
    apart = np.hypot(*(outline.start[j] - outline.start[i]).T)
    short = apart < outline.length.sum() / 2
    most = FLANK_TURN + PARALLEL_RAD
    apart = np.where(short, apart, 0.0)
    before, after = outline.turned(i, -apart), outline.turned(j, apart)
    kept: NDArray[np.bool_] = short & (np.abs(before) <= most) & (np.abs(after) <= most)
    return kept
