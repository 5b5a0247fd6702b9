"""The least move: of all values that one of some parameters may take, the least dear that gives another one room.

It is found by trying. Where a formula tells by how much the parameter lacks room, a way along which it lacks no less
is left, and one along which it does is followed at once to about where it will have room.
"""

import math
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from typing import NamedTuple, Protocol

from parts.errors import Problem
from parts.spec.condition import applies
from parts.spec.parameter import Spec, Value
from parts.spec.tries import Tried, Unworded
from parts.spec.watch import Notes
from parts.tolerance import LIMIT_SLACK_MM
from parts.units import MM_PER_IN, Units

ROUND: Mapping[Units, float] = {"mm": 1.0, "in": MM_PER_IN / 16}
"""What a length is rounded to in advice, mm: a whole millimetre, a sixteenth of an inch."""
_FINER = 64
"""How much finer than a round number the limit is sought: enough to fall on the right side of nearly every one."""
_STEPS = 6
_HALF_AS_FAR = 0.5
"""Of the way to where room is expected: a shortfall is hardly made good twice as fast."""
_GUESSES = 3
"""So often a value is looked for where room is expected and isn't; then halving is surer."""
_FEW = 2
"""Ways that are tried without asking first which of them may help: those of one parameter."""


class Adjustable(Protocol):
    """What is needed of a part's parameters."""

    @property
    def units(self) -> Units:
        """The working units."""

    def problems(self) -> Iterable[Problem]:
        """What doesn't go together."""

    def specs(self) -> Mapping[str, Spec]:
        """Every parameter as declared."""

    def tried(self, **values: Value) -> Tried:
        """The same with some values changed, which are taken as they are, and what was found with them."""

    def watched(self, **values: Value) -> tuple["Adjustable", Notes]:
        """The same with some values changed, and the notes of what is read of it."""

    def shortfall(self, name: str) -> float:
        """By how much a parameter lacks room, as far as that is quickly told; 0 where it isn't."""


class Move(NamedTuple):
    """A parameter moved up or down to a value."""

    spec: Spec
    to: float
    up: bool


@dataclass(frozen=True, slots=True)
class _Way:
    """One parameter moved one way, from its value `now` towards a limit."""

    spec: Spec
    now: float
    end: float

    def at(self, step: int) -> float:
        """Return the value of a step, ever longer: what is near is likelier to do, what is far meets something else."""
        to = self.now + (self.end - self.now) * (step / _STEPS) ** 2
        return round(to) if self.spec.kind == "count" else to

    def dear(self, value: float) -> tuple[bool, float]:
        """Return how dear a move is; a number of things comes after every size: that would leave something out."""
        return self.spec.kind == "count", abs(math.log((abs(value) + 1) / (abs(self.now) + 1)))

    def dear_beyond(self, value: float) -> tuple[bool, float]:
        """Return what every move beyond a value is dearer than."""
        return self.dear(value if self.now * self.end >= 0 else self.now)

    def no_dearer(self, value: float, than: tuple[bool, float]) -> float:
        """Return a length, or the nearer one that is just as dear as another move."""
        if self.dear_beyond(value) <= than or self.spec.kind == "count":
            return value
        turn = 1 if abs(self.end) > abs(self.now) else -1
        return math.copysign((abs(self.now) + 1) * math.exp(turn * than[1]) - 1, value)


class _Place(NamedTuple):
    """How far a way was followed without finding room; those with less to `dearer_than` are followed first.

    `problem` is what is wrong at `value`, and `aim` where that is expected to be mended, infinite if unknown.
    """

    dearer_than: tuple[bool, float]
    way: int
    step: int
    value: float
    problem: Problem | None
    aim: float = math.inf


@dataclass(frozen=True, slots=True)
class _Goal:
    """Room for a parameter, at its value or at `least`, with nothing at fault that isn't known."""

    parameters: Adjustable
    name: str
    least: float | None
    known: set[str]

    @property
    def given(self) -> dict[str, Value]:
        """What isn't as it is asked for, whatever else is moved."""
        return {} if self.least is None else {self.name: self.least}

    def asking(self, spec: Spec) -> Callable[[float], Problem | None]:
        """Return what tells what is still wrong with a value of a parameter; nothing where it gives room."""
        others, given = self.known - {self.name, spec.name}, self.given

        def ask(value: float) -> Problem | None:
            tried = self.parameters.tried(**{**given, spec.name: int(value) if spec.kind == "count" else value})
            return self.wrong(tried, others)

        return ask

    def wrong(self, tried: Tried, known: set[str]) -> Problem | None:
        """Return what is wrong: the lack of room first, as far as it is quickly told."""
        return tried.lacking(self.name) or tried.problem(known)

    def outset(self) -> Problem | None:
        """Return what is wrong before anything is moved."""
        return self.wrong(self.parameters.tried(**self.given), self.known - {self.name})

    def may_help(self) -> Collection[str]:
        """Return the parameters that are read before the one, or another that isn't known, is found at fault."""
        seen, notes = self.parameters.watched(**self.given)
        if self.wrong(Tried(lambda: seen), self.known - {self.name}):
            return notes.read
        return self.parameters.specs().keys()


def least_move(
    parameters: Adjustable, name: str, least: float | None, others: Iterable[str], *, wholly: bool = False
) -> Move | None:
    """Return the least dear move of one of some parameters that gives `name` room; of equals, that of the first one.

    What else is at fault already may stay so, unless all is to be mended `wholly`.

    Moves are tried in the order of what they are dearer than, so that none is tried which can't be the least.
    """
    specs = parameters.specs()
    values = {each: getattr(parameters, each) for each in specs} | ({} if least is None else {name: least})
    ways = [way for other in others if applies(other, specs, values) for way in _ways(specs[other], values[other])]
    if not ways:
        return None
    goal = _Goal(parameters, name, least, set() if wholly else parameters.tried().faults())
    may_help, wrong = goal.may_help() if len(ways) > _FEW else specs.keys(), goal.outset()
    places = [
        _Place(way.dear(way.now), i, 1, way.now, wrong) for i, way in enumerate(ways) if way.spec.name in may_help
    ]
    return _searched(goal, ways, places)


def _searched(goal: _Goal, ways: list[_Way], queue: list[_Place]) -> Move | None:
    best: tuple[tuple[bool, float], int, Move] | None = None
    heapify(queue)
    asking = {place.way: goal.asking(ways[place.way].spec) for place in queue}
    while queue:
        place = heappop(queue)
        if best and place.dearer_than >= best[0]:
            break
        way, ask, full = ways[place.way], asking[place.way], ways[place.way].at(place.step)
        to = way.no_dearer(full, best[0]) if best else full
        wrong = place.problem if to in (place.value, way.now) else ask(to)
        if not wrong:
            to = _nearest(ask, place, to, way.spec, goal.parameters.units)
            found = way.dear(to), place.way, Move(way.spec, to, way.end > way.now)
            best = min(best or found, found, key=lambda each: each[:2])
        elif to == full and (further := _further(way, place, wrong)):
            heappush(queue, further)
    return best[2] if best else None


def _further(way: _Way, place: _Place, wrong: Problem) -> _Place | None:
    """How far a way was followed with one more step, after which something is wrong; None where it isn't worth more."""
    to, step, aim = way.at(place.step), place.step + 1, math.inf
    if step > _STEPS:
        return None
    before, after = _past_the_same(place.problem, wrong)
    if way.spec.kind != "count" and to != place.value and max(before, after) < math.inf:
        if before - after > LIMIT_SLACK_MM:
            aim = to + after / (before - after) * (to - place.value)
            while step < _STEPS and abs(way.at(step) - to) < _HALF_AS_FAR * abs(aim - to):
                step += 1
        elif way.end == 0:  # which leaves something out
            step = _STEPS
        else:
            return None
    return _Place(way.dear_beyond(to), place.way, step, to, wrong, aim)


def _past_the_same(before: Problem | None, after: Problem) -> tuple[float, float]:
    """How far one parameter is past one limit, before a step and after it; infinite where it is another or unknown."""
    if not (isinstance(before, Unworded) and isinstance(after, Unworded)):
        return math.inf, math.inf
    same = (before.parameter, before.message) == (after.parameter, after.message)
    return (before.by, after.by) if same else (math.inf, math.inf)


def _ways(spec: Spec, now: float) -> Iterator[_Way]:
    """Yield both ways that a size or a number of things can be moved."""
    if spec.kind in ("length", "count") and spec.minimum is not None and spec.maximum is not None:
        yield from (_Way(spec, float(now), float(end)) for end in (spec.minimum, spec.maximum) if end != now)


def _nearest(ask: Callable[[float], Problem | None], place: _Place, end: float, spec: Spec, units: Units) -> float:
    """The value nearest to a place that gives room, in round numbers where one does; `end` does."""
    now, step = place.value, 1.0 if spec.kind == "count" else ROUND[units]
    turn, back = (math.ceil, math.floor) if end > now else (math.floor, math.ceil)
    sign = 1 if end > now else -1
    # of the round numbers between, from the first past `now`, halved; then the last before `end`, and `end` itself
    low, high = turn(now / step), back(end / step)
    if low * step == now:
        low += sign
    last = (high - low) * sign
    if last >= 0 and (high * step == end or not ask(high * step)):
        return float((low + sign * _least_index(ask, place, last, lambda i: (low + sign * i) * step, sign)) * step)
    return _finely(ask, now, end, step, spec)


def _least_index(
    ask: Callable[[float], Problem | None], place: _Place, last: int, at: Callable[[int], float], sign: int
) -> int:
    """The least index that gives room, from 0 to the `last`, which does; `at` is the value of each.

    Halved, but looked for first where a shortfall that was told is expected to be made good, by its rate up to there.
    """
    near, far, aim, failed = -1, last, place.aim, 0
    value, problem, step = place.value, place.problem, at(1) - at(0)
    while far - near > 1:
        expected = math.ceil((aim - sign * LIMIT_SLACK_MM - at(0)) / step) if aim < math.inf else -1
        guess = next((each for each in (expected, expected - 1) if near < each < far), None)
        middle = (near + far) // 2 if guess is None or failed == _GUESSES else guess
        wrong = ask(at(middle))
        if not wrong:
            far = middle
            continue
        failed += middle == guess
        before, after = _past_the_same(problem, wrong)
        aim = at(middle) + after / (before - after) * (at(middle) - value) if math.inf > before > after else math.inf
        near, value, problem = middle, at(middle), wrong
    return far


def _finely(ask: Callable[[float], Problem | None], now: float, end: float, step: float, spec: Spec) -> float:
    """The value nearest to `now` that gives room, by bisection, where no round number does."""
    near, far = now, end
    while abs(far - near) > step / _FINER:
        middle = (near + far) / 2
        near, far = (middle, far) if ask(middle) else (near, middle)
    turn = math.ceil if end > now else math.floor
    round_one = turn(far / step) * step
    inside = (spec.minimum or 0) <= round_one <= (spec.maximum or 0)
    return round_one if inside and not ask(round_one) else end if spec.kind == "count" else far
