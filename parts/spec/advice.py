"""Where a parameter has no room: how far it or, where no value of it has, which neighbour must give way.

It is found by trying: the parameter, then each other one, is moved until there is room, and the least move is told,
in round numbers. So the sentence is right for any template, without a word of the template's own.
"""

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from itertools import combinations, islice
from typing import Protocol, cast

from parts.errors import GeometryError, Problem
from parts.spec.parameter import Spec, Value, say_least, say_most
from parts.units import MM_PER_IN, Units

_trying: ContextVar[bool] = ContextVar("trying", default=False)
_ROUND: Mapping[Units, float] = {"mm": 1.0, "in": MM_PER_IN / 16}
"""What a length is rounded to in advice, mm: a whole millimetre, a sixteenth of an inch."""
MOST_PAIRS = 36
"""How many pairs of values are tried: those of nine; more take longer than an answer may."""
SHARES = (0.25, 0.5, 0.75, 1.0)
"""How far on the way to its default a value of a pair is tried."""
_FINER = 64
"""How much finer than a round number the limit is sought: enough to fall on the right side of nearly every one."""
_STEPS = 6


class Asked(Protocol):
    """What is needed of a part's parameters."""

    @property
    def units(self) -> Units:
        """The working units."""

    def problems(self) -> Iterable[Problem]:
        """What doesn't go together."""

    def specs(self) -> Mapping[str, Spec]:
        """Every parameter as declared."""

    def changed(self, **values: Value) -> "Asked":
        """The same with some values changed, which are taken as they are."""


@dataclass(frozen=True, slots=True)
class _Move:
    spec: Spec
    to: float
    up: bool
    far: float


def is_trying() -> bool:
    """Whether values are only tried, so that no way out is to be looked for."""
    return _trying.get()


def way_out(parameters: Asked, name: str, least: float, candidates: Iterable[str]) -> str:
    """Return `make “Width of the legs” 70 mm or more`, the least change of one neighbour that gives `name` room.

    Args:
        parameters: the values as they are asked for.
        name: the parameter that has no room.
        least: the value of it that needs the least room.
        candidates: the parameters that may give way.

    Nothing is returned where no neighbour alone is enough.
    """
    with trying():
        moves = [move for other in candidates if other != name for move in _moves(parameters, name, least, other)]
    if not moves:
        return ""
    # a size gives way before a number of things does: that would leave something out
    best = min(moves, key=lambda move: (move.spec.kind == "count", move.far))
    return f"make “{named(best.spec, parameters.specs())}” {_said(best, parameters.units)}"


def two_ways(parameters: Asked, name: str) -> str:
    """Return `make “Teeth” 18 and “Diameter over the tips” 260 mm`: two values that together give `name` room.

    Tried are pairs of those that aren't at their defaults, both moved by the same share of the way there, the least
    of `SHARES` that does; nothing is returned where none of MOST_PAIRS pairs does.
    """
    specs = parameters.specs()
    moved = [s for s in specs.values() if s.kind in ("length", "count") and getattr(parameters, s.name) != s.default]
    with trying():
        known = faults(parameters) - {name}
        for pair in islice(combinations(moved, 2), MOST_PAIRS):
            steps = [{spec.name: _between(parameters, spec, share) for spec in pair} for share in SHARES]
            if _mends(parameters, steps[-1], known):
                least = next(values for values in steps if values is steps[-1] or _mends(parameters, values, known))
                said = [f"“{named(spec, specs)}” {spec.say(least[spec.name], parameters.units)}" for spec in pair]
                return f"make {' and '.join(said)}"
    return ""


def _mends(parameters: Asked, values: Mapping[str, Value], known: set[str]) -> bool:
    """Whether with these values nothing is wrong but what is known, and none of them is."""
    return faults(parameters.changed(**values)) <= known - values.keys()


def _between(parameters: Asked, spec: Spec, share: float) -> Value:
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


def faults(parameters: Asked) -> set[str]:
    """Return the names of the parameters at fault; all where the figure can't even be reckoned with."""
    try:
        return {problem.parameter for problem in parameters.problems()}
    except GeometryError:
        return set(parameters.specs())


def own_way(parameters: Asked, name: str) -> str:
    """Return `make it 84 mm or less`, the least change of a parameter that gives it room, or nothing."""
    with trying():
        moves = list(_moves(parameters, name, None, name))
    return f"make it {_said(min(moves, key=lambda move: move.far), parameters.units)}" if moves else ""


@contextmanager
def trying() -> Iterator[None]:
    """Leave out advice within: what is refused there is only tried."""
    token = _trying.set(True)
    try:
        yield
    finally:
        _trying.reset(token)


def _moves(parameters: Asked, name: str, least: float | None, other: str) -> Iterator[_Move]:
    spec = parameters.specs()[other]
    now = getattr(parameters, other)
    if spec.kind not in ("length", "count") or spec.minimum is None or spec.maximum is None:
        return
    known = faults(parameters) - {name, other}

    def gives(value: float) -> bool:
        given: Value = int(value) if spec.kind == "count" else value
        changed = parameters.changed(**{other: given} if least is None else {other: given, name: least})
        return faults(changed) <= known

    for end in (float(spec.minimum), float(spec.maximum)):
        short = float(now)
        for step in range(1, _STEPS + 1):
            # ever longer steps: what is near is likelier to do, and a move too far meets something else
            to = now + (end - now) * (step / _STEPS) ** 2
            to = round(to) if spec.kind == "count" else to
            if to not in (short, now) and gives(to):
                to = _nearest(gives, short, to, spec, parameters.units)
                yield _Move(spec, to, end > now, abs(math.log((abs(to) + 1) / (abs(now) + 1))))
                break
            short = to


def _nearest(gives: Callable[[float], bool], now: float, end: float, spec: Spec, units: Units) -> float:
    """The value nearest to `now` that gives room, in round numbers where one does."""
    near, far = now, end
    step = 1.0 if spec.kind == "count" else _ROUND[units]
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
