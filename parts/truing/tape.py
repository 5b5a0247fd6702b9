"""The quick check with a tape: a 3-4-5 triangle, or two diagonals, and the smallest error that it can show.

Diagonals d1 and d2 over sides a and b: sin e = (d1² - d2²) / (4 a b) by the law of cosines; an error of the
tape's scale cancels. In a triangle of legs a and b with the long side c: cos of the corner = (a² + b² - c²) / (2 a b).
A tape is read to a standard uncertainty u; an error is shown when it is beyond 1.96 of its own.
"""

import math

from parts.errors import GeometryError
from parts.truing.solve import COVERAGE, Estimate


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
        raise GeometryError(f"No four-sided piece of {a:g} by {b:g} mm has diagonals of {d1:g} and {d2:g} mm.")
    delta = math.asin(sine)
    slopes = (d1 / (2 * a * b), d2 / (2 * a * b), sine / a, sine / b)
    return Estimate(delta, u * math.hypot(*slopes) / math.cos(delta))


def from_triangle(a: float, b: float, c: float, u: float) -> Estimate:
    """Return how much more than square the corner between legs `a` and `b` is, `c` being the long side, radians.

    Raises:
        GeometryError: the three lengths make no triangle.
    """
    if min(a, b, c, u) <= 0 or not abs(a - b) < c < a + b:
        raise GeometryError(f"Lengths of {a:g}, {b:g} and {c:g} mm make no triangle.")
    sine = (c**2 - a**2 - b**2) / (2 * a * b)
    angle = math.asin(sine)
    slopes = (c / (a * b), (1 / b + sine / a), (1 / a + sine / b))
    return Estimate(angle, u * math.hypot(*slopes) / math.cos(angle))


def smallest_shown(length_a: float, length_b: float, u: float) -> float:
    """Return the smallest error, radians, that two diagonals over sides of these lengths show."""
    diagonal = math.hypot(length_a, length_b)
    return COVERAGE * u * math.sqrt(2) * diagonal / (2 * length_a * length_b)
