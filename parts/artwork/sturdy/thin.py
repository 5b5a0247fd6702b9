"""Where a region is thinner than a width: its necks, and its tips.

residue   what a disc of that width, rolled about in the region, doesn't reach
axis      the middle line of the region: centres of discs that touch its outline at two opposite places
neck      a part of the axis with discs under the width, from one wide place to another, round in a ring, or to the
          end of a finger with parallel sides
tip       a residue that the axis runs into with discs that get less and less
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from parts.geometry import Point

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]

_SAMPLES = 10
"""Points of the outline to a width."""
_OPPOSITE = 2 * math.sin(math.radians(60))
"""How far apart two points are where a disc of radius 1 touches, if its middle is on the axis: 120 degrees or more,
so that a corner of 60 degrees has none."""
_TAPER = 0.03
"""Discs that lose less than this of their radius to a length along the axis are those of parallel sides."""
_SEEN_SHARE = 0.02
"""A residue is looked for with a disc so much larger, since buffers are polygons; then the axis decides."""
_STRAIGHT_SHARE = 0.003
"""Of the width, how far an axis may be from straight lines that stand for it."""
_UNDER = 1e-6


@dataclass(frozen=True)
class Neck:
    """A thin place: its narrowest point and width there, the lines of its axis, and what of it a disc can't reach.

    `ends` is in how many wide places it ends.
    """

    at: Point
    width: float
    axis: shapely.Geometry
    area: shapely.Geometry
    ends: int


@dataclass(frozen=True)
class Tip:
    """A tip: its end and the width there, its axis as nodes (n x 2) with the radii of their discs, and its residue."""

    at: Point
    width: float
    node: Floats
    radius: Floats
    area: shapely.Polygon

    def taper(self, within: float) -> float:
        """Return how much the radius grows to a length of axis, where it is no more than `within` mm."""
        near = self.radius <= max(within, float(np.sort(self.radius)[min(2, len(self.radius) - 1)]))
        radius, node = self.radius[near], self.node[near]
        low, high = int(np.argmin(radius)), int(np.argmax(radius))
        long = math.dist(node[low], node[high])
        return float(radius[high] - radius[low]) / long if long else 1.0


def thin_places(region: shapely.Geometry, width: float) -> tuple[list[Neck], list[Tip]]:
    """Return the necks and the tips of a region that are narrower than a width."""
    residues = _residues(region, width)
    if not len(residues):
        return [], []
    axis = _Axis.of(region, residues, width)
    return list(axis.necks(residues)), list(axis.tips(residues))


def _residues(region: shapely.Geometry, width: float) -> NDArray[np.object_]:
    radius = width / 2 * (1 + _SEEN_SHARE)
    wide = region.buffer(-radius, quad_segs=8).buffer(radius + _SEEN_SHARE * width / 4, quad_segs=8)
    parts = shapely.get_parts(shapely.difference(region, wide))
    kept: NDArray[np.object_] = parts[shapely.area(parts) > 0.02 * width**2]
    return kept


@dataclass(frozen=True)
class _Axis:
    """Nodes of the axis near residues, with the distance to the outline at each, and edges between them.

    `kept` are edges of necks, after the tips' were taken away.
    """

    width: float
    node: Floats
    radius: Floats
    edges: Indices
    kept: Indices

    @classmethod
    def of(cls, region: shapely.Geometry, residues: NDArray[np.object_], width: float) -> "_Axis":
        """Make the axis of a region near residues."""
        near = shapely.STRtree(residues)
        starts, ends = _sides(region)
        sides = shapely.linestrings(np.stack([starts, ends], axis=1))
        close = np.unique(near.query(sides, "dwithin", width)[0])
        points = _sampled(starts[close], ends[close], width / _SAMPLES)
        points = points[np.unique(near.query(shapely.points(points), "dwithin", width)[0])]
        node, edges = _voronoi(points)
        if not len(edges):
            return cls(width, node, np.empty(0), edges, edges)
        used, edges = np.unique(edges, return_inverse=True)
        node, edges = node[used], edges.reshape(-1, 2)
        radius = np.empty(len(node))
        found, apart = shapely.STRtree(sides[close]).query_nearest(
            shapely.points(node), return_distance=True, all_matches=False
        )
        radius[found[0]] = apart
        shapely.prepare(region)
        inside = shapely.contains_xy(region, node[:, 0], node[:, 1])
        thin = (radius < width / 2 - _UNDER) & inside
        edges = edges[inside[edges].all(axis=1) & thin[edges].any(axis=1)]
        return cls(width, node, radius, edges, _pruned(node, radius, edges, width / 2))

    def necks(self, residues: NDArray[np.object_]) -> Iterator[Neck]:
        """Yield each neck."""
        near = shapely.STRtree(residues)
        for edges in _groups(self.kept, self.radius < self.width / 2 - _UNDER):
            nodes = np.unique(edges)
            lines = shapely.line_merge(shapely.multilinestrings(shapely.linestrings(self.node[edges])))
            lines = shapely.simplify(lines, _STRAIGHT_SHARE * self.width)
            least = nodes[np.argmin(self.radius[nodes])]
            x, y = self.node[least].tolist()
            area = shapely.union_all(residues[near.query(lines, "intersects")])
            ends = int((self.radius[nodes] >= self.width / 2 - _UNDER).sum())
            yield Neck((x, y), 2 * float(self.radius[least]), lines, area, ends)

    def tips(self, residues: NDArray[np.object_]) -> Iterator[Tip]:
        """Yield each residue that the axis ends in."""
        kept = set(map(tuple, self.kept.tolist()))
        gone = [edge for edge in self.edges.tolist() if tuple(edge) not in kept]
        for edges in _groups(np.array(gone, dtype=np.int64).reshape(-1, 2), self.radius < self.width / 2 - _UNDER):
            nodes = np.unique(edges)
            if len(np.intersect1d(nodes, self.kept)):  # the last bit of a neck, which is mended with it
                continue
            low = nodes[np.argmin(self.radius[nodes])]
            x, y = self.node[low].tolist()
            area = residues[shapely.STRtree(residues).nearest(shapely.Point(x, y))]
            yield Tip((x, y), 2 * float(self.radius[low]), self.node[nodes], self.radius[nodes], area)


def _sides(region: shapely.Geometry) -> tuple[Floats, Floats]:
    """The ends of all sides of a region's rings."""
    rings = shapely.get_rings(shapely.get_parts(region))
    points, ring = shapely.get_coordinates(rings, return_index=True)
    same = ring[1:] == ring[:-1]
    return points[:-1][same], points[1:][same]


def _sampled(starts: Floats, ends: Floats, step: float) -> Floats:
    """Points on sides, no further apart than a step."""
    count = np.maximum(np.ceil(np.hypot(*(ends - starts).T) / step), 1).astype(np.int64)
    side = np.repeat(np.arange(len(count)), count)
    share = (np.arange(len(side)) - np.repeat(np.cumsum(count) - count, count)) / count[side]
    points: Floats = starts[side] + share[:, None] * (ends - starts)[side]
    return points


def _voronoi(points: Floats) -> tuple[Floats, Indices]:
    """Vertices of the Voronoi diagram of an outline's points, and its edges that lie on the outline's axis."""
    from scipy.spatial import Voronoi

    if len(points) < 5:
        return np.empty((0, 2)), np.empty((0, 2), dtype=np.int64)
    made = Voronoi(points)
    edges = np.array(made.ridge_vertices, dtype=np.int64)
    pairs = made.ridge_points[(edges >= 0).all(axis=1)]
    edges = edges[(edges >= 0).all(axis=1)]
    p, q = points[pairs[:, 0]], points[pairs[:, 1]]
    middle = (made.vertices[edges[:, 0]] + made.vertices[edges[:, 1]]) / 2
    on_axis = np.hypot(*(p - q).T) >= _OPPOSITE * np.hypot(*(middle - p).T)
    return made.vertices, edges[on_axis]


def _pruned(node: Floats, radius: Floats, edges: Indices, wide: float) -> Indices:
    """The edges without those that lead to ends where discs get less and less."""
    near: dict[int, list[int]] = {}
    for a, b in edges.tolist():
        near.setdefault(a, []).append(b)
        near.setdefault(b, []).append(a)
    ends = [k for k, others in near.items() if len(others) == 1]
    while ends:
        end = ends.pop()
        if len(near.get(end, ())) != 1 or radius[end] >= wide - _UNDER:
            continue
        (on,) = near[end]
        if radius[end] < radius[on] - _TAPER * math.dist(node[end], node[on]):
            near[end] = []
            near[on].remove(end)
            ends += [on] if len(near[on]) == 1 else []
    kept: Indices = np.array([(a, b) for a, b in edges.tolist() if b in near[a]], dtype=np.int64).reshape(-1, 2)
    return kept


def _groups(edges: Indices, thin: NDArray[np.bool_]) -> Iterator[Indices]:
    """Yield edges that hang together by thin nodes."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    if not len(edges):
        return
    both = thin[edges].all(axis=1)
    size = len(thin)
    graph = coo_array((np.ones(int(both.sum())), (edges[both, 0], edges[both, 1])), shape=(size, size))
    of = connected_components(graph, directed=False)[1]
    group = np.where(thin[edges[:, 0]], of[edges[:, 0]], of[edges[:, 1]])
    for k in np.unique(group).tolist():
        yield edges[group == k]
