"""Lines and arcs fitted to metal: every ring a loop, all loops sound."""

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np
import shapely

from parts.artwork.fitting.noisy import noisy_arcs
from parts.artwork.fitting.offsets import Floats
from parts.artwork.fitting.records import Fit, Fitted
from parts.artwork.fitting.rings import DROPPED_MM, Span, Straight, cleaned, split, turns
from parts.artwork.fitting.rough import is_rough, rough_arcs
from parts.artwork.fitting.shares import outline_of, outline_of_rings
from parts.artwork.fitting.spans import Arcs, tangent_arcs
from parts.artwork.fitting.whole_circle import whole_circle
from parts.artwork.metal import Metal
from parts.errors import GeometryError
from parts.geometry import Loop, circle, meetings
from parts.wanted import step

_TIGHTER = (1.0, 0.5, 0.2, 0.0)
# Of the tolerance, what is tried in turn where loops meet or go astray; with none of it, the points are the loop.
_ROUND = 0.35
# In tolerances, how far noisy points of a circle are off in the mean square; corners of a polygon are further.


@lru_cache(maxsize=4)  # what is made of it is kept where it is made
def fitted(metal: Metal, fit: Fit) -> Fitted:
    """Return loops of lines and arcs within the tolerance of metal, each of its rings a loop of its own.

    Arcs are tangent to each other and to straight edges but at corners. No loops meet.
    """
    rings = [shapely.get_coordinates(ring)[:-1] for piece in metal.geoms for ring in (piece.exterior, *piece.interiors)]
    outside = [i == 0 for piece in metal.geoms for i in range(1 + len(piece.interiors))]
    made = _sound(rings, fit)
    loops = [one.loop.running(counter_clockwise=out) for one, out in zip(made, outside, strict=True)]
    return Fitted(
        tuple(loop for loop, out in zip(loops, outside, strict=True) if out),
        tuple(loop for loop, out in zip(loops, outside, strict=True) if not out),
        max((one.deviation for one in made), default=0.0),
        outline_of_rings(rings),
        outline_of(loops),
    )


class _Made(NamedTuple):
    """A loop, and how far at most it and its ring are apart."""

    loop: Loop
    deviation: float


def _sound(rings: Sequence[Floats], fit: Fit) -> list[_Made]:
    """Loops that don't meet: where some would, they are fitted tighter."""
    made: list[_Made | None] = [None] * len(rings)
    again = list(range(len(rings)))
    for share in _TIGHTER:
        step()
        for i, found in zip(again, _loops([rings[i] for i in again], fit, share), strict=True):
            made[i] = found
        known = [i for i, one in enumerate(made) if one is not None]
        met = {known[j] for m in meetings([one.loop for one in made if one]) for j in (m.loop_a, m.loop_b)}
        again = sorted(met.union(range(len(rings))).difference(set(known) - met))
        if not again:
            break
    return [one for one in made if one is not None]


def _loops(rings: Sequence[Floats], fit: Fit, share: float) -> list[_Made | None]:
    """The loops fitted to rings within a share of the tolerance; None where that makes none."""
    if not share:
        return [_Made(Loop.through([(float(x), float(y), 0.0) for x, y in ring]), 0.0) for ring in rings]
    if fit.blur_mm:
        return [_of_noisy(ring, fit, share) for ring in rings]
    tolerance, corner = share * fit.tolerance_mm - DROPPED_MM, math.radians(fit.corner_deg)
    points = [cleaned(ring) for ring in rings]
    made = [_whole(ring, tolerance, corner) for ring in points]
    parts = [[] if one else split(ring, corner, tolerance, fit.flat_mm) for one, ring in zip(made, points, strict=True)]
    spans = [part for row in parts for part in row if isinstance(part, Span)]
    arcs = iter(_arcs(spans, tolerance))
    found = []
    for one, row in zip(made, parts, strict=True):
        found.append(one or _joined([_straight(part) if isinstance(part, Straight) else next(arcs) for part in row]))
    return found


def _of_noisy(ring: Floats, fit: Fit, share: float) -> _Made | None:
    """The loop fitted to a ring of noisy points; where it didn't do, lines and arcs from point to point."""
    step()
    tolerance, blur = share * fit.tolerance_mm, fit.blur_mm
    if share == 1 and (one := whole_circle(ring, tolerance)) and one.spread <= _ROUND * tolerance:
        grown = min(blur**2 / (2 * one.radius), tolerance - one.deviation)
        return _Made(circle((one.x, one.y), 2 * (one.radius + grown)), one.deviation + grown)
    found = noisy_arcs(ring, fit.corner_deg, tolerance, blur) if share == 1 else None
    around = Span(np.vstack([ring, ring[:1]]), None, None, closed=True)
    return _joined([found or rough_arcs(around, tolerance / 2)])


def _straight(edge: Straight) -> Arcs:
    return Arcs([(float(edge.start[0]), float(edge.start[1]), 0.0)], 0.0)


def _arcs(spans: Sequence[Span], tolerance: float) -> list[Arcs]:
    """Each span as arcs: tangent ones, but where it is rough or none are found."""
    rough = [is_rough(span) for span in spans]
    found = iter(tangent_arcs([span for span, is_so in zip(spans, rough, strict=True) if not is_so], tolerance))
    return [
        (None if is_so else next(found)) or rough_arcs(span, tolerance)
        for span, is_so in zip(spans, rough, strict=True)
    ]


def _joined(parts: Sequence[Arcs]) -> _Made | None:
    """The loop of arcs and edges, one after the other."""
    try:
        loop = Loop.through([vertex for part in parts for vertex in part.vertices])
    except GeometryError:
        return None
    return _Made(loop, max(part.deviation for part in parts) + DROPPED_MM)


def _whole(ring: Floats, tolerance: float, corner: float) -> _Made | None:
    """The ring as a full circle, where it is one."""
    found = whole_circle(ring, tolerance)
    if found is None or np.abs(turns(ring)).max() > corner:
        return None
    return _Made(circle((found.x, found.y), 2 * found.radius), found.deviation)
