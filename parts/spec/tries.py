"""What was tried for a part's parameters: other values, and who is at fault with them, as far as that was asked.

Most advice of one refusal asks for the same moves, so what one search has found is there for the next.
"""

from collections.abc import Callable, Container, Iterable, Iterator, Mapping
from functools import partial
from typing import Any, Protocol

from parts.errors import GeometryError, Problem
from parts.spec.parameter import Spec, Value
from parts.spec.watch import Notes


class Tested(Protocol):
    """What is needed of the parameters that are tried."""

    def problems(self) -> Iterable[Problem]:
        """What doesn't go together."""

    def specs(self) -> Mapping[str, Spec]:
        """Every parameter as declared."""

    def lacks_room(self, name: str) -> bool:
        """Whether a parameter has no room, as far as that is quickly told."""


class Triable(Tested, Protocol):
    """What is needed of the parameters that others are tried in place of."""

    def changed(self, **values: Value) -> "Triable":
        """The same with some values changed, which are taken as they are."""

    def watched(self) -> tuple[Tested, Notes]:
        """The same, and the notes of what is read of it."""

    def keep(self, found: Mapping[str, Any]) -> None:
        """Take over cached properties, which would be found the same."""


class Tried:
    """Parameters with the values tried, and the names of those found at fault up to now."""

    def __init__(self, make: Callable[[], Tested]) -> None:
        """Nothing is asked yet of the parameters that `make` returns."""
        self._make = make
        self._parameters: Tested | None = None
        self._found: list[str] = []
        self._coming: Iterator[str] | None = None
        self._lacking: set[str] = set()

    def lacks_room(self, name: str) -> bool:
        """Tell whether a parameter has no room, as far as that is quickly told."""
        if name in self._lacking:
            return True
        if lacks := self._made().lacks_room(name):
            self._lacking.add(name)
            self._parameters = None  # they are hardly asked again, and many of them weigh on the collector
        return lacks

    def faults(self) -> set[str]:
        """Return the names of the parameters at fault; all where the figure can't even be reckoned with."""
        self._found += self._others()
        return set(self._found)

    def has_only(self, known: Container[str]) -> bool:
        """Tell whether no other parameters than those known are at fault."""
        for name in self._found:
            if name not in known:
                return False
        for name in self._others():
            self._found.append(name)
            if name not in known:
                return False
        return True

    def _made(self) -> Tested:
        if self._parameters is None:
            self._parameters = self._make()
        return self._parameters

    def _others(self) -> Iterator[str]:
        """The names that weren't asked for yet."""
        if self._coming is None:
            self._coming = fault_names(self._made())
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


def _made(bare: Triable, notes: Notes, values: Mapping[str, Value]) -> Tested:
    """Parameters with these values, and all that was reckoned without those they replace."""
    made = bare.changed(**values)
    if kept := notes.apart_from(values):
        made.keep(kept)
    return made


def _same(parameters: Tested) -> Tested:
    return parameters


def fault_names(parameters: Tested) -> Iterator[str]:
    """Yield the name of each parameter at fault; every name where the figure can't even be reckoned with."""
    try:
        for problem in parameters.problems():
            yield problem.parameter
    except GeometryError:
        yield from parameters.specs()
