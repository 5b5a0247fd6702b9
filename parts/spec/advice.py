"""Where a parameter has no room: how far it or, where no value of it has, which neighbour must give way.

It is found by trying: the parameter, then each other one, is moved until there is room, and the least move is told,
in round numbers. So the sentence is right for any template, without a word of the template's own.
"""

import math
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from itertools import combinations, islice
from typing import Protocol, cast

from parts.errors import Problem
from parts.spec.condition import applies
from parts.spec.parameter import Spec, Value, say_least, say_most
from parts.spec.tries import Tried
from parts.spec.watch import Notes
from parts.units import MM_PER_IN, Units

_trying: ContextVar[bool] = ContextVar("trying", default=False)
_wordless: ContextVar[bool] = ContextVar("wordless", default=False)
_advised: ContextVar[set[str] | None] = ContextVar("advised", default=None)
_ROUND: Mapping[Units, float] = {"mm": 1.0, "in": MM_PER_IN / 16}
"""What a length is rounded to in advice, mm: a whole millimetre, a sixteenth of an inch."""
MOST_PAIRS = 36
"""How many pairs of values are tried: those of nine; more take longer than an answer may."""
SHARES = (0.25, 0.5, 0.75, 1.0)
"""How far on the way to its default a value of a pair is tried."""
_FINER = 64
"""How much finer than a round number the limit is sought: enough to fall on the right side of nearly every one."""
_STEPS = 6
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

    def lacks_room(self, name: str) -> bool:
        """Whether a parameter has no room, as far as that is quickly told."""


@dataclass(frozen=True, slots=True)
class _Move:
    spec: Spec
    to: float
    up: bool


@contextmanager
def advice_once() -> Iterator[None]:
    """Advise within on the first problem of each parameter alone: no other is told."""
    token = _advised.set(set())
    try:
        yield
    finally:
        _advised.reset(token)


def wants_advice(name: str) -> bool:
    """Tell whether a way out is to be looked for: values aren't only tried, and the parameter has no problem yet."""
    if is_trying():
        return False
    advised = _advised.get()
    if advised is None:
        return True
    first = name not in advised
    advised.add(name)
    return first


def is_trying() -> bool:
    """Whether values are only tried, so that no way out is to be looked for."""
    return _trying.get()


def is_wordless() -> bool:
    """Whether only the names of the parameters at fault are asked for."""
    return _wordless.get()


def way_out(parameters: Adjustable, name: str, least: float, candidates: Iterable[str]) -> str:
    """Return `make “Width of the legs” 70 mm or more`, the least change of one neighbour that gives `name` room.

    Args:
        parameters: the values as they are asked for.
        name: the parameter that has no room.
        least: the value of it that needs the least room.
        candidates: the parameters that may give way.

    Nothing is returned where no neighbour alone is enough.
    """
    best = _least_move(parameters, name, least, (other for other in candidates if other != name))
    return f"make “{named(best.spec, parameters.specs())}” {_said(best, parameters.units)}" if best else ""


def two_ways(parameters: Adjustable, name: str) -> str:
    """Return `make “Teeth” 18 and “Diameter over the tips” 260 mm`: two values that together give `name` room.

    Tried are pairs of those that aren't at their defaults, both moved by the same share of the way there, the least
    of `SHARES` that does; nothing is returned where none of MOST_PAIRS pairs does.
    """
    specs = parameters.specs()
    moved = [s for s in specs.values() if s.kind in ("length", "count") and getattr(parameters, s.name) != s.default]
    with trying(worded=False):
        known = parameters.tried().faults() - {name}
        for pair in islice(combinations(moved, 2), MOST_PAIRS):
            steps = [{spec.name: _between(parameters, spec, share) for spec in pair} for share in SHARES]
            if _mends(parameters, steps[-1], known):
                least = next(values for values in steps if values is steps[-1] or _mends(parameters, values, known))
                said = [f"“{named(spec, specs)}” {spec.say(least[spec.name], parameters.units)}" for spec in pair]
                return f"make {' and '.join(said)}"
    return ""


def _mends(parameters: Adjustable, values: Mapping[str, Value], known: set[str]) -> bool:
    """Whether with these values nothing is wrong but what is known, and none of them is."""
    return parameters.tried(**values).has_only(known - values.keys())


def _between(parameters: Adjustable, spec: Spec, share: float) -> Value:
    """A value so far on the way to its default, in round numbers on that side."""
    now, end = float(getattr(parameters, spec.name)), float(cast(float, spec.default))
    step = 1.0 if spec.kind == "count" else _ROUND[parameters.units]
    turn = math.ceil if end > now else math.floor
    value = turn((now + (end - now) * share) / step) * step
    value = min(value, end) if end > now else max(value, end)
    return int(value) if spec.kind == "count" else value


def named(spec: Spec, specs: Mapping[str, Spec]) -> str:
    """Return the label of a parameter, after its group where another one has the same label."""
    alike = sum(other.label == spec.label for other in specs.values())
    return spec.label if alike == 1 else f"{spec.group}: {spec.label}"


def own_way(parameters: Adjustable, name: str) -> str:
    """Return `make it 84 mm or less`, the least change of a parameter that gives it room, or nothing."""
    best = _least_move(parameters, name, None, (name,))
    return f"make it {_said(best, parameters.units)}" if best else ""


@contextmanager
def trying(*, worded: bool = True) -> Iterator[None]:
    """Leave out advice within: what is refused there is only tried; where it isn't `worded`, its sentences too."""
    token, wordless = _trying.set(True), _wordless.set(not worded)
    try:
        yield
    finally:
        _wordless.reset(wordless)
        _trying.reset(token)


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


def _least_move(parameters: Adjustable, name: str, least: float | None, others: Iterable[str]) -> _Move | None:
    """The least dear move of one of some parameters that gives `name` room; of equals, that of the first parameter.

    Moves are tried in the order of what they are dearer than, so that none is tried which can't be the least.
    """
    specs = parameters.specs()
    values = {each: getattr(parameters, each) for each in specs} | ({} if least is None else {name: least})
    ways = [way for other in others if applies(other, specs, values) for way in _ways(specs[other], values[other])]
    best: tuple[tuple[bool, float], int, _Move] | None = None
    with trying(worded=False):
        known = parameters.tried().faults() if ways else set()
        may_help = _may_help(parameters, name, least, known) if len(ways) > _FEW else specs.keys()
        queue = [(way.dear(way.now), i, 1, way.now) for i, way in enumerate(ways) if way.spec.name in may_help]
        heapify(queue)
        giving = {i: _giving(parameters, ways[i].spec, name, least, known) for _, i, *_ in queue}
        while queue:
            dearer_than, i, step, short = heappop(queue)
            if best and dearer_than >= best[0]:
                break
            way = ways[i]
            to = way.at(step)
            if to not in (short, way.now) and giving[i](to):
                to = _nearest(giving[i], short, to, way.spec, parameters.units)
                found = way.dear(to), i, _Move(way.spec, to, way.end > way.now)
                best = min(best or found, found, key=lambda each: each[:2])
            elif step < _STEPS:
                heappush(queue, (way.dear_beyond(to), i, step + 1, to))
    return best[2] if best else None


def _may_help(parameters: Adjustable, name: str, least: float | None, known: set[str]) -> Collection[str]:
    """The parameters that are read before `name`, or another that isn't known, is found at fault: no other mends it."""
    seen, notes = parameters.watched(**({} if least is None else {name: least}))
    tried = Tried(lambda: seen)
    if tried.lacks_room(name) or not tried.has_only(known - {name}):
        return notes.read
    return parameters.specs().keys()


def _ways(spec: Spec, now: float) -> Iterator[_Way]:
    """Yield both ways that a size or a number of things can be moved."""
    if spec.kind in ("length", "count") and spec.minimum is not None and spec.maximum is not None:
        yield from (_Way(spec, float(now), float(end)) for end in (spec.minimum, spec.maximum))


def _giving(
    parameters: Adjustable, spec: Spec, name: str, least: float | None, known: set[str]
) -> Callable[[float], bool]:
    """What tells whether a value of a parameter gives another one room: nothing else is wrong than was before."""
    others = known - {name, spec.name}

    def gives(value: float) -> bool:
        given: Value = int(value) if spec.kind == "count" else value
        tried = parameters.tried(**{spec.name: given} if least is None else {spec.name: given, name: least})
        return not tried.lacks_room(name) and tried.has_only(others)  # name isn't among the others

    return gives


def _nearest(gives: Callable[[float], bool], now: float, end: float, spec: Spec, units: Units) -> float:
    """The value nearest to `now` that gives room, in round numbers where one does."""
    step = 1.0 if spec.kind == "count" else _ROUND[units]
    turn, back = (math.ceil, math.floor) if end > now else (math.floor, math.ceil)
    sign = 1 if end > now else -1
    # of the round numbers between, from the first past `now`, halved; then the last before `end`, and `end` itself
    low, high = turn(now / step), back(end / step)
    if low * step == now:
        low += sign
    last = (high - low) * sign
    if last >= 0 and (high * step == end or gives(high * step)):
        near, far = -1, last
        while far - near > 1:
            middle = (near + far) // 2
            near, far = (near, middle) if gives((low + sign * middle) * step) else (middle, far)
        return float((low + sign * far) * step)
    return _finely(gives, now, end, step, spec)


def _finely(gives: Callable[[float], bool], now: float, end: float, step: float, spec: Spec) -> float:
    """The value nearest to `now` that gives room, by bisection, where no round number does."""
    near, far = now, end
    while abs(far - near) > step / _FINER:
        middle = (near + far) / 2
        near, far = (near, middle) if gives(middle) else (middle, far)
    turn = math.ceil if end > now else math.floor
    round_one = turn(far / step) * step
    inside = (spec.minimum or 0) <= round_one <= (spec.maximum or 0)
    return round_one if inside and gives(round_one) else end if spec.kind == "count" else far


def _said(move: _Move, units: Units) -> str:
    if move.spec.kind == "count":
        return f"{move.to:g}{' or more' if move.up else ' or less' if move.to else ''}"
    if move.up:
        return f"{say_least(move.to, units)} or more"
    return f"{say_most(move.to, units)}{' or less' if move.to > (move.spec.minimum or 0) else ''}"
