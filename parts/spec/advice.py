"""Where a parameter has no room: how far it or, where no value of it has, which neighbour must give way.

It is found by trying: the parameter, then each other one, is moved until there is room, and the least move is told,
in round numbers. So the sentence is right for any template, without a word of the template's own.
"""

import math
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from itertools import combinations, islice
from typing import NamedTuple, cast

from parts.errors import Way
from parts.spec.least_move import ROUND, Adjustable, Move, least_move
from parts.spec.parameter import Spec, Value, say_least, say_most
from parts.tolerance import LIMIT_SLACK_MM
from parts.units import Units

_trying: ContextVar[bool] = ContextVar("trying", default=False)
_wordless: ContextVar[bool] = ContextVar("wordless", default=False)
_hurried: ContextVar[bool] = ContextVar("hurried", default=False)
_advised: ContextVar[set[str] | None] = ContextVar("advised", default=None)
_HAIR_MM = 0.01
"""How far inside a limit that isn't to be reached a value is, where no round number is."""
MOST_PAIRS = 36
"""How many pairs of values are tried: those of nine; more take longer than an answer may."""
SHARES = (0.25, 0.5, 0.75, 1.0)
"""How far on the way to its default a value of a pair is tried."""


class Advice(NamedTuple):
    """What to do, as a clause of a sentence, and as values."""

    said: str
    way: Way


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


def is_hurried() -> bool:
    """Whether what is refused is told at once, without what would mend it."""
    return _hurried.get()


@contextmanager
def hurried() -> Iterator[None]:
    """Leave out advice within, as what is refused says then: it takes many times as long as the rest."""
    token = _hurried.set(True)
    try:
        with trying():
            yield
    finally:
        _hurried.reset(token)


def way_out(parameters: Adjustable, name: str, least: float, candidates: Iterable[str]) -> Advice | None:
    """Return the least change of one neighbour that gives `name` room: `make “Width of the legs” 70 mm or more`.

    Args:
        parameters: the values as they are asked for.
        name: the parameter that has no room.
        least: the value of it that needs the least room.
        candidates: the parameters that may give way.

    Nothing is returned where no neighbour alone is enough.
    """
    best = _least(parameters, name, least, (other for other in candidates if other != name))
    if not best:
        return None
    said = f"make “{named(best.spec, parameters.specs())}” {_said(best, parameters.units)}"
    return Advice(said, _way(best, parameters.units))


def two_ways(parameters: Adjustable, name: str) -> Advice | None:
    """Return two values that together give `name` room: `make “Teeth” 18 and “Diameter over the tips” 260 mm`.

    Tried are pairs of those that aren't at their defaults, both moved by the same share of the way there, the least
    of `SHARES` that does; nothing is returned where none of MOST_PAIRS pairs does.
    """
    specs = parameters.specs()
    movable = [spec for spec in specs.values() if spec.kind in ("length", "count")]
    moved = [spec for spec in movable if getattr(parameters, spec.name) != spec.default_in(parameters.units)]
    with trying(worded=False):
        known = parameters.tried().faults() - {name}
        for pair in islice(combinations(moved, 2), MOST_PAIRS):
            steps = [{spec.name: _between(parameters, spec, share) for spec in pair} for share in SHARES]
            if _mends(parameters, steps[-1], known):
                least = next(values for values in steps if values is steps[-1] or _mends(parameters, values, known))
                way = {spec.name: spec.say(least[spec.name], parameters.units) for spec in pair}
                said = [f"“{named(spec, specs)}” {way[spec.name]}" for spec in pair]
                return Advice(f"make {' and '.join(said)}", way)
    return None


def _mends(parameters: Adjustable, values: Mapping[str, Value], known: set[str]) -> bool:
    """Whether with these values nothing is wrong but what is known, and none of them is."""
    return not parameters.tried(**values).problem(known - values.keys())


def _between(parameters: Adjustable, spec: Spec, share: float) -> Value:
    """A value so far on the way to its default, in round numbers on that side."""
    now, end = float(getattr(parameters, spec.name)), float(cast(float, spec.default_in(parameters.units)))
    step = 1.0 if spec.kind == "count" else ROUND[parameters.units]
    turn = math.ceil if end > now else math.floor
    value = turn((now + (end - now) * share) / step) * step
    value = min(value, end) if end > now else max(value, end)
    return int(value) if spec.kind == "count" else value


def named(spec: Spec, specs: Mapping[str, Spec]) -> str:
    """Return the label of a parameter, after its group where another one has the same label."""
    alike = sum(other.label == spec.label for other in specs.values())
    return spec.label if alike == 1 else f"{spec.group}: {spec.label}"


def own_way(parameters: Adjustable, name: str, *, wholly: bool = False) -> Advice | None:
    """Return the least change of a parameter that gives it room, or mends `wholly`: `make it 84 mm or less`."""
    with trying(worded=False):
        best = least_move(parameters, name, None, (name,), wholly=wholly)
    return Advice(f"make it {_said(best, parameters.units)}", _way(best, parameters.units)) if best else None


def beyond(spec: Spec, limit: float, units: Units, *, up: bool) -> Way:
    """Return the way to the round number next to a limit in mm that isn't to be reached, or else a hair from it.

    `up` is whether it lies above. None is told where the parameter may have no such value.
    """
    turn, step = (1, ROUND[units]) if up else (-1, ROUND[units])
    low, high = spec.minimum or 0.0, math.inf if spec.maximum is None else spec.maximum
    for value in ((math.floor(limit / step * turn + LIMIT_SLACK_MM) + 1) * turn * step, limit + turn * _HAIR_MM):
        if low <= value <= high:
            return {spec.name: _number(value, up, units)}
    return {}


@contextmanager
def trying(*, worded: bool = True) -> Iterator[None]:
    """Leave out advice within: what is refused there is only tried; where it isn't `worded`, its sentences too."""
    token, wordless = _trying.set(True), _wordless.set(not worded)
    try:
        yield
    finally:
        _wordless.reset(wordless)
        _trying.reset(token)


def _least(parameters: Adjustable, name: str, least: float | None, others: Iterable[str]) -> Move | None:
    with trying(worded=False):
        return least_move(parameters, name, least, others)


def _way(move: Move, units: Units) -> Way:
    is_count = move.spec.kind == "count"
    return {move.spec.name: f"{move.to:g}" if is_count else _number(move.to, move.up, units)}


def _number(mm: float, up: bool, units: Units) -> str:
    return say_least(mm, units) if up else say_most(mm, units)


def _said(move: Move, units: Units) -> str:
    if move.spec.kind == "count":
        return f"{move.to:g}{' or more' if move.up else ' or less' if move.to else ''}"
    if move.up:
        return f"{say_least(move.to, units)} or more"
    return f"{say_most(move.to, units)}{' or less' if move.to > (move.spec.minimum or 0) else ''}"
