"""The report of a test bend: K, radius, deduction and allowance as a record for a person or a program.

In the JSON lengths are mm, angles degrees.
"""

import json
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from parts.cached import cached_property
from parts.errors import GeometryError, Problem, Refused
from parts.truing.bend.file import bend_from_tables, unmeasured_strips
from parts.truing.bend.model import deduction
from parts.truing.bend.reading import BendTest
from parts.truing.bend.rule import k_by_rule
from parts.truing.bend.slips import questions
from parts.truing.bend.solution import BendEstimate, BendSolution
from parts.truing.bend.solve import solve_bend
from parts.units import MM_PER_IN, Units, format_length

CAUTIONS = (
    "A press brake crushes: keep hands and fingers clear of the tools, and leave its guards in place.",
    "Wear eye protection; a strip may whip up as it bends, and a small or brittle piece may fly.",
    "Cut edges are sharp: deburr the strips before you bend and measure them.",
    "Follow the brake's manual and the safety rules where you work; who isn't trained on it doesn't run it.",
)
SCATTERED = 1.05
"""Strips that scatter up to so many times as much as they say are counted without a word."""


@dataclass(frozen=True)
class BendReport:
    """What a test bend says; `left_out` are the strips that aren't measured yet."""

    solution: BendSolution
    units: Units
    left_out: tuple[str, ...] = ()

    @property
    def test(self) -> BendTest:
        """What was read."""
        return self.solution.test

    @cached_property
    def estimates(self) -> Mapping[str, BendEstimate]:
        """K, inside radius, thickness, deduction and allowance."""
        return self.solution.estimates

    @cached_property
    def asked(self) -> tuple[str, ...]:
        """What has to be looked at before it is kept; nothing once that is confirmed."""
        return () if self.test.confirmed else self.suspicions

    @cached_property
    def suspicions(self) -> tuple[str, ...]:
        """What looks like a slip, confirmed or not."""
        return questions(self.solution, self.units)

    @property
    def doubts(self) -> tuple[str, ...]:
        """What may mislead in these readings, a sentence each."""
        return tuple(_doubts(self))

    @property
    def assumed(self) -> tuple[str, ...]:
        """What wasn't told and was taken as usual, a sentence each."""
        return (*self.test.assumed, *_assumed(self.test, self.units))

    @property
    def keepable(self) -> bool:
        """Whether it may be kept as it is: nothing has to be looked at first."""
        return not self.asked and not self.solution.disagreeing

    @property
    def cautions(self) -> tuple[str, ...]:
        """What can hurt someone at a brake."""
        return CAUTIONS

    @property
    def correlated(self) -> str:
        """How K hangs on the inside radius, in a sentence."""
        step = 1.0 if self.units == "mm" else MM_PER_IN / 32
        by_step = _k_by_radius(self.solution) * step
        said = f"{abs(by_step):.3f} {'larger' if by_step > 0 else 'smaller'}"
        return (
            f"K and the inside radius go together (correlation {self.solution.correlation:.2f}): with the same "
            f"deduction a radius {format_length(step, self.units)} larger makes K {said}. The strips show the "
            "deduction best, so use K with the radius beside it."
        )

    @property
    def compared(self) -> str:
        """What the deduction would have been without the test, in a sentence."""
        k, name = k_by_rule(self.test.material, self.solution.bent.radius, self.solution.bent.thickness)
        usual = deduction(self.solution.bent._replace(k=k), self.test.angle)
        said = format_length(round(usual, 3), self.units)
        return f"Without the test, by {name}, K would be {k:.3f} and the deduction at this radius {said}."

    def to_json(self) -> str:
        """Return all of it as JSON text."""
        return json.dumps(bend_content(self), indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def true_bend(data: Mapping[str, Any], units: Units | None = None) -> BendReport:
    """Return what the tables of a test bend's file say of the brake; docs/test-bend.md describes the file.

    Args:
        data: the tables, as `parts.truing.parsed` returns them.
        units: what sentences are in; those of the file unless said.

    Raises:
        Refused: with each entry that can't be used; or no bend gives these lengths.
        DataError: the shop's own file is unusable.
    """
    test = bend_from_tables(data)
    try:
        solution = solve_bend(test)
    except GeometryError as error:
        raise Refused((Problem("strip", f"{len(test.strips)} of them", str(error)),)) from error
    return BendReport(solution, units or data.get("units", "mm"), unmeasured_strips(data))


def _k_by_radius(solution: BendSolution) -> float:
    """How K changes with the radius where the deduction stays, per mm."""
    angle = solution.test.angle
    return (2 * math.tan(angle / 2) - angle) / (angle * solution.bent.thickness)


def _assumed(test: BendTest, units: Units) -> Iterator[str]:
    unmeasured = [strip.note or str(strip.number) for strip in test.strips if strip.angle is None]
    if unmeasured:
        which = f"strip{'s' * (len(unmeasured) > 1)} {', '.join(unmeasured)}"
        yield f"{which}: no angle measured, so that it was taken within 1 degree of the one meant; measure it."


def _doubts(of: BendReport) -> Iterator[str]:
    solution = of.solution
    if of.asked:
        yield (
            "What is asked about has to be looked at before it is kept. Where it really is so, say "
            'confirmed = "yes" under [bend], or tick it on the page.'
        )
    if solution.disagreeing:
        names = [of.test.strips[i].name for i in solution.disagreeing]
        if len(names) > 1:
            both = " and ".join(names).capitalize()
            yield f"{both} can't both be right; measure them again, or leave one of them out."
        else:
            yield f"{names[0]} doesn't go with the others. Measure it again, or leave it out.".capitalize()
        yield (
            "Until that is cleared up, each interval takes in what would be without one of them, and nothing is kept. "
            "A strip whose lengths are left empty is left out."
        )
    elif solution.widened > SCATTERED:
        yield (
            f"The strips fit badly: they scatter {solution.scatter:.1f} times as much as their uncertainties say. "
            f"What each has by itself counts {solution.widened:.1f} times as much."
        )
    if solution.freedom == 0:
        yield "There is one strip alone: a slip in it would not show. Bend a second one."


def bend_content(of: BendReport) -> dict[str, Any]:
    """Return the report as plain dictionaries, lists, numbers and words."""
    test, solution, found = of.test, of.solution, of.estimates
    return {
        "k": _said(found["k"]),
        "inside_radius_mm": _said(found["inside_radius"]) | {"measured": test.radius_measured},
        "thickness_mm": _said(found["thickness"]),
        "deduction_mm": _said(found["deduction"]),
        "allowance_mm": _said(found["allowance"]),
        "correlation_k_radius": solution.correlation,
        "asked": list(of.asked),
        "confirmed": test.confirmed,
        "doubts": list(of.doubts),
        "assumed": list(of.assumed),
        "left_out": list(of.left_out),
        "material": test.material,
        "stock_mm": test.stock,
        "v_opening_mm": test.v_opening,
        "angle_deg": math.degrees(test.angle),
        "date": test.date,
        "brake": test.brake,
        "drawing": test.drawing,
        "strips": [
            {
                "number": strip.number,
                "note": strip.note,
                "flat_mm": strip.flat,
                "leg_a_mm": strip.leg_a,
                "leg_b_mm": strip.leg_b,
                "angle_deg": None if strip.angle is None else math.degrees(strip.angle),
                "u_mm": strip.u,
            }
            for strip in test.strips
        ],
        "residuals": list(solution.gaps),
        "disagreeing": [test.strips[i].number for i in solution.disagreeing],
        "chi_square": solution.chi_square,
        "degrees_of_freedom": solution.freedom,
        "widened": solution.widened,
        "cautions": list(CAUTIONS),
    }


def _said(estimate: BendEstimate) -> dict[str, Any]:
    return {
        "value": estimate.value,
        "standard_uncertainty": estimate.standard_uncertainty,
        "coverage_factor": estimate.coverage,
        "low95": estimate.low95,
        "high95": estimate.high95,
    }
