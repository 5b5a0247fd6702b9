"""Nooks beside bridges that a jet wouldn't get into: closed with metal."""

from collections.abc import Sequence

import shapely

_BLUNTEST = 2.0
"""The limit of a mitre: a nook of less than 60 degrees is closed as far as half a kerf doesn't fill it."""
_TOUCH_MM = 0.01
_REACH = 2.9
"""In kerfs, how far from a bridge a nook is looked for."""


def nooks(cut: shapely.Geometry, bridges: Sequence[shapely.Polygon], kerf: float) -> list[shapely.Geometry]:
    """Return what of the cut, bridges taken out already, is a nook beside one of them narrower than the kerf."""
    if not kerf or not bridges:
        return []
    around = shapely.union_all([bridge.buffer(_REACH * kerf) for bridge in bridges])
    near = shapely.intersection(cut, around)
    half = kerf / 2
    open_to = near.buffer(-half, join_style="mitre", mitre_limit=_BLUNTEST)
    open_to = open_to.buffer(half + 1e-6, join_style="mitre", mitre_limit=_BLUNTEST)
    left = shapely.get_parts(shapely.difference(near, open_to))
    beside = shapely.union_all(bridges)
    return [
        part
        for part in left
        if part.geom_type == "Polygon" and part.area > 1e-6 and shapely.distance(part, beside) < _TOUCH_MM
    ]
