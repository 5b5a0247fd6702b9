"""Necks that holding, joining and fitting made, looked for and laid over with discs until none is under its width.

own   parts as they were drawn, before anything was joined or tied: a neck of one alone is its own matter
"""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from parts.artwork.fitting import Fit, Fitted, fitted
from parts.artwork.metal import Metal, disc, metal_from
from parts.geometry import Point
from parts.geometry.narrow import Neck, necks

_MOST_ROUNDS = 4
_MORE_MM = 0.06
# A disc over a fitted neck is so much wider, on a round more each time: it is fitted to again.
_ON_OWN_MM = 0.05
# An end of a neck so near to the boundary of a part, and as near as the fit, lies on it.
_NOTCH = 0.75
# In radii, how large at most what is closed beside a disc is: its root is the notch that is left there.


def fitted_wide(metal: Metal, width: float, own: Sequence[shapely.Geometry], fit: Fit) -> Fitted:
    """Return lines and arcs fitted to metal so that no neck but what its `own` parts have is under a width, mm."""
    smooth = fitted(metal, fit)
    for number in range(1, _MOST_ROUNDS + 1):
        short = [neck.middle for neck in _made_necks(smooth, width, own, _ON_OWN_MM + fit.tolerance_mm + fit.blur_mm)]
        if not short:
            break
        metal = _laid_over(metal, short, width / 2 + number * _MORE_MM / 2)
        smooth = fitted(metal, fit)
    return smooth


def _made_necks(smooth: Fitted, width: float, own: Sequence[shapely.Geometry], near: float) -> Iterator[Neck]:
    """Yield the necks under a width that no part has by itself: whose ends aren't both near the boundary of one."""
    found = necks([*smooth.outside, *smooth.inside], width)
    if not found:
        return
    tree, edges = shapely.STRtree(own), shapely.boundary(np.array(own, dtype=object))
    for neck in found:
        ends = shapely.points([neck.start, neck.end])
        around = tree.query(shapely.Point(neck.middle), "intersects")
        if not any((shapely.distance(edges[k], ends) <= near).all() for k in around.tolist()):
            yield neck


def _laid_over(metal: Metal, middles: Sequence[Point], radius: float) -> Metal:
    """The metal with a disc at each place, and the notches beside these closed as far as a jet would leave them."""
    discs = [disc(at, radius) for at in middles]
    near = shapely.union_all([shapely.Point(at).buffer(4 * radius) for at in middles])
    there = shapely.union_all([shapely.intersection(metal, near), *discs])
    closed = shapely.buffer(shapely.buffer(there, radius / 2, quad_segs=32), -radius / 2, quad_segs=32)
    beside = shapely.STRtree(discs)
    notches = [
        part.buffer(1e-3)
        for part in shapely.get_parts(shapely.difference(closed, there))
        if part.area < (_NOTCH * radius) ** 2 and len(beside.query(part, "dwithin", distance=1e-3))
    ]
    return metal_from(shapely.union_all([metal, *discs, *notches]))
