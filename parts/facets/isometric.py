"""Isometric: a still picture of a part in space as SVG, its edges in ink, those out of sight left out.

Seen as isometric drawings are, from the front, the right and above, each axis alike (ISO 5456-3). What hides an edge
is found at points along it, as close together as a pen is wide: a picture to look at, not to measure.
"""

import math
from collections.abc import Iterator
from html import escape
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from parts.facets.mesh import Mesh
from parts.facets.placing import Places, in_space

PAPER, INK, SOFT = "#fdfaf1", "#1d1b17", "#8f8775"
"""Ground, edges, and the lines where bends begin and end: as the page has them."""
WIDTH, MARGIN = 640.0, 16.0
THICK, THIN = 1.6, 0.8
STEP = 0.6
"""How close together it is looked along an edge."""
_SEEN = 1e-3
"""How much nearer a face must be to hide, in thicknesses of the sheet: edges lie on their own faces."""
_EDGE_ON = 1e-9
_RIGHT, _UP = np.array([1, 1, 0]) / math.sqrt(2), np.array([-1, 1, 2]) / math.sqrt(6)
_TOWARD = np.array([1, -1, 1]) / math.sqrt(3)
Numbers = NDArray[np.int64]


def isometric(mesh: Mesh, title: str) -> str:
    """Return the picture of a mesh with all its bends made, as SVG text; the title is read out in its place."""
    places = in_space(mesh, len(mesh.hinges))
    triangles = solid_triangles(mesh)
    thick, thin = _edges(mesh, places, triangles)
    flat = np.column_stack([places @ _RIGHT, -(places @ _UP)])
    low, high = flat.min(axis=0), flat.max(axis=0)
    scale = (WIDTH - 2 * MARGIN) / max(*(high - low))
    seen = np.column_stack([(flat - low) * scale + MARGIN, places @ _TOWARD * scale])
    width, height = (high - low) * scale + 2 * MARGIN
    hides = _Hiding(seen, triangles, _SEEN * mesh.thickness * scale)
    drawn = "".join(
        f'<path d="{_path(hides.visible(seen, edges))}" stroke="{ink}" stroke-width="{weight}"/>'
        for edges, ink, weight in ((thin, SOFT, THIN), (thick, INK, THICK))
        if len(edges)
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.1f} {height:.1f}" width="{width:.0f}" '
        f'height="{height:.0f}" role="img" fill="none" stroke-linecap="round"><title>{escape(title)}</title>'
        f'<path d="M0 0H{width:.1f}V{height:.1f}H0Z" fill="{PAPER}"/>{drawn}</svg>\n'
    )


def _path(lines: NDArray[np.float64]) -> str:
    return "".join(f"M{a:.1f} {b:.1f}L{c:.1f} {d:.1f}" for a, b, c, d in lines.tolist())


def solid_triangles(mesh: Mesh) -> Numbers:
    """Return all triangles (m x 3) of a mesh, counter-clockwise from outside; a corner's upper twin is n further on.

    First those of the underside, then those of the face drawn, then two for each wall.
    """
    n, faces = len(mesh.corners), np.array(mesh.faces)
    walls = np.array(mesh.walls).reshape(-1, 2)
    i, j = walls.T
    sides = np.stack([np.stack([i, j, j + n], 1), np.stack([i, j + n, i + n], 1)], 1).reshape(-1, 3)
    return np.vstack([faces[:, ::-1], faces + n, sides])


def _edges(mesh: Mesh, places: Places, triangles: Numbers) -> tuple[Numbers, Numbers]:
    """The edges to draw (k x 2), thick and thin, of which some may be hidden."""
    n, count = len(mesh.corners), len(mesh.faces)
    a, b, c = (places[triangles[:, k]] for k in range(3))
    front = np.cross(b - a, c - a) @ _TOWARD > 0
    walls, sharp, lines = np.array(mesh.walls).reshape(-1, 2), np.array(mesh.sharp, dtype=int), np.array(mesh.lines)
    rounds = np.array(mesh.rounds, dtype=int).reshape(-1, 3)
    turned = rounds[front[2 * count + 2 * rounds[:, 1]] != front[2 * count + 2 * rounds[:, 2]], 0]
    curls = np.array(mesh.curls, dtype=int).reshape(-1, 4)
    below = curls[front[curls[:, 2]] != front[curls[:, 3]], :2]
    above = curls[front[count + curls[:, 2]] != front[count + curls[:, 3]], :2] + n
    through = np.concatenate([sharp, turned])
    lines = lines.reshape(-1, 2)
    return (
        np.vstack([walls, walls + n, np.column_stack([through, through + n]), below, above]).astype(np.int64),
        np.vstack([lines, lines + n]).astype(np.int64),
    )


class _Hiding:
    """Triangles as they are seen, in an index, and whether they hide points."""

    def __init__(self, seen: Places, triangles: Numbers, slack: float) -> None:
        corners = seen[triangles]
        (ax, ay), (bx, by), (cx, cy) = (corners[:, k, :2].T for k in range(3))
        area = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
        looking = area < -_EDGE_ON  # y runs down; what looks away hides nothing that these don't
        self.corners, self.area = corners[looking], area[looking]
        self.tree = shapely.STRtree(shapely.polygons(self.corners[:, :, :2]))
        self.slack = slack

    def visible(self, seen: Places, edges: Numbers) -> NDArray[np.float64]:
        """Return what is seen of edges, as lines (k x 4)."""
        ends = seen[edges]
        lengths = np.hypot(*(ends[:, 1, :2] - ends[:, 0, :2]).T)
        counts = np.maximum(np.ceil(lengths / STEP), 1).astype(int)
        edge = np.repeat(np.arange(len(edges)), counts)
        at = (np.arange(len(edge)) - np.repeat(np.cumsum(counts) - counts, counts) + 0.5) / counts[edge]
        points = ends[edge, 0] + at[:, None] * (ends[edge, 1] - ends[edge, 0])
        return np.array(list(_runs(ends, edge, counts, ~self.hidden(points)))).reshape(-1, 4)

    def hidden(self, points: Places) -> NDArray[np.bool_]:
        """Tell of points whether a triangle lies in front of them."""
        number, of = self.tree.query(shapely.points(points[:, :2]), predicate="intersects")
        a, b, c = (self.corners[of, k] for k in range(3))
        p = points[number]
        u = ((b[:, 0] - p[:, 0]) * (c[:, 1] - p[:, 1]) - (b[:, 1] - p[:, 1]) * (c[:, 0] - p[:, 0])) / self.area[of]
        v = ((c[:, 0] - p[:, 0]) * (a[:, 1] - p[:, 1]) - (c[:, 1] - p[:, 1]) * (a[:, 0] - p[:, 0])) / self.area[of]
        depth = u * a[:, 2] + v * b[:, 2] + (1 - u - v) * c[:, 2]
        hides = depth > p[:, 2] + self.slack
        return np.bincount(number[hides], minlength=len(points)) > 0


def _runs(
    ends: NDArray[np.float64], edge: Numbers, counts: Numbers, seen: NDArray[np.bool_]
) -> Iterator[tuple[float, ...]]:
    """Yield the lines between where edges come into sight and go out of it."""
    begins = np.concatenate([[True], edge[1:] != edge[:-1], [True]])
    change = np.flatnonzero(begins | np.diff(np.concatenate([[False], seen, [False]])))
    first = np.concatenate([[0], np.cumsum(counts)])
    for start, end in pairwise(change.tolist()):
        if end > start and seen[start]:
            of = edge[start]
            low, high = (start - first[of]) / counts[of], (end - first[of]) / counts[of]
            a, b = ends[of, 0, :2], ends[of, 1, :2]
            yield (*(a + low * (b - a)), *(a + high * (b - a)))
