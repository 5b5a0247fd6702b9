"""The report: what readings say of a table, as a record for a person or a program.

In the JSON scales are ratios less 1, angles degrees, lengths mm; an error that the readings don't settle is
null, with the reason in `missing`.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from parts.errors import GeometryError, Problem, Refused
from parts.truing.corrections import Correction, OverASheet, after, before, corrections
from parts.truing.machine import Table
from parts.truing.missing import missing
from parts.truing.reading import Reading
from parts.truing.solve import COVERAGE, Estimate, Solution, solve
from parts.units import Units, format_length

FIELDS = {
    "scale_x": "scale_x", "scale_y": "scale_y", "out_of_square": "out_of_square_deg", "kerf": "kerf_error_mm",
    "hole_shrinkage": "hole_shrinkage_mm",
}  # fmt: skip
"""The errors by their names in the JSON, the angle there in degrees."""

CAUTIONS = (
    "Switch the machine off and lock it out before you reach into its drive or gantry.",
    "Cut edges are hot and sharp: let the piece cool and deburr it before you measure it.",
    "Let piece and instrument come to one temperature: 20 degrees of difference is 0.23 mm in a metre of steel.",
    "Change one thing at a time, cut the piece again, and measure again.",
)
"""Steel grows 11.5 millionths of its length per kelvin (EN 1993-1-2, near room temperature: 12)."""


@dataclass(frozen=True)
class Report:
    """The table, what was solved, what is missing, and what to change."""

    table: Table
    solution: Solution
    missing: Mapping[str, str]
    corrections: tuple[Correction, ...]
    units: Units = "mm"

    @property
    def before(self) -> OverASheet:
        """What is off over a 4 ft by 8 ft sheet now, as far as it is known."""
        return before(self.solution.errors)

    @property
    def after(self) -> OverASheet:
        """What may still be off there when corrected."""
        return after(self.solution)


def report(table: Table, readings: Sequence[Reading], units: Units = "mm") -> Report:
    """Return what the readings say of the table.

    Raises:
        Refused: if they settle nothing at all; the problem says which reading would.
    """
    try:
        solution = solve(readings)
    except GeometryError as error:
        raise Refused((Problem("reading", "", str(error)),)) from error
    absent = missing(readings)
    if not solution.estimates:
        raise Refused(tuple(Problem("reading", "", sentence) for sentence in dict.fromkeys(absent.values())))

    def say(mm: float) -> str:
        return format_length(mm, units)

    return Report(table, solution, absent, corrections(solution, table, say), units)


def content(of: Report) -> dict[str, Any]:
    """Return the report as plain dictionaries, lists, numbers and words."""
    solution = of.solution
    estimates = {field: _estimate(name, solution.estimates.get(name)) for name, field in FIELDS.items()}
    return {
        **estimates,
        "missing": {FIELDS[name]: why for name, why in of.missing.items()},
        "corrections": [asdict(each) for each in of.corrections],
        "residuals": list(solution.residuals),
        "disagreeing": [[i + 1 for i in group] for group in solution.disagreeing],
        "chi_square": solution.chi_square,
        "degrees_of_freedom": solution.freedom,
        "correlation": [
            {"between": [FIELDS[a], FIELDS[b]], "coefficient": value} for (a, b), value in solution.correlation.items()
        ],
        "over_a_sheet": {"before_mm": asdict(of.before), "after_95_mm": asdict(of.after)},
        "coverage_factor": COVERAGE,
        "machine": asdict(of.table),
        "cautions": list(CAUTIONS),
    }


def _estimate(name: str, estimate: Estimate | None) -> dict[str, Any] | None:
    if estimate is None:
        return None
    unit = 180 / math.pi if name == "out_of_square" else 1.0
    return {
        "value": estimate.value * unit,
        "standard_uncertainty": estimate.standard_uncertainty * unit,
        "expanded_uncertainty": COVERAGE * estimate.standard_uncertainty * unit,
        "low95": estimate.low95 * unit,
        "high95": estimate.high95 * unit,
        "differs_from_zero": estimate.differs_from_zero,
    }
