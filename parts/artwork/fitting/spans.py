"""Spans as tangent arcs within a tolerance, with as few as are found to do.

All spans are tried at once. Where that did, fewer joints are tried next. Where it didn't, the arcs that are too far off
are halved; where most are, there are to be more joints everywhere.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from parts.artwork.fitting.breaks import Breaks, breaks
from parts.artwork.fitting.chain import Chain, chain, deviations, fit_step, joining_step, kinks, shape
from parts.artwork.fitting.curves import Curves, Ints, curves
from parts.artwork.fitting.rings import Span
from parts.geometry import Vertex

_FITS, _JOINS, _ROUNDS = 5, 2, 8
_FIRST_SHARE, _LEAST_SHARE, _CLOSER = 0.32, 0.02, 0.75
# Of the tolerance, what arcs are to hold each by itself: at first, at the least, and from one to the next.
_TANGENT_RAD = 1e-6
_SAME_FORM = 1e-6
# Spans whose points differ by less, in mm, from one to the other, are of one form.
_FEW = 0.4
# Up to this share of its arcs being too far off, a span is mended where they are.


class Arcs(NamedTuple):
    """A span as tangent arcs: vertices, the last point left out, and how far at most they and the points are apart."""

    vertices: list[Vertex]
    deviation: float


class _Try(NamedTuple):
    """How a try went: what it made, if that does; which arcs don't; and the joints that they are between."""

    arcs: Arcs | None
    bad: NDArray[np.bool_]
    joints: Ints


@dataclass
class _Search:
    """The search for the fewest joints of one span: which to try next, and the best so far with its own joints."""

    breaks: Breaks
    tolerance: float
    share: float = _FIRST_SHARE
    joints: Ints | None = None
    best: _Try | None = None
    fewer: int = 0

    def __post_init__(self) -> None:
        self.joints = self.breaks.within(self.share * self.tolerance)

    @property
    def arcs(self) -> Arcs | None:
        """The best found."""
        return self.best.arcs if self.best else None

    def told(self, tried: _Try) -> None:
        """Take note of how the last try went, and choose what is next: None, when that is all."""
        if tried.arcs is not None:
            self.best = tried
            slack = tried.arcs.deviation / self.tolerance
            count = len(tried.arcs.vertices)
            self.fewer = max(int(count * (1 - slack ** (1 / 3))), 1)
        elif self.best:
            self.fewer //= 2
        if self.best:
            self.joints = self._with_fewer(self.best.joints)
        elif tried.bad.mean() <= _FEW and len(halved := _halved(tried)) > len(tried.joints):
            self.joints = halved
        else:
            self._closer(len(tried.joints))

    def _with_fewer(self, joints: Ints) -> Ints | None:
        """The best's joints without some; a ring keeps three."""
        least = 4 if self.breaks.closed else 2
        fewer = min(self.fewer, len(joints) - least)
        return self.breaks.without(joints, fewer) if fewer > 0 else None

    def _closer(self, count: int) -> None:
        """More joints than there were, evenly."""
        self.joints = None
        while self.share > _LEAST_SHARE and self.joints is None:
            self.share *= _CLOSER
            joints = self.breaks.within(self.share * self.tolerance)
            self.joints = joints if len(joints) > count else None


def _halved(tried: _Try) -> Ints:
    """The joints with one more between those of each arc that doesn't do."""
    low, high = tried.joints[:-1][tried.bad], tried.joints[1:][tried.bad]
    return np.unique(np.concatenate([tried.joints, (low + high) // 2]))


def tangent_arcs(spans: Sequence[Span], tolerance: float) -> list[Arcs | None]:
    """Return each span as tangent arcs, or None where none were found to do.

    Spans of one shape, as the same letter has them, are fitted once.
    """
    firsts: dict[bytes, int] = {}
    same = [firsts.setdefault(_form(span), i) for i, span in enumerate(spans)]
    once = [spans[i] for i in firsts.values()]
    found = dict(zip(firsts.values(), _fitted(once, tolerance) if once else [], strict=True))
    return [_there(found[i], spans[i], span) for i, span in zip(same, spans, strict=True)]


def _form(span: Span) -> bytes:
    """What is the same of spans that are one moved to another place."""
    ends = [math.nan if angle is None else angle for angle in (span.leaving, span.arriving)]
    form = np.concatenate([(span.points - span.points[0]).ravel(), ends, [float(span.closed)]])
    return (np.round(form / _SAME_FORM) + 0.0).tobytes()


def _there(arcs: Arcs | None, like: Span, span: Span) -> Arcs | None:
    """Arcs along one span moved to another of its form."""
    if arcs is None or like is span:
        return arcs
    dx, dy = (span.points[0] - like.points[0]).tolist()
    moved = [(x + dx, y + dy, bulge) for x, y, bulge in arcs.vertices]
    if not span.closed:
        moved[0] = (float(span.points[0, 0]), float(span.points[0, 1]), moved[0][2])
    return Arcs(moved, arcs.deviation + _SAME_FORM)


def _fitted(spans: Sequence[Span], tolerance: float) -> list[Arcs | None]:
    """Arcs along spans, all searched for side by side."""
    batch = curves(spans)
    searches = [_Search(one, tolerance) for one in breaks(batch, tolerance)]
    for _ in range(_ROUNDS):
        trying = [k for k, search in enumerate(searches) if search.joints is not None]
        if not trying:
            break
        made = chain(batch, trying, [joints for s in searches if (joints := s.joints) is not None])
        for k, tried in zip(trying, _tried(batch, made, trying, tolerance), strict=True):
            searches[k].told(tried)
    return [search.arcs for search in searches]


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
        arcs = Arcs([(x, y, bulge) for x, y, bulge in rows[a:b]], float(off[a:b].max()))
        tries.append(_Try(None if bad[a:b].any() else arcs, bad[a:b], _joints(batch, made, k, a, b)))
    return tries


def _joints(batch: Curves, made: Chain, span: int, a: int, b: int) -> Ints:
    """The points nearest to where the joints of arcs from a up to b are now, the end among them."""
    first, last = batch.first[span], batch.last[span]
    at = np.clip(np.searchsorted(batch.along, made.along[made.start[a:b]] - 1e-9), first, last)
    if not batch.spans[span].closed:
        return np.append(np.minimum(at, last - 1), last)
    around = (last - first) // 2
    shift = -around if at[0] >= first + around else 0
    return np.append(at, at[0] + around) + shift
