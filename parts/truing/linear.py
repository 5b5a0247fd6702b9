"""The least-squares system of readings: the table's errors, and beside them those that readings share.

Generalised least squares with the covariance diag(u²) + C C', the columns of C being what one standard uncertainty of
each shared error makes of the readings, is ordinary least squares over the table's errors x and the shared ones s, in
their standard uncertainties, with a further observation s = 0 for each:

    minimise |(y - f(x) - C s) / u|² + |s|²

(prior information as observations: Björck, Numerical Methods for Least Squares Problems). Written so, no matrix of
nearly equal covariances has to be inverted.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from parts.tolerance import SETTLED_RANK, SETTLED_SHARE
from parts.truing.instruments import shared
from parts.truing.model import NAMES, Errors, gradient, shown
from parts.truing.reading import Reading

Array = NDArray[np.float64]


@dataclass(frozen=True)
class System:
    """Readings, their standard uncertainties u and shared effects over u, of shape (readings, shared errors)."""

    readings: tuple[Reading, ...]
    u: Array
    effects: Array

    def gaps(self, errors: Errors, common: Array) -> Array:
        """Return what is left of readings and of shared errors, each in its standard uncertainty."""
        own = np.array([r.measured - shown(r, errors) for r in self.readings]) / self.u
        return np.concatenate([own - self.effects @ common, -common])

    def at(self, errors: Errors, rank: int) -> "Linear":
        """Return the system linearised at errors of the table; `rank` is that of the table's columns alone."""
        count, common = self.effects.shape
        top = np.hstack([jacobian(self.readings, errors) / self.u[:, None], self.effects])
        bottom = np.hstack([np.zeros((common, len(NAMES))), np.eye(common)])
        return Linear(count, *decomposed(np.vstack([top, bottom]), rank + common))


@dataclass(frozen=True)
class Linear:
    """A system's singular value decomposition, columns scaled to length 1; the first `count` rows are readings."""

    count: int
    scales: Array
    left: Array
    values: Array
    rows: Array

    @property
    def covariance(self) -> Array:
        """The covariance of the table's errors."""
        root = (self.rows.T / self.values / self.scales[:, None])[: len(NAMES)]
        return np.asarray(root @ root.T)

    @property
    def spare(self) -> Array:
        """The redundancy number of each reading: the share of a slip in it that the others show (Baarda)."""
        return np.asarray(1 - np.sum(self.left[: self.count] ** 2, axis=1))

    @property
    def gains(self) -> Array:
        """How far each error moves with a reading that is off by its own uncertainty, of shape (errors, readings)."""
        inverse = (self.rows.T / self.values / self.scales[:, None])[: len(NAMES)]
        return np.asarray(inverse @ self.left[: self.count].T)

    def step(self, gaps: Array) -> Array:
        """Return the Gauss-Newton step of the table's errors, then of the shared ones, by minimum norm."""
        return np.asarray(self.rows.T @ ((self.left.T @ gaps) / self.values) / self.scales)


def system(readings: Sequence[Reading]) -> System:
    """Return the least-squares system of readings."""
    u = np.array([reading.u for reading in readings])
    effects = np.array(shared(readings)).reshape(-1, len(readings)).T
    return System(tuple(readings), u, effects / u[:, None])


def jacobian(readings: Sequence[Reading], errors: Errors) -> Array:
    """Return the gradient of what each reading shows, of shape (readings, errors)."""
    return np.array([gradient(reading, errors) for reading in readings])


def seen(readings: Sequence[Reading]) -> tuple[int, tuple[str, ...]]:
    """Return the rank of the readings' Jacobian, and which errors are determined each by itself; to first order.

    Of second order they may see more, a difference of scales times an angle; noise would be all of that.
    """
    u, slopes = np.array([reading.u for reading in readings]), jacobian(readings, Errors())
    _, _, values, rows = decomposed(slopes / u[:, None])
    return len(values), tuple(name for j, name in enumerate(NAMES) if _is_settled(j, rows, slopes))


def decomposed(weighted: Array, rank: int | None = None) -> tuple[Array, Array, Array, Array]:
    """Return column scales and the singular values and vectors of the scaled matrix, as many as its rank.

    The rank is that of the matrix, unless given.

    Scaled to columns of length 1, so that ratios, radians and mm are judged alike.
    """
    scales = np.linalg.norm(weighted, axis=0)
    scales[scales == 0] = 1.0
    left, values, rows = np.linalg.svd(weighted / scales, full_matrices=False)
    kept = values > SETTLED_RANK * values[0] if rank is None else np.arange(len(values)) < rank
    return scales, left[:, kept], values[kept], rows[kept]


def _is_settled(j: int, rows: Array, slopes: Array) -> bool:
    """Whether an error lies in the row space: nothing of it is left in the null space."""
    return bool(np.any(slopes[:, j])) and float(1 - np.sum(rows[:, j] ** 2)) < SETTLED_SHARE
