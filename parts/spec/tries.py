"""What was tried for a part's parameters: other values, and who is at fault with them, as far as that was asked.

Most advice of one refusal asks for the same moves, so what one search has found is there for the next.
"""

from collections.abc import Callable, Container, Iterable, Iterator, Mapping
from typing import Protocol

from parts.errors import GeometryError, Problem
from parts.spec.parameter import Spec, Value


class Tested(Protocol):
    """What is needed of the parameters that are tried."""

    def problems(self) -> Iterable[Problem]:
        """What doesn't go together."""

    def specs(self) -> Mapping[str, Spec]:
        """Every parameter as declared."""

    def lacks_room(self, name: str) -> bool:
        """Whether a parameter has no room, as far as that is quickly told."""


class Tried:
    """Parameters with the values tried, and the names of those found at fault up to now."""

    def __init__(self, parameters: Tested) -> None:
        """Nothing is asked of the parameters yet."""
        self._parameters = parameters
        self._found: list[str] = []
        self._coming = fault_names(parameters)
        self._lacking: dict[str, bool] = {}

    def lacks_room(self, name: str) -> bool:
        """Tell whether a parameter has no room, as far as that is quickly told."""
        if name not in self._lacking:
            self._lacking[name] = self._parameters.lacks_room(name)
        return self._lacking[name]

    def faults(self) -> set[str]:
        """Return the names of the parameters at fault; all where the figure can't even be reckoned with."""
        self._found += self._coming
        return set(self._found)

    def has_only(self, known: Container[str]) -> bool:
        """Tell whether no other parameters than those known are at fault."""
        if any(name not in known for name in self._found):
            return False
        for name in self._coming:
            self._found.append(name)
            if name not in known:
                return False
        return True


class Tries:
    """What was tried of some parameters, by the values that differ from theirs."""

    def __init__(self) -> None:
        """Nothing was tried yet."""
        self._tried: dict[frozenset[tuple[str, Value]], Tried] = {}

    def of(self, values: Mapping[str, Value], changed: Callable[..., Tested]) -> Tried:
        """Return what was found with these values, which `changed` gives to the parameters the first time."""
        key = frozenset(values.items())
        if key not in self._tried:
            self._tried[key] = Tried(changed(**values))
        return self._tried[key]


def fault_names(parameters: Tested) -> Iterator[str]:
    """Yield the name of each parameter at fault; every name where the figure can't even be reckoned with."""
    try:
        for problem in parameters.problems():
            yield problem.parameter
    except GeometryError:
        yield from parameters.specs()
