"""Where a parameter applies: the height of a lamp where the lamps are rectangles, a hole's diameter without a bolt.

A *condition* is on one other parameter. A parameter applies where any of its conditions holds on a parameter that
applies itself; one without conditions always does.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Protocol, TypeAlias, cast

from parts.data import word_of

When: TypeAlias = tuple[str, ...] | Sequence[tuple[str, ...]]
"""A condition as it is declared: `("lamps", "rectangle")` with one or more values, `("slots",)` for what isn't
nothing, `("holes", "2")` for so many or more; a list of them where any will do."""

_NOTHING: Mapping[str, str] = {"flag": "no", "choice": "none"}


class Declared(Protocol):
    """What is needed of a parameter's declaration."""

    @property
    def kind(self) -> str:
        """The kind of its values."""

    @property
    def label(self) -> str:
        """What it is called."""

    @property
    def choices(self) -> tuple[str, ...]:
        """The values of a choice."""

    @property
    def default(self) -> Any:  # noqa: ANN401 - as the values of parameters are
        """Its value where none is given."""

    @property
    def when(self) -> tuple["Condition", ...]:
        """Where it applies."""


@dataclass(frozen=True, slots=True)
class Condition:
    """What another parameter must be: one of `values`, if there are any, else not nothing (0, no, none, no text).

    A count must be at least `least`.
    """

    parameter: str
    values: tuple[str, ...] = ()
    least: int = 1

    def holds(self, value: object) -> bool:
        """Tell whether a value of the other parameter is as it must be."""
        if self.values:
            return value in self.values
        if isinstance(value, str):
            return value.strip() not in ("", "none")
        return value >= self.least if isinstance(value, int) and not isinstance(value, bool) else bool(value)

    def words(self, other: Declared) -> str:
        """Return the condition in words, `other` being the other parameter: `“Lamps” is rectangle`."""
        label = f"“{other.label}”"
        left_out = [choice for choice in other.choices if choice not in self.values]
        if len(self.values) > 1 and len(left_out) == 1:
            return f"{label} isn't {word_of(left_out[0])}"
        if self.values:
            return f"{label} is {' or '.join(map(word_of, self.values))}"
        if self.least > 1:
            return f"{label} is {self.least} or more"
        return f"there is {label}" if other.kind == "text" else f"{label} isn't {_NOTHING.get(other.kind, '0')}"


def conditions(when: When) -> tuple[Condition, ...]:
    """Return the conditions that were declared, one by one."""
    if not when:
        return ()
    several = [when] if isinstance(when[0], str) else when
    return tuple(_condition(*cast(tuple[str, ...], one)) for one in several)


def of_choices(condition: Condition, choices: Sequence[str]) -> Condition:
    """Return the condition, its number being a word where the other parameter is a choice of such words: `4` bolts."""
    word = str(condition.least)
    is_word = not condition.values and condition.least > 1 and word in choices
    return Condition(condition.parameter, (word,)) if is_word else condition


def _condition(parameter: str, *values: str) -> Condition:
    if len(values) == 1 and values[0].isdigit():
        return Condition(parameter, (), int(values[0]))
    return Condition(parameter, values)


def applies(name: str, specs: Mapping[str, Declared], values: Mapping[str, object]) -> bool:
    """Tell whether a parameter applies to the part that `values` draw; those left out are at their default."""
    when = specs[name].when
    return not when or any(
        one.holds(values.get(one.parameter, specs[one.parameter].default)) and applies(one.parameter, specs, values)
        for one in when
    )


def where(spec: Declared, specs: Mapping[str, Declared]) -> str:
    """Return where a parameter applies, in words; nothing where it always does."""
    return " or ".join(one.words(specs[one.parameter]) for one in spec.when)
