"""Scan lines across what is cut: where they pass from one piece of metal to another.

line      one of a family of parallel lines, a fixed step apart; everything is turned so that they stand upright, and
          moved so that line 0 is at x = 0
interval  a stretch of a line through what is cut, from the metal below to the metal above
chain     intervals on lines side by side, each overlapping the next, between the same two pieces
"""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from parts.cached import cached_property

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]


@dataclass(frozen=True)
class Scan:
    """The intervals on all lines, sorted by line and then upwards.

    `below` and `above` are the pieces at their ends. `span` is more than the height of everything.
    """

    step: float
    line: Indices
    low: Floats
    high: Floats
    below: Indices
    above: Indices
    bottom: float
    span: float

    @cached_property
    def _lengths(self) -> Floats:
        return self.high - self.low

    @cached_property
    def _keys(self) -> Floats:
        """Line and height of each interval's low end in one number, in order; the first is below everything."""
        return np.concatenate([[-np.inf], self._key(self.line, self.low)])

    @cached_property
    def _cut_before(self) -> Floats:
        return np.concatenate([[0.0, 0.0], np.cumsum(self._lengths)[:-1]])

    def _key(self, line: Indices, y: Floats) -> Floats:
        return np.asarray(line * self.span + np.clip(y - self.bottom, 0.0, 0.999 * self.span), dtype=np.float64)

    def share_cut(self, line: Indices, low: Floats, high: Floats) -> Floats:
        """Return which share of stretches of lines is cut."""
        share: Floats = (self._cut_below(line, high) - self._cut_below(line, low)) / np.maximum(high - low, 1e-9)
        return share

    def _cut_below(self, line: Indices, y: Floats) -> Floats:
        """How much is cut below heights on lines, counted from one place for all heights on a line."""
        key = self._key(line, y)
        k = np.searchsorted(self._keys, key, side="right") - 1
        length = np.concatenate([[0.0], self._lengths])
        found: Floats = self._cut_before[k] + np.minimum(key - self._keys[k], length[k])
        return found

    def length_at(self, line: Indices, y: Floats) -> Floats:
        """Return how long the interval is that holds a place on a line; 0 where there is metal."""
        key = self._key(line, y)
        k = np.searchsorted(self._keys, key, side="right") - 1
        length = np.concatenate([[0.0], self._lengths])[k]
        held: Floats = np.where(key - self._keys[k] <= length, length, 0.0)
        return held

    @cached_property
    def chains(self) -> Indices:
        """Rows of (chain, index of the interval), sorted by chain, then by line; of intervals that join two pieces."""
        chosen = np.flatnonzero((self.below != self.above) & (self.below >= 0) & (self.above >= 0))
        if not len(chosen):
            return np.empty((0, 2), dtype=np.int64)
        follows = self._following(chosen)
        head = np.arange(len(chosen))
        has = follows >= 0
        head[follows[has]] = np.flatnonzero(has)
        while len(on := np.flatnonzero(head[head] != head)):  # doubling: each points further back along its chain
            head[on] = head[head[on]]
        order = np.lexsort((self.line[chosen], head))
        return np.stack([head[order], chosen[order]], axis=1)

    def _following(self, chosen: Indices) -> Indices:
        """The interval on the next line that goes on from each, as an index into `chosen`; -1 where there is none."""
        count = int(max(self.below.max(), self.above.max())) + 1
        pair = self.below[chosen] * count + self.above[chosen]
        of_pair = np.unique(pair, return_inverse=True)[1]
        lines = int(self.line.max() - self.line.min()) + 2
        group = of_pair * lines + (self.line[chosen] - self.line.min())
        low, high = self.low[chosen] - self.bottom, self.high[chosen] - self.bottom
        order = np.argsort(group * self.span + low, kind="stable")
        keys = (group * self.span + high)[order]
        k = np.searchsorted(keys, (group + 1) * self.span + low, side="right")
        nearest = order[np.minimum(k, len(order) - 1)]
        goes_on = (k < len(order)) & (group[nearest] == group + 1) & (low[nearest] < high)
        follows = np.where(goes_on, nearest, -1)
        taken = np.unique(follows, return_index=True)[1]  # where two run into one, only the first goes on
        only: Indices = np.full(len(chosen), -1)
        only[taken] = follows[taken]
        return only


def scanned(rings: Iterable[tuple[int, Floats]], step: float, most: int | None = None) -> Scan:
    """Return where upright lines pass through what is cut; of these only `most` either side of x = 0 if that is told.

    `rings` are closed (n x 2), each with the piece that it bounds; the outermost has metal beyond it.
    """
    rings = list(rings)
    x0 = np.concatenate([ring[:-1, 0] for _, ring in rings]) / step
    x1 = np.concatenate([ring[1:, 0] for _, ring in rings]) / step
    y0 = np.concatenate([ring[:-1, 1] for _, ring in rings])
    y1 = np.concatenate([ring[1:, 1] for _, ring in rings])
    owner = np.repeat([piece for piece, _ in rings], [len(ring) - 1 for _, ring in rings])
    # a side has the lines from its left end to just before its right end, so that a shared corner counts once
    first = np.ceil(np.minimum(x0, x1)).astype(np.int64)
    last = np.ceil(np.maximum(x0, x1)).astype(np.int64)
    if most is not None:
        first, last = np.maximum(first, -most), np.minimum(last, most + 1)
    count = np.maximum(last - first, 0)
    side = np.repeat(np.arange(len(count)), count)
    line = first[side] + np.arange(len(side)) - np.repeat(np.cumsum(count) - count, count)
    y = y0[side] + (line - x0[side]) * ((y1 - y0)[side] / (x1 - x0)[side])
    order = np.lexsort((y, line))
    line, y, of = line[order], y[order], owner[side[order]]
    bottom = float(y0.min()) - 1.0
    return Scan(
        step, line[::2], y[::2], y[1::2], of[::2], of[1::2], bottom, (float(y0.max()) - bottom) * 2 + 10.0
    )  # fmt: skip
