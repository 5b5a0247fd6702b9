"""The report: what readings say of a table, as a record for a person or a program.

In the JSON scales are ratios less 1, angles degrees, lengths mm; an error that the readings don't settle is
null, with the reason in `missing`.
"""

import json
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from parts.errors import GeometryError, Problem, Refused
from parts.truing.corrections import Correction, corrections
from parts.truing.machine import Table
from parts.truing.missing import missing
from parts.truing.model import shown
from parts.truing.reading import Reading
from parts.truing.sheet import OverASheet, after, before
from parts.truing.solve import COVERAGE, MOST_SET_ASIDE, Estimate, Solution, solve
from parts.truing.words import Words
from parts.units import Units, format_angle, format_temperature

FIELDS = {
    "scale_x": "scale_x", "scale_y": "scale_y", "out_of_square": "out_of_square_deg", "kerf": "kerf_error_mm",
    "hole_shrinkage": "hole_shrinkage_mm",
}  # fmt: skip
"""The errors by their names in the JSON, the angle there in degrees."""

CAUTIONS = (
    "Switch the machine off and lock it out before you reach into its drive or gantry.",
    "Cut edges are hot and sharp: let the piece cool and deburr it before you measure it.",
    "Change one thing at a time, cut the piece again, and measure again.",
)

STEEL_PER_KELVIN, WARMER = 12e-6, 20
"""Steel grows 12 millionths of its length per kelvin (EN 1993-1-1, 3.2.6, from memory); a piece may be 20 K warmer."""

MOST_NAMED = 12
"""Beyond so many, readings whose uncertainty was assumed are counted, not listed; the JSON lists them."""

UNUSUAL_SCALE, UNUSUAL_RAD = 0.01, math.radians(1)
"""Beyond these a slip is likelier than an error of the table: common practice, a table is within a tenth of them."""


@dataclass(frozen=True)
class Report:
    """The table, what was solved, what is missing, and what to change.

    `left_out` are the notes or numbers of the readings that aren't taken yet.
    """

    table: Table
    solution: Solution
    missing: Mapping[str, str]
    corrections: tuple[Correction, ...]
    words: Words
    left_out: tuple[str, ...] = ()

    @property
    def before(self) -> OverASheet:
        """What is off over a 4 ft by 8 ft sheet now, as far as it is known."""
        return before(self.solution)

    @property
    def after(self) -> OverASheet:
        """What may still be off there when corrected."""
        return after(self.solution)

    @property
    def disagreements(self) -> tuple[str, ...]:
        """A sentence for each reading, or group of them, that doesn't go with the rest."""
        return tuple(_disagreements(self.solution, self.words))

    @property
    def assumed(self) -> tuple[str, ...]:
        """A sentence for each instrument whose usual uncertainty was taken, a reading giving none."""
        return tuple(_assumed(self.solution.readings, self.words))

    @property
    def cautions(self) -> tuple[str, ...]:
        """What may mislead in these readings, and what can hurt someone."""
        return (*_doubts(self.solution), _warmth(self.words), *CAUTIONS)

    def to_json(self) -> str:
        """Return all of it as JSON text."""
        return json.dumps(content(self), indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def report(table: Table, readings: Sequence[Reading], units: Units = "mm", left_out: tuple[str, ...] = ()) -> Report:
    """Return what the readings say of the table.

    Raises:
        Refused: if they settle nothing at all; the problem says which reading would.
    """
    try:
        solution = solve(readings)
    except GeometryError as error:
        raise Refused((Problem("reading", f"{len(readings)} of them", str(error)),)) from error
    absent = missing(readings)
    if not solution.estimates:
        said = "; ".join(reading.said(units) for reading in readings[:5])
        raise Refused(tuple(Problem("reading", said, sentence) for sentence in dict.fromkeys(absent.values())))
    words = Words(units)
    return Report(table, solution, absent, corrections(solution, table, words), words, left_out)


def _disagreements(solution: Solution, words: Words) -> Iterator[str]:
    aside = {i for group in solution.disagreeing for i in group}
    for group in solution.disagreeing:
        names = [f"{_number(solution.readings, i)} ({solution.readings[i].said(words.units)})" for i in group]
        if len(group) > 1:
            yield f"Readings {', '.join(names[:-1])} and {names[-1]} can't all be right; measure them again."
            continue
        reading = solution.readings[group[0]]
        rest = solve([other for i, other in enumerate(solution.readings) if i not in aside])
        expected = words.say(shown(reading, rest.errors))
        yield f"Reading {names[0]} is {words.say(reading.measured)}; by the others it is {expected}. Measure it again."


def _number(readings: Sequence[Reading], i: int) -> int:
    """Which reading of its file one is, or of the readings where it comes from none."""
    return readings[i].number or i + 1


def _assumed(readings: Sequence[Reading], words: Words) -> Iterator[str]:
    for name in dict.fromkeys(reading.instrument for reading in readings if reading.instrument):
        taken = [(r.note or str(_number(readings, i)), r.u) for i, r in enumerate(readings) if r.instrument == name]
        numbers = [named for named, _ in taken]
        which = f"readings {', '.join(numbers[:-1])} and {numbers[-1]}" if len(taken) > 1 else f"reading {numbers[0]}"
        if len(taken) > MOST_NAMED:
            which = f"{len(taken)} readings"
        yield f"{which}: no u given, so that of a {name.replace('-', ' ')} was taken, {words.say(taken[0][1])}."


def _doubts(solution: Solution) -> Iterator[str]:
    errors = solution.errors
    for name, value in (("X", errors.scale_x), ("Y", errors.scale_y)):
        if abs(value) > UNUSUAL_SCALE:
            yield f"{name} is off by {100 * abs(value):.2g} %: more likely a slip in a reading or its nominal length."
    if abs(errors.out_of_square) > UNUSUAL_RAD:
        off = format_angle(abs(math.degrees(errors.out_of_square)), 2)
        yield f"The axes are off by {off}: more likely a slip in a reading, or diagonals exchanged."
    if solution.disagreeing:
        yield "The errors count every reading: clear up those that disagree before you change anything."
    if len(solution.disagreeing) == MOST_SET_ASIDE:
        yield "Many readings disagree: they are less sure than their u says, and so is what comes of them."
    if not solution.freedom:
        yield "There is no reading to spare: a slip in one of them would not show. Measure one or two lengths more."


def _warmth(words: Words) -> str:
    grown, warmer = words.over_a_length(STEEL_PER_KELVIN * WARMER), format_temperature(WARMER)
    return f"Let piece and instrument come to one temperature: {warmer} of difference is {grown} of steel."


def content(of: Report) -> dict[str, Any]:
    """Return the report as plain dictionaries, lists, numbers and words."""
    solution = of.solution
    estimates = {field: _estimate(name, solution.estimates.get(name)) for name, field in FIELDS.items()}
    return {
        **estimates,
        "missing": {FIELDS[name]: why for name, why in of.missing.items()},
        "corrections": [asdict(each) for each in of.corrections],
        "residuals": list(solution.residuals),
        "left_out": list(of.left_out),
        "disagreeing": [[i + 1 for i in group] for group in solution.disagreeing],
        "readings": [
            {"number": _number(solution.readings, i), "said": r.said()} for i, r in enumerate(solution.readings)
        ],
        "assumed": [
            {"reading": _number(solution.readings, i), "instrument": reading.instrument, "u_mm": reading.u}
            for i, reading in enumerate(solution.readings)
            if reading.instrument
        ],
        "chi_square": solution.chi_square,
        "degrees_of_freedom": solution.freedom,
        "correlation": [
            {"between": [FIELDS[a], FIELDS[b]], "coefficient": value} for (a, b), value in solution.correlation.items()
        ],
        "over_a_sheet": {"before_mm": asdict(of.before), "after_95_mm": asdict(of.after)},
        "coverage_factor": COVERAGE,
        "machine": {**asdict(of.table), "gantry": of.table.across},
        "cautions": list(of.cautions),
    }


def _estimate(name: str, estimate: Estimate | None) -> dict[str, Any] | None:
    if estimate is None:
        return None
    return estimate.said(180 / math.pi if name == "out_of_square" else 1.0)
