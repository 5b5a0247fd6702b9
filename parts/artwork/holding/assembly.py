"""Metal put together anew from its pieces and the bridges between them."""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import shapely
from shapely.geometry.polygon import orient

from parts.artwork.holding.nooks import nooks
from parts.artwork.holding.openings import Opening
from parts.artwork.metal import Metal, metal_from

_SPECK_MM2 = 1e-2
"""What is cut or left beside a bridge and smaller is rounding where two closings meet."""


class Joint(NamedTuple):
    """An opening with loose pieces, and the bridges across it."""

    opening: Opening
    bridges: tuple[shapely.Polygon, ...]


def assembled(parts: Sequence[shapely.Polygon], joints: Sequence[Joint], kerf: float) -> Metal:
    """Return the pieces with bridges between them, and with nooks beside these closed; every other ring as it was."""
    crossed = {(joint.opening.holder, joint.opening.hole): joint for joint in joints}
    within = {piece for (holder, _), joint in crossed.items() if holder >= 0 for piece in joint.opening.pieces}
    outer = [i for i in range(len(parts)) if i not in within]
    cut: list[shapely.Polygon] = []
    for i, part in enumerate(parts):
        for j, ring in enumerate(part.interiors):
            hole = shapely.Polygon(ring)
            cut += _still_cut(hole, parts, crossed[i, j], kerf) if (i, j) in crossed else [hole]
    filled = [shapely.Polygon(parts[i].exterior) for i in outer]
    if (-1, -1) in crossed:
        filled = _joined(filled, crossed[-1, -1], kerf)
    if any(part.interiors for part in cut):  # something hangs on nothing still, and has openings of its own
        return metal_from(shapely.union_all([*parts, *(bridge for joint in joints for bridge in joint.bridges)]))
    return _with_holes(filled, cut)


def _still_cut(
    hole: shapely.Polygon, parts: Sequence[shapely.Polygon], joint: Joint, kerf: float
) -> list[shapely.Polygon]:
    """What is cut of an opening with its pieces tied."""
    around = shapely.Polygon(hole.exterior, [parts[piece].exterior for piece in joint.opening.pieces])
    cut = shapely.difference(around, shapely.union_all(joint.bridges))
    if closed := nooks(cut, joint.bridges, kerf):
        cut = shapely.difference(cut, shapely.union_all(closed))
    return [part for part in shapely.get_parts(cut) if part.geom_type == "Polygon" and part.area > _SPECK_MM2]


def _joined(filled: list[shapely.Polygon], joint: Joint, kerf: float) -> list[shapely.Polygon]:
    """Pieces side by side, tied."""
    near = shapely.union_all(joint.bridges).buffer(5 * kerf)
    cut = shapely.difference(near, shapely.union_all([*filled, *joint.bridges]))
    whole = shapely.union_all([*filled, *joint.bridges, *nooks(cut, joint.bridges, kerf)])
    return [
        shapely.Polygon(part.exterior, [ring for ring in part.interiors if shapely.Polygon(ring).area > _SPECK_MM2])
        for part in shapely.get_parts(whole)
        if part.area > _SPECK_MM2
    ]


def _with_holes(filled: list[shapely.Polygon], cut: list[shapely.Polygon]) -> Metal:
    """Outer polygons with what is cut taken out."""
    holes: list[list[shapely.LinearRing]] = [list(part.interiors) for part in filled]
    if len(filled) > 1 and cut:
        inside = shapely.STRtree(filled).query(shapely.point_on_surface(np.array(cut, dtype=object)), "within")
        home = dict(inside.T.tolist())
    else:
        home = dict.fromkeys(range(len(cut)), 0)
    for k, part in enumerate(cut):
        holes[home[k]].append(part.exterior)
    made = [orient(shapely.Polygon(part.exterior, own)) for part, own in zip(filled, holes, strict=True)]
    order = sorted(range(len(made)), key=lambda k: made[k].bounds)
    return shapely.MultiPolygon([made[k] for k in order])
