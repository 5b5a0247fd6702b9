"""Whether a slip in a reading would show: the inner and outer reliability of least squares.

A slip d in a reading makes its test (`solve`) d sqrt(r) / u on average, r being its redundancy number: the share of it
that the other readings show. It is found in nine of ten such cases where that is 1.28 beyond the limit of the test; a
smaller one stays unseen, and moves an error by its gain (Baarda, A testing procedure for use in geodetic networks,
1968).
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from parts.tolerance import NO_GAIN
from parts.truing.linear import Array, Linear

SLIP_MM = 0.5
"""A slip that readings have to show for an error to count as checked: half a graduation of a tape, common practice."""
ALONE = 0.02
"""A reading whose slip the others show so little of has none to check it."""
FOUND_IN_NINE_OF_TEN = 3.290526731491926 + 1.2815515655446004
"""A test this large on average is beyond its limit in nine of ten cases."""
MOVES = 1.0
"""A slip that moves an error by less than so many of its standard uncertainties is within its interval, near enough."""


@dataclass(frozen=True, slots=True)
class Unchecked:
    """An error that a slip may have made unseen.

    `readings` are the indices of those that it may be in. `slip` is how large it may be, mm: infinite where no other
    reading shows it.
    """

    slip: float
    readings: tuple[int, ...]

    @property
    def alone(self) -> bool:
        """Whether no other reading would show it, however large."""
        return math.isinf(self.slip)


def unchecked(linear: Linear, u: Array, found: Mapping[str, int]) -> dict[str, Unchecked]:
    """Return the errors that a slip of half a millimetre or more may have made unseen.

    Args:
        linear: the system at its solution.
        u: the standard uncertainty of each reading, mm.
        found: the settled errors and their places among all.
    """
    spare = linear.spare
    slips = np.where(spare > ALONE, FOUND_IN_NINE_OF_TEN * u / np.sqrt(np.maximum(spare, ALONE)), math.inf)
    gains, deviations = np.abs(linear.gains), np.sqrt(np.diag(linear.covariance))
    return {name: told for name, j in found.items() if (told := _told(slips, gains[j] / deviations[j], u))}


def _told(slips: Array, gains: Array, u: Array) -> Unchecked | None:
    """What is told of one error; `gains` are those of its readings in its standard uncertainties."""
    tells = gains > NO_GAIN
    at_fault = tells & (slips > SLIP_MM) & (np.where(tells, gains, 1.0) * slips / u > MOVES)
    if not np.any(at_fault):
        return None
    worst = float(np.max(slips[at_fault]))
    if math.isinf(worst):
        at_fault &= np.isinf(slips)
    return Unchecked(worst, tuple(int(i) for i in np.flatnonzero(at_fault)))
