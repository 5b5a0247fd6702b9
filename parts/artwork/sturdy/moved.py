"""How far an outline moved."""

from collections.abc import Sequence
from typing import cast

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from parts.artwork.metal import Metal

_Floats = NDArray[np.float64]

_STEP_MM = 0.2
"""How far apart, at most, the points of an outline are that are looked at."""
_SAME_MM2 = 1e-9


def moved_within(before: Metal, after: Metal, areas: Sequence[BaseGeometry]) -> list[float]:
    """Return how far the outline moved at most in each of the areas, mm: the Hausdorff distance there."""
    of, points = [], []
    for k, area in enumerate(areas):
        x0, y0, x1, y1 = area.bounds
        around = shapely.box(x0 - 1, y0 - 1, x1 + 1, y1 + 1)
        one, other = (shapely.intersection(metal, around) for metal in (before, after))
        differing = shapely.get_parts(shapely.symmetric_difference(one, other))
        differing = differing[(shapely.area(differing) > _SAME_MM2) & shapely.intersects(differing, area)]
        # of the areas themselves GEOS would leave out hairlines
        points.append(shapely.get_coordinates(shapely.segmentize(shapely.boundary(differing), _STEP_MM)))
        of.append(np.full(len(points[-1]), k))
    every = np.concatenate(points)
    far = np.maximum(_distances(every, before), _distances(every, after))
    most = np.zeros(len(areas))
    np.maximum.at(most, np.concatenate(of), far)
    found: list[float] = most.tolist()
    return found


def _distances(points: _Floats, metal: Metal) -> _Floats:
    """The distance from points (n x 2) to an outline."""
    sides = shapely.get_coordinates(shapely.get_rings(list(metal.geoms)), return_index=True)
    line, ring = sides
    same = ring[1:] == ring[:-1]
    lines = shapely.linestrings(np.stack([line[:-1][same], line[1:][same]], axis=1))
    tree = shapely.STRtree(cast("list[shapely.LineString]", lines))
    found, apart = tree.query_nearest(shapely.points(points), return_distance=True, all_matches=False)
    distances = np.empty(len(points))
    distances[found[0]] = apart
    return distances
