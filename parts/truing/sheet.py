"""What errors of a table come to over a 4 ft by 8 ft sheet, before it is trued and after."""

import math
from dataclasses import dataclass

from parts.truing.model import Errors
from parts.truing.solve import COVERAGE, Solution

SHEET_MM = (1219.2, 2438.4)
"""4 ft along X by 8 ft along Y."""


@dataclass(frozen=True, slots=True)
class OverASheet:
    """What is off, mm: its two sides, and the diagonal from the origin less the other; None where not known."""

    x: float | None
    y: float | None
    diagonals: float | None


def before(solution: Solution) -> OverASheet:
    """Return what the table puts wrong over a sheet now, as far as the readings settle it."""
    return _known(solution, _over_a_sheet(solution.errors))


def after(solution: Solution) -> OverASheet:
    """Return what may still be wrong, with 95 % confidence, when what differs from zero is corrected.

    That is the uncertainty of each error; where one is left as it is, its value is added.
    """
    left = {
        name: COVERAGE * each.standard_uncertainty + (0.0 if each.differs_from_zero else abs(each.value))
        for name, each in solution.estimates.items()
    }
    over = _over_a_sheet(Errors(**left))
    return _known(solution, OverASheet(*(abs(value or 0.0) for value in (over.x, over.y, over.diagonals))))


def _known(solution: Solution, over: OverASheet) -> OverASheet:
    """Without what hangs on an error that isn't settled.

    The diagonals' difference hangs on the angle: the scales are in it only as a factor near 1.
    """
    found = solution.estimates
    return OverASheet(
        over.x if "scale_x" in found else None,
        over.y if "scale_y" in found else None,
        over.diagonals if "out_of_square" in found else None,
    )


def _over_a_sheet(errors: Errors) -> OverASheet:
    width, height = SHEET_MM
    a, b = (1 + errors.scale_x) * width, (1 + errors.scale_y) * height
    skew = 2 * a * b * math.sin(errors.out_of_square)
    whole = a * a + b * b
    return OverASheet(a - width, b - height, math.sqrt(whole - skew) - math.sqrt(whole + skew))
