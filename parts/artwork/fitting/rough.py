"""A rough span as lines and arcs from point to point, not tangent: each as long as stays within the tolerance.

Along a coast, or what else turns at nearly every point, tangent arcs would be more and smaller than its own edges. An
arc through two points has one thing free, half its sweep; each point between allows it a range. P. K. Agarwal and
others' greedy way from the furthest point reached to the next is the fewest where stretches of good ones are good.
"""

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from parts.artwork.fitting.curves import Ints
from parts.artwork.fitting.offsets import Floats, edge_feet, right_offsets
from parts.artwork.fitting.rings import Span, turns
from parts.artwork.fitting.spans import Arcs
from parts.artwork.metal import MOST_TURN
from parts.geometry import Vertex

_STEPS = (32, 16, 8, 4, 2, 1)
_ROUGH = 0.05
# A span is rough where more than this share of its points turn further than chords of a curve do.
_MOST_HALF_SWEEP = 1.5
_AT_ONCE = 10_000
_NEARLY = 0.98
# Of the tolerance, what is asked by the points; the edges between them are measured afterwards.


def is_rough(span: Span) -> bool:
    """Tell whether a span turns at many points by more than a curve would."""
    inner = turns(span.points)[1:-1]
    sharp = int(np.count_nonzero(np.abs(inner) > 1.1 * MOST_TURN))
    return sharp > max(2, _ROUGH * len(inner))


def rough_arcs(span: Span, tolerance: float) -> Arcs:
    """Return a span as lines and arcs within the tolerance, whose ends are points of it."""
    points, last = span.points, len(span.points) - 1
    reach = _reaches(points, _NEARLY * tolerance)
    joints = [0]
    while joints[-1] < last:
        joints.append(joints[-1] + int(reach[joints[-1]]))
    vertices: list[Vertex] = []
    worst = 0.0
    waiting = list(pairwise(joints))[::-1]
    while waiting:
        a, b = waiting.pop()
        _, half = _ranges(points, np.array([a]), np.array([b]), _NEARLY * tolerance)
        off = _off(points[a : b + 1], float(half[0]))
        if off > tolerance and b > a + 1:
            waiting += [((a + b) // 2, b), (a, (a + b) // 2)]
        else:
            vertices.append((float(points[a, 0]), float(points[a, 1]), float(np.tan(half[0] / 2))))
            worst = max(worst, off)
    return Arcs(vertices, worst)


def _reaches(points: Floats, tolerance: float) -> Ints:
    """From each point on, how many points further one line or arc reaches."""
    last = len(points) - 1
    first = np.arange(last)
    reach = np.minimum(np.ones(last, dtype=np.int64), last - first)
    for step in _STEPS:
        tried = np.flatnonzero(first + reach + step <= last)
        for i in range(0, len(tried), _AT_ONCE):
            some = tried[i : i + _AT_ONCE]
            good, _ = _ranges(points, some, some + reach[some] + step, tolerance)
            reach[some[good]] += step
    return reach


def _ranges(points: Floats, first: Ints, last: Ints, tolerance: float) -> tuple[NDArray[np.bool_], Floats]:
    """Whether one arc does for the points between each two, and half its sweep; 0, a line, where that does.

    An arc through a and b turns at a point p between by pi less the angle that p sees them at; moving it there by the
    tolerance takes |ab| / |ap| |bp| of it.
    """
    count = last - first - 1
    low, high = np.full(len(first), -_MOST_HALF_SWEEP), np.full(len(first), _MOST_HALF_SWEEP)
    some = np.flatnonzero(count > 0)
    if len(some):
        count = count[some]
        start = np.cumsum(count) - count
        row = np.repeat(some, count)
        at = points[first[row] + 1 + np.arange(len(row)) - np.repeat(start, count)]
        ax, ay = (at - points[first[row]]).T
        bx, by = (at - points[last[row]]).T
        chord = points[last] - points[first]
        length = np.hypot(chord[:, 0], chord[:, 1])[row]
        half = np.arctan2(ay * bx - ax * by, -ax * bx - ay * by)
        room = tolerance * length / np.maximum(np.hypot(ax, ay) * np.hypot(bx, by), 1e-300)
        low[some] = np.maximum(low[some], np.maximum.reduceat(half - room, start))
        high[some] = np.minimum(high[some], np.minimum.reduceat(half + room, start))
    half = np.where((low <= 0) & (high >= 0), 0.0, (low + high) / 2)
    return low <= high, half


def _off(points: Floats, half: float) -> float:
    """How far at most an arc through the first and the last of some points is from them and their edges."""
    (x, y) = points[-1] - points[0]
    length = float(np.hypot(x, y))
    angle = np.arctan2(y, x) - half
    place = points[0], np.array([-np.sin(angle), np.cos(angle)]), np.array(2 * np.sin(half) / length)
    feet = edge_feet(points[:-1], points[1:], *place)
    along = (points - points[0]) @ np.array([x, y]) / length
    if along.min() < -1e-9 or along.max() > length + 1e-9:  # beyond an end, the end is what is near
        beyond = np.minimum(np.hypot(*(points - points[0]).T), np.hypot(*(points - points[-1]).T))
        return float(max(np.abs(right_offsets(feet, *place)).max(), beyond[(along < 0) | (along > length)].max()))
    return float(np.abs(right_offsets(np.vstack([points, feet]), *place)).max())
