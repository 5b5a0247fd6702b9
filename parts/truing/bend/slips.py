"""What is asked about before a test bend is kept: more likely a slip in a reading than such a bend.

The usual ones each leave a trace: a leg measured inside is a thickness short, legs exchanged are off by the
difference of what was drawn, a strip that isn't the one measured flat is off as a whole. A thickness read wrong is
off what mills keep, a leg of one strip off the other strips.
"""

import math
from collections.abc import Iterator

from parts.tolerance import LIMIT_SLACK_MM
from parts.truing.bend.model import deduction
from parts.truing.bend.reading import BendTest, StripReading, numbers
from parts.truing.bend.rule import radius_by_v
from parts.truing.bend.solution import BendSolution
from parts.truing.bend.student import most_squares
from parts.units import Units, format_angle, format_length, to_figures

USUAL_K = 0.42
"""About what bends over a die have, common practice."""
_LIKE = 0.35
"""A leg that is off by a thickness within this share of it was most likely measured inside."""


def questions(solution: BendSolution, units: Units) -> tuple[str, ...]:
    """Return a question for each thing that looks like a slip."""
    test, asked = solution.test, numbers().asked
    found = [*_of_strips(solution, units), *_of_setting(test, units), *_of_fit(solution)]
    k = solution.bent.k
    if not asked.k_low <= k <= asked.k_high:
        found.append(
            f"K comes to {to_figures(k, 3)}, outside the {to_figures(asked.k_low)} to {to_figures(asked.k_high)} of "
            f"bends over a die: {_why(solution, units, alone=not found)}"
        )
    return tuple(dict.fromkeys(found))


def _why(solution: BendSolution, units: Units, *, alone: bool) -> str:
    """What most likely made K so large or so small: how far the deduction is off that of a usual K, in thicknesses.

    Where something else is asked about too, that is the likelier reason.
    """
    if not alone:
        return "look at what else is asked about first."
    test, bent = solution.test, solution.bent
    usual = deduction(bent._replace(k=USUAL_K), test.angle)
    short = (usual - deduction(bent, test.angle)) / bent.thickness
    for legs, words in ((1, "was one leg"), (2, "were both legs")):
        if abs(short - legs) <= _LIKE:
            return f"{words} measured inside, a thickness of {format_length(bent.thickness, units)} short?"
    return "look at the flats, the legs, the thickness and the inside radius again."


def _of_strips(solution: BendSolution, units: Units) -> Iterator[str]:
    test = solution.test
    for strip in test.strips:
        name = strip.name
        taken = strip.leg_a + strip.leg_b - strip.flat
        if taken <= 0:
            yield (
                f"The legs of {name} together are no longer than its flat ({format_length(abs(taken), units)} short): "
                "outside dimensions always are. Were they measured inside, or is it another strip?"
            )
        elif test.bend_line is not None and (wrong := _exchanged(solution, strip)):
            yield f"{name[:1].upper()}{name[1:]}: {wrong}"
        if test.cut is not None and abs(strip.flat - test.cut) > numbers().asked.cut_mm:
            yield (
                f"{name[:1].upper()}{name[1:]} measures {format_length(strip.flat, units)} flat and was drawn "
                f"{format_length(test.cut, units)}: is it this drawing's?"
            )
        if strip.angle is not None and abs(math.degrees(strip.angle - test.angle)) > numbers().asked.angle_deg:
            yield (
                f"{name[:1].upper()}{name[1:]} is turned through {format_angle(math.degrees(strip.angle), 4)}, not "
                f"{format_angle(math.degrees(test.angle), 4)}: is that so?"
            )


def _exchanged(solution: BendSolution, strip: StripReading) -> str:
    """Whether legs look exchanged, by where the bend line was drawn; an answer needs two lengths that differ enough."""
    test = solution.test
    line = test.bend_line or 0.0
    half = (strip.leg_a + strip.leg_b - strip.flat) / 2
    a, b = line + half, strip.flat - line + half
    apart, swapped = abs(strip.leg_a - a), abs(strip.leg_a - b)
    if abs(a - b) > 4 * test.thickness and swapped < apart / 4:
        return "leg A is as long as leg B should be, and B as A. Are they exchanged, or was it bent on another line?"
    return ""


def _of_setting(test: BendTest, units: Units) -> Iterator[str]:
    asked, ratio = numbers().asked, test.v_opening / test.thickness
    if not asked.v_low <= ratio <= asked.v_high:
        yield (
            f"The V opening of {format_length(test.v_opening, units)} is {to_figures(ratio, 3)} thicknesses; dies have "
            f"{to_figures(asked.v_low)} to {to_figures(asked.v_high)}. Was it measured from shoulder to shoulder?"
        )
    rule = radius_by_v(test.material, test.v_opening)
    if test.radius_measured and not asked.radius_low <= test.radius / rule <= asked.radius_high:
        yield (
            f"The inside radius of {format_length(test.radius, units)} is far from the "
            f"{format_length(rule, units)} that such a V leaves: was it measured inside, is it no diameter, and is the "
            f"V {format_length(test.v_opening, units)} from shoulder to shoulder?"
        )
    off, mill = abs(test.thickness - test.stock), numbers().mill.off(test.stock)
    if off > mill + LIMIT_SLACK_MM:
        yield (
            f"The sheet measures {format_length(test.thickness, units)} and is called "
            f"{format_length(test.stock, units)}, {format_length(round(off, 3), units)} off, where mills keep within "
            f"{format_length(mill, units)}: is it the same sheet, and was its thickness read right?"
        )


def _of_fit(solution: BendSolution) -> Iterator[str]:
    """Strips that scatter more than one test in twenty does by chance, and yet none is plainly wrong."""
    freedom = solution.freedom
    if not freedom or solution.disagreeing or solution.chi_square <= most_squares(freedom, numbers().fit.normal_95):
        return
    strips = solution.test.strips
    names = [strip.name for strip in strips]
    if freedom > 1:
        names = [max(zip(solution.gaps, strips, strict=True), key=lambda of: abs(of[0]))[1].name]
    yield (
        f"The strips disagree beyond their uncertainty: they scatter {solution.scatter:.1f} times as much as they "
        "say, more than one test in twenty does by chance. Was a leg, the flat or the angle of "
        f"{' or '.join(names)} read wrong?"
    )
