"""Lines and arcs fitted to metal."""

import math
from functools import lru_cache

import numpy as np
import shapely

from parts.artwork.fitting.biarcs import along
from parts.artwork.fitting.deviation import deviation
from parts.artwork.fitting.offsets import Floats
from parts.artwork.fitting.records import Fit, Fitted
from parts.artwork.fitting.rings import Span, cleaned, split, turns
from parts.artwork.fitting.shares import outline_of, outline_of_rings
from parts.artwork.fitting.whole_circle import whole_circle
from parts.artwork.metal import Metal
from parts.geometry import Loop, circle, meetings

_TIGHTER = (1.0, 0.5, 0.25, 0.0)
# Of the tolerance, what is tried in turn where loops meet; with none, the points themselves are the loop.


@lru_cache(maxsize=32)
def fitted(metal: Metal, fit: Fit) -> Fitted:
    """Return loops of lines and arcs within the tolerance of metal, each metal's ring a loop of its own."""
    rings = [shapely.get_coordinates(ring)[:-1] for piece in metal.geoms for ring in (piece.exterior, *piece.interiors)]
    outer = [i == 0 for piece in metal.geoms for i in range(1 + len(piece.interiors))]
    tries = [0] * len(rings)
    made = [_loop(ring, fit, 1.0) for ring in rings]
    while meeting := {i for m in meetings([loop for loop, _ in made]) for i in (m.loop_a, m.loop_b)}:
        again = [i for i in sorted(meeting) if tries[i] < len(_TIGHTER) - 1]
        if not again:
            break
        for i in again:
            tries[i] += 1
            made[i] = _loop(rings[i], fit, _TIGHTER[tries[i]])
    loops = [loop.running(counter_clockwise=out) for (loop, _), out in zip(made, outer, strict=True)]
    return Fitted(
        tuple(loop for loop, out in zip(loops, outer, strict=True) if out),
        tuple(loop for loop, out in zip(loops, outer, strict=True) if not out),
        max((off for _, off in made), default=0.0),
        outline_of_rings(rings),
        outline_of(loops),
    )


def _loop(ring: Floats, fit: Fit, share: float) -> tuple[Loop, float]:
    """The loop fitted to a ring within a share of the tolerance, and its deviation."""
    points = cleaned(ring)
    tolerance = share * fit.tolerance_mm
    corner = math.radians(fit.corner_deg)
    if share:
        if np.abs(turns(points)).max() <= corner and (found := whole_circle(points, tolerance)):
            return circle((found.x, found.y), 2 * found.radius), found.deviation
        vertices: list[tuple[float, float, float]] = []
        for part in split(points, corner, tolerance):
            vertices += along(part, tolerance) if isinstance(part, Span) else [(*map(float, part.start), 0.0)]
        if len(vertices) > 1:
            loop = Loop.through(vertices)
            off = deviation(loop, ring)
            if off <= fit.tolerance_mm:
                return loop, off
        return _loop(ring, fit, share / 2 if share > 0.1 else 0.0)
    return Loop.through([(float(x), float(y), 0.0) for x, y in ring]), 0.0
