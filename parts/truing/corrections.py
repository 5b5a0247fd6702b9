"""What to change at the table: steps, the gantry's square, the kerf setting; or to leave it.

scale   a table that makes lengths 1 + s too long needs its steps per mm divided by that, exactly
square  the gantry is turned by the angle e: one side moves by tan e times the distance of the rails
kerf    the width to allow for grows by what the jet took more
A correction that the readings can't tell from nothing isn't made.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from parts.truing.machine import Table
from parts.truing.model import Errors
from parts.truing.solve import COVERAGE, Estimate, Solution

SHEET_MM = (1219.2, 2438.4)
"""4 ft by 8 ft."""

Say = Callable[[float], str]
"""Turns mm into the words of the working units."""


@dataclass(frozen=True, slots=True)
class Correction:
    """One thing to change or to leave: `setting` names it, `old` and `new` are None where not known or left."""

    setting: str
    sentence: str
    old: float | None = None
    new: float | None = None
    unit: str = ""
    leave: bool = False


def corrections(solution: Solution, table: Table, say: Say) -> tuple[Correction, ...]:
    """Return what to change for each error that the readings settle."""
    return tuple(_corrections(solution, table, say))


def _corrections(solution: Solution, table: Table, say: Say) -> Iterator[Correction]:
    found = solution.estimates
    for axis, steps in (("x", table.steps_per_mm_x), ("y", table.steps_per_mm_y)):
        if scale := found.get(f"scale_{axis}"):
            yield _scale(axis, scale, steps, say)
    if angle := found.get("out_of_square"):
        yield _square(angle, table.rail_spacing, say)
    if kerf := found.get("kerf"):
        yield _kerf(kerf, table.kerf, say)
    if shrinkage := found.get("hole_shrinkage"):
        yield _holes(shrinkage, say)


def _scale(axis: str, scale: Estimate, steps: float | None, say: Say) -> Correction:
    name, setting = axis.upper(), f"steps_per_mm_{axis}"
    per_metre = 1000 * scale.value
    is_long = "long" if scale.value > 0 else "short"
    found = f"{name} comes out {say(abs(per_metre))} {is_long} in a metre"
    if not scale.differs_from_zero:
        return Correction(setting, _leave(f"{name}'s scale", say(abs(per_metre)) + " in a metre"), steps, leave=True)
    ratio = 1 / (1 + scale.value)
    if steps is None:
        sentence = f"{found}. Multiply the steps per unit of {name} by {ratio:.6f} (or its gear ratio likewise)."
        return Correction(setting, sentence)
    new = steps * ratio
    sentence = f"{found}. Change the steps per mm of {name} from {steps:.10g} to {new:.8g}."
    return Correction(setting, sentence, steps, new, "1/mm")


def _square(angle: Estimate, rails: float | None, say: Say) -> Correction:
    degrees = math.degrees(angle.value)
    if not angle.differs_from_zero:
        return Correction("square", _leave("the angle between the axes", f"{abs(degrees):.4f}°"), leave=True)
    corner = "more" if degrees > 0 else "less"
    found = f"The axes stand {abs(degrees):.4f}° {corner} than square"
    # With more than a right angle between +X and +Y, the end of the gantry at +X must go ahead in Y.
    way = "toward +Y" if degrees > 0 else "toward -Y"
    if rails is None:
        per_metre = say(1000 * math.tan(abs(angle.value)))
        sentence = (
            f"{found}. Move the side of the gantry at the far end of X {way} by {per_metre} for each metre "
            "between its rails, or change its homing offset by as much."
        )
        return Correction("square", sentence)
    move = rails * math.tan(angle.value)
    sentence = (
        f"{found}. Move the side of the gantry at the far end of X {way} by {say(abs(move))} over the "
        f"{say(rails)} between its rails, or change its homing offset by as much."
    )
    return Correction("square", sentence, 0.0, move, "mm")


def _kerf(kerf: Estimate, setting: float | None, say: Say) -> Correction:
    if not kerf.differs_from_zero:
        return Correction("kerf", _leave("the kerf's error", say(abs(kerf.value))), setting, leave=True)
    more = "more" if kerf.value > 0 else "less"
    found = f"The jet takes {say(abs(kerf.value))} {more} in width than was allowed for"
    if setting is None:
        word = "Raise" if kerf.value > 0 else "Lower"
        return Correction("kerf", f"{found}. {word} the kerf setting by that.")
    new = setting + kerf.value
    return Correction(
        "kerf", f"{found}. Change the kerf setting from {say(setting)} to {say(new)}.", setting, new, "mm"
    )


def _holes(shrinkage: Estimate, say: Say) -> Correction:
    if not shrinkage.differs_from_zero:
        return Correction("holes", _leave("what holes come out smaller", say(abs(shrinkage.value))), leave=True)
    smaller = "smaller" if shrinkage.value > 0 else "larger"
    sentence = (
        f"Round holes come out {say(abs(shrinkage.value))} {smaller} than slots of their width: go slower around "
        "them, or draw them that much different."
    )
    return Correction("holes", sentence)


def _leave(what: str, much: str) -> str:
    return f"Leave {what}: the readings can't tell {much} from nothing."


@dataclass(frozen=True, slots=True)
class OverASheet:
    """What is off over a 4 ft by 8 ft sheet, mm: its two sides, and one diagonal against the other."""

    x: float
    y: float
    diagonals: float


def before(errors: Errors) -> OverASheet:
    """Return what the table puts wrong over a sheet now."""
    return _over_a_sheet(errors)


def after(solution: Solution) -> OverASheet:
    """Return what may still be wrong when corrected, with 95 % confidence: the errors' own uncertainty."""
    unsure = {name: COVERAGE * estimate.standard_uncertainty for name, estimate in solution.estimates.items()}
    left = _over_a_sheet(Errors(**unsure))
    return OverASheet(abs(left.x), abs(left.y), abs(left.diagonals))


def _over_a_sheet(errors: Errors) -> OverASheet:
    width, height = SHEET_MM
    a, b = (1 + errors.scale_x) * width, (1 + errors.scale_y) * height
    skew = 2 * a * b * math.sin(errors.out_of_square)
    whole = a * a + b * b
    return OverASheet(a - width, b - height, math.sqrt(whole - skew) - math.sqrt(whole + skew))
