"""Neighbouring pieces of noisy points made one, corners between them too, where one line or arc does for both.

A row of pixels steps along a slanted edge in long even runs, which look like pieces of their own to whoever reckons
with noise that differs from point to point. All of them lie within a pixel of the one edge, and so of one piece.

The circle through points: G. Taubin, "Estimation of planar curves, surfaces and nonplanar space curves defined by
implicit equations", IEEE Transactions on Pattern Analysis and Machine Intelligence 13 (1991), as the least
eigenvector of a 3 by 3 matrix; the distance from it is exact.
"""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from parts.artwork.fitting.curves import Ints
from parts.artwork.fitting.offsets import Floats

_MOST_SWEEP = math.radians(160)
ROUNDED = 2
# Points from a corner that its rounding reaches.
_SHORT = 12
_BESIDE = 0.5
# Points along a line so short that it may be part of an arc; and of the arc beside it, the share that is short too.
_LEAST_PIECES = 3
_UNEVEN = 1.25
# In limits, how far points may be to one side of a line, where half of their width is within one.


class _One(NamedTuple):
    """How far at most points are from one piece, and whether it bends."""

    off: float
    bends: bool


def merged(
    points: Floats, joints: Ints, bends: NDArray[np.bool_], corner: Ints, weight: Floats, limit: float
) -> tuple[Ints, NDArray[np.bool_]]:
    """Return the joints round a closed ring of points, the first again at the end, without those that needn't be.

    Args:
        points: n x 2, all round.
        joints: where pieces begin, ascending, the first again at the end, n further on.
        bends: which pieces are arcs.
        corner: points where it seems to turn; a corner is one only if no line or arc does for both sides and itself.
        weight: 0 for points that have no say but where they make a corner.
        limit: how far points may be from the piece they belong to.
    """
    n = len(points)
    at, bent = joints[:-1].tolist(), bends.tolist()
    tried: dict[tuple[int, int, bool], _One | None] = {}

    def one(i: int) -> _One | None:
        """The piece in place of those before and after the i-th joint; None where that doesn't do."""
        first, last = at[i - 1] - (n if i == 0 else 0), at[(i + 1) % len(at)] + (n if i + 1 == len(at) else 0)
        arcs = _may_bend(bent[i - 1], bent[i], at[i] - first, last - at[i])
        key = first, last, arcs
        if key not in tried:
            turn = np.arange(first, last + 1) % n
            has_say = weight[turn] > 0
            if at[i] % n in corner:
                has_say[max(at[i] - first - ROUNDED, 0) : at[i] - first + ROUNDED + 1] = True
            tried[key] = _one(points[turn[has_say]], limit, may_bend=arcs)
        return tried[key]

    waiting = [one(i) for i in range(len(at))]
    while len(at) > _LEAST_PIECES:
        best = min(range(len(at)), key=lambda i: piece.off if (piece := waiting[i]) else math.inf)
        if (made := waiting[best]) is None:
            break
        bent[best - 1] = made.bends
        del at[best], bent[best], waiting[best]
        for i in {(best - 1) % len(at), best % len(at)}:
            waiting[i] = one(i)
    return np.array([*at, at[0] + n]), np.array(bent)


def _may_bend(before: bool, after: bool, many_before: int, many_after: int) -> bool:
    """Tell whether two pieces may become an arc: not where one is a line long enough to have been drawn."""
    line_before = not before and many_before >= _SHORT and not (after and many_before < _BESIDE * many_after)
    line_after = not after and many_after >= _SHORT and not (before and many_after < _BESIDE * many_before)
    return not (line_before or line_after)


def _one(points: Floats, limit: float, *, may_bend: bool) -> _One | None:
    if len(points) < 3:
        return _One(0.0, bends=False)
    near = points - points.mean(axis=0)
    off = _off_line(near)
    if off.max() - off.min() <= 2 * limit and np.abs(off).max() <= _UNEVEN * limit:
        return _One(float(off.max() - off.min()) / 2, bends=False)
    far = _off_arc(near) if may_bend else math.inf
    return _One(far, bends=True) if far <= limit else None


def _off_line(near: Floats) -> Floats:
    """How far points about the origin are to the side of their line of least squares."""
    _, axes = np.linalg.eigh(near.T @ near)
    return np.asarray(near @ axes[:, 0])


def _off_arc(near: Floats) -> float:
    """How far at most points about the origin are from their circle; infinite where they go too far round it."""
    square = (near * near).sum(axis=1)
    mean = float(square.mean())
    scale = 2 * math.sqrt(mean)
    terms = np.column_stack([(square - mean) / scale, near])
    _, axes = np.linalg.eigh(terms.T @ terms)
    a, (b, c) = float(axes[0, 0]) / scale, axes[1:, 0].tolist()
    root = math.sqrt(max(b * b + c * c + 4 * a * a * mean, 1e-300))
    far = a * square + near @ np.array([b, c]) - a * mean
    off = np.abs(2 * far / (root + np.sqrt(np.maximum(root * root + 4 * a * far, 0.0))))
    long = float(np.hypot(*np.diff(near, axis=0).T).sum())
    return math.inf if 2 * abs(a) / root * long > _MOST_SWEEP else float(off.max())
