"""The answer on the page of measurements: each error with its bar, what to change, and what the tape tells."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from markupsafe import Markup

from parts.errors import Problem, Refused, UnitsError
from parts.truing import COVERAGE, FIELDS, Estimate, OverASheet, Report, Words, quick_check
from parts.units import Units, format_fine, parse_length
from webapp.wording import MINUS, TITLES, said_of, tape_lines

_BAR = (220, 22)


@dataclass(frozen=True)
class ShownError:
    """One error on the page: its value, how sure, and the bar of its 95 % interval; no bar where it isn't settled."""

    title: str
    value: str
    sure: str
    verdict: str
    bar: Markup | None = None


def shown(report: Report) -> list[ShownError]:
    """Return every error, settled or not."""
    return [_shown(name, report) for name in FIELDS]


def _shown(name: str, report: Report) -> ShownError:
    estimate = report.solution.estimates.get(name)
    if estimate is None:
        return ShownError(TITLES[name], "not known", "", report.missing.get(name, ""))
    value = said_of(name, estimate.value, report.words)
    sure = f"\u00b1 {said_of(name, COVERAGE * estimate.standard_uncertainty, report.words, sign=False)}"
    verdict = "beyond doubt" if estimate.differs_from_zero else "leave it: can't be told from nothing"
    if report.solution.disagreeing:
        verdict = "open until the readings agree"
    elif (made := dict(zip(report.solution.estimates, report.corrections, strict=True))[name]).asked:
        verdict = "larger than a shop misses: look for a slip"
    elif made.waits:
        verdict = "open until the question is answered"
    elif estimate.differs_from_zero and name in (sole := report.solution.unchecked) and sole[name].alone:
        verdict = "told by one reading alone"
    return ShownError(TITLES[name], value, sure, verdict, bar(estimate))


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


def over_a_sheet(of: OverASheet, units: Units) -> tuple[str, ...]:
    """Return what is off over a sheet: in X, in Y, and between the diagonals."""
    return tuple("not known" if mm is None else format_fine(abs(mm), units) for mm in (of.x, of.y, of.diagonals))


def of_rows(report: Report, rows: tuple[int, ...]) -> dict[int, tuple[str, bool]]:
    """Return what is said beside each row: how far off the rest it is, and whether it disagrees."""
    wrong = {i: group for group in report.solution.disagreeing for i in group}
    names = [reading.note or str(row + 1) for reading, row in zip(report.solution.readings, rows, strict=True)]
    return {
        row: (_residual(residual, [names[j] for j in wrong.get(i, ())]), i in wrong)
        for i, (row, residual) in enumerate(zip(rows, report.solution.residuals, strict=True))
        if i in wrong or not wrong  # a wrong reading pulls the answer away from all the others
    }


def _residual(residual: float, group: Sequence[str]) -> str:
    if not group:
        return f"{_residual_said(residual)} u off"
    which = f"one of {', '.join(group)} is wrong" if len(group) > 1 else "the others agree without it"
    return f"Doesn't go with the rest: {_residual_said(residual)} u off; {which}. Measure it again."


def _residual_said(residual: float) -> str:
    """A residual in units of its uncertainty; a minus sign only where a digit shows."""
    said = f"{abs(residual):.1f}"
    return said if said == "0.0" else f"{'+' if residual > 0 else MINUS}{said}"


def tape(typed: Mapping[str, str], units: Units) -> tuple[str, ...]:
    """Return what a tape's lengths tell, a sentence each.

    Raises:
        Refused: with each field that can't be used, named as `tape.a`.
    """
    slips: list[Problem] = []
    wanted = ["a", "b", "d1", *(["d2"] if typed.get("d2") else [])]
    lengths = [_tape_length(name, typed.get(name, ""), units, slips) for name in wanted]
    u = _tape_length("u", typed["u"], units, slips) if typed.get("u") else None
    if slips:
        raise Refused(tuple(slips))
    try:
        return tuple(tape_lines(quick_check(lengths, u, units), Words(units)))
    except Refused as refused:
        named = (replace(each, parameter="tape.u" if each.parameter == "u" else "tape.d1") for each in refused.problems)
        raise Refused(tuple(named)) from refused


def _tape_length(name: str, text: str, units: Units, slips: list[Problem]) -> float:
    try:
        mm = parse_length(text, bare=units)
    except UnitsError as error:
        slips.append(Problem(f"tape.{name}", "", str(error) if text else "Give this length."))
        return 1.0
    if mm <= 0:
        slips.append(Problem(f"tape.{name}", text, "must be more than 0."))
    return mm
