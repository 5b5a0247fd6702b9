"""What a test bend shows: K, inside radius and deduction with their uncertainties."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from parts.cached import cached_property
from parts.truing.bend.model import Bent, allowance, allowance_gradient, deduction, deduction_gradient
from parts.truing.bend.reading import BendTest, numbers
from parts.truing.bend.student import coverage
from parts.truing.linear import Array


@dataclass(frozen=True, slots=True)
class BendEstimate:
    """One result, a ratio or mm, with its standard uncertainty and how many of those its 95 % interval has."""

    value: float
    standard_uncertainty: float
    coverage: float

    @property
    def margin95(self) -> float:
        """Half of the 95 % interval."""
        return self.coverage * self.standard_uncertainty

    @property
    def low95(self) -> float:
        """Lower end of the 95 % interval."""
        return self.value - self.margin95

    @property
    def high95(self) -> float:
        """Upper end of the 95 % interval."""
        return self.value + self.margin95


@dataclass(frozen=True)
class BendSolution:
    """What a test bend says.

    `own` and `common` are the covariances of K, R and T by what each strip has by itself and by all else.
    `gaps` are what is left of each strip, in its own standard uncertainty. `freedom` are the strips to spare,
    `chi_square` the sum of squares over them, `widened` the factor by which their own part is larger than they say.
    `disagreeing` are the indices of strips that don't go with the others; `without` is what each of these left out
    makes of it.
    """

    test: BendTest
    bent: Bent
    own: Array
    common: Array
    gaps: tuple[float, ...]
    chi_square: float
    freedom: int
    disagreeing: tuple[int, ...] = ()
    without: tuple["BendSolution", ...] = ()

    @property
    def scatter(self) -> float:
        """How many times as much the strips scatter as they say (Birge ratio); 1 where there is none to spare."""
        return math.sqrt(self.chi_square / self.freedom) if self.freedom else 1.0

    @property
    def widened(self) -> float:
        """The factor on what each strip has by itself."""
        known = numbers().scatter.freedom
        pooled = math.sqrt((known + self.chi_square) / (known + self.freedom))
        return max(1.0, pooled, self.scatter if self.disagreeing else 1.0)

    @cached_property
    def covariance(self) -> Array:
        """The covariance of K, R and T."""
        return np.asarray(self.widened**2 * self.own + self.common)

    def estimate(self, value: float, gradient: Sequence[float]) -> BendEstimate:
        """Return what hangs on K, R and T with this gradient, as well as it is known.

        Where strips disagree, whichever of them is wrong, the truth is in the interval that the others make.
        """
        g = np.asarray(gradient)
        own, whole = self.widened**2 * float(g @ self.own @ g), float(g @ self.covariance @ g)
        freedom = (numbers().scatter.freedom + self.freedom) * (whole / own) ** 2 if own > 0 else math.inf
        found = BendEstimate(value, math.sqrt(max(whole, 0.0)), coverage(freedom))
        for other in self.without:
            moved = float(g @ (np.asarray(other.bent) - np.asarray(self.bent)))
            needed = abs(moved) + other.estimate(0.0, gradient).margin95
            if needed > found.margin95:
                found = replace(found, standard_uncertainty=needed / found.coverage)
        return found

    @property
    def estimates(self) -> Mapping[str, BendEstimate]:
        """K, the inside radius, the thickness, and of the angle that was meant the deduction and the allowance."""
        angle, bent = self.test.angle, self.bent
        return {
            "k": self.estimate(bent.k, (1, 0, 0)),
            "inside_radius": self.estimate(bent.radius, (0, 1, 0)),
            "thickness": self.estimate(bent.thickness, (0, 0, 1)),
            "deduction": self.estimate(deduction(bent, angle), deduction_gradient(bent, angle)),
            "allowance": self.estimate(allowance(bent, angle), allowance_gradient(bent, angle)),
        }

    @property
    def correlation(self) -> float:
        """Of K and the inside radius."""
        return self.correlation_of((1, 0, 0), (0, 1, 0))

    def correlation_of(self, a: Sequence[float], b: Sequence[float]) -> float:
        """Return the correlation of two results by their gradients."""
        x, y, c = np.asarray(a), np.asarray(b), self.covariance
        return float(x @ c @ y / math.sqrt((x @ c @ x) * (y @ c @ y)))
