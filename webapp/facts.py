"""What the title block and the list of findings say of a part."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from parts.bend_table import bend_table
from parts.drawing.overlays import STEPS
from parts.export.about import expected_said
from parts.finding import Finding
from parts.part import Part, address
from parts.slowing import SLOW
from parts.units import MM_PER_IN, Units, format_both, format_length
from webapp.form import title_of

NOTHING_MM2 = 0.005
"""An area that shows as nothing to two decimals."""

LB_PER_KG = 1 / 0.45359237
"""Exact by definition: international yard and pound agreement of 1959."""


@dataclass(frozen=True, slots=True)
class Flag:
    """A finding as the list shows it, with the number it has on the drawing.

    `address` draws the part with the remedy taken and `change` says in words what that changes; both
    are empty where a finding has no such remedy.
    """

    number: int
    finding: Finding
    measured: str
    change: str
    address: str


@dataclass(frozen=True, slots=True)
class Verdict:
    """The one line: can it be cut. `stops` is whether it can't."""

    line: str
    stops: bool


def facts(part: Part) -> list[tuple[str, str]]:
    """Return what people want at a glance, each with its name."""
    m, job, units = part.measures, part.record.job, part.record.units
    cut, say = job.cut, job.say
    return [
        ("Size", f"{say(m.width_mm)} × {say(m.height_mm)}"),  # noqa: RUF001 - the sign of a size
        ("Thickness", format_both(cut.thickness_mm)),
        ("Material", part.record.material_title),
        ("Weight", f"{m.mass_kg:.2f} kg ({m.mass_kg * LB_PER_KG:.2f} lb)"),
        ("Pierces", f"{m.pierces} and {m.drill_centres} to drill" if m.drill_centres else str(m.pierces)),
        ("Cut length", _rough(m.cut_length_mm, units)),
        ("Process", cut.title[:1].upper() + cut.title[1:]),
        ("Feed", _feed(cut.feed_mm_s, units)),
        ("Kerf", say(cut.kerf_mm)),
        (f"Under {100 * SLOW:.0f} % of feed", f"{100 * m.slow_share:.0f} % of the cut"),
        ("Time", _time(m.cut_time_s)),
        ("Size to expect", expected_said(part.record)),
    ]


def bends(part: Part) -> list[tuple[str, ...]]:
    """Return the bend table: number, angle and way, inside radius, K, allowance, deduction, line from the end."""
    say = part.record.job.say
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
        for row in bend_table(part.record.profile, part.record.job)
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


def flags(part: Part, given: Mapping[str, str]) -> Iterator[Flag]:
    """Yield the findings in the order of their numbers on the drawing; `given` is what the page was asked for."""
    slug, say = part.record.template.slug, part.record.job.say
    for number, finding in enumerate(part.findings, start=1):
        measured = ""
        if finding.measured is not None and finding.limit is not None:
            measured = f"{say(finding.measured)} against {say(finding.limit)}"
        taken = address(slug, {**given, **dict(finding.changes)}) if finding.changes else ""
        yield Flag(number, finding, measured, _change(part, finding), taken)


def _change(part: Part, finding: Finding) -> str:
    specs = part.record.specs
    return ", ".join(f"{specs[name].label}: {title_of(specs[name], value)}" for name, value in finding.changes)


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
