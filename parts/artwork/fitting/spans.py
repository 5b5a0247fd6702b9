"""Spans as tangent arcs within a tolerance, with as few as are found to do.

Each span has a ladder of ever more joints. All spans are tried at once, each on one rung; the next time on a rung with
fewer joints where that did, on one with more where it didn't, until its least is known.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from parts.artwork.fitting.breaks import ladders
from parts.artwork.fitting.chain import Chain, chain, deviations, fit_step, joining_step, kinks, shape
from parts.artwork.fitting.curves import Curves, curves
from parts.artwork.fitting.rings import Span
from parts.geometry import Vertex

_FITS, _JOINS, _ROUNDS = 6, 3, 5
_TANGENT_RAD = 1e-6


@dataclass
class _Search:
    """The rungs of one span: the fewest joints not known to fail, the fewest known to do, the one to try next."""

    low: int
    high: int
    rung: int
    best: list[Vertex] | None = None

    def told(self, vertices: list[Vertex] | None) -> None:
        """Take note of how the last try went, and choose the next rung."""
        if vertices is None:
            self.low = self.rung + 1
        else:
            self.high, self.best = self.rung, vertices
        self.rung = self.rung + 1 if self.best is None else (self.low + self.high) // 2

    @property
    def is_open(self) -> bool:
        """Whether there is a rung left to try."""
        return self.low < self.high


def tangent_arcs(spans: Sequence[Span], tolerance: float) -> list[list[Vertex] | None]:
    """Return for each span its vertices, the last point left out, or None where none were found to do."""
    if not spans:
        return []
    batch = curves(spans)
    rungs = ladders(batch, tolerance)
    searches = [_Search(0, len(ladder), likely) for ladder, likely in rungs]
    for _ in range(_ROUNDS):
        trying = [k for k, search in enumerate(searches) if search.is_open]
        if not trying:
            break
        made = chain(batch, trying, [rungs[k][0][searches[k].rung] for k in trying])
        for k, vertices in zip(trying, _tried(batch, made, trying, tolerance), strict=True):
            searches[k].told(vertices)
    return [search.best for search in searches]


def _tried(batch: Curves, made: Chain, spans: Sequence[int], tolerance: float) -> list[list[Vertex] | None]:
    """The vertices of each span whose arcs are tangent and within the tolerance."""
    with np.errstate(all="ignore"):
        for _ in range(_FITS):
            fit_step(batch, made, tolerance)
        for _ in range(_JOINS):
            joining_step(batch, made)
        worst = np.zeros(len(batch.spans))
        np.maximum.at(worst, made.span, deviations(batch, made))
        bent = np.zeros(len(batch.spans))
        np.maximum.at(bent, made.joint_span, np.abs(kinks(made, shape(made).angle)))
    ok = (worst <= tolerance) & (bent <= _TANGENT_RAD)
    rows = np.column_stack([made.at[made.start], np.tan(made.half / 2)]).tolist()
    ends = np.searchsorted(made.span, spans, side="right")
    starts = np.searchsorted(made.span, spans)
    return [
        [(x, y, bulge) for x, y, bulge in rows[a:b]] if ok[k] else None
        for k, a, b in zip(spans, starts.tolist(), ends.tolist(), strict=True)
    ]
