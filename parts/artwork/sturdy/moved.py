"""How far an outline moved."""

from collections.abc import Sequence

import numpy as np
import shapely

from parts.artwork.metal import Metal

_STEP_MM = 0.2
"""How far apart, at most, the points of an outline are that are looked at."""
_SAME_MM2 = 1e-9


def moved_within(before: Metal, after: Metal, areas: Sequence[shapely.Geometry]) -> list[float]:
    """Return how far the outline moved at most in each of the areas, mm: the Hausdorff distance there."""
    differing = shapely.get_parts(shapely.symmetric_difference(before, after))
    differing = differing[shapely.area(differing) > _SAME_MM2]
    if not len(differing):
        return [0.0] * len(areas)
    lines = shapely.segmentize(shapely.boundary(differing), _STEP_MM)  # of areas GEOS would leave out hairlines
    points, of = shapely.get_coordinates(lines, return_index=True)
    far = np.maximum(_distances(points, before), _distances(points, after))
    most = np.zeros(len(differing))
    np.maximum.at(most, of, far)
    tree = shapely.STRtree(differing)
    return [float(most[tree.query(area, "intersects")].max(initial=0.0)) for area in areas]


def _distances(points: np.ndarray, metal: Metal) -> np.ndarray:
    """The distance from points (n x 2) to an outline."""
    sides = shapely.get_coordinates(shapely.get_rings(metal.geoms), return_index=True)
    line, ring = sides
    same = ring[1:] == ring[:-1]
    tree = shapely.STRtree(shapely.linestrings(np.stack([line[:-1][same], line[1:][same]], axis=1)))
    found, apart = tree.query_nearest(shapely.points(points), return_distance=True, all_matches=False)
    distances = np.empty(len(points))
    distances[found[0]] = apart
    return distances
