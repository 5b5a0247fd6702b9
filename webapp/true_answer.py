"""The answer on the page of measurements: each error with its bar, what to change, and what the tape tells."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from parts.errors import GeometryError, UnitsError
from parts.truing.corrections import OverASheet
from parts.truing.file import INSTRUMENTS
from parts.truing.report import FIELDS, Report
from parts.truing.solve import COVERAGE, Estimate
from parts.truing.tape import from_diagonals, from_triangle
from parts.units import Units, format_length, parse_length

TITLES = {
    "scale_x": "Scale of X",
    "scale_y": "Scale of Y",
    "out_of_square": "Out of square",
    "kerf": "Kerf beyond its setting",
    "hole_shrinkage": "Holes smaller than slots",
}
ROUGHLY = {"mm": 4, "in": 5}
"""Decimals to which an error is said."""

_BAR = (220, 22)


@dataclass(frozen=True)
class Shown:
    """One error on the page: its value, how sure, and the bar of its 95 % interval; no bar where it isn't settled."""

    title: str
    value: str
    sure: str
    verdict: str
    bar: Markup | None = None


def shown(report: Report) -> list[Shown]:
    """Return every error, settled or not."""
    return [_shown(name, report) for name in FIELDS]


def _shown(name: str, report: Report) -> Shown:
    estimate = report.solution.estimates.get(name)
    if estimate is None:
        return Shown(TITLES[name], "not known", "", report.missing.get(name, ""))
    value = said_of(name, estimate.value, report.units)
    sure = f"\u00b1 {said_of(name, COVERAGE * estimate.standard_uncertainty, report.units, sign=False)}"
    verdict = "beyond doubt" if estimate.differs_from_zero else "leave it: can't be told from nothing"
    return Shown(TITLES[name], value, sure, verdict, bar(estimate))


def said_of(name: str, value: float, units: Units, *, sign: bool = True) -> str:
    """Return an error as it is said: a scale by the metre, the angle in degrees, the others as lengths."""
    before = ("+" if value > 0 else "\u2212" if value < 0 else "") if sign else ""
    if name == "out_of_square":
        per_metre = length(1000 * math.tan(abs(value)), units)
        return f"{before}{abs(math.degrees(value)):.4f}\u00b0, {per_metre} in a metre"
    if name in ("scale_x", "scale_y"):
        return f"{before}{length(1000 * abs(value), units)} in a metre"
    return f"{before}{length(abs(value), units)}"


def length(mm: float, units: Units) -> str:
    """Return a small length with as many decimals as its uncertainty can need."""
    value = mm if units == "mm" else mm / 25.4
    return f"{value:.{ROUGHLY[units] - 1}f} {units}"


def bar(estimate: Estimate) -> Markup:
    """Return the 95 % interval as a line with its value on it, over a line at nothing."""
    width, height = _BAR
    reach = 1.12 * max(abs(estimate.low95), abs(estimate.high95)) or 1.0

    def at(value: float) -> float:
        return round(width / 2 * (1 + value / reach), 2)

    low, mid, high, y = at(estimate.low95), at(estimate.value), at(estimate.high95), height / 2
    lines = (
        f'<path class="bar-zero" d="M{width / 2} 0V{height}M0 {y}H{width}"/>'
        f'<path class="bar-span" d="M{low} {y}H{high}M{low} {y - 5}v10M{high} {y - 5}v10"/>'
        f'<circle class="bar-value" cx="{mid}" cy="{y}" r="4"/>'
    )
    svg = f'<svg class="bar" viewBox="0 0 {width} {height}" width="{width}" height="{height}" aria-hidden="true">'
    return Markup(f"{svg}{lines}</svg>")  # noqa: S704 - numbers alone


def over_a_sheet(of: OverASheet, units: Units) -> tuple[str, str, str]:
    """Return what is off over a sheet: in X, in Y, and between the diagonals."""
    return tuple(format_length(abs(round(mm, 4)), units) for mm in (of.x, of.y, of.diagonals))  # type: ignore[return-value]


def of_rows(report: Report, rows: tuple[int, ...]) -> dict[int, tuple[str, bool]]:
    """Return what is said beside each row: how far off the rest it is, and whether it disagrees."""
    wrong = {i: group for group in report.solution.disagreeing for i in group}
    return {
        row: (_residual(residual, wrong.get(i, ()), rows), i in wrong)
        for i, (row, residual) in enumerate(zip(rows, report.solution.residuals, strict=True))
    }


def _residual(residual: float, group: tuple[int, ...], rows: tuple[int, ...]) -> str:
    if not group:
        return f"{residual:+.1f} of its uncertainty off the answer"
    others = ", ".join(str(rows[i] + 1) for i in group)
    which = f"one of rows {others} is wrong" if len(group) > 1 else "the others agree without it"
    return f"Doesn't go with the rest: {residual:+.1f} times its uncertainty off; {which}. Measure it again."


@dataclass(frozen=True)
class TapeSays:
    """What the quick check with a tape tells."""

    sentence: str
    least: str


def tape(typed: Mapping[str, str], units: Units) -> TapeSays | dict[str, str]:
    """Return what a tape's lengths tell, or the sentence beside each field of theirs."""
    slips: dict[str, str] = {}
    lengths = {name: _tape_length(name, typed.get(name, ""), units, slips) for name in ("a", "b", "d1")}
    if typed.get("d2"):
        lengths["d2"] = _tape_length("d2", typed["d2"], units, slips)
    u = _tape_length("u", typed["u"], units, slips) if typed.get("u") else INSTRUMENTS["tape"]
    if slips:
        return slips
    a, b, d1 = lengths["a"], lengths["b"], lengths["d1"]
    try:
        found = _of_tape(a, b, d1, lengths.get("d2"), u)
    except GeometryError as error:
        return {"tape.d1": str(error)}
    return TapeSays(_tape_sentence(found, units), _least(found, units))


def _of_tape(a: float, b: float, d1: float, d2: float | None, u: float) -> Estimate:
    """How much more than square the corner is: from two diagonals, of which d1 starts there, or the long side."""
    if d2 is None:
        return from_triangle(a, b, d1, u)
    less = from_diagonals(a, b, d1, d2, u)
    return Estimate(-less.value, less.standard_uncertainty)


def _tape_length(name: str, text: str, units: Units, slips: dict[str, str]) -> float:
    try:
        mm = parse_length(text, bare=units)
    except UnitsError as error:
        slips[f"tape.{name}"] = str(error) if text else "Give this length."
        return 1.0
    if mm <= 0:
        slips[f"tape.{name}"] = f"{text} must be more than 0."
    return mm


def _tape_sentence(found: Estimate, units: Units) -> str:
    if not found.differs_from_zero:
        return "Square as far as this tape can tell. Leave it."
    more = "more" if found.value > 0 else "less"
    return f"The corner stands {said_of('out_of_square', abs(found.value), units, sign=False)}, {more} than square."


def _least(found: Estimate, units: Units) -> str:
    least = said_of("out_of_square", COVERAGE * found.standard_uncertainty, units, sign=False)
    return f"The least that it can show over these lengths is {least}."
