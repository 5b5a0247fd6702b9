"""The errors of a table from readings, by generalised least squares, with the uncertainty of each.

Readings weigh by their own uncertainties and by the errors they share (`linear`). The exact model is solved by
Gauss-Newton steps; the covariance is that of the last one (JCGM 100:2008, GUM, 5.1 and 5.2; JCGM 102 for the matrix
form). An interval of 95 % is 1.96 standard uncertainties either way. Where readings scatter more than they say, each
is multiplied by the Birge ratio, the root of chi-square over its freedom (Birge, Physical Review 40 (1932) 207).

What the readings don't settle has a part in the null space of J; such an error is left out of the answer,
not guessed. A reading disagrees when its residual, in units of the residual's own standard uncertainty,
is beyond 3.29 (one in a thousand by chance; Baarda's test); the worst is set aside and the rest solved again.
The estimates count every reading all the same: which one is wrong is for whoever measured to say; but the intervals
take in what each error would be without one that disagrees.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from parts.errors import GeometryError
from parts.tolerance import SAME_TEST_RATIO, SETTLED_ERROR, SETTLED_SHARE
from parts.truing.linear import Array, Linear, System, seen, system
from parts.truing.model import NAMES, Errors
from parts.truing.reading import Reading
from parts.truing.unchecked import Unchecked, unchecked

COVERAGE = 1.959963984540054
"""Standard uncertainties in a 95 % interval of a normal distribution."""
DISAGREES = 3.290526731491926
"""Beyond this many of its own standard uncertainties a residual is chance once in a thousand times."""

UNSEPARATED = 2.5758293035489004
"""Tests that differ by less than so many standard deviations of their difference may be of either: one in a hundred."""

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

    `estimates` holds each error that they settle. `residuals` are what is left of each reading, the table's errors and
    those that readings share taken off, in units of its own uncertainty. `disagreeing` are the indices of readings that
    don't go with the rest, in groups: where a group has several, one of them is wrong, and it can't be told which.
    `chi_square` is the sum of the squared residuals, those of the shared errors among them, over `freedom` readings to
    spare. `unchecked` are the errors that a slip in a reading may have made, unseen. `agreed` are the estimates without
    the readings that disagree, none where all agree.
    """

    readings: tuple[Reading, ...]
    estimates: Mapping[str, Estimate]
    residuals: tuple[float, ...]
    disagreeing: tuple[tuple[int, ...], ...]
    chi_square: float
    freedom: int
    correlation: Mapping[tuple[str, str], float]
    unchecked: Mapping[str, Unchecked]
    agreed: Mapping[str, Estimate]

    @property
    def errors(self) -> Errors:
        """The errors settled, the others 0."""
        return Errors(**{name: estimate.value for name, estimate in self.estimates.items()})

    @property
    def birge_ratio(self) -> float:
        """How many times as much the readings scatter as they say, 1 where no more: the uncertainties hold it."""
        return birge_ratio(self.chi_square, self.freedom)


def birge_ratio(chi_square: float, freedom: int) -> float:
    """Return the factor by which uncertainties grow where readings scatter more than they say."""
    return max(1.0, math.sqrt(chi_square / freedom)) if freedom > 0 else 1.0


def solve(readings: Sequence[Reading]) -> Solution:
    """Return the least-squares estimate of the errors that the readings settle, all readings counted.

    Raises:
        GeometryError: if there is no reading, or numbers that no table gives: the steps don't settle.
    """
    if not readings:
        raise GeometryError("There is no reading.")
    fit = _fit(readings)
    groups = _disagreeing(fit)
    found = {name: j for j, name in enumerate(NAMES) if name in fit.known}
    covariance = fit.covariance
    return Solution(
        tuple(readings),
        _widened(fit, groups),
        tuple(map(float, fit.gaps[: len(readings)])),
        groups,
        fit.chi_square,
        fit.freedom,
        {
            (a, b): float(covariance[i, j] / math.sqrt(covariance[i, i] * covariance[j, j]))
            for a, i in found.items()
            for b, j in found.items()
            if i < j
        },
        unchecked(fit.linear, fit.system.u, found),
        _without(fit, [i for group in groups for i in group]) if groups else {},
    )


def settles(readings: Sequence[Reading]) -> tuple[str, ...]:
    """Return the names of the errors that readings of these kinds and directions settle, whatever they show."""
    return seen(readings)[1] if readings else ()


def foreseen(readings: Sequence[Reading]) -> dict[str, float]:
    """Return the standard uncertainty of each error that readings will settle, whatever they show of a good table."""
    if not readings:
        return {}
    rank, known = seen(readings)
    variances = np.diag(system(readings).at(Errors(), rank).covariance)
    return {name: math.sqrt(variances[j]) for j, name in enumerate(NAMES) if name in known}


@dataclass(frozen=True)
class _Fit:
    """The least squares of some readings: what is left of each, and the errors with their uncertainties."""

    system: System
    linear: Linear
    errors: Errors
    gaps: Array
    known: tuple[str, ...]

    @property
    def chi_square(self) -> float:
        return math.fsum(gap * gap for gap in self.gaps)

    @property
    def freedom(self) -> int:
        return len(self.gaps) - len(self.linear.values)

    @property
    def covariance(self) -> Array:
        return self.linear.covariance

    @property
    def estimates(self) -> dict[str, Estimate]:
        variances, grown = np.diag(self.covariance), birge_ratio(self.chi_square, self.freedom)
        return {
            name: Estimate(self.errors[j], math.sqrt(variances[j]) * grown)
            for j, name in enumerate(NAMES)
            if name in self.known
        }


def _fit(readings: Sequence[Reading]) -> _Fit:
    """The errors at which Gauss-Newton steps converge, by minimum norm: those not settled stay as near 0 as may be."""
    (rank, known), of = seen(readings), system(readings)
    errors, common, present = np.zeros(len(NAMES)), np.zeros(of.effects.shape[1]), Errors()
    for _ in range(_STEPS):
        step = of.at(present, rank).step(of.gaps(present, common))
        errors, common = errors + step[: len(NAMES)], common + step[len(NAMES) :]
        if not np.all(np.isfinite(errors)) or np.any(np.abs(errors[:3]) > LARGEST):
            raise GeometryError(_NO_TABLE)
        present = Errors(*map(float, errors))
        if np.all(np.abs(step[: len(NAMES)]) <= SETTLED_ERROR * np.array([1, 1, 1, 1e3, 1e3])):
            break  # else the last digits of a float go to and fro
    return _Fit(of, of.at(present, rank), present, of.gaps(present, common), known)


def _disagreeing(fit: _Fit) -> tuple[tuple[int, ...], ...]:
    """Set aside the worst reading until the rest agree; `fit` is that of all the readings."""
    readings = fit.system.readings
    rest = list(range(len(readings)))
    groups: list[tuple[int, ...]] = []
    while worst := _worst(fit):
        groups.append(tuple(rest[i] for i in worst))
        rest = [i for n, i in enumerate(rest) if n not in worst]
        if not rest or len(groups) == MOST_SET_ASIDE:
            break
        fit = _fit([readings[i] for i in rest])
    return tuple(groups)


def _worst(fit: _Fit) -> tuple[int, ...]:
    """The reading with the worst residual, where it disagrees, and those that can't be told from it.

    A slip in one reading moves the tests of others as far as they are correlated with its own; which of two is the
    greater is chance within so many standard deviations of their difference (Förstner's separability of errors).
    """
    spare, gaps = fit.linear.spare, fit.gaps[: len(fit.system.readings)]
    checked = spare > SETTLED_SHARE
    deviations = np.sqrt(np.where(checked, spare, 1.0))
    tests = np.where(checked, np.abs(gaps) / deviations, 0.0)
    i = int(np.argmax(tests))
    worst = float(tests[i])
    if worst <= DISAGREES:
        return ()
    left = fit.linear.left[: len(gaps)]
    alike = np.minimum(np.abs(left @ left[i]) / (deviations * deviations[i]), 1.0)
    by_chance = UNSEPARATED * np.sqrt(2 * (1 - alike)) + worst * SAME_TEST_RATIO
    together = (tests > DISAGREES) & (tests >= worst - by_chance)
    together[i] = True
    return tuple(int(j) for j in np.flatnonzero(together))


def _widened(fit: _Fit, groups: Sequence[tuple[int, ...]]) -> dict[str, Estimate]:
    """The estimates, each interval taking in those without a reading that disagrees, and without all of them.

    One of them is wrong; whichever it is, the truth is in the interval that the others make.
    """
    widened = fit.estimates
    aside = [i for group in groups for i in group]
    together = [aside] if len(aside) > 1 else []
    for left_out in (*([i] for i in aside), *together):
        for name, other in _without(fit, left_out).items():
            own = widened[name]
            needed = other.standard_uncertainty + abs(other.value - own.value) / COVERAGE
            widened[name] = Estimate(own.value, max(own.standard_uncertainty, needed))
    return widened


def _without(fit: _Fit, left_out: Sequence[int]) -> dict[str, Estimate]:
    """The estimates by the other readings."""
    rest = [reading for i, reading in enumerate(fit.system.readings) if i not in left_out]
    return _fit(rest).estimates if rest else {}
