"""Where to begin with the joints between arcs: along each span as few as a share of the tolerance asks.

For every stretch of points the parabola of least squares is known from running sums; from a point on, the longest
stretch that one stands for well enough is the next arc.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from parts.artwork.fitting.curves import Curves, Ints
from parts.artwork.fitting.offsets import Floats

_WINDOW = 24
# So many points a stretch has at most; where they are dense, only every second, fourth... is looked at.
_DENSE = 0.5
# Points are dense where from more than this share of them a stretch could be longer.
_AT_ONCE = 500
# Rows in one go: what they take stays in the processor's cache.
# The largest deviation over the root of the mean square, of a cube less its parabola.
_PEAK = 1.37
_STARTS = 6


@dataclass(frozen=True)
class Breaks:
    """Where one span may be broken: its points that are looked at, and how well one arc stands for those from each on.

    Joints are points, by their numbers, the ends of the span among them.
    """

    points: Ints
    errors: Floats
    closed: bool

    def within(self, tolerance: float) -> Ints:
        """Return the fewest joints whose arcs, each by itself, are about within a tolerance."""
        return np.asarray(self.points[_walk(_reach(self.errors, tolerance / _PEAK), self.closed)])

    def without(self, joints: Ints, count: int) -> Ints:
        """Return the joints less some, no two of them neighbours, whose arcs on either side are best made one."""
        at = np.searchsorted(self.points, joints)
        at = np.minimum(at, len(self.points) - 1)
        before, after = (
            (at[:-2], at[2:]) if not self.closed else (np.concatenate([at[-2:-1] - at[-1] + at[0], at[:-2]]), at[1:])
        )
        wide = np.clip(after - before, 0, _WINDOW)
        cost = np.where(after - before > _WINDOW, np.inf, self.errors[np.maximum(before, 0), wide])
        gone: list[int] = []
        for i in np.argsort(cost, kind="stable").tolist():
            if len(gone) < count and not {i - 1, i + 1} & set(gone):
                gone.append(i)
        if not self.closed:
            return np.delete(joints, np.array(gone) + 1)
        kept = np.delete(joints[:-1], gone)
        return np.append(kept, kept[0] + joints[-1] - joints[0])


def breaks(curves: Curves, tolerance: float) -> list[Breaks]:
    """Return where each span may be broken."""
    stride = np.ones(len(curves.spans), dtype=np.int64)
    while True:
        rows = np.concatenate(
            [_every(*ends) for ends in zip(*(x.tolist() for x in (curves.first, curves.last, stride)), strict=True)]
        )
        table = _table(curves, rows)
        low, high = np.searchsorted(rows, curves.first), np.searchsorted(rows, curves.last)
        full = (table[:, -1] < tolerance / (2 * _PEAK)).astype(np.int64)
        dense = np.array([full[a : b + 1].mean() > _DENSE for a, b in zip(low, high, strict=True)])
        if not dense.any():
            return [
                Breaks(rows[a : b + 1], table[a : b + 1], span.closed)
                for a, b, span in zip(low, high, curves.spans, strict=True)
            ]
        stride = np.where(dense, 2 * stride, stride)


def _every(first: int, last: int, stride: int) -> Ints:
    found = np.arange(first, last + 1, stride)
    return found if found[-1] == last else np.append(found, last)


def _table(curves: Curves, rows: Ints) -> Floats:
    """The root of the mean square, in mm, for each row of points from one on; infinite past the end of a span."""
    ends = np.searchsorted(rows, curves.last)
    end = np.repeat(ends, np.diff(np.concatenate([[-1], ends])))
    parts = range(0, len(rows), _AT_ONCE)
    return np.vstack([_rows_of_table(curves, rows, end, np.arange(i, min(i + _AT_ONCE, len(rows)))) for i in parts])


def _rows_of_table(curves: Curves, rows: Ints, end: Ints, number: Ints) -> Floats:
    index = number[:, None] + np.arange(_WINDOW + 1)
    inside = index <= end[number, None]
    at = rows[np.where(inside, index, number[:, None])]
    first = rows[number]
    u = curves.along[at] - curves.along[first][:, None]
    v = curves.turned[at] - curves.turned[first][:, None] - curves.heading[first][:, None] * u
    u /= np.maximum(u.max(axis=1, keepdims=True), 1e-12)
    error = np.sqrt(np.clip(_left_over(u, v), 0, None) / np.arange(1, _WINDOW + 2))
    error[:, :3] = 0
    return np.where(inside, error, np.inf)


def _left_over(u: Floats, v: Floats) -> Floats:
    """The squares that the best parabola v(u) leaves, over the first 1, 2, 3... of each row.

    By polynomials orthogonal over the row so far, as P. J. Davis, "Interpolation and Approximation" (1963), has them.
    """
    count = np.arange(1, u.shape[1] + 1)
    u2 = u * u
    s1, s2, s3, s4 = (np.cumsum(power, axis=1) for power in (u, u2, u2 * u, u2 * u2))
    v0, v1, v2, vv = (np.cumsum(power, axis=1) for power in (v, v * u, v * u2, v * v))
    mean = s1 / count
    q1 = s2 - mean * s1
    p1 = v1 - mean * v0
    cubic = s3 - mean * s2
    slope = np.divide(cubic, q1, out=np.zeros_like(q1), where=q1 > 0)
    q2 = s4 - s2 * s2 / count - slope * cubic
    p2 = v2 - s2 / count * v0 - slope * p1
    tiny = 1e-14
    first = np.divide(p1 * p1, q1, out=np.zeros_like(q1), where=q1 > tiny)
    second = np.divide(p2 * p2, q2, out=np.zeros_like(q2), where=q2 > tiny)
    return np.asarray(vv - v0 * v0 / count - first - second)


def _reach(errors: Floats, limit: float) -> Ints:
    """How many steps on from each point one parabola is good for."""
    bad = errors > limit
    return np.asarray(np.maximum(np.where(bad.any(axis=1), bad.argmax(axis=1) - 1, errors.shape[1] - 1), 1))


def _walk(reach: Ints, closed: bool) -> list[int]:
    """The joints along one span, each as far from the last as one arc reaches; round a closed one the fewest."""
    far = reach.tolist()
    last = len(far) - 1
    if not closed:
        return _steps(far, 0, last)
    last //= 2
    first = min(far[0], last)
    starts = range(0, first, max(first // _STARTS, 1))
    return min((_steps(far, start, start + last) for start in starts), key=len)


def _steps(far: Sequence[int], first: int, last: int) -> list[int]:
    found = [first]
    while found[-1] < last:
        found.append(min(found[-1] + far[found[-1]], last))
    return found
