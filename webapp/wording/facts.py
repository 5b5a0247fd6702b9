"""What the title block and the list of findings say of a part."""

from collections.abc import Callable
from dataclasses import dataclass

from parts.cutting import SLOW, Job
from parts.drawing import STEPS
from parts.export import LEFT_OUT, expected_said, outside_said, times_said
from parts.finding import Finding, FindingRow, Verdict
from parts.finding import verdict as verdict_of
from parts.numbers import kinds_said, rests_on
from parts.part import Part
from parts.remedy import is_serious
from parts.tolerance import HEAL_KERFS, LIMIT_SLACK_MM
from parts.truing import Compensation
from parts.units import (
    format_area,
    format_both,
    format_figures,
    format_kerf,
    format_mass,
    format_rough,
    format_speed,
    format_time,
)

NOTHING_MM2 = 0.005
"""An area that shows as nothing to two decimals."""

SHOWN = 3
"""Rows of one rule that stand in the list; more are folded away."""


@dataclass(frozen=True, slots=True)
class Flag:
    """A finding, or several alike, as the list shows it, with its number on the drawing; `rest` counts the others.

    `place` says where in a drawing of someone's own it is.
    """

    number: int
    finding: Finding
    measured: str
    rest: str
    place: str = ""


@dataclass(frozen=True, slots=True)
class RuleRows:
    """The findings of one rule, alike in one row: the rows shown, the rest folded away; `heading` stands over many.

    `serious` is whether a remedy is looked for; `rests` are the numbers that the rule goes by, `kinds` their kinds.
    """

    rule: str
    heading: str
    shown: tuple[Flag, ...]
    folded: tuple[Flag, ...]
    serious: bool
    kinds: str
    rests: tuple[str, ...]


def facts(part: Part, compensation: Compensation | None = None) -> list[tuple[str, str]]:
    """Return what people want at a glance, each with its name; of the true part, whatever its files are drawn for."""
    m, job, units = part.measures, part.record.job, part.record.job.units
    cut = job.cut
    return [
        ("Size", part.record.size),
        ("Thickness", format_both(cut.thickness_mm)),
        ("Material", part.record.material_title),
        ("Weight", format_mass(m.mass_kg, units)),
        ("Pierces", f"{m.pierces} and {m.drill_centres} to drill" if m.drill_centres else str(m.pierces)),
        ("Cut length", format_rough(m.cut_length_mm, units)),
        ("Process", cut.title[:1].upper() + cut.title[1:]),
        ("Feed", format_speed(cut.feed_mm_s, units)),
        ("Kerf", format_kerf(cut.kerf_mm, units)),
        (f"Under {100 * SLOW:.0f} % of feed", f"{100 * m.slow_share:.0f} % of the cut"),
        ("Time", format_time(m.cut_time_s)),
        ("Size to expect", expected_said(part.record)),
        (f"Time at the table, {LEFT_OUT}", times_said(part.record)),
        *([("Outside ISO 9013", beyond)] if (beyond := outside_said(part.record)) else []),
        *([("Compensated for", f"{compensation.label}, to be cut on no other")] if compensation else []),
    ]


def as_cut_said(part: Part) -> str:
    """Return what the jet leaves of the part, beside the switch that shows it."""
    left, job, units = part.record.as_cut, part.record.job, part.record.job.units
    if left is None:
        return "not told while its loops meet"
    if left.lost_area_mm2 <= NOTHING_MM2:
        return "as drawn, every corner is within the jet's reach"
    radius, more = job.say(left.kerf_mm / 2), format_area(left.lost_area_mm2, units)
    return f"inside corners keep a radius of {radius}; {more} more stays"


def slow_said() -> str:
    """Return the legend of the bands, beside the switch that shows them."""
    first, *rest = (f"{100 * share:.0f}" for share in STEPS)
    return f"under {first} % of the feed; wider under {' and '.join(rest)} %"


def verdict(part: Part | None, *, refused: bool) -> Verdict:
    """Return whether a part can be cut, in one line."""
    if part is None or refused:
        return Verdict("Not drawn as typed", stops=True)
    if part.record.is_sketch:
        return Verdict("Being drawn", stops=True)
    if not part.record.is_judged:
        return Verdict("Being checked", stops=True)
    return verdict_of(part.record.rows)


def kinds(part: Part, place: Callable[[Finding], str] | None = None) -> list[RuleRows]:
    """Return the findings by rule, numbered as on the drawing; `place` words where one is."""
    by_rule: dict[str, list[FindingRow]] = {}
    for row in part.record.rows:
        by_rule.setdefault(row.first.rule, []).append(row)
    return [_kind(part, rule, rows, place or _nowhere) for rule, rows in by_rule.items()]


def _nowhere(_: Finding) -> str:
    return ""


def _kind(part: Part, rule: str, rows: list[FindingRow], place: Callable[[Finding], str]) -> RuleRows:
    places = sum(1 + len(row.also) for row in rows)
    heading = f"{rule.replace('-', ' ').capitalize()}: {places} places" if len(rows) > SHOWN else ""
    flags = [Flag(row.number, row.first, _measured(part, row.first), row.rest, place(row.first)) for row in rows]
    serious = any(is_serious(flag.finding) for flag in flags)
    rests = rests_on(rule, part.record.job)
    said = tuple(rest.said_in(part.record.job.units) for rest in rests)
    return RuleRows(rule, heading, tuple(flags[:SHOWN]), tuple(flags[SHOWN:]), serious, kinds_said(rests), said)


def _measured(part: Part, finding: Finding) -> str:
    if finding.measured is None or finding.limit is None:
        return ""
    job = part.record.job
    return " against ".join(job.say_apart(finding.measured, finding.limit))


def healed_up_to(tolerance_mm: float, job: Job) -> str:
    """Return the tolerance a drawing was healed with, and why it is no more where the kerf limits it."""
    limited = abs(tolerance_mm - HEAL_KERFS * job.cut.kerf_mm) <= LIMIT_SLACK_MM
    said = format_figures(tolerance_mm, job.units, 3 if job.units == "mm" else 2)
    return f"{said}{', a third of the kerf' if limited else ''}"
