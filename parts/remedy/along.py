"""Line search by bracketing and bisection: the nearest value of one number, as a shop would say it, that does it."""

from collections.abc import Callable
from dataclasses import dataclass, field
from fractions import Fraction

from parts.remedy.probe import within
from parts.remedy.steps import beyond, point, steps
from parts.spec import Spec
from parts.units import Units

STEEPEST = 8.0
"""By how many mm what a rule measures moves at most for each that a number moves: a row of panels by five or six."""
FURTHER = (0, 1, 2, 4, 8)
"""Steps past the value looked for at which it is tried again: a curve bends away from the straight line of a rate."""
DOUBLINGS = 8
"""How often the distance is doubled in a search without a value to look for."""


@dataclass(frozen=True, slots=True)
class Judge:
    """What tells of a value of one number whether it does, and why not.

    meets      whether the rule that is to be mended is
    does       whether it is, and nothing else is the worse for it
    off        by how much the rule is at least off it, in mm, 0 where that isn't known; of a value that was judged
    pass_over  what is told of a value that is known not to do
    """

    meets: Callable[[float], bool]
    does: Callable[[float], bool]
    off: Callable[[float], float]
    pass_over: Callable[[float], None]


@dataclass(frozen=True, slots=True)
class LineSearch:
    """The values of one number from `start` on in a direction, +1 or -1; one unit of it moves `reach` mm."""

    spec: Spec
    start: float
    direction: int
    units: Units
    judge: Judge
    reach: float = 1.0
    _off: list[tuple[float, float]] = field(default_factory=list)
    _harmful: list[float] = field(default_factory=list)

    def nearest(self, target: float) -> float | None:
        """Return the value nearest to the start that does it, looked for about `target`, coarse steps first."""
        for step in steps(self.spec, self.units):
            wanted = self._sign(max(self._away(beyond(target, step, self.direction)), self._first(step)))
            tries = [wanted + self.direction * further for further in FURTHER]
            if (value := self._first_of(tries, step)) is not None:
                return value
        return None

    def doubling(self, distance: float) -> float | None:
        """Return such a value looked for at `distance` from the start, at twice that, and so on to the limit."""
        step = steps(self.spec, self.units)[0]
        targets = [self.start + self.direction * distance * 2**i for i in range(DOUBLINGS)]
        indices = [beyond(target, step, self.direction) for target in targets if within(self.spec, target)]
        return self._first_of(list(dict.fromkeys(indices)), step)

    def _first_of(self, indices: list[int], step: Fraction) -> float | None:
        """The first index tried that does it, brought back as near to the start as still does."""
        bad = self._sign(self._first(step)) - self.direction
        for index in indices:
            if self._does(index, step):
                return point(self._nearest_to(bad, index, step), step)
            bad = index
        return None

    def _nearest_to(self, bad: int, good: int, step: Fraction) -> int:
        """Between an index that doesn't and one that does, the one next to what doesn't.

        Whether anything else is the worse is asked of the last one; where it is, of each.
        """
        met = self._back(bad, good, step, self._meets)
        return met if met == good or self._does(met, step) else self._back(met, good, step, self._does)

    def _back(self, bad: int, good: int, step: Fraction, does: Callable[[int, Fraction], bool]) -> int:
        """Halve between an index that doesn't and one that does; the neighbour of the good one is tried first."""
        middle = good - self.direction
        while abs(good - bad) > 1:
            if does(middle, step):
                good = middle
            else:
                bad = middle
            middle = (bad + good) // 2
        return good

    def _does(self, index: int, step: Fraction) -> bool:
        """Whether a value does, where that isn't known already of those beside it."""
        value = point(index, step)
        if not within(self.spec, value):
            return False
        if self._is_ruled_out(value):
            self.judge.pass_over(value)
            return False
        if self.judge.does(value):
            return True
        if off := self.judge.off(value):
            self._off.append((value, off))
        else:
            self._harmful.append(value)
        return False

    def _meets(self, index: int, step: Fraction) -> bool:
        value = point(index, step)
        return within(self.spec, value) and self.judge.meets(value)

    def _is_ruled_out(self, value: float) -> bool:
        """Whether a value is too near to one that is far off, or between two that do harm."""
        if any(off > STEEPEST * self.reach * abs(value - other) for other, off in self._off if other != value):
            return True
        return any(other < value for other in self._harmful) and any(other > value for other in self._harmful)

    def _away(self, index: int) -> int:
        return index * self.direction

    def _first(self, step: Fraction) -> int:
        """How far along, in steps from zero in this direction, the first value past the start is."""
        index = beyond(self.start, step, self.direction)
        return self._away(index) + (point(index, step) == self.start)

    def _sign(self, away: int) -> int:
        return away * self.direction
