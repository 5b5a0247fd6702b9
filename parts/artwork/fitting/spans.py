"""Spans as tangent arcs within a tolerance, with as few as are found to do.

All spans are tried at once. Where that did, fewer joints are tried next. Where it didn't, the arcs that are too far off
are halved; where most are, there are to be more joints everywhere.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from parts.artwork.fitting.breaks import Breaks, breaks
from parts.artwork.fitting.chain import Chain, chain, deviations, fit_step, joining_step, kinks, shape
from parts.artwork.fitting.curves import Curves, Ints, curves
from parts.artwork.fitting.rings import Span
from parts.artwork.recent import Recent
from parts.geometry import Vertex

_FITS, _JOINS, _ROUNDS = 4, 2, 6
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


_Form: TypeAlias = tuple[bytes, bytes, bool]
_known: Recent[tuple[_Form, float], tuple[Arcs | None]] = Recent(4000)
# The spans of some dozens of signs.


def forget_fitted() -> None:
    """Keep nothing of what was fitted."""
    _known.clear()


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

    Spans of one shape, as the same letter has them, are fitted once, and what was found is kept for the next drawing.
    """
    forms = [_form(span) for span in spans]
    found = {form: _known.get((form, tolerance)) for form in forms}
    lacking = [form for form, known in found.items() if known is None]
    for form, arcs in zip(lacking, _fitted([_span_of(form) for form in lacking], tolerance), strict=True):
        found[form] = _known.keep((form, tolerance), (arcs,))
    return [_there(of[0], span) for form, span in zip(forms, spans, strict=True) if (of := found[form])]


def _form(span: Span) -> _Form:
    """What is the same of spans that are one moved to another place: how their points lie from the first."""
    ends = [math.nan if angle is None else angle for angle in (span.leaving, span.arriving)]
    points = np.round((span.points - span.points[0]) / _SAME_FORM) + 0.0
    return points.tobytes(), np.round(np.array(ends) / _SAME_FORM).tobytes(), span.closed


def _span_of(form: _Form) -> Span:
    """A span of a form, which begins at the origin."""
    leaving, arriving = (None if math.isnan(x) else x * _SAME_FORM for x in np.frombuffer(form[1]).tolist())
    return Span(np.frombuffer(form[0]).reshape(-1, 2) * _SAME_FORM, leaving, arriving, form[2])


def _there(arcs: Arcs | None, span: Span) -> Arcs | None:
    """Arcs along a span that begins at the origin moved to one of its form."""
    if arcs is None:
        return None
    x0, y0 = span.points[0].tolist()
    return Arcs([(x + x0, y + y0, bulge) for x, y, bulge in arcs.vertices], arcs.deviation + _SAME_FORM)


def _fitted(spans: Sequence[Span], tolerance: float) -> list[Arcs | None]:
    """Arcs along spans, all searched for side by side."""
    if not spans:
        return []
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
