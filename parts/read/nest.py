"""Nest: loops -> outside loops and openings, by which lies in which, decided on the true arcs.

depth    how many loops a loop lies in. Even: an outside loop, with a part inside it. Odd: an opening. So a
         part that lies in another's window is a piece of its own.

Boxes only save work: a loop is asked whether it contains a point of another only if its box holds the other's.
"""

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from parts.geometry import Loop, Point
from parts.profile import Opening
from parts.read.layers import side
from parts.read.limits import Budget
from parts.tolerance import SAME_END_MM

_MANY = 30  # segments of a loop from which on choosing some is quicker than asking all


def nest(loops: Sequence[tuple[Loop, str]], budget: Budget) -> tuple[tuple[Loop, ...], tuple[Opening, ...]]:
    """Return the outside loops and the openings, each in the order given; our own layers state the side.

    Raises:
        Unreadable: if too many loops lie in or across each other.
    """
    depths = _depths([loop for loop, _ in loops], budget)
    outside: list[Loop] = []
    inside: list[Opening] = []
    sides = [side(layer) for _, layer in loops]
    told = "outside" in sides  # an INSIDE without an OUTSIDE around it says nothing
    for (loop, _), depth, named in zip(loops, depths, sides, strict=True):
        stated = named if told else None
        if stated == "outside" or (stated is None and depth % 2 == 0):
            outside.append(loop)
        else:
            inside.append(Opening(loop, "hole" if loop.circle else "opening"))
    return tuple(outside), tuple(inside)


def _depths(loops: Sequence[Loop], budget: Budget) -> list[int]:
    """In how many loops each lies: one more than the smallest loop around it."""
    depths = [0] * len(loops)
    for i, outer in around_each(loops, budget):
        depths[i] = 0 if outer is None else depths[outer] + 1
    return depths


def around_each(loops: Sequence[Loop], budget: Budget) -> Iterator[tuple[int, int | None]]:
    """Yield each loop's number and that of the smallest loop around it, None where there is none; largest loop first.

    Raises:
        Unreadable: if too many loops lie in or across each other.
    """
    order = sorted(range(len(loops)), key=lambda i: -loops[i].area)
    around = [_Around(loops[i]) for i in order]
    x0, y0, x1, y1 = np.array([loops[i].box for i in order]).reshape(-1, 4).T.copy()
    for k, i in enumerate(order):
        budget.time()
        left, low, right, high = x0[k] + SAME_END_MM, y0[k] + SAME_END_MM, x1[k] - SAME_END_MM, y1[k] - SAME_END_MM
        over = (x0[:k] <= left) & (x1[:k] >= right) & (y0[:k] <= low) & (y1[:k] >= high)  # it may touch from within
        three = _three_points(loops[i])
        smallest = None
        for j in np.flatnonzero(over)[::-1]:  # the smallest first
            budget.pairs()
            if sum(map(around[j].contains, three)) > 1:  # one of them may be where the two touch
                smallest = order[j]
                break
        yield i, smallest


def _three_points(loop: Loop) -> tuple[Point, Point, Point]:
    """Three points of a loop, apart from one another."""
    segments, third = loop.segments, len(loop.segments) / 3
    return segments[0].at(0.4), segments[int(third)].at(0.6), segments[int(2 * third)].at(0.5)


class _Around:
    """A loop to be asked about many points: only its segments at a point's height are looked at."""

    def __init__(self, loop: Loop) -> None:
        self._loop = loop
        self._heights: NDArray[np.float64] | None = None

    def contains(self, p: Point) -> bool:
        """Tell what `Loop.contains` tells: a segment wholly above or below has no crossing to count."""
        segments = self._loop.segments
        if len(segments) < _MANY:
            return self._loop.contains(p)
        if self._heights is None:
            self._heights = np.array([(segment.box[1], segment.box[3]) for segment in segments])
        level = np.flatnonzero((self._heights[:, 0] <= p[1]) & (p[1] <= self._heights[:, 1]))
        return sum(segments[n].crossings_right_of(p) for n in level) % 2 == 1
