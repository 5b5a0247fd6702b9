"""The lines of a job as its page shows them: drawn as far as there is time, in the units that are worked in."""

import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from urllib.parse import urlencode

from markupsafe import Markup

from parts.errors import Busy, PartsError, Problem
from parts.jobs import SaidFinding, Sum, Summary, Summed
from parts.part import address
from parts.store import Content, Kept, Line, SavedPart
from parts.templates import modules
from parts.templates import template as find
from parts.units import Units, format_both, format_mass, format_money, format_time
from webapp.forms import JOB_LINE, JobLine, in_units
from webapp.workers import SUMMARIES

LONGEST_S = 3.0
"""How long a page draws lines that it hasn't drawn before; the others follow when it is asked for again."""


@dataclass(frozen=True, slots=True)
class ShownLine:
    """A line of the page: what was kept, and what is said of it; `waits` while it isn't drawn yet."""

    line: Line
    said: Summary | None
    problems: tuple[Problem, ...]
    waits: bool
    to: str
    units: Units

    @property
    def title(self) -> str:
        """What the part is called."""
        return self.said.title if self.said else self.line.kept.part

    @property
    def called(self) -> str:
        """What the line is called: by the shop, else by its part."""
        return self.line.name or self.title

    @property
    def stock(self) -> str:
        """What it is cut from, and by what."""
        said = self.said
        return f"{said.material}, {format_both(said.thickness_mm)}, {said.process}" if said else ""

    @property
    def sketch(self) -> Markup:
        """The small drawing."""
        return Markup(self.said.sketch) if self.said else Markup()  # noqa: S704 - no text in it

    @property
    def mass(self) -> str:
        """Of all of them."""
        return format_mass(self.line.quantity * self.said.of.mass_kg, self.units) if self.said else ""

    @property
    def time(self) -> str:
        """At the table, for all of them."""
        return format_time(self.line.quantity * self.said.of.time_s) if self.said else ""

    @property
    def cost(self) -> str:
        """Of all of them; nothing where the shop has given no rate."""
        return costs(self.said.of, self.line.quantity) if self.said else ""

    @property
    def verdict(self) -> str:
        """Whether it can be cut: `stop`, `warn`, `note`, or nothing where all is in order."""
        found = {finding.severity for finding in self.said.findings} if self.said else {"stop"}
        return next((severity for severity in ("stop", "warn", "note") if severity in found), "")


def costs(of: Sum, count: int) -> str:
    """Return what so many cost."""
    return "" if of.cost is None else format_money(count * of.cost, of.currency)


def shown(content: Content, job: int, units: Units) -> list[ShownLine]:
    """Return the lines of a job, drawn as far as there is time.

    Raises:
        DataError: the store or the shop's own file is unusable.
    """
    end = time.monotonic() + LONGEST_S
    return [_shown(line, job, units, end) for line in content.lines]


def _shown(line: Line, job: int, units: Units, end: float) -> ShownLine:
    found: Summed | None = None
    kept = in_working_units(line.kept, units)
    if time.monotonic() < end:
        try:
            found = SUMMARIES.of(kept, units)
        except Busy:
            found = None
        except PartsError as error:  # a file that isn't in this store any more
            found = (Problem("part", kept.part, str(error)),)
    else:
        found = SUMMARIES.known(kept, units)
    to = opened_at(line.kept, JobLine(job, line.number))
    if found is None:
        return ShownLine(line, None, (), True, to, units)
    if isinstance(found, Summary):
        return ShownLine(line, found, (), False, to, units)
    return ShownLine(line, None, found, False, to, units)


def in_working_units(kept: Kept, units: Units) -> Kept:
    """Return a part of a template with its values in other units, so that what is said of it is in these."""
    values = dict(kept.values)
    if kept.drawing or kept.part not in modules() or values.get("units", "mm") == units:
        return kept
    try:
        return replace(kept, values=tuple(in_units(find(kept.part), values, units).items()))
    except PartsError:
        return kept


def opened_at(kept: Kept, of: JobLine) -> str:
    """Return the address at which a line's part is opened again, to be changed."""
    said = {JOB_LINE: str(of)}
    if kept.drawing:
        return f"/check?{urlencode(said)}"
    return address(kept.part, {**dict(kept.values), **said})


def opened_alone(saved: SavedPart) -> str:
    """Return the address at which a saved part is opened; empty of a drawing, which has none."""
    return "" if saved.kept.drawing else address(saved.kept.part, dict(saved.kept.values))


def by_severity(lines: Sequence[ShownLine], most: int) -> Iterator[tuple[ShownLine, SaidFinding]]:
    """Yield the findings of all lines, `stop` first, each with its line; no more than so many."""
    order = ("stop", "warn", "note")
    found = [(line, finding) for line in lines if line.said for finding in line.said.findings]
    yield from sorted(found, key=lambda each: order.index(each[1].severity))[:most]
