"""A test bend in words: what was bent, each result with its interval, and what is kept of it."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from parts.forming import OwnBend
from parts.truing.bend import BendEstimate, BendReport, KeptBend
from parts.units import Units, format_angle, format_length, to_figures

TITLES = {
    "deduction": "Bend deduction",
    "allowance": "Bend allowance",
    "k": "K-factor",
    "inside_radius": "Inside radius",
}
"""The results in the order of how well strips show them."""


@dataclass(frozen=True, slots=True)
class SaidResult:
    """One result: what it is called, its value, how far off it may be, and its interval."""

    title: str
    value: str
    margin: str
    interval: str


def what_was_bent(report: BendReport) -> str:
    """Return what was bent, in a line."""
    test, units = report.test, report.units
    stock, thick, v = (format_length(mm, units) for mm in (test.stock, test.thickness, test.v_opening))
    count = len(test.strips)
    return (
        f"{test.brake or 'Your brake'}: {test.material.replace('-', ' ')} called {stock} ({thick} measured) over a V "
        f"of {v}, {count} strip{'s' * (count != 1)} turned through {format_angle(math.degrees(test.angle), 4)}"
    )


def results(report: BendReport) -> tuple[SaidResult, ...]:
    """Return every result in words."""
    return tuple(_said(name, report.estimates[name], report.units) for name in TITLES)


def _said(name: str, of: BendEstimate, units: Units) -> SaidResult:
    def say(value: float) -> str:
        return f"{value:.3f}" if name == "k" else fine(value, units)

    interval = f"{say(of.low95)} to {say(of.high95)}"
    return SaidResult(TITLES[name], say(of.value), f"\u00b1 {say(of.margin95)}", interval)


def fine(mm: float, units: Units) -> str:
    """Return a measured length to the hundredth of a millimetre or the thousandth of an inch."""
    return format_length(round(mm, 2) if units == "mm" else mm, units)


def kept_said(kept: KeptBend, units: Units) -> Iterator[str]:
    """Yield what is kept, and whose place it takes."""
    yield bend_said(kept.material, kept.bend, units)
    if kept.replaces:
        yield f"It takes the place of {bend_said(kept.material, kept.replaces, units)}"


def bend_said(material: str, bend: OwnBend, units: Units) -> str:
    """Return a test bend that is kept, in a sentence."""
    row = bend.row
    thick, v = format_length(row.thickness_mm, units), format_length(row.v_opening_mm, units)
    deduction, margin = fine(row.deduction_mm, units), fine(bend.deduction_margin(bend.angle), units)
    return (
        f"{material.replace('-', ' ')}, {thick} over a V of {v}: {bend.name}, K {to_figures(bend.k, 3)} \u00b1 "
        f"{to_figures(bend.k_margin, 2)}, inside radius {fine(bend.radius, units)} \u00b1 "
        f"{fine(bend.radius_margin, units)}, deduction {deduction} \u00b1 {margin} at "
        f"{format_angle(row.angle_deg, 4)}."
    )


HOLDS = (
    "It holds for parts of this material whose thickness is within 2.5 % of the tested sheet, by its name or as it "
    "measured, and whose inside radius is left to the brake or within the radius tested. At any other thickness the "
    "numbers are the handbook's, or those you set: nothing is drawn between two tested thicknesses."
)
"""Where a test bend is used."""
