"""A summary: what a job's page says of one part, small enough to be kept for every line."""

import threading
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

from parts import shop
from parts.checking import NO_NUMBERS
from parts.errors import Problem, Refused
from parts.export import thumbnail
from parts.jobs.making import made, part_of
from parts.part import Part
from parts.profile import Profile
from parts.setup import set_up
from parts.store import Kept
from parts.units import Units

WIDTH_PX, HEIGHT_PX = 132, 88
"""The room for a small drawing."""
LONGEST_SKETCH = 60_000
"""Letters of a small drawing; of what has more, none is shown."""
MOST_FINDINGS = 20


@dataclass(frozen=True, slots=True)
class SaidFinding:
    """A finding as a list shows it; `rest` counts the others like it."""

    severity: str
    rule: str
    message: str
    remedy: str
    rest: str


@dataclass(frozen=True, slots=True)
class Sum:
    """What is summed up of one part: mass in kg, lengths in mm, time in s, cost in the shop's money.

    `cost` is what could be reckoned, None where the shop has given no rate at all; `missing` has no rate.
    """

    mass_kg: float
    cut_length_mm: float
    pierces: int
    time_s: float
    cost: float | None
    missing: tuple[str, ...]
    currency: str


@dataclass(frozen=True, slots=True)
class Summary:
    """One part: what it is, what it is cut from, and what was found; `sketch` is its outline as an `svg` element."""

    title: str
    size: str
    material: str
    thickness_mm: float
    process: str
    of: Sum
    findings: tuple[SaidFinding, ...]
    sketch: str

    @property
    def is_stopped(self) -> bool:
        """Whether a finding says not to cut it."""
        return any(finding.severity == "stop" for finding in self.findings)


Summed: TypeAlias = Summary | tuple[Problem, ...]
"""What is said of a part, or why it can't be drawn."""


class Summaries:
    """The summaries that were asked for last, each worked out once for a state of the shop's numbers.

    Args:
        work: works one out.
        most: how many are held.
    """

    def __init__(self, work: Callable[[Kept, Units], Summed], most: int = 2048) -> None:
        self._work, self._most = work, most
        self._held: OrderedDict[tuple[Kept, Units, shop.Edition], Summed] = OrderedDict()
        self._turn = threading.Lock()

    def known(self, kept: Kept, units: Units) -> Summed | None:
        """Return the one that is held, None where it is still to be worked out."""
        key = kept, units, shop.edition()
        with self._turn:
            if key in self._held:
                self._held.move_to_end(key)
            return self._held.get(key)

    def of(self, kept: Kept, units: Units) -> Summed:
        """Return what is said of a part, or why it can't be drawn.

        Raises:
            DataError: the store or the shop's own file is unusable.
        """
        if known := self.known(kept, units):
            return known
        made = self._work(kept, units)
        with self._turn:
            self._held[kept, units, shop.edition()] = made
            if len(self._held) > self._most:
                self._held.popitem(last=False)
        return made


def summed_up(kept: Kept, units: Units, data: bytes = b"") -> Summed:
    """Return what is said of a part, or why it can't be drawn.

    Args:
        kept: the part.
        units: of the sentences about a drawing.
        data: of the drawing.

    Raises:
        DataError: the shop's own file is unusable.
    """
    try:
        return _of(part_of(made(kept, data, units)))
    except Refused as refused:
        return refused.problems
    except NO_NUMBERS:
        return (Problem("drawing", kept.part, "has lines that are too small or too large to be measured."),)


def _of(part: Part) -> Summary:
    record, m = part.record, part.measures
    cost = set_up(record).cost
    of = Sum(
        m.mass_kg, m.cut_length_mm, m.pierces, m.cut_time_s, cost.given if cost.is_given else None, cost.missing,
        cost.currency,
    )  # fmt: skip
    told = tuple(
        SaidFinding(row.first.severity, row.first.rule, row.first.message, row.first.remedy, row.rest)
        for row in record.rows[:MOST_FINDINGS]
    )
    cut = record.job.cut
    return Summary(
        record.template.title, record.size, record.material_title, cut.thickness_mm, cut.title, of, told,
        _sketch(part.profile),
    )  # fmt: skip


def _sketch(profile: Profile) -> str:
    x0, y0, x1, y1 = profile.box
    drawn = thumbnail(profile, min(WIDTH_PX / (x1 - x0), HEIGHT_PX / (y1 - y0)))
    return drawn if len(drawn) <= LONGEST_SKETCH else ""
