"""Curved spans by the arc length along them: one batch of all, so that all are fitted at once.

Seen along its length s, a path that stays near a curve lies e(s) to the side of it, and e' is how far their headings
differ. A run of arcs is then a run of parabolas that stand for Y(s), the integral of the curve's heading: tangent arcs
are parabolas that run on into each other smoothly. What is reckoned so is only where to begin.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from parts.artwork.fitting.offsets import Floats
from parts.artwork.fitting.rings import Span

Ints = NDArray[np.int64]

_LONGER, _MOST_CUTS = 2.0, 8
# An edge that is longer than so many of its neighbours is cut, so that as many places are looked at along it.


@dataclass(frozen=True)
class Curves:
    """Points of spans, one after the other; of a closed span twice round.

    `along` is the length in mm from the first point on, growing from span to span too; `turned` is Y, `heading` its
    slope, each from an origin and a direction of the span's own. Points of `weight` 0 have no say in a fit. `first`,
    `last` and `length` are of each span.
    """

    spans: tuple[Span, ...]
    points: Floats
    along: Floats
    turned: Floats
    heading: Floats
    weight: Floats
    first: Ints
    last: Ints
    length: Floats

    @property
    def closed(self) -> NDArray[np.bool_]:
        """Whether each span goes all the way round."""
        return np.array([span.closed for span in self.spans])


def curves(spans: Sequence[Span]) -> Curves:
    """Return spans as one batch."""
    rows = [_row(span) for span in spans]
    counts = [len(row[0]) for row in rows]
    last = np.cumsum(counts, dtype=np.int64) - 1
    lengths = np.array([row[1][-1] for row in rows])
    starts = np.cumsum(lengths + 1) - lengths - 1
    return Curves(
        tuple(spans),
        np.vstack([row[0] for row in rows]),
        np.concatenate([row[1] + start for row, start in zip(rows, starts, strict=True)]),
        np.concatenate([row[2] for row in rows]),
        np.concatenate([row[3] for row in rows]),
        np.ones(sum(counts)),
        last + 1 - np.array(counts, dtype=np.int64),
        last,
        lengths / np.array([2 if span.closed else 1 for span in spans]),
    )


def _row(span: Span) -> tuple[Floats, Floats, Floats, Floats]:
    """Points, length along, turned and heading of one span."""
    points = _cut(span.points)
    edge = np.diff(points, axis=0)
    length = np.hypot(edge[:, 0], edge[:, 1])
    angle = np.unwrap(np.arctan2(edge[:, 1], edge[:, 0]))
    if span.closed:
        closing = (angle[0] - angle[-1] + math.pi) % (2 * math.pi) - math.pi
        angle = np.concatenate([angle, angle + (angle[-1] - angle[0] + closing)])
        length, points = np.concatenate([length, length]), np.vstack([points, points[1:]])
    heading = _headings(angle, length)
    if span.leaving is not None:
        heading[0] = angle[0] + _wrapped(span.leaving - angle[0])
    if span.arriving is not None:
        heading[-1] = angle[-1] + _wrapped(span.arriving - angle[-1])
    middle = angle.mean()
    zero = np.zeros(1)
    return (
        points,
        np.concatenate([zero, np.cumsum(length)]),
        np.concatenate([zero, np.cumsum((angle - middle) * length)]),
        heading - middle,
    )


def _headings(angle: Floats, length: Floats) -> Floats:
    """The heading at each point of a chain: that of the circle through it and both its neighbours."""
    turn = np.diff(angle)
    if not len(turn):
        return np.array([angle[0], angle[0]])
    inner = angle[:-1] + turn * length[:-1] / (length[:-1] + length[1:])
    return np.concatenate([[2 * angle[0] - inner[0]], inner, [2 * angle[-1] - inner[-1]]])


def _cut(points: Floats) -> Floats:
    """The points with more of them along edges that are long beside their neighbours."""
    edge = np.diff(points, axis=0)
    length = np.hypot(edge[:, 0], edge[:, 1])
    padded = np.concatenate([length[:1], length, length[-1:]])
    beside = np.maximum(padded[:-2], padded[2:]) if len(length) > 1 else length
    cuts = np.clip(np.ceil(length / (_LONGER * beside)), 1, _MOST_CUTS).astype(np.int64)
    if cuts.max() == 1:
        return points
    edges = np.repeat(np.arange(len(length)), cuts)
    step = (np.arange(len(edges)) - np.repeat(np.cumsum(cuts) - cuts, cuts)) / cuts[edges]
    return np.vstack([points[edges] + step[:, None] * edge[edges], points[-1:]])


def _wrapped(angle: float) -> float:
    return (angle + math.pi) % (2 * math.pi) - math.pi
