"""A remedy: what to change so that a rule finds nothing more to mend."""

import re
from dataclasses import dataclass

from parts.remedy.cost import Cost
from parts.units import format_change

_LEANS = re.compile(r"\b(?:its?|their|them)\b", re.IGNORECASE)
"""A label with such a word means what its group is headed."""


@dataclass(frozen=True, slots=True)
class ParameterChange:
    """One parameter, its value before and after as they are said, and both as text that reads back exactly."""

    name: str
    label: str
    group: str
    before: str
    after: str
    old: str
    new: str

    @property
    def sentence(self) -> str:
        """What changes: `Lamp centres up: 155 mm → 149 mm`."""
        return f"{self.title}: {self.said}"

    @property
    def said(self) -> str:
        """The values: `155 mm → 149 mm`."""
        return f"{self.before} → {self.after}"

    @property
    def brief(self) -> str:
        """The values with a unit they share said once: `155 → 149 mm`."""
        return format_change(self.before, self.after)

    @property
    def title(self) -> str:
        """The label, with its group where it speaks of `it`: `Its diameter (Hanging hole)`."""
        return titled(self.label, self.group)


def titled(label: str, group: str) -> str:
    """Return a parameter's label as it is understood without the heading of its group."""
    return f"{label} ({group})" if _LEANS.search(label) else label


@dataclass(frozen=True, slots=True)
class Remedy:
    """The changes that mend all that a rule found, and nothing else is worse for.

    `asks` is what must be true for them to be taken, where they change what mates with something else; empty where
    they may be taken unasked. `with_care` are those that something may hang on. `cost` is None of what isn't measured.
    """

    rule: str
    changes: tuple[ParameterChange, ...]
    asks: str = ""
    with_care: tuple[str, ...] = ()
    cost: Cost | None = None

    @property
    def names(self) -> tuple[str, ...]:
        """The parameters that it changes."""
        return tuple(change.name for change in self.changes)

    @property
    def sentence(self) -> str:
        """What changes, in one line."""
        return "; ".join(change.sentence for change in self.changes)

    @property
    def values(self) -> dict[str, str]:
        """The new values as text, by parameter."""
        return {change.name: change.new for change in self.changes}
