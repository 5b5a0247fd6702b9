"""Parts laid over each other as one piece of metal, so that it can be cut where they meet.

neck   what two parts have in common where they lie over each other
gap    what lies between parts near to where they meet, too narrow for the jet; what is so within one part is its own
web    a gap that is open at both ends: filled, it is a neck
"""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely

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
    between = shapely.difference(_closing(whole, gap), shapely.union_all(_closing(np.array(parts), gap)))
    pieces = shapely.get_parts(shapely.difference(between, whole))
    filled = pieces[shapely.area(pieces) > _SPECK * gap**2]
    webs = _webs(filled, whole, neck)
    return metal_from(shapely.union_all([whole, *shapely.buffer(filled, _LAP_MM), *webs]))


def _webs(filled: Sequence[shapely.Geometry], whole: shapely.Geometry, across: float) -> Iterator[shapely.Geometry]:
    """Yield a disc over each web that is narrower than one."""
    around = shapely.buffer(whole, 10 * _LAP_MM)
    for piece in filled:
        free = shapely.get_parts(shapely.line_merge(shapely.difference(shapely.boundary(piece), around)))
        ends = free[shapely.length(free) > _LAP_MM]
        if len(ends) > 1:
            line = shapely.shortest_line(*ends[np.argsort(-shapely.length(ends))[:2]])
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


def _closing(shape: shapely.Geometry, across: float) -> shapely.Geometry:
    """The shape with what no disc gets into from outside filled."""
    return shapely.buffer(shapely.buffer(shape, across / 2, quad_segs=12), -across / 2, quad_segs=12)
