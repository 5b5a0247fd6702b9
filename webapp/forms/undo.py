"""What was there before a remedy was taken: carried in the address, shown beside the row, given back by a link.

was=lamp_up:155mm,hole:8mm    each parameter that a remedy changed, with its value before
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from parts.errors import UnitsError
from parts.part import address
from parts.remedy import Remedy, titled
from parts.spec import ReadingContext, Spec, Value, default_of
from parts.units import units_of
from webapp.forms.canonical import shown
from webapp.forms.for_table import COMPENSATE
from webapp.forms.job_line import JOB_LINE
from webapp.forms.request import LONGEST_VALUE

WAS = "was"
"""The name in the address. It says nothing of the part, so no file's address has it."""


@dataclass(frozen=True)
class Link:
    """A link to the page with some values changed, and the changes for a form that has more typed in it."""

    text: str
    address: str
    changes: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Before:
    """The values before, of the parameters that now have another; in the order they were changed.

    `along` goes with every link as it came: for which table the part is drawn, and of which job it is a line.
    """

    slug: str
    specs: Mapping[str, Spec]
    given: Mapping[str, str]
    values: Mapping[str, Value]
    along: Mapping[str, str] = field(default_factory=dict)

    @classmethod
    def read(cls, slug: str, specs: Mapping[str, Spec], asked: Mapping[str, str], now: Mapping[str, Value]) -> "Before":
        """Return what an address says of before; what can't be read, or is as it is now, marks nothing.

        Args:
            slug: the template.
            specs: its parameters.
            asked: the values in the address, `was` among them.
            now: the values drawn.
        """
        given = {name: text for name, text in asked.items() if name in specs}
        values: dict[str, Value] = {}
        for entry in asked.get(WAS, "").split(","):
            name, _, text = entry.partition(":")
            try:
                value = specs[name].read(text, ReadingContext(units_of(asked.get("units"))))
            except (KeyError, UnitsError):
                continue
            if value != now.get(name):
                values[name] = value
        along = {name: said for name in (COMPENSATE, JOB_LINE) if (said := asked.get(name, ""))}
        return cls(slug, specs, given, values, along)

    @property
    def text(self) -> str:
        """The value of `was`; what was changed first is left out where there is no room for all."""
        return self._text(self.values)

    def taking(self, remedy: Remedy, text: str) -> Link:
        """Return the link that takes a remedy; of a parameter changed twice the first value is kept."""
        reading = ReadingContext(units_of(self.given.get("units")))
        values = {c.name: self.specs[c.name].read(c.old, reading) for c in remedy.changes} | dict(self.values)
        new = {c.name: self.specs[c.name].read(c.new, reading) for c in remedy.changes}
        return self._link(text, new, {name: old for name, old in values.items() if old != new.get(name)})

    def undoing(self, name: str) -> Link:
        """Return the link that gives a parameter the value it had."""
        rest = {other: value for other, value in self.values.items() if other != name}
        return self._link(f"was {self.said(name)}", {name: self.values[name]}, rest)

    def title(self, name: str) -> str:
        """Return what a parameter is called."""
        return titled(self.specs[name].label, self.specs[name].group)

    def said(self, name: str) -> str:
        """Return the value before as a person says it."""
        return self.specs[name].say(self.values[name], units_of(self.given.get("units")))

    def _link(self, text: str, new: Mapping[str, Value], was: Mapping[str, Value]) -> Link:
        units = units_of(self.given.get("units"))
        given = {**self.given, **{name: shown(self.specs[name], value, units) for name, value in new.items()}}
        diameters = {spec.diameter for spec in self.specs.values()}  # one that is given says that no bolt sets the hole
        idle = {n for n in new if new[n] == default_of(self.specs[n], units) and n not in diameters}
        plain = {n: text for n, text in given.items() if n not in idle}
        said = self._text(was)
        changes = (*((name, given[name]) for name in new), (WAS, said))
        return Link(text, address(self.slug, {**plain, **self.along, **({WAS: said} if said else {})}), changes)

    def _text(self, values: Mapping[str, Value]) -> str:
        units = units_of(self.given.get("units"))
        entries = [f"{name}:{self.specs[name].text(value, units)}" for name, value in values.items()]
        while len(",".join(entries)) > LONGEST_VALUE:
            entries.pop(0)
        return ",".join(entries)
