"""What was tried for a part's parameters: other values, and who is at fault with them, as far as that was asked.

Most advice of one refusal asks for the same moves, so what one search has found is there for the next.
"""

import math
from collections.abc import Callable, Container, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, partial
from typing import Any, Protocol, cast

from parts.cached import cached_property
from parts.errors import GeometryError, Problem
from parts.spec.parameter import Spec, Value
from parts.spec.watch import Notes


@dataclass(frozen=True)
class Unworded(Problem):
    """A problem of which no sentence is asked for; its message names the limit.

    `by` is how far the parameter is past it, infinite where nobody says.
    """

    by: float = math.inf


class Tested(Protocol):
    """What is needed of the parameters that are tried."""

    def problems(self) -> Iterable[Problem]:
        """What doesn't go together."""

    def specs(self) -> Mapping[str, Spec]:
        """Every parameter as declared."""

    def shortfall(self, name: str) -> float:
        """By how much a parameter lacks room, as far as that is quickly told; 0 where it isn't."""


class Triable(Tested, Protocol):
    """What is needed of the parameters that others are tried in place of."""

    def changed(self, **values: Value) -> "Triable":
        """The same with some values changed, which are taken as they are."""

    def watched(self) -> tuple[Tested, Notes]:
        """The same, and the notes of what is read of it."""

    def keep(self, found: Mapping[str, Any]) -> None:
        """Take over cached properties, which would be found the same."""


class Tried:
    """Parameters with the values tried, and the problems found up to now, the first of each parameter at fault."""

    def __init__(self, make: Callable[[], Tested]) -> None:
        """Nothing is asked yet of the parameters that `make` returns."""
        self._make = make
        self._parameters: Tested | None = None
        self._found: dict[str, Problem] = {}
        self._coming: Iterator[Problem] | None = None
        self._lacking: dict[str, Problem] = {}

    def lacking(self, name: str) -> Problem | None:
        """Return the problem of a parameter that has no room, as far as that is quickly told."""
        if name not in self._lacking and (short := self._made().shortfall(name)):
            self._lacking[name] = Unworded(name, "", "", short)
            self._parameters = None  # they are hardly asked again, and many of them weigh on the collector
        return self._lacking.get(name)

    def faults(self) -> set[str]:
        """Return the names of the parameters at fault; all where the figure can't even be reckoned with."""
        for problem in self._others():
            self._found.setdefault(problem.parameter, problem)
        return set(self._found)

    def problem(self, known: Container[str] = ()) -> Problem | None:
        """Return the first problem of another parameter than those known."""
        for name, problem in self._found.items():
            if name not in known:
                return problem
        for problem in self._others():
            self._found.setdefault(problem.parameter, problem)
            if problem.parameter not in known:
                return problem
        return None

    def _made(self) -> Tested:
        if self._parameters is None:
            self._parameters = self._make()
        return self._parameters

    def _others(self) -> Iterator[Problem]:
        """The problems that weren't asked for yet."""
        if self._coming is None:
            self._coming = problems(self._made())
        return self._coming


class Tries:
    """What was tried of some parameters, by the values that differ from theirs."""

    def __init__(self, parameters: Triable) -> None:
        """Nothing was tried yet."""
        self._bare = parameters.changed()  # of what the parameters themselves have reckoned, copies would be relieved
        self._base, self._notes = parameters.watched()
        self._tried: dict[frozenset[tuple[str, Value]], Tried] = {}

    def of(self, values: Mapping[str, Value]) -> Tried:
        """Return what was found with these values in place of the parameters' own."""
        key = frozenset(values.items())
        tried = self._tried.get(key)
        if tried is None:
            # without a way back from here to the tries: a circle would stay until the collector comes by
            made = partial(_made, self._bare, self._notes, values) if values else partial(_same, self._base)
            tried = self._tried[key] = Tried(made)
        return tried


class Trying:
    """Parameters in place of which others are tried; what is one has all that `Triable` asks for."""

    def tried(self, **values: Value) -> Tried:
        """Return the same as `changed`, as it was tried the first time: most advice of a request asks for the same."""
        differing = {name: value for name, value in values.items() if value != getattr(self, name)}
        return self._tries.of(differing)

    @cached_property
    def _tries(self) -> Tries:
        return Tries(cast(Triable, self))


def _made(bare: Triable, notes: Notes, values: Mapping[str, Value]) -> Tested:
    """Parameters with these values, and all that was reckoned without those they replace."""
    made = bare.changed(**values)
    if kept := notes.apart_from(values):
        made.keep(kept)
    return made


def _same(parameters: Tested) -> Tested:
    return parameters


def problems(parameters: Tested) -> Iterator[Problem]:
    """Yield what is wrong; a problem of every parameter where the figure can't even be reckoned with."""
    try:
        yield from parameters.problems()
    except GeometryError:
        yield from map(unworded, parameters.specs())


@cache
def unworded(name: str) -> Problem:
    """Return the problem of a parameter where only its name is asked for."""
    return Unworded(name, "", "")
