"""Lines and arcs fitted to metal: every ring a loop, all loops sound."""

import math
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
import shapely

from parts.artwork.fitting.biarcs import along
from parts.artwork.fitting.deviation import deviation
from parts.artwork.fitting.offsets import Floats
from parts.artwork.fitting.records import Fit, Fitted
from parts.artwork.fitting.rings import Span, Straight, cleaned, split, turns
from parts.artwork.fitting.shares import outline_of, outline_of_rings
from parts.artwork.fitting.spans import tangent_arcs
from parts.artwork.fitting.whole_circle import whole_circle
from parts.artwork.metal import Metal
from parts.errors import GeometryError
from parts.geometry import Loop, Vertex, circle, meetings

_TIGHTER = (1.0, 0.5, 0.2, 0.0)
# Of the tolerance, what is tried in turn where loops meet or go astray; with none of it, the points are the loop.


@lru_cache(maxsize=32)
def fitted(metal: Metal, fit: Fit) -> Fitted:
    """Return loops of lines and arcs within the tolerance of metal, each of its rings a loop of its own.

    Arcs are tangent to each other and to straight edges but at corners. No loops meet.
    """
    rings = [shapely.get_coordinates(ring)[:-1] for piece in metal.geoms for ring in (piece.exterior, *piece.interiors)]
    outside = [i == 0 for piece in metal.geoms for i in range(1 + len(piece.interiors))]
    loops, off = _sound(rings, fit)
    loops = [loop.running(counter_clockwise=out) for loop, out in zip(loops, outside, strict=True)]
    return Fitted(
        tuple(loop for loop, out in zip(loops, outside, strict=True) if out),
        tuple(loop for loop, out in zip(loops, outside, strict=True) if not out),
        off,
        outline_of_rings(rings),
        outline_of(loops),
    )


def _sound(rings: Sequence[Floats], fit: Fit) -> tuple[list[Loop], float]:
    """Loops that don't meet, and how far they are at most from their rings: where some do meet, they are fitted tighter."""
    loops: list[Loop | None] = [None] * len(rings)
    off = [0.0] * len(rings)
    again = list(range(len(rings)))
    level = 0
    while again:
        for i, loop in zip(again, _loops([rings[i] for i in again], fit, _TIGHTER[level]), strict=True):
            loops[i], off[i] = _checked(loop, rings[i], fit, loops[i])
        level += 1
        sound = [loop for loop in loops if loop is not None]
        met = {i for m in meetings(sound) for i in (m.loop_a, m.loop_b)} if len(sound) == len(loops) else set()
        again = [i for i, loop in enumerate(loops) if loop is None or i in met] if level < len(_TIGHTER) else []
    return [loop for loop in loops if loop is not None], max(off, default=0.0)


def _checked(loop: Loop | None, ring: Floats, fit: Fit, before: Loop | None) -> tuple[Loop | None, float]:
    """A loop that is within the tolerance, and how far from its ring at most."""
    if loop is None:
        return None, 0.0
    off = deviation(loop, ring)
    return (loop, off) if off <= fit.tolerance_mm else (None, 0.0)


def _loops(rings: Sequence[Floats], fit: Fit, share: float) -> list[Loop | None]:
    """The loops fitted to rings within a share of the tolerance; None where that makes none."""
    if not share:
        return [Loop.through([(float(x), float(y), 0.0) for x, y in ring]) for ring in rings]
    tolerance, corner = share * fit.tolerance_mm, math.radians(fit.corner_deg)
    made = [_whole(ring, tolerance, corner) for ring in rings]
    parts = [[] if loop else split(cleaned(ring), corner, tolerance) for loop, ring in zip(made, rings, strict=True)]
    spans = [part for row in parts for part in row if isinstance(part, Span)]
    arcs = iter(tangent_arcs(spans, tolerance))
    for i, row in enumerate(parts):
        vertices: list[Vertex] = []
        for part in row:
            if isinstance(part, Straight):
                vertices.append((float(part.start[0]), float(part.start[1]), 0.0))
            else:
                vertices += next(arcs) or along(part, tolerance)
        made[i] = made[i] or _closed(vertices)
    return made


def _closed(vertices: Sequence[Vertex]) -> Loop | None:
    try:
        return Loop.through(vertices)
    except GeometryError:
        return None


def _whole(ring: Floats, tolerance: float, corner: float) -> Loop | None:
    """The ring as a full circle, where it is one."""
    found = whole_circle(ring, tolerance)
    if found is None or np.abs(turns(cleaned(ring))).max() > corner:
        return None
    return circle((found.x, found.y), 2 * found.radius)
