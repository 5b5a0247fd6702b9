"""The errors of a table from readings, by weighted least squares, with the uncertainty of each.

Weights are 1/u². The exact model is solved by Gauss-Newton steps; the covariance is that of the last one,
(J' W J)^-1 (JCGM 100:2008, GUM, 5.1 and 5.2; JCGM 102 for the matrix form). An interval of 95 % is 1.96
standard uncertainties either way, the readings' own uncertainties being taken as known.

What the readings don't settle has a part in the null space of J; such an error is left out of the answer,
not guessed. A reading disagrees when its residual, in units of the residual's own standard uncertainty,
is beyond 3.29 (one in a thousand by chance; Baarda's test); the worst is set aside and the rest solved again.
The estimates count every reading all the same: which one is wrong is for whoever measured to say.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from parts.errors import GeometryError
from parts.tolerance import SAME_TEST_RATIO, SETTLED_ERROR, SETTLED_RANK, SETTLED_SHARE
from parts.truing.model import NAMES, Errors, gradient, shown
from parts.truing.reading import Reading

COVERAGE = 1.959963984540054
"""Standard uncertainties in a 95 % interval of a normal distribution."""
DISAGREES = 3.290526731491926
"""Beyond this many of its own standard uncertainties a residual is chance once in a thousand times."""

MOST_SET_ASIDE = 10
"""Readings looked for that disagree: beyond so many it is their uncertainties that are wrong."""
LARGEST = 0.5
"""A scale error or an angle in radians beyond this is no table's."""

_STEPS = 30
_NO_TABLE = (
    "No table gives these readings: one of them or its nominal length is far off, or they are too short, or too near "
    "one direction, for how well they are known."
)


@dataclass(frozen=True, slots=True)
class Estimate:
    """One error of the table, in its unit (ratio, radian or mm)."""

    value: float
    standard_uncertainty: float

    @property
    def low95(self) -> float:
        """Lower end of the 95 % interval."""
        return self.value - COVERAGE * self.standard_uncertainty

    @property
    def high95(self) -> float:
        """Upper end of the 95 % interval."""
        return self.value + COVERAGE * self.standard_uncertainty

    @property
    def differs_from_zero(self) -> bool:
        """Whether the reading can tell it from zero."""
        return abs(self.value) > COVERAGE * self.standard_uncertainty

    def said(self, unit: float = 1.0) -> dict[str, float | bool]:
        """Return value and interval by their names in the JSON, times `unit`."""
        return {
            "value": self.value * unit,
            "standard_uncertainty": self.standard_uncertainty * unit,
            "expanded_uncertainty": COVERAGE * self.standard_uncertainty * unit,
            "low95": self.low95 * unit,
            "high95": self.high95 * unit,
            "differs_from_zero": self.differs_from_zero,
        }


@dataclass(frozen=True)
class Solution:
    """What the readings say.

    `estimates` holds each error that they settle. `residuals` are measured less shown, in units of each
    reading's own uncertainty. `disagreeing` are the indices of readings that don't go with the rest, in
    groups: where a group has several, one of them is wrong, and it can't be told which.
    `chi_square` is the sum of the squared residuals over `freedom` readings to spare.
    """

    readings: tuple[Reading, ...]
    estimates: Mapping[str, Estimate]
    residuals: tuple[float, ...]
    disagreeing: tuple[tuple[int, ...], ...]
    chi_square: float
    freedom: int
    correlation: Mapping[tuple[str, str], float]

    @property
    def errors(self) -> Errors:
        """The errors settled, the others 0."""
        return Errors(**{name: estimate.value for name, estimate in self.estimates.items()})


def solve(readings: Sequence[Reading]) -> Solution:
    """Return the weighted least-squares estimate of the errors that the readings settle, all readings counted.

    Raises:
        GeometryError: if there is no reading, or numbers that no table gives: the steps don't settle.
    """
    if not readings:
        raise GeometryError("There is no reading.")
    rank, known = _seen(readings)
    errors = _settled(readings, rank)
    jacobian, u = _jacobian(readings, errors), np.array([reading.u for reading in readings])
    scales, _, values, rows = _decomposed(jacobian / u[:, None], rank)
    found = {name: j for j, name in enumerate(NAMES) if name in known}
    root = rows.T / values / scales[:, None]
    covariance = root @ root.T
    estimates = {name: Estimate(errors[j], math.sqrt(covariance[j, j])) for name, j in found.items()}
    residuals = [(r.measured - shown(r, errors)) / r.u for r in readings]
    return Solution(
        tuple(readings),
        estimates,
        tuple(residuals),
        _disagreeing(readings, errors, rank),
        math.fsum(r * r for r in residuals),
        len(readings) - len(values),
        {
            (a, b): float(covariance[i, j] / math.sqrt(covariance[i, i] * covariance[j, j]))
            for a, i in found.items()
            for b, j in found.items()
            if i < j
        },
    )


def settles(readings: Sequence[Reading]) -> tuple[str, ...]:
    """Return the names of the errors that readings of these kinds and directions settle, whatever they show."""
    return _seen(readings)[1] if readings else ()


def _settled(readings: Sequence[Reading], rank: int) -> Errors:
    """The errors at which Gauss-Newton steps converge, by minimum norm: those not settled stay as near 0 as may be."""
    errors, u = np.zeros(len(NAMES)), np.array([reading.u for reading in readings])
    for _ in range(_STEPS):
        present = Errors(*map(float, errors))
        gaps = np.array([r.measured - shown(r, present) for r in readings]) / u
        scales, left, values, rows = _decomposed(_jacobian(readings, present) / u[:, None], rank)
        step = rows.T @ ((left.T @ gaps) / values) / scales
        errors = errors + step
        if not np.all(np.isfinite(errors)) or np.any(np.abs(errors[:3]) > LARGEST):
            raise GeometryError(_NO_TABLE)
        if np.all(np.abs(step) <= SETTLED_ERROR * np.array([1, 1, 1, 1e3, 1e3])):
            return Errors(*map(float, errors))
    return Errors(*map(float, errors))  # the last digits of a float go to and fro


def _jacobian(readings: Sequence[Reading], errors: Errors) -> NDArray[np.float64]:
    return np.array([gradient(reading, errors) for reading in readings])


def _seen(readings: Sequence[Reading]) -> tuple[int, tuple[str, ...]]:
    """The rank of the readings' Jacobian, and which errors are determined each by itself; to first order.

    Of second order they may see more, a difference of scales times an angle; noise would be all of that.
    """
    u, jacobian = np.array([reading.u for reading in readings]), _jacobian(readings, Errors())
    _, _, values, rows = _decomposed(jacobian / u[:, None])
    return len(values), tuple(name for j, name in enumerate(NAMES) if _is_settled(j, rows, jacobian))


def _decomposed(
    weighted: NDArray[np.float64], rank: int | None = None
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Return column scales and the singular values and vectors of the scaled matrix, as many as its rank.

    The rank is that of the matrix, unless given.

    Scaled to columns of length 1, so that ratios, radians and mm are judged alike.
    """
    scales = np.linalg.norm(weighted, axis=0)
    scales[scales == 0] = 1.0
    left, values, rows = np.linalg.svd(weighted / scales, full_matrices=False)
    kept = values > SETTLED_RANK * values[0] if rank is None else np.arange(len(values)) < rank
    return scales, left[:, kept], values[kept], rows[kept]


def _is_settled(j: int, rows: NDArray[np.float64], jacobian: NDArray[np.float64]) -> bool:
    """Whether an error lies in the row space: nothing of it is left in the null space."""
    return bool(np.any(jacobian[:, j])) and float(1 - np.sum(rows[:, j] ** 2)) < SETTLED_SHARE


def _disagreeing(readings: Sequence[Reading], errors: Errors, rank: int) -> tuple[tuple[int, ...], ...]:
    """Set aside the worst reading until the rest agree; `errors` are those of all the readings."""
    rest = list(range(len(readings)))
    groups: list[tuple[int, ...]] = []
    while worst := _worst([readings[i] for i in rest], errors, rank):
        groups.append(tuple(rest[i] for i in worst))
        rest = [i for n, i in enumerate(rest) if n not in worst]
        if not rest or len(groups) == MOST_SET_ASIDE:
            break
        left = [readings[i] for i in rest]
        rank = _seen(left)[0]
        errors = _settled(left, rank)
    return tuple(groups)


def _worst(readings: Sequence[Reading], errors: Errors, rank: int) -> tuple[int, ...]:
    """The reading with the worst residual, where it disagrees, and those that can't be told from it."""
    u = np.array([reading.u for reading in readings])
    _, left, _, _ = _decomposed(_jacobian(readings, errors) / u[:, None], rank)
    spare = 1 - np.sum(left**2, axis=1)  # the share of a reading that the others check
    gaps = np.array([r.measured - shown(r, errors) for r in readings]) / u
    checked = spare > SETTLED_SHARE
    tests = np.where(checked, np.abs(gaps) / np.sqrt(np.where(checked, spare, 1.0)), 0.0)
    worst = float(np.max(tests))
    if worst <= DISAGREES:
        return ()
    return tuple(int(i) for i in np.flatnonzero(tests >= worst * (1 - SAME_TEST_RATIO)))
