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
_OFF_MM = 2e-3
"""How near these points are to the outline between them."""


def moved_within(before: Metal, after: Metal, areas: Sequence[BaseGeometry]) -> list[float]:
    """Return how far the outline moved at most in each of the areas, mm: the Hausdorff distance there."""
    differing = shapely.get_parts(shapely.symmetric_difference(before, after))
    area, part = shapely.STRtree(differing).query(areas, "intersects")
    x0, y0, x1, y1 = shapely.bounds(np.array(areas)[area]).T
    clipped = shapely.intersection(differing[part], shapely.box(x0 - 1, y0 - 1, x1 + 1, y1 + 1))
    seen = shapely.area(clipped) > _SAME_MM2
    edges = shapely.simplify(shapely.boundary(clipped[seen]), _OFF_MM)
    points, of = shapely.get_coordinates(shapely.segmentize(edges, _STEP_MM), return_index=True)
    most = np.zeros(len(areas))
    if len(points):
        area = area[seen][of]
        likely = _may_be_furthest(points, area, (before, after))
        area, points = area[likely], points[likely]
        np.maximum.at(most, area, np.maximum(_distances(points, before), _distances(points, after)))
    found: list[float] = most.tolist()
    return found


def _may_be_furthest(points: _Floats, area: NDArray[np.int64], outlines: Sequence[Metal]) -> NDArray[np.bool_]:
    """Which points may be the furthest of their areas from either outline, told by how far points along these are."""
    from scipy.spatial import cKDTree  # noqa: PLC0415 - where nothing moved

    about = np.zeros(len(points))
    for metal in outlines:
        along = shapely.get_coordinates(shapely.segmentize(metal, _STEP_MM))
        about = np.maximum(about, cKDTree(along).query(points)[0])
    most = np.zeros(int(area.max()) + 1)
    np.maximum.at(most, area, about)
    return np.asarray(about >= most[area] - _STEP_MM)


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
