"""What the title block and the list of findings say of a part."""

from dataclasses import dataclass

from parts.cutting import SLOW
from parts.drawing import STEPS
from parts.export import expected_said
from parts.finding import Finding, FindingRow
from parts.forming import bend_table
from parts.part import Part
from parts.remedy import is_serious
from parts.truing import Compensation
from parts.units import MM_PER_IN, Units, format_both, format_length

NOTHING_MM2 = 0.005
"""An area that shows as nothing to two decimals."""

SHOWN = 3
"""Rows of one rule that stand in the list; more are folded away."""
LB_PER_KG = 1 / 0.45359237
"""Exact by definition: international yard and pound agreement of 1959."""


@dataclass(frozen=True, slots=True)
class Flag:
    """A finding, or several alike, as the list shows it, with its number on the drawing; `rest` counts the others."""

    number: int
    finding: Finding
    measured: str
    rest: str


@dataclass(frozen=True, slots=True)
class Kind:
    """The findings of one rule, alike in one row: the rows shown, the rest folded away; `heading` stands over many.

    `serious` is whether a remedy is looked for.
    """

    rule: str
    heading: str
    shown: tuple[Flag, ...]
    folded: tuple[Flag, ...]
    serious: bool


@dataclass(frozen=True, slots=True)
class Verdict:
    """The one line: can it be cut. `stops` is whether it can't."""

    line: str
    stops: bool


def mass(of: float) -> str:
    """Return a mass in any unit to two decimals, or two figures where it is small."""
    return f"{of:.2f}" if of >= 0.1 else f"{of:.2g}"


def facts(part: Part, compensation: Compensation | None = None) -> list[tuple[str, str]]:
    """Return what people want at a glance, each with its name; of the true part, whatever its files are drawn for."""
    m, job, units = part.measures, part.record.job, part.record.units
    cut, say = job.cut, job.say
    return [
        ("Size", f"{say(m.width_mm)} × {say(m.height_mm)}"),  # noqa: RUF001 - the sign of a size
        ("Thickness", format_both(cut.thickness_mm)),
        ("Material", part.record.material_title),
        ("Weight", f"{mass(m.mass_kg)} kg ({mass(m.mass_kg * LB_PER_KG)} lb)"),
        ("Pierces", f"{m.pierces} and {m.drill_centres} to drill" if m.drill_centres else str(m.pierces)),
        ("Cut length", _rough(m.cut_length_mm, units)),
        ("Process", cut.title[:1].upper() + cut.title[1:]),
        ("Feed", _feed(cut.feed_mm_s, units)),
        ("Kerf", say(round(cut.kerf_mm, 2)) if units == "mm" else f"{cut.kerf_mm / MM_PER_IN:.3f} in"),
        (f"Under {100 * SLOW:.0f} % of feed", f"{100 * m.slow_share:.0f} % of the cut"),
        ("Time", _time(m.cut_time_s)),
        ("Size to expect", expected_said(part.record)),
        *([("Compensated for", f"{compensation.label}, to be cut on no other")] if compensation else []),
    ]


def bends(part: Part) -> list[tuple[str, ...]]:
    """Return the bend table: number, angle and way, inside radius, K, allowance, deduction, line from the end.

    Lengths are in the part's working units, which the table says once: on a phone it has no room for more.
    """
    units = part.record.units

    def say(mm: float) -> str:
        return part.record.job.say(mm).removesuffix(units).strip()

    return [
        (
            str(row.number),
            f"{row.degrees:.4g}\u00b0 {row.way}",
            say(row.fold.radius),
            f"{row.fold.k:.3g}",
            say(row.fold.allowance),
            "-" if row.deduction is None else say(row.deduction),
            say(row.from_end),
        )
        for row in bend_table(part.profile, part.record.job.cut.thickness_mm, part.record.job.brake)
    ]


def as_cut_said(part: Part) -> str:
    """Return what the jet leaves of the part, beside the switch that shows it."""
    left, job, units = part.record.as_cut, part.record.job, part.record.units
    if left is None:
        return "not told while its loops meet"
    if left.lost_area_mm2 <= NOTHING_MM2:
        return "as drawn, every corner is within the jet's reach"
    return f"inside corners keep a radius of {job.say(left.kerf_mm / 2)}; {_area(left.lost_area_mm2, units)} more stays"


def slow_said() -> str:
    """Return the legend of the bands, beside the switch that shows them."""
    first, *rest = (f"{100 * share:.0f}" for share in STEPS)
    return f"under {first} % of the feed; wider under {' and '.join(rest)} %"


def verdict(part: Part | None, *, refused: bool) -> Verdict:
    """Return whether a part can be cut, in one line."""
    if part is None or refused:
        return Verdict("Not drawn as typed", stops=True)
    stops = sum(finding.severity == "stop" for finding in part.findings)
    rest = len(part.findings) - stops
    if stops:
        return Verdict(f"Don't cut yet: {stops} to mend", stops=True)
    return Verdict(f"Can be cut; {rest} to look at" if rest else "Can be cut", stops=False)


def kinds(part: Part) -> list[Kind]:
    """Return the findings by rule, numbered as on the drawing."""
    by_rule: dict[str, list[FindingRow]] = {}
    for row in part.record.rows:
        by_rule.setdefault(row.first.rule, []).append(row)
    return [_kind(part, rule, rows) for rule, rows in by_rule.items()]


def _kind(part: Part, rule: str, rows: list[FindingRow]) -> Kind:
    places = sum(len(row.findings) for row in rows)
    heading = f"{rule.replace('-', ' ').capitalize()}: {places} places" if len(rows) > SHOWN else ""
    flags = [Flag(row.number, row.first, _measured(part, row.first), row.rest) for row in rows]
    serious = any(is_serious(flag.finding) for flag in flags)
    return Kind(rule, heading, tuple(flags[:SHOWN]), tuple(flags[SHOWN:]), serious)


def _measured(part: Part, finding: Finding) -> str:
    if finding.measured is None or finding.limit is None:
        return ""
    say = part.record.job.say
    return f"{say(finding.measured)} against {say(finding.limit)}"


def _rough(mm: float, units: Units) -> str:
    """A long length to the millimetre or the tenth of an inch."""
    return format_length(round(mm) if units == "mm" else round(mm / MM_PER_IN, 1) * MM_PER_IN, units)


def _area(mm2: float, units: Units) -> str:
    """A small area, to the hundredth of a square millimetre or the ten thousandth of a square inch."""
    return f"{mm2:.2f} mm\u00b2" if units == "mm" else f"{mm2 / MM_PER_IN**2:.4f} in\u00b2"


def _time(seconds: float) -> str:
    minutes, rest = divmod(round(seconds), 60)
    return f"{minutes} min {rest} s" if minutes else f"{rest} s"


def _feed(mm_s: float, units: Units) -> str:
    return f"{mm_s * 60:.0f} mm/min" if units == "mm" else f"{mm_s * 60 / MM_PER_IN:.0f} in/min"
