"""Necks that holding, joining and fitting made, looked for and laid over with metal until none is under its width.

own   parts as they were drawn, before anything was joined or tied: a neck or a gap of one alone is its own matter
gap   where two parts, or a part and a bridge, come nearer to each other than a jet can cut: metal is laid over it too
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely

from parts.artwork.fitting import Fit, Fitted, fitted
from parts.artwork.metal import Metal, metal_from, pieces
from parts.artwork.pipeline.small import without_small
from parts.artwork.sturdy.thin import thin_places
from parts.geometry import Point
from parts.geometry.narrow import Neck, gaps, necks

_MOST_ROUNDS = 12
# As what is laid over a neck can come near to other metal, which makes another; few take more than two.
_MORE_MM = 0.06
# A disc over a fitted neck is so much wider, or by the fit's tolerance, and more each round: it is fitted to again.
_ON_OWN_MM = 0.05
# An end of a neck so near to the boundary of a part, and as near as the fit, lies on it.
_AROUND = 3.0
# How far about a neck a part is looked at, in the neck's widths.
_SEEN, _LAP_MM = 6.0, 1e-3
# How far about a neck what is laid over it is looked for, in radii; how far what closes a notch laps over.
_NOTCH = 0.75
# In radii, how large at most what is closed beside a disc is: its root is the notch that is left there.


@dataclass(frozen=True)
class Least:
    """What comes out no narrower, mm: necks, gaps, and openings that come of it, by the largest circle in them."""

    neck: float = 0.0
    gap: float = 0.0
    opening: float = 0.0


def fitted_wide(metal: Metal, least: Least, own: Sequence[shapely.Geometry], fit: Fit) -> Fitted:
    """Return lines and arcs fitted to metal, where nothing but what its `own` parts have is narrower than told."""
    smooth = fitted(metal, fit)
    gap_wide = least.gap + 2 * fit.tolerance_mm
    more = max(_MORE_MM, fit.tolerance_mm)
    near = _ON_OWN_MM + fit.tolerance_mm + fit.blur_mm
    for number in range(1, _MOST_ROUNDS + 1):
        short, apart = [*_made_necks(smooth, least.neck, own, near)], [*_made_gaps(smooth, least.gap, own, near)]
        if not short and not apart:
            break
        radius = (least.neck or least.gap) / 2 + number * more / 2
        wide = _laid_over(metal, short, [gap.middle for gap in apart], (radius, max(radius, gap_wide) / 2), own)
        metal = without_small(wide, pieces(metal), least.opening) if apart and least.opening else wide
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


def _made_gaps(smooth: Fitted, width: float, own: Sequence[shapely.Geometry], near: float) -> Iterator[Neck]:
    """Yield the gaps under a width but those with both ends on one part."""
    found = gaps([*smooth.outside, *smooth.inside], width) if width else []
    if not found:
        return
    tree = shapely.STRtree(shapely.boundary(own))
    for gap in found:
        start, end = (tree.query(shapely.Point(at), "dwithin", distance=near) for at in (gap.start, gap.end))
        if not set(start.tolist()) & set(end.tolist()):
            yield gap


def _is_own(part: shapely.Geometry, neck: Neck, near: float) -> bool:
    """Whether a part is as narrow there and wider on both sides, or no wider on either; a point has one that is."""
    local = shapely.intersection(part, shapely.Point(neck.middle).buffer(_AROUND * neck.width))
    ends = shapely.points([neck.start, neck.end])
    if (shapely.distance(shapely.boundary(part), ends) > near).any():
        return False
    wider = shapely.buffer(local, -neck.width / 2 - near)
    return bool(wider.is_empty) or len(shapely.get_parts(wider)) > 1


def _laid_over(
    metal: Metal,
    short: Sequence[Neck],
    apart: Sequence[Point],
    radii: tuple[float, float],
    own: Sequence[shapely.Geometry],
) -> Metal:
    """The metal with a disc at each neck and each gap, and along a neck where it is long and of no part.

    Notches beside these are closed as far as a jet would leave them: by the second of the radii.
    """
    radius, root = radii
    middles = [shapely.Point(at) for at in (*(neck.middle for neck in short), *apart)]
    near = shapely.union_all([at.buffer(_SEEN * radius) for at in middles])
    seen = shapely.intersection(metal, near)
    axes = [neck.axis for neck in thin_places(seen, 2 * radius, [(neck.start, neck.end) for neck in short])[0]]
    axes = [axis for axis in axes if shapely.distance(middles, axis).min() <= radius]
    around = [part for part in own if shapely.intersects(part, near)]
    along = shapely.difference(shapely.union_all(axes), shapely.union_all(around))
    added = [part.buffer(radius, quad_segs=32) for part in (*middles, *shapely.get_parts(along))]
    there = shapely.union_all([seen, *added])
    closed = shapely.buffer(shapely.buffer(there, root, quad_segs=32), -root, quad_segs=32)
    beside = shapely.STRtree(added)
    notches = [
        shapely.intersection(part.buffer(_LAP_MM), closed)
        for part in shapely.get_parts(shapely.difference(closed, there))
        if part.area < (_NOTCH * radius) ** 2 and len(beside.query(part, "dwithin", distance=_LAP_MM))
    ]
    return metal_from(shapely.union_all([metal, *added, *notches]))
