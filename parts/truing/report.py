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
from parts.truing.missing import WHAT, missing, weak
from parts.truing.model import shown
from parts.truing.reading import Reading, named, number_of
from parts.truing.sheet import OverASheet, after, before
from parts.truing.solve import COVERAGE, MOST_SET_ASIDE, Estimate, Solution, solve
from parts.truing.words import Words
from parts.units import Units, format_temperature

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

SCATTERED = 1.05
"""A Birge ratio up to this is counted without a word: an interval wider by so little looks the same."""

MOST_NAMED = 12
"""Beyond so many, readings whose uncertainty was assumed are counted, not listed; the JSON lists them."""

WARMTH_TOLD = 5e-5
"""What isn't known of a length for temperatures that weren't told, as a share, is more than this, and less where they
were."""


@dataclass(frozen=True)
class Report:
    """The table, what was solved, what is missing or known only roughly, and what to change.

    `left_out` are the notes or numbers of the readings that aren't taken yet.
    """

    table: Table
    solution: Solution
    missing: Mapping[str, str]
    weak: Mapping[str, str]
    corrections: tuple[Correction, ...]
    words: Words
    left_out: tuple[str, ...] = ()

    @property
    def before(self) -> OverASheet:
        """What is off over a 4 ft by 8 ft sheet now, as far as it is known."""
        return before(self.solution)

    @property
    def after(self) -> OverASheet:
        """What may still be off there when corrected; not known while a reading is in question."""
        return OverASheet(None, None, None) if self.in_question else after(self.solution)

    @property
    def in_question(self) -> bool:
        """Whether readings disagree, or an error is asked about as a slip: until that is cleared up nothing is told."""
        return any(each.asked for each in self.corrections)

    @property
    def disagreements(self) -> tuple[str, ...]:
        """A sentence for each reading, or group of them, that doesn't go with the rest."""
        return tuple(_disagreements(self.solution, self.words))

    @property
    def unchecked(self) -> Mapping[str, str]:
        """A sentence for each error that a slip in a reading may have made, unseen."""
        return {name: _unchecked(name, self.solution, self.words) for name in self.solution.unchecked}

    @property
    def assumed(self) -> tuple[str, ...]:
        """A sentence for each instrument whose usual uncertainty was taken, and for temperatures that aren't told."""
        return tuple(_assumed(self.solution.readings, self.words))

    @property
    def cautions(self) -> tuple[str, ...]:
        """What may mislead in these readings, and what can hurt someone."""
        return (*_doubts(self), _warmth(self.words), *CAUTIONS)

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
    made = corrections(solution, table, words)
    return Report(table, solution, absent, weak(readings), made, words, left_out)


def _disagreements(solution: Solution, words: Words) -> Iterator[str]:
    aside = {i for group in solution.disagreeing for i in group}
    for group in solution.disagreeing:
        which = named(solution.readings, group, words.units)
        which = which[:1].upper() + which[1:]
        if len(group) > 1:
            yield f"{which} can't all be right; measure them again."
            continue
        reading = solution.readings[group[0]]
        rest = solve([other for i, other in enumerate(solution.readings) if i not in aside])
        expected = words.say(shown(reading, rest.errors))
        yield f"{which} is {words.say(reading.measured)}; by the others it is {expected}. Measure it again."


def _unchecked(name: str, solution: Solution, words: Words) -> str:
    of = solution.unchecked[name]
    which = named(solution.readings, of.readings, words.units)
    what = WHAT[name][:1].upper() + WHAT[name][1:]
    if of.alone and len(of.readings) == 1:
        return (
            f"{what} is unchecked: {which} alone tells it, and a slip there would not show. Measure it a second time."
        )
    if of.alone:
        return f"{what} is unchecked: a slip in one of {which} would not show. Measure each a second time."
    return f"{what} is checked roughly: a slip of up to {words.say(of.slip)} in {which} may not show."


def _assumed(readings: Sequence[Reading], words: Words) -> Iterator[str]:
    for name in dict.fromkeys(reading.instrument for reading in readings if reading.instrument):
        taken = [(r.note or str(number_of(readings, i)), r.u) for i, r in enumerate(readings) if r.instrument == name]
        numbers = [named for named, _ in taken]
        which = f"readings {', '.join(numbers[:-1])} and {numbers[-1]}" if len(taken) > 1 else f"reading {numbers[0]}"
        if len(taken) > MOST_NAMED:
            which = f"{len(taken)} readings"
        yield f"{which}: no u given, so that of a {name.replace('-', ' ')} was taken, {words.say(taken[0][1])}."
    unsure = max((reading.warmth_u for reading in readings), default=0.0)
    if unsure > WARMTH_TOLD:
        yield (
            f"how warm the piece was isn't told, so that a length is sure to {words.over_a_length(unsure)} at best; "
            "say how warm piece and instrument were."
        )


def _doubts(of: Report) -> Iterator[str]:
    solution = of.solution
    if any(each.asked for each in of.corrections) and not solution.disagreeing:
        yield (
            "An error is larger than a shop misses: more likely a slip in a reading, its nominal length or the "
            "drawing, or diagonals exchanged. Where it really is so, confirm it: "
            'confirmed = "yes" under [machine], or the tick on the page.'
        )
    if solution.disagreeing:
        yield (
            "The errors count every reading: clear up those that disagree before you change anything. Until then the "
            "intervals take in what the errors would be without each of them."
        )
    if len(solution.disagreeing) == MOST_SET_ASIDE:
        yield "Many readings disagree: they are less sure than their u says, and so is what comes of them."
    if solution.birge_ratio > SCATTERED:
        yield (
            f"The readings fit badly: they scatter {solution.birge_ratio:.1f} times as much as their uncertainties "
            "say. Every interval is made that much wider."
        )
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
        "weak": {FIELDS[name]: why for name, why in of.weak.items()},
        "unchecked": [
            {
                "error": FIELDS[name],
                "slip_mm": None if each.alone else each.slip,
                "readings": [number_of(solution.readings, i) for i in each.readings],
                "sentence": of.unchecked[name],
            }
            for name, each in solution.unchecked.items()
        ],
        "missing": {FIELDS[name]: why for name, why in of.missing.items()},
        "corrections": [asdict(each) for each in of.corrections],
        "residuals": list(solution.residuals),
        "left_out": list(of.left_out),
        "disagreeing": [[i + 1 for i in group] for group in solution.disagreeing],
        "readings": [
            {"number": number_of(solution.readings, i), "said": r.said()} for i, r in enumerate(solution.readings)
        ],
        "assumed": [
            {"reading": number_of(solution.readings, i), "instrument": reading.instrument, "u_mm": reading.u}
            for i, reading in enumerate(solution.readings)
            if reading.instrument
        ],
        "chi_square": solution.chi_square,
        "degrees_of_freedom": solution.freedom,
        "birge_ratio": solution.birge_ratio,
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
