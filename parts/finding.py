"""A finding: what a rule says about a profile; those that say the same are told together.

row       one finding, or several of one rule that say the same but for which hole of many it is; it has one number, in
          the list and at each of its flags
verdict   whether a part can be cut, in one line, by all that was found
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from parts.geometry import Point
from parts.profile import Drill, Profile

Severity: TypeAlias = Literal["stop", "warn", "note"]


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing a rule found, where it is, and how to mend it.

    `measured` and `limit` are mm (None where the rule measures nothing); `message` says what is wrong
    and `remedy` what to do, in a shop's words; `changes` are the parameters, as text, that do it.
    `at` is the worst place; `also` are the others, where one sentence says it of all of them.
    What `is_routine` always holds of such a part: it is told once, outside the findings.
    What `is_unchecked` says that its rule could not be asked for lack of time or memory.
    """

    rule: str
    severity: Severity
    at: Point
    measured: float | None
    limit: float | None
    message: str
    remedy: str
    changes: tuple[tuple[str, str], ...] = ()
    also: tuple[Point, ...] = ()
    is_routine: bool = False
    is_unchecked: bool = False


UNITS_RULE = "units"
"""The rule of a doubt about the unit of someone's drawing, on which all else hangs."""
_COUNTED = ("piece", "bend line")
"""What is called by a number and has no name of its own in a profile."""


@dataclass(frozen=True, slots=True)
class FindingRow:
    """A row: findings of one rule and severity that say the same, the first of them first."""

    number: int
    findings: tuple[Finding, ...]

    @property
    def first(self) -> Finding:
        """The one whose sentence stands for all."""
        return self.findings[0]

    @property
    def also(self) -> tuple[Point, ...]:
        """Every place but that of the first: those its sentence counts, and those of the others."""
        return (*self.first.also, *(place for other in self.findings[1:] for place in (other.at, *other.also)))

    @property
    def rest(self) -> str:
        """What to add to its sentence: `11 more places like it.`; empty where it is the only one."""
        more = len(self.findings) - 1
        return f"{more} more place{'' if more == 1 else 's'} like it." if more else ""


def alike(profile: Profile, findings: Sequence[Finding]) -> tuple[FindingRow, ...]:
    """Return findings as rows numbered from 1, each at the place of its first."""
    numbered = _numbered(profile)
    rows: dict[tuple[str, ...], list[Finding]] = {}
    for finding in findings:
        said = (numbered.sub(r"\1", text) for text in (finding.message, finding.remedy))
        rows.setdefault((finding.rule, finding.severity, *said), []).append(finding)
    return tuple(FindingRow(number, tuple(row)) for number, row in enumerate(rows.values(), start=1))


def _numbered(profile: Profile) -> re.Pattern[str]:
    """What matches `hole 2`, or whatever else is told from its like by a number."""
    named = [opening.name for opening in profile.inside]
    named += [mark.name for mark in profile.marks if isinstance(mark, Drill)]
    names = {name.partition(" in ")[0] for name in named} | {*_COUNTED}
    longest_first = sorted(names, key=lambda name: (-len(name), name))
    return re.compile(rf"\b({'|'.join(map(re.escape, longest_first))}) \d+\b(?![./]\d| mm)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Verdict:
    """The one line: can it be cut. `stops` is whether it can't."""

    line: str
    stops: bool


def verdict(rows: Sequence[FindingRow]) -> Verdict:
    """Return whether a part with these findings can be cut; never a yes where a rule could not be asked."""
    unasked = dict.fromkeys(row.first.rule.replace("-", " ") for row in rows if row.first.is_unchecked)
    stops = sum(row.first.severity == "stop" and not row.first.is_unchecked for row in rows)
    said = f"not everything could be checked: {', '.join(unasked)}" if unasked else ""
    if stops:
        return Verdict("; ".join(filter(None, (f"Don't cut yet: {stops} to mend", said))), stops=True)
    if said:
        return Verdict(f"{said[0].upper()}{said[1:]}", stops=True)
    in_doubt = any(row.first.rule == UNITS_RULE for row in rows)
    can = "Can be cut if its units are right" if in_doubt else "Can be cut"
    return Verdict(f"{can}; {len(rows)} to look at" if rows else can, stops=False)
