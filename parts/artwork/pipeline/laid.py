"""Parts laid over each other as one piece of metal, so that it can be cut where they meet.

neck   what two parts have in common where they lie over each other
gap    what lies between two parts or more, too narrow for the jet; what lies in one part alone is its own matter
web    a gap that is open at both ends: filled, it is a neck
"""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from parts.artwork.metal import Metal, disc, metal_from

_OVER_MM = 0.12
"""So much wider than asked: lines and arcs are fitted to both sides."""
_SPECK = 0.02
"""What is closed and smaller than this share of the square of a gap is a rounding of corners."""
_LAP_MM = 0.001


def laid_over(parts: Sequence[shapely.Geometry], neck: float, gap: float) -> Metal:
    """Return parts as one metal: no neck between two is narrower than asked, and no gap; mm.

    What is narrow in a part by itself stays as it is.
    """
    neck, gap = neck + _OVER_MM, gap + _OVER_MM
    whole = shapely.union_all([*parts, *_discs(parts, neck)])
    filled = _gaps(whole, gap, np.array(parts))
    webs = [*_webs(filled, whole, neck)]
    whole = shapely.union_all([whole, *shapely.buffer(filled, _LAP_MM), *webs])
    if webs:  # beside a disc there may be gaps again
        filled = _gaps(whole, gap, np.array([*parts, *webs]))
        whole = shapely.union_all([whole, *shapely.buffer(filled, _LAP_MM)])
    return metal_from(whole)


def _gaps(whole: shapely.Geometry, across: float, parts: NDArray[np.object_]) -> NDArray[np.object_]:
    """What lies between two parts or more and is narrower than asked: all but its mouths, off by what nobody sees.

    Along the edges of the whole there would be slivers of rounding else.
    """
    closed = shapely.buffer(shapely.buffer(whole, across / 2, quad_segs=16), -across / 2 - 2 * _LAP_MM, quad_segs=16)
    pieces: NDArray[np.object_] = shapely.get_parts(shapely.difference(closed, whole))
    pieces = pieces[shapely.area(pieces) > _SPECK * across**2]
    beside = shapely.STRtree(parts).query(pieces, "dwithin", distance=_LAP_MM)[0]
    return pieces[np.bincount(beside, minlength=len(pieces)) > 1]


def _webs(filled: NDArray[np.object_], whole: shapely.Geometry, across: float) -> Iterator[shapely.Geometry]:
    """Yield a disc over each web that is narrower than one."""
    around = shapely.buffer(whole, _LAP_MM)
    for piece in filled:
        free = shapely.get_parts(shapely.line_merge(shapely.difference(shapely.boundary(piece), around)))
        ends = free[shapely.length(free) > _LAP_MM]
        if len(ends) > 1:
            line = shapely.shortest_line(*ends[np.argsort(-shapely.length(ends), kind="stable")[:2]])
            if shapely.length(line) < across:
                x, y = shapely.get_coordinates(shapely.centroid(line))[0].tolist()
                yield disc((x, y), across / 2)


def _discs(parts: Sequence[shapely.Geometry], across: float) -> list[shapely.Geometry]:
    """A disc over each neck that is narrower than one."""
    every = np.array(parts)
    a, b = shapely.STRtree(every).query(every, "intersects")
    once = a < b
    common = shapely.get_parts(shapely.intersection(every[a[once]], every[b[once]]))
    common = common[shapely.area(common) > 0]
    narrow = common[shapely.is_empty(shapely.buffer(common, -across / 2, quad_segs=4))]
    return [disc((x, y), across / 2) for x, y in shapely.get_coordinates(shapely.point_on_surface(narrow)).tolist()]
