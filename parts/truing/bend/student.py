"""Student's distribution, how many standard uncertainties a 95 % interval has, and the point of chi-square."""

import math

from parts.truing.solve import COVERAGE

LEAST_FREEDOM = 3.0
"""Below it the series isn't good enough; from there on it is right to 1 part in 500."""
MOST_FREEDOM = 1e9
"""From there on it is the normal distribution."""


def coverage(freedom: float) -> float:
    """Return the 97.5 % point of Student's t for these degrees of freedom, which may be infinite.

    The expansion of Fisher and Cornish, Abramowitz and Stegun 26.7.5, about the normal distribution's point.
    """
    z, v = COVERAGE, min(max(freedom, LEAST_FREEDOM), MOST_FREEDOM)
    terms = (
        (z**3 + z) / 4,
        (5 * z**5 + 16 * z**3 + 3 * z) / 96,
        (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384,
        (79 * z**9 + 776 * z**7 + 1482 * z**5 - 1920 * z**3 - 945 * z) / 92160,
    )
    return z + sum(term / v**power for power, term in enumerate(terms, start=1))


def most_squares(freedom: int, normal: float) -> float:
    """Return the point of chi-square for these degrees of freedom that answers to one of the normal distribution.

    By Wilson and Hilferty, Abramowitz and Stegun 26.4.17; at 95 % within 3 % for one degree, and better for more.
    """
    ninth = 2 / (9 * freedom)
    return freedom * (1 - ninth + normal * math.sqrt(ninth)) ** 3
