"""The axis of a region, from points of its outline: edges of their Voronoi diagram."""

import math

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]

_OPPOSITE = 2 * math.sin(math.radians(60))
"""How far apart two points are where a disc of radius 1 touches, if its middle is on the axis: 120 degrees or more,
so that a corner of 60 degrees has none."""


def axis_edges(points: Floats) -> tuple[Floats, Indices, Indices]:
    """Return nodes (n x 2), edges of the axis as pairs of nodes, and the two points that each edge lies between.

    Both inside and outside of the outline. The nodes are the middles of the circles through the triangles of
    Delaunay's triangulation (as in textbooks of computational geometry).
    """
    from scipy.spatial import Delaunay

    if len(points) < 4:
        return np.empty((0, 2)), np.empty((0, 2), dtype=np.int64), np.empty((0, 2), dtype=np.int64)
    made = Delaunay(points)
    corner = made.simplices.astype(np.int64)
    node = _middles(points[corner])
    edges, pairs = [], []
    for k in range(3):
        other = made.neighbors[:, k].astype(np.int64)
        one = np.flatnonzero(other > np.arange(len(corner)))
        edges.append(np.stack([one, other[one]], axis=1))
        pairs.append(np.stack([corner[one, k - 1], corner[one, k - 2]], axis=1))
    edge, pair = np.concatenate(edges), np.concatenate(pairs)
    p, q, middle = points[pair[:, 0]], points[pair[:, 1]], (node[edge[:, 0]] + node[edge[:, 1]]) / 2
    on_axis = np.hypot(*(p - q).T) >= _OPPOSITE * np.hypot(*(middle - p).T)
    return node, edge[on_axis], pair[on_axis]


def _middles(triangles: Floats) -> Floats:
    """The middle of the circle through each triangle (n x 3 x 2)."""
    a = triangles[:, 0]
    bx, by = (triangles[:, 1] - a).T
    cx, cy = (triangles[:, 2] - a).T
    twice = 2 * (bx * cy - by * cx)
    with np.errstate(divide="ignore", invalid="ignore"):
        b, c = bx * bx + by * by, cx * cx + cy * cy
        from_a = np.stack([cy * b - by * c, bx * c - cx * b], axis=1) / twice[:, None]
    from_a = np.nan_to_num(from_a, nan=1e9, posinf=1e9, neginf=-1e9)  # of three points in line, beyond everything
    middles: Floats = a + from_a
    return middles
