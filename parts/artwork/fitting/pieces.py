"""Which lines and arcs noisy points were: the fewest that explain them, each at a price.

Dynamic programming over where one piece ends and the next begins (R. Bellman, "On the approximation of curves by line
segments using dynamic programming", Communications of the ACM 4, 1961), the squares of all pairs from running sums.
Prices in units of the points' variance, as criteria of information have them: a line 9, an arc 13.
"""

import math
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from parts.artwork.fitting.curves import Ints
from parts.artwork.fitting.offsets import Floats

_LINE, _ARC = 9.0, 13.0
_NOISE = (0.12, 0.4)
_OF_TOLERANCE = 0.25
# The least and the most that points are taken to be off, in blurs; and the least in tolerances: what is to be followed
# no closer is no reason for a piece more.
_MOST_PLACES = 180


def pieces_between(points: Floats, corner: Ints, weight: Floats, tolerance: float) -> tuple[Ints, NDArray[np.bool_]]:
    """Return where pieces of a closed ring of points, in blurs apart, begin, the first again at the end; which bend.

    Points of weight 0 have no say. The tolerance, in blurs, is how far they may be from the pieces.
    """
    n = len(points)
    start = int(corner[0]) if len(corner) else 0
    joints, bends = _around(points, start, corner, weight, tolerance)
    if not len(corner) and len(joints) > 2:  # the first joint was anybody's guess: from another one, it isn't kept
        joints, bends = _around(points, int(joints[len(joints) // 2]) % n, corner, weight, tolerance)
    return joints, bends


def _around(
    points: Floats, start: int, corner: Ints, weight: Floats, tolerance: float
) -> tuple[Ints, NDArray[np.bool_]]:
    """The pieces once round from a point, which is a joint, as corners are."""
    n = len(points)
    stops = (
        [start, *(start + np.sort((corner - start) % n))[1:].tolist(), start + n] if len(corner) else [start, start + n]
    )
    turn = np.arange(start, start + n + 1) % n
    sums = _Sums(points[turn], weight[turn], tolerance)
    joints: list[int] = []
    bends: list[bool] = []
    for a, b in pairwise(stops):
        found, bend = _best(sums, a - start, b - start)
        joints += [start + j for j in found[:-1]]
        bends += bend
    return np.array([*joints, start + n]), np.array(bends)


class _Sums:
    """Running sums of powers of points, from the middle of them all."""

    def __init__(self, points: Floats, weight: Floats, tolerance: float) -> None:
        x, y = (points - points.mean(axis=0)).T
        z = x * x + y * y
        terms = (np.ones_like(x), x, y, z, x * x, x * y, y * y, x * z, y * z, z * z)
        self._sums = np.array([np.concatenate([[0.0], np.cumsum(weight * term)]) for term in terms])
        second = points[2:] - 2 * points[1:-1] + points[:-2]
        seen = 1.48 * np.median(np.abs(second)) / math.sqrt(6)
        self.noise = min(max(float(seen), _NOISE[0], _OF_TOLERANCE * tolerance), _NOISE[1])

    def squares(self, first: Ints, last: Ints) -> tuple[Floats, Floats]:
        """What the best line, and the best arc, leave of points from each first to each last; I. Kåsa's circle."""
        n, x, y, z, xx, xy, yy, xz, yz, zz = self._sums[:, last + 1] - self._sums[:, first]
        n = np.maximum(n, 1)
        xx, xy, yy = xx - x * x / n, xy - x * y / n, yy - y * y / n
        xz, yz, zz = xz - x * z / n, yz - y * z / n, zz - z * z / n
        spread = np.sqrt((xx - yy) ** 2 / 4 + xy * xy)
        line = np.maximum((xx + yy) / 2 - spread, 0)
        det = np.maximum(xx * yy - xy * xy, 1e-9)
        a, b = (yy * xz - xy * yz) / det, (xx * yz - xy * xz) / det
        left = np.maximum(zz - a * xz - b * yz, 0)
        middle = (z - a * x - b * y) / n
        square = np.maximum(middle + (a * a + b * b) / 4, 1e-9)
        return line, np.where(n > 3, left / (4 * square), line)


def _best(sums: _Sums, first: int, last: int) -> tuple[list[int], list[bool]]:
    """The joints of the cheapest pieces from one point to another, both among them; and which pieces bend."""
    step = max((last - first) // _MOST_PLACES, 2)
    places = np.unique(np.append(np.arange(first, last - step // 2, step), last))
    m = len(places)
    i, j = np.triu_indices(m, 1)
    line, arc = sums.squares(places[i], places[j])
    variance = sums.noise**2
    costs = np.full((2, m, m), np.inf)
    costs[0, i, j] = line / variance + _LINE
    costs[1, i, j] = arc / variance + _ARC
    cheapest = costs.min(axis=0)
    total, came = np.zeros(m), np.zeros(m, dtype=np.int64)
    for k in range(1, m):
        sofar = total[:k] + cheapest[:k, k]
        came[k] = sofar.argmin()
        total[k] = sofar[came[k]]
    joints = [m - 1]
    while joints[-1]:
        joints.append(int(came[joints[-1]]))
    joints.reverse()
    bends = [bool(costs[1, a, b] < costs[0, a, b]) for a, b in pairwise(joints)]
    return places[joints].tolist(), bends
