"""The way between cuts: in which order the loops of a part are cut, and how far and how long the torch travels.

A loop is entered and left where it starts in the file. What lies in a loop is cut before it, since a piece may move
once it is cut free; of those that may come next it is the nearest one. The first is the nearest to the lower left of
all these places. That is a sensible order, not the best one: a toolpath program may find a shorter way.
"""

import math
from collections.abc import Sequence
from itertools import pairwise

from parts.cutting.machine import Machine
from parts.geometry import Loop, Point, distance, holders

# Fewer than this are looked through one by one; so are those left where this many rings of cells around are empty.
_FEW, _RINGS = 24, 24


def order(loops: Sequence[Loop], outside: int = 1) -> list[int]:
    """Return the loops' indices in the order in which they are cut.

    Args:
        loops: the outside loops, then the openings.
        outside: how many of them are outside loops; with one, all others lie in it.
    """
    within = _parents(loops, outside)
    waiting = [0] * len(loops)
    for parent in within:
        if parent is not None:
            waiting[parent] += 1
    starts = [loop.segments[0].start for loop in loops]
    near = _Nearest(starts, [i for i, count in enumerate(waiting) if not count])
    at: Point = (min(x for x, _ in starts), min(y for _, y in starts)) if starts else (0.0, 0.0)
    done: list[int] = []
    while (chosen := near.taken(at)) is not None:
        done.append(chosen)
        at, parent = starts[chosen], within[chosen]
        if parent is not None:
            waiting[parent] -= 1
            if not waiting[parent]:
                near.add(parent)
    return done


def ways(loops: Sequence[Loop], outside: int = 1) -> list[float]:
    """Return how far it is from each cut to the next one, mm; nothing of one loop alone."""
    starts = [loops[i].segments[0].start for i in order(loops, outside)]
    return [distance(a, b) for a, b in pairwise(starts)]


def travel_time(way: float, machine: Machine) -> float:
    """Return how long a way of so many mm takes from rest to rest, s: speeding up, at the rapid feed, slowing down."""
    a, v = machine.acceleration, machine.rapid
    return way / v + v / a if way >= v * v / a else 2 * math.sqrt(way / a)


def lead_in_time(way: float, feed: float, machine: Machine) -> float:
    """Return how long a lead-in of so many mm takes, s: from rest at the pierce up to the feed."""
    a, v = machine.acceleration, min(feed, machine.top_speed)
    return way / v + v / (2 * a) if way >= v * v / (2 * a) else math.sqrt(2 * way / a)


def _parents(loops: Sequence[Loop], outside: int) -> list[int | None]:
    """For each loop the smallest one that it lies in."""
    if outside == 1:
        return [None, *[0] * (len(loops) - 1)]
    sizes = [(loop.area, i) for i, loop in enumerate(loops)]
    # of two that are one and the same, as a faulty drawing may have them, only the later one is around the other
    return [next((k for k in around if sizes[k] > sizes[i]), None) for i, around in enumerate(holders(loops))]


class _Nearest:
    """The nearest of some places: filed in square cells, which are looked through ring by ring around a point."""

    def __init__(self, places: Sequence[Point], members: Sequence[int]) -> None:
        self._places = places
        xs, ys = [x for x, _ in places] or [0.0], [y for _, y in places] or [0.0]
        self._left, self._low = min(xs), min(ys)
        wide, high = max(xs) - self._left, max(ys) - self._low
        self._size = max(math.sqrt(wide * high / max(len(places), 1)), max(wide, high) / max(len(places), 1), 1e-3)
        self._cells: dict[tuple[int, int], set[int]] = {}
        self._members: set[int] = set()
        for i in members:
            self.add(i)

    def add(self, i: int) -> None:
        """Let a place be among those to choose from."""
        self._members.add(i)
        self._cells.setdefault(self._cell(self._places[i]), set()).add(i)

    def taken(self, p: Point) -> int | None:
        """Return the nearest place to a point, and leave it out from now on; None where there is none left."""
        if not self._members:
            return None
        i = self._nearest(p)
        self._members.remove(i)
        self._cells[self._cell(self._places[i])].remove(i)
        return i

    def _cell(self, p: Point) -> tuple[int, int]:
        return int((p[0] - self._left) // self._size), int((p[1] - self._low) // self._size)

    def _nearest(self, p: Point) -> int:
        if len(self._members) <= _FEW:
            return self._best(p, self._members)[1]
        column, row = self._cell(p)
        best = (math.inf, -1)
        for ring in range(_RINGS):
            best = min(best, self._best(p, self._around(column, row, ring)))
            if best[0] <= ring * self._size:  # what lies in a further ring is at least so far off
                return best[1]
        return self._best(p, self._members)[1]

    def _best(self, p: Point, members: Sequence[int] | set[int]) -> tuple[float, int]:
        return min([(distance(p, self._places[i]), i) for i in members], default=(math.inf, -1))

    def _around(self, column: int, row: int, ring: int) -> list[int]:
        """The members in the cells at so many steps from one."""
        found: list[int] = []
        for i in range(column - ring, column + ring + 1):
            step = 1 if abs(i - column) == ring else 2 * ring
            for j in range(row - ring, row + ring + 1, max(step, 1)):
                found += self._cells.get((i, j), ())
        return found
