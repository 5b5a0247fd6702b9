"""What the title block and the list of findings say of a part."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from parts.finding import Finding
from parts.part import Part, address
from parts.units import MM_PER_IN, Units, format_both, format_length
from webapp.form import title_of

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
        ("Kerf", say(round(cut.kerf_mm, 2)) if units == "mm" else f"{cut.kerf_mm / MM_PER_IN:.3f} in"),
        ("Feed", _feed(cut.feed_mm_s, units)),
        ("Time", _time(m.cut_time_s)),
    ]


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


def _time(seconds: float) -> str:
    minutes, rest = divmod(round(seconds), 60)
    return f"{minutes} min {rest} s" if minutes else f"{rest} s"


def _feed(mm_s: float, units: Units) -> str:
    return f"{mm_s * 60:.0f} mm/min" if units == "mm" else f"{mm_s * 60 / MM_PER_IN:.0f} in/min"
