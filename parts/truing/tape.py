"""The quick check with a tape: a 3-4-5 triangle, or two diagonals, and the smallest error that it can show.

Diagonals d1 and d2 over sides a and b: sin e = (d1² - d2²) / (4 a b) by the law of cosines; an error of the
tape's scale cancels. In a triangle of legs a and b with the long side c: cos of the corner = (a² + b² - c²) / (2 a b).
A tape is read to a standard uncertainty u; an error is shown when it is beyond 1.96 of its own.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from parts.errors import GeometryError, Problem, Refused
from parts.truing.amounts import LONGEST_MM
from parts.truing.entries import COARSEST_U_MM, FINEST_U_MM, U_LIMITS
from parts.truing.instruments import usual_u
from parts.truing.solve import COVERAGE, DISAGREES, Estimate
from parts.units import Units, format_distance, format_length


def from_diagonals(a: float, b: float, d1: float, d2: float, u: float) -> Estimate:
    """Return how much less than square the corner is that diagonal `d1` starts from, radians.

    Args:
        a: one side, mm.
        b: the other.
        d1: the diagonal from the corner in question.
        d2: the other diagonal.
        u: standard uncertainty of each length, mm.

    Raises:
        GeometryError: no parallelogram has these sides and diagonals, or a length isn't positive.
    """
    if min(a, b, d1, d2, u) <= 0 or not all(map(math.isfinite, (a, b, d1, d2, u))):
        raise GeometryError("Sides, diagonals and their uncertainty must be more than 0.")
    sine = (d1**2 - d2**2) / (4 * a * b)
    if abs(sine) >= 1:
        raise GeometryError("No four-sided piece has these sides and diagonals.")
    delta = math.asin(sine)
    slopes = (d1 / (2 * a * b), d2 / (2 * a * b), sine / a, sine / b)
    return Estimate(delta, u * math.hypot(*slopes) / math.cos(delta))


def from_triangle(a: float, b: float, c: float, u: float) -> Estimate:
    """Return how much more than square the corner between legs `a` and `b` is, `c` being the long side, radians.

    Raises:
        GeometryError: the three lengths make no triangle.
    """
    if min(a, b, c, u) <= 0 or not abs(a - b) < c < a + b:
        raise GeometryError("These three lengths make no triangle.")
    sine = (c**2 - a**2 - b**2) / (2 * a * b)
    slopes = (c / (a * b), (1 / b + sine / a), (1 / a + sine / b))
    if not abs(sine) < 1:
        raise GeometryError("These three lengths make no triangle.")
    angle = math.asin(sine)
    return Estimate(angle, u * math.hypot(*slopes) / math.cos(angle))


def smallest_shown(length_a: float, length_b: float, u: float, *, triangle: bool = False) -> float:
    """Return the smallest error, radians, that two diagonals over sides of these lengths show.

    A triangle of these legs shows twice as much at least: its long side changes half as much as two diagonals part.
    """
    diagonal = math.hypot(length_a, length_b)
    return COVERAGE * u * math.sqrt(2) * diagonal / ((1 if triangle else 2) * length_a * length_b)


@dataclass(frozen=True, slots=True)
class QuickCheck:
    """What a tape says of one corner.

    `angle` is how much more than square it is, `smallest` the least that would show, radians; `u` that of each
    length and `longer` the longer side, mm. `unequal` is by how much, mm, the diagonals are too long for the sides,
    where that is beyond what reading them explains.
    """

    angle: Estimate
    smallest: float
    u: float
    longer: float
    unequal: float | None = None


def quick_check(lengths: Sequence[float], u: float | None = None, units: Units = "mm") -> QuickCheck:
    """Return what two legs and the long side say of the corner between them, or two sides and both diagonals.

    Args:
        lengths: a, b, c; or a, b and the diagonal that starts from the corner, then the other; mm.
        u: standard uncertainty of each, mm; that of a tape unless said.
        units: what a refusal says lengths in.

    Raises:
        Refused: there are neither three nor four lengths, or no such piece exists.
    """
    u = usual_u()["tape"] if u is None else u
    said = ", ".join(format_length(length, units) for length in lengths)
    if len(lengths) not in (3, 4):
        raise Refused((Problem("tape", said, "give A B C of a triangle, or A B and both diagonals."),))
    if not FINEST_U_MM <= u <= COARSEST_U_MM:
        raise Refused((Problem("u", format_length(u, units), U_LIMITS),))
    if not all(0 < length <= LONGEST_MM for length in lengths):
        raise Refused((Problem("tape", said, f"each must be more than 0 and at most {format_distance(LONGEST_MM)}."),))
    a, b, *rest = lengths
    try:
        if len(rest) == 1:
            return QuickCheck(from_triangle(a, b, rest[0], u), smallest_shown(a, b, u, triangle=True), u, max(a, b))
        less = from_diagonals(a, b, rest[0], rest[1], u)
    except GeometryError as error:
        raise Refused((Problem("tape", said, str(error)),)) from error
    angle = Estimate(-less.value, less.standard_uncertainty)
    return QuickCheck(angle, smallest_shown(a, b, u), u, max(a, b), _unequal(a, b, rest[0], rest[1], u))


def _unequal(a: float, b: float, d1: float, d2: float, u: float) -> float | None:
    """By the parallelogram law d1² + d2² = 2 (a² + b²); None where it holds as well as the lengths are known."""
    off = d1**2 + d2**2 - 2 * (a**2 + b**2)
    sure = u * math.hypot(2 * d1, 2 * d2, 4 * a, 4 * b)
    return off / (d1 + d2) if abs(off) > DISAGREES * sure else None
