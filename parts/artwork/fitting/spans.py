"""Spans as tangent arcs within a tolerance, with as few as are found to do.

Each span has a ladder of ever more joints. All spans are tried at once, each on one rung; the next time on a rung with
fewer joints where that did. Where it didn't, the arcs that are too far off are halved; where most are, it is tried on
a rung with more joints.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from parts.artwork.fitting.breaks import ladders
from parts.artwork.fitting.chain import Chain, chain, deviations, fit_step, joining_step, kinks, shape
from parts.artwork.fitting.curves import Curves, Ints, curves
from parts.artwork.fitting.rings import Span
from parts.geometry import Vertex

_FITS, _JOINS, _ROUNDS = 6, 3, 8
_TANGENT_RAD = 1e-6
_FEW = 0.4
# Up to this share of its arcs being too far off, a span is mended where they are.


class Arcs(NamedTuple):
    """A span as tangent arcs: vertices, the last point left out, and how far at most they and the points are apart."""

    vertices: list[Vertex]
    deviation: float


class _Try(NamedTuple):
    """How a try went: what it made, if that does; or else which arcs don't, and the joints that they are between."""

    arcs: Arcs | None
    bad: NDArray[np.bool_]
    joints: Ints


@dataclass
class _Search:
    """The rungs of one span: the fewest joints not known to fail, the fewest known to do; and what to try next."""

    ladder: list[Ints]
    rung: int
    low: int = 0
    best: Arcs | None = None
    joints: Ints | None = None

    def next(self) -> Ints | None:
        """Return the joints to try next, or None where no try is left."""
        if self.joints is not None:
            return self.joints
        return self.ladder[self.rung] if self.low <= self.rung < len(self.ladder) else None

    def told(self, tried: _Try) -> None:
        """Take note of how the last try went."""
        fewest = math.inf if self.best is None else len(self.best.vertices)
        if tried.arcs is not None:
            if len(tried.arcs.vertices) < fewest:
                self.best = tried.arcs
            self.joints = None
            self.rung = min((self.low + self.rung) // 2, self.rung - 1)
            return
        halved = _halved(tried)
        if tried.bad.mean() <= _FEW and len(halved) - 1 < fewest and len(halved) > len(tried.joints):
            self.joints = halved
            return
        self.joints = None
        self.low = self.rung + 1
        self.rung = self.low


def _halved(tried: _Try) -> Ints:
    """The joints with one more between those of each arc that doesn't do."""
    low, high = tried.joints[:-1][tried.bad], tried.joints[1:][tried.bad]
    return np.unique(np.concatenate([tried.joints, (low + high) // 2]))


def tangent_arcs(spans: Sequence[Span], tolerance: float) -> list[Arcs | None]:
    """Return each span as tangent arcs, or None where none were found to do."""
    if not spans:
        return []
    batch = curves(spans)
    searches = [_Search(ladder, likely) for ladder, likely in ladders(batch, tolerance)]
    for _ in range(_ROUNDS):
        trying = [(k, joints) for k, search in enumerate(searches) if (joints := search.next()) is not None]
        if not trying:
            break
        made = chain(batch, [k for k, _ in trying], [joints for _, joints in trying])
        for (k, _), tried in zip(trying, _tried(batch, made, [k for k, _ in trying], tolerance), strict=True):
            searches[k].told(tried)
    return [search.best for search in searches]


def _tried(batch: Curves, made: Chain, spans: Sequence[int], tolerance: float) -> list[_Try]:
    """How arcs along each span do that are fitted, made tangent, and measured."""
    with np.errstate(all="ignore"):
        for _ in range(_FITS):
            fit_step(batch, made, tolerance)
        for _ in range(_JOINS):
            joining_step(batch, made)
        off = deviations(batch, made)
        bent = np.abs(kinks(made, shape(made).angle)) > _TANGENT_RAD
    bad = (off > tolerance) | bent[made.start] | bent[made.end]
    rows = np.column_stack([made.at[made.start], np.tan(made.half / 2)]).tolist()
    tries = []
    for k in spans:
        a, b = np.searchsorted(made.span, (k, k + 1)).tolist()
        if bad[a:b].any():
            tries.append(_Try(None, bad[a:b], _joints(batch, made, k, a, b)))
        else:
            tries.append(_Try(Arcs([(x, y, bulge) for x, y, bulge in rows[a:b]], float(off[a:b].max())), bad[a:b], _NONE))
    return tries


_NONE: Ints = np.empty(0, dtype=np.int64)


def _joints(batch: Curves, made: Chain, span: int, a: int, b: int) -> Ints:
    """The points nearest to where the joints of arcs from a up to b are now, the end among them."""
    first, last = batch.first[span], batch.last[span]
    at = np.clip(np.searchsorted(batch.along, made.along[made.start[a:b]] - 1e-9), first, last)
    if not batch.spans[span].closed:
        return np.append(np.minimum(at, last - 1), last)
    around = (last - first) // 2
    shift = -around if at[0] >= first + around else 0
    return np.append(at, at[0] + around) + shift
