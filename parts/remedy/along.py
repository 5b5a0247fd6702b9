"""Line search by bracketing and bisection: the nearest value of one number, as a shop would say it, that does it."""

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from parts.remedy.probe import within
from parts.remedy.steps import beyond, point, steps
from parts.spec import Spec
from parts.units import Units

FURTHER = (0, 1, 2, 4, 8)
"""Steps past the value looked for at which it is tried again: a curve bends away from the straight line of a rate."""
DOUBLINGS = 8
"""How often the distance is doubled in a search without a value to look for."""


@dataclass(frozen=True, slots=True)
class LineSearch:
    """The values of one number from `start` on in a direction, +1 or -1; `does` tells whether one mends it."""

    spec: Spec
    start: float
    direction: int
    units: Units
    does: Callable[[float], bool]

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
                return point(self._back(bad, index, step), step)
            bad = index
        return None

    def _back(self, bad: int, good: int, step: Fraction) -> int:
        """Halve between an index that doesn't and one that does; the neighbour of the good one is tried first."""
        middle = good - self.direction
        while abs(good - bad) > 1:
            if self._does(middle, step):
                good = middle
            else:
                bad = middle
            middle = (bad + good) // 2
        return good

    def _does(self, index: int, step: Fraction) -> bool:
        value = point(index, step)
        return within(self.spec, value) and self.does(value)

    def _away(self, index: int) -> int:
        return index * self.direction

    def _first(self, step: Fraction) -> int:
        """How far along, in steps from zero in this direction, the first value past the start is."""
        index = beyond(self.start, step, self.direction)
        return self._away(index) + (point(index, step) == self.start)

    def _sign(self, away: int) -> int:
        return away * self.direction
