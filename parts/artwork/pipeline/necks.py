"""Necks that holding, joining and fitting made, looked for and laid over with metal until none is under its width.

own   parts as they were drawn, before anything was joined or tied: a neck of one alone is its own matter
"""

from collections.abc import Iterator, Sequence

import shapely

from parts.artwork.fitting import Fit, Fitted, fitted
from parts.artwork.metal import Metal, metal_from
from parts.artwork.sturdy.thin import thin_places
from parts.geometry.narrow import Neck, necks

_MOST_ROUNDS = 4
_MORE_MM = 0.06
# A disc over a fitted neck is so much wider, on a round more each time: it is fitted to again.
_ON_OWN_MM = 0.05
# An end of a neck so near to the boundary of a part, and as near as the fit, lies on it.
_AROUND = 3.0
# How far about a neck a part is looked at, in the neck's widths.
_SEEN, _LAP_MM = 6.0, 1e-3
# How far about a neck what is laid over it is looked for, in radii; how far what closes a notch laps over.
_NOTCH = 0.75
# In radii, how large at most what is closed beside a disc is: its root is the notch that is left there.


def fitted_wide(metal: Metal, width: float, own: Sequence[shapely.Geometry], fit: Fit) -> Fitted:
    """Return lines and arcs fitted to metal so that no neck but what its `own` parts have is under a width, mm."""
    smooth = fitted(metal, fit)
    for number in range(1, _MOST_ROUNDS + 1):
        short = [*_made_necks(smooth, width, own, _ON_OWN_MM + fit.tolerance_mm + fit.blur_mm)]
        if not short:
            break
        metal = _laid_over(metal, short, width / 2 + number * _MORE_MM / 2, own)
        smooth = fitted(metal, fit)
    return smooth


def _made_necks(smooth: Fitted, width: float, own: Sequence[shapely.Geometry], near: float) -> Iterator[Neck]:
    """Yield the necks under a width that no part has by itself, its boundary being `near` enough to both ends."""
    found = necks([*smooth.outside, *smooth.inside], width) if width else []
    if not found:
        return
    tree = shapely.STRtree(own)
    for neck in found:
        around = tree.query(shapely.Point(neck.middle), "intersects")
        if not any(_is_own(own[k], neck, near) for k in around.tolist()):
            yield neck


def _is_own(part: shapely.Geometry, neck: Neck, near: float) -> bool:
    """Whether a part is as narrow there and wider on both sides, or no wider on either; a point has one that is."""
    local = shapely.intersection(part, shapely.Point(neck.middle).buffer(_AROUND * neck.width))
    ends = shapely.points([neck.start, neck.end])
    if (shapely.distance(shapely.boundary(part), ends) > near).any():
        return False
    wider = shapely.buffer(local, -neck.width / 2 - near)
    return bool(wider.is_empty) or len(shapely.get_parts(wider)) > 1


def _laid_over(metal: Metal, short: Sequence[Neck], radius: float, own: Sequence[shapely.Geometry]) -> Metal:
    """The metal with a disc at each neck, and along it where it is long and of no part.

    Notches beside these are closed as far as a jet would leave them.
    """
    middles = [shapely.Point(neck.middle) for neck in short]
    near = shapely.union_all([at.buffer(_SEEN * radius) for at in middles])
    seen = shapely.intersection(metal, near)
    axes = [neck.axis for neck in thin_places(seen, 2 * radius, [(neck.start, neck.end) for neck in short])[0]]
    axes = [axis for axis in axes if shapely.distance(middles, axis).min() <= radius]
    around = [part for part in own if shapely.intersects(part, near)]
    along = shapely.difference(shapely.union_all(axes), shapely.union_all(around))
    added = [part.buffer(radius, quad_segs=32) for part in (*middles, *shapely.get_parts(along))]
    there = shapely.union_all([seen, *added])
    closed = shapely.buffer(shapely.buffer(there, radius / 2, quad_segs=32), -radius / 2, quad_segs=32)
    beside = shapely.STRtree(added)
    notches = [
        part.buffer(_LAP_MM)
        for part in shapely.get_parts(shapely.difference(closed, there))
        if part.area < (_NOTCH * radius) ** 2 and len(beside.query(part, "dwithin", distance=_LAP_MM))
    ]
    return metal_from(shapely.union_all([metal, *added, *notches]))
