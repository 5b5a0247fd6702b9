"""Where a region is thinner than a width: its necks, and its tips.

residue   what a disc of that width, rolled about in the region, doesn't reach
axis      the middle line of the region: centres of discs that touch its outline at two opposite places
neck      a part of the axis with discs under the width, from one wide place to another, round in a ring, or to the
          end of a finger with parallel sides
tip       a residue that the axis runs into with discs that get less and less
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import cast

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from parts.artwork.sturdy.axis import axis_edges
from parts.geometry import Point

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]

_SAMPLES = 8
"""Points of the outline to a width."""
_TAPER = 0.03
"""Discs that lose less than this of their radius to a length along the axis are those of parallel sides."""
_SEEN_SHARE = 0.02
"""A residue is looked for with a disc so much larger, since buffers are polygons; then the axis decides."""
STRAIGHT_SHARE = 0.003
"""Of the width, how far an axis may be from straight lines that stand for it."""
_UNDER = 1e-6
_CORNER_SHARE = 0.06
"""Of the square of a width, what the residue of a square corner has at most."""
_FURTHER = 1.4
"""The axis is followed to where discs are so much larger than the width."""
_AHEAD = 3 / 8
"""How far an axis is carried on into something wide, in widths: a step of its points more than a quarter."""
_ROW = 1 << 24


@dataclass(frozen=True)
class Neck:
    """A thin place: its narrowest point and width there, the lines of its axis, and what of it a disc can't reach.

    `ends` is in how many wide places it ends.
    """

    at: Point
    width: float
    axis: BaseGeometry
    area: BaseGeometry
    ends: int


@dataclass(frozen=True)
class Tip:
    """A tip: its end and the width there, its axis, and its residue.

    The axis are edges (m x 2) between nodes (n x 2), with the radii of the discs at these.
    """

    at: Point
    width: float
    node: Floats
    edges: Indices
    radius: Floats
    area: shapely.Polygon

    def taper(self, within: float) -> float:
        """Return how much the radius grows to a length of axis, where it is no more than `within` mm."""
        near = self.radius <= max(within, float(np.sort(self.radius)[min(2, len(self.radius) - 1)]))
        radius, node = self.radius[near], self.node[near]
        low, high = int(np.argmin(radius)), int(np.argmax(radius))
        long = math.dist(node[low], node[high])
        return float(radius[high] - radius[low]) / long if long else 1.0


def thin_places(
    region: BaseGeometry, width: float, chords: Sequence[tuple[Point, Point]]
) -> tuple[list[Neck], list[Tip]]:
    """Return the necks and the tips of a region that are narrower than a width.

    `chords` are the ends of its least chords: a short neck leaves hardly a residue.
    """
    residues = _residues(region, width, [((x0 + x1) / 2, (y0 + y1) / 2) for (x0, y0), (x1, y1) in chords])
    if not len(residues):
        return [], []
    axis = _Axis.of(region, residues, width)
    necks = list(axis.necks(residues))
    return [*necks, *_short(region, width, chords, necks)], list(axis.tips(residues))


def _short(
    region: BaseGeometry, width: float, chords: Sequence[tuple[Point, Point]], found: Sequence[Neck]
) -> Iterator[Neck]:
    """Yield necks so short that no node of the axis is in them."""
    near = shapely.STRtree([neck.axis for neck in found])
    for (x0, y0), (x1, y1) in chords:
        middle, long = shapely.Point((x0 + x1) / 2, (y0 + y1) / 2), math.dist((x0, y0), (x1, y1))
        if not len(near.query(middle, "dwithin", distance=width / _SAMPLES)):
            dx, dy = (y0 - y1) / long * width / 4, (x1 - x0) / long * width / 4  # along the neck, across the chord
            axis = shapely.LineString([(middle.x - dx, middle.y - dy), (middle.x + dx, middle.y + dy)])
            yield Neck((middle.x, middle.y), long, axis, shapely.intersection(middle.buffer(width / 2), region), 2)


def _residues(region: BaseGeometry, width: float, narrow: Sequence[Point]) -> NDArray[np.object_]:
    radius = width / 2 * (1 + _SEEN_SHARE)
    wide = region.buffer(-radius, quad_segs=8).buffer(radius + _SEEN_SHARE * width / 4, quad_segs=8)
    parts = shapely.get_parts(shapely.difference(region, wide))
    parts = parts[shapely.area(parts) > _CORNER_SHARE * width**2]
    discs = [shapely.Point(at).buffer(width / 2) for at in narrow]
    shapely.prepare(parts)
    apart = [disc for disc in discs if not shapely.intersects(parts, disc).any()]
    added = [shapely.intersection(disc, region) for disc in apart]
    residues: NDArray[np.object_] = np.array([*parts, *(area for area in added if not area.is_empty)], dtype=object)
    return residues


@dataclass(frozen=True)
class _Axis:
    """Nodes of the axis near residues, with the radius of the disc at each, and edges between them.

    `kept` are edges of necks, after the tips' were taken away.
    """

    region: BaseGeometry
    width: float
    node: Floats
    radius: Floats
    edges: Indices
    kept: Indices

    @classmethod
    def of(cls, region: BaseGeometry, residues: NDArray[np.object_], width: float) -> "_Axis":
        """Make the axis of a region near residues."""
        starts, ends = _sides(region)
        points, side, number = _sampled(starts, ends, residues, width)
        node, edges, pairs = axis_edges(points)
        beside = _are_neighbours(starts, ends, side, number, pairs)  # between these an edge crosses the outline
        reach = np.stack([np.hypot(*(node[end] - points[pairs[:, 0]]).T) for end in edges.T]).max(axis=0)
        true = ~beside & (reach < 0.75 * width)  # further than that there are no points, and discs seem larger
        edges, pairs = edges[true], pairs[true]
        sides = np.stack([side[pairs[:, 0]], side[pairs[:, 1]]])
        radius = np.full(len(node), np.inf)
        for end in edges.T:  # half the way from side to side: sampling puts a node off the middle, but not off this
            across = sum(_apart(node[end], starts[k], ends[k]) for k in sides) / 2
            np.minimum.at(radius, end, across)
        edges = edges[(radius[edges] < width / 2 * _FURTHER).any(axis=1)]
        shapely.prepare(region)
        used = np.unique(edges)
        inside = np.zeros(len(node), dtype=bool)
        inside[used] = shapely.contains_xy(region, *node[used].T)
        edges = edges[inside[edges].all(axis=1)]
        return cls(region, width, node, radius, edges, _pruned(node, radius, edges, width / 2))

    def necks(self, residues: NDArray[np.object_]) -> Iterator[Neck]:
        """Yield each neck, its axis somewhat into the wide places at its ends, so that it widens gently."""
        near = shapely.STRtree(residues)
        thin = self.radius < self.width / 2 - _UNDER
        about = _within(self.node, self.kept, thin, self.width / 4)
        for edges in _groups(self.kept[about[self.kept].all(axis=1)], about):
            nodes, times = np.unique(edges, return_counts=True)
            lines = lines_of(self.node, edges, STRAIGHT_SHARE * self.width)
            ahead = [self._ahead(edges, int(end)) for end in nodes[times == 1]]
            lines = shapely.union_all([lines, *(line for line in ahead if line is not None)])
            least = nodes[np.argmin(self.radius[nodes])]
            x, y = self.node[least].tolist()
            area = shapely.union_all(residues[near.query(lines, "intersects")])
            ends = int((~thin[nodes[times == 1]]).sum())
            yield Neck((x, y), 2 * float(self.radius[least]), lines, area, ends)

    def _ahead(self, edges: Indices, end: int) -> shapely.LineString | None:
        """The axis carried on straight from its end, into what opens at once; None at the end of a finger."""
        near = self.node[np.unique(edges)]
        back = near[np.argmin(np.abs(np.hypot(*(near - self.node[end]).T) - self.width / 4))]
        ahead = (self.node[end] - back) / max(math.dist(self.node[end], back), _UNDER)
        if not shapely.contains_xy(self.region, *(self.node[end] + 1.3 * self.radius[end] * ahead)):
            return None
        return shapely.LineString([self.node[end], self.node[end] + ahead * self.width * _AHEAD])

    def tips(self, residues: NDArray[np.object_]) -> Iterator[Tip]:
        """Yield each residue that the axis ends in."""
        kept = set(map(tuple, self.kept.tolist()))
        gone = [edge for edge in self.edges.tolist() if tuple(edge) not in kept]
        thin = self.radius < self.width / 2 - _UNDER
        in_neck = np.zeros(len(self.node), dtype=bool)
        in_neck[self.kept[thin[self.kept].any(axis=1)]] = True
        for edges in _groups(np.array(gone, dtype=np.int64).reshape(-1, 2), thin):
            nodes, edges = np.unique(edges, return_inverse=True)
            if in_neck[nodes].any():  # the last bit of a neck, which is mended with it
                continue
            low = nodes[np.argmin(self.radius[nodes])]
            x, y = self.node[low].tolist()
            area = cast("shapely.Polygon", residues[shapely.STRtree(residues).nearest(shapely.Point(x, y))])
            yield Tip(
                (x, y), 2 * float(self.radius[low]), self.node[nodes], edges.reshape(-1, 2), self.radius[nodes], area
            )


def lines_of(node: Floats, edges: Indices, tolerance: float) -> BaseGeometry:
    """Return edges between nodes as lines within a tolerance of them."""
    pieces: NDArray[np.object_] = np.asarray(shapely.linestrings(node[edges]))
    lines: BaseGeometry = shapely.multilinestrings(pieces)  # type: ignore[assignment]
    simple: BaseGeometry = shapely.simplify(shapely.line_merge(lines), tolerance)
    return simple


def _sides(region: BaseGeometry) -> tuple[Floats, Floats]:
    """The ends of all sides of a region's rings."""
    rings = shapely.get_rings(shapely.get_parts(region))
    points, ring = shapely.get_coordinates(rings, return_index=True)
    same = ring[1:] == ring[:-1]
    return points[:-1][same], points[1:][same]


def _sampled(
    starts: Floats, ends: Floats, residues: NDArray[np.object_], width: float
) -> tuple[Floats, Indices, Indices]:
    """Points on sides near residues, no further apart than a step; each one's side, and its number on that."""
    cell = 2 * width
    boxes = shapely.bounds(residues) + np.array([-width, -width, width, width])
    low, high = np.floor(boxes / cell).astype(int).reshape(-1, 2, 2).transpose(1, 0, 2).tolist()
    near = {
        (i, j)
        for (i0, j0), (i1, j1) in zip(low, high, strict=True)
        for i in range(i0, i1 + 1)
        for j in range(j0, j1 + 1)
    }
    cells = np.array(sorted(i * _ROW + j for i, j in near))
    around = shapely.box(*np.concatenate([np.minimum(starts, ends), np.maximum(starts, ends)], axis=1).T)
    some = np.unique(shapely.STRtree(around).query(shapely.box(*(boxes + np.array([-cell, -cell, cell, cell])).T))[1])
    of, starts, ends = some, starts[some], ends[some]
    count = np.maximum(np.ceil(np.hypot(*(ends - starts).T) * (_SAMPLES / width)), 1).astype(np.int64)
    side = np.repeat(np.arange(len(count)), count)
    number = np.arange(len(side)) - np.repeat(np.cumsum(count) - count, count)
    points: Floats = starts[side] + (number / count[side])[:, None] * (ends - starts)[side]
    i, j = np.floor(points / cell).astype(np.int64).T
    kept = np.isin(i * _ROW + j, cells)
    return points[kept], of[side[kept]], number[kept]


def _are_neighbours(starts: Floats, ends: Floats, side: Indices, number: Indices, pairs: Indices) -> NDArray[np.bool_]:
    """Whether pairs of points follow one another along the outline."""
    a, b = pairs.T
    on_one = (side[a] == side[b]) & (np.abs(number[a] - number[b]) == 1)
    first_a, first_b = number[a] == 0, number[b] == 0
    follows = first_b & (ends[side[a]] == starts[side[b]]).all(axis=1) & _is_last(number, side, a)
    leads = first_a & (ends[side[b]] == starts[side[a]]).all(axis=1) & _is_last(number, side, b)
    neighbours: NDArray[np.bool_] = on_one | follows | leads
    return neighbours


def _is_last(number: Indices, side: Indices, at: Indices) -> NDArray[np.bool_]:
    """Whether points are the last on their sides."""
    most = np.zeros(int(side.max()) + 1, dtype=np.int64)
    np.maximum.at(most, side, number)
    last: NDArray[np.bool_] = number[at] == most[side[at]]
    return last


def _apart(points: Floats, starts: Floats, ends: Floats) -> Floats:
    """The distance of each point from a side."""
    along = ends - starts
    share = ((points - starts) * along).sum(axis=1) / (along**2).sum(axis=1)
    apart: Floats = np.hypot(*(points - starts - np.clip(share, 0, 1)[:, None] * along).T)
    return apart


def _pruned(node: Floats, radius: Floats, edges: Indices, wide: float) -> Indices:
    """The edges without those that lead to ends where discs get less and less."""
    near: dict[int, list[int]] = {}
    for a, b in edges.tolist():
        near.setdefault(a, []).append(b)
        near.setdefault(b, []).append(a)
    ends = [k for k, others in near.items() if len(others) == 1]
    while ends:
        end = ends.pop()
        if len(near[end]) != 1 or radius[end] >= wide - _UNDER:
            continue
        there, far = _along(node, near, end, wide / 2)
        if radius[end] < radius[there] - _TAPER * far or (far < wide / 2 and len(near[there]) == 1):
            (on,) = near[end]
            near[end] = []
            near[on].remove(end)
            ends += [on] if len(near[on]) == 1 else []
    kept: Indices = np.array([(a, b) for a, b in edges.tolist() if b in near[a]], dtype=np.int64).reshape(-1, 2)
    return kept


def _within(node: Floats, edges: Indices, sources: NDArray[np.bool_], far: float) -> NDArray[np.bool_]:
    """Whether nodes are no further than `far` mm from one of the sources, along edges."""
    reach = np.where(sources, 0.0, np.inf)
    length = np.hypot(*(node[edges[:, 0]] - node[edges[:, 1]]).T)
    found = reach <= far
    while len(edges):
        for one, other in (edges.T, edges.T[::-1]):
            np.minimum.at(reach, other, reach[one] + length)
        reach[reach > far] = np.inf
        if (reach <= far).sum() == found.sum():  # nothing new is reached; what was may be nearer, which doesn't matter
            break
        found = reach <= far
    return found


def _along(node: Floats, near: dict[int, list[int]], end: int, far: float) -> tuple[int, float]:
    """The node some way along from an end, or where that way forks or ends, and how far it is."""
    last, at, gone = -1, end, 0.0
    while gone < far:
        on = [k for k in near[at] if k != last]
        if len(on) != 1:
            break
        gone += math.dist(node[at], node[on[0]])
        last, at = at, on[0]
    return at, gone


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
    order = np.argsort(group, kind="stable")
    yield from np.split(edges[order], np.flatnonzero(np.diff(group[order])) + 1)
