"""The largest place in a region for an upright rectangle of some proportions, and where in it the place looks right.

With lengths across and up measured in widths and heights of the rectangle, it is a square, and how large one about a
point may be is how far the point is from the region's edge by the larger of both coordinates. That is sought on a grid,
then about the best of its points on finer ones.
"""

from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from parts.geometry import Point

_GRID = 20
_FINER = 5
_KEPT = 4
# Points a side of the first grid, a side of the finer ones, and how many of the best are looked about.
_ENOUGH = 0.97
# Of the largest there is: a place as large as that nearer to where it is wanted looks better.
_ROUNDS = 4
_AT_ONCE = 50_000
# Pairs of a point and a chord that are measured in one go: what fits in a processor's cache.

Floats = NDArray[np.float64]


class Place(NamedTuple):
    """The middle of a rectangle, and how many times as large as it was asked for it may be."""

    at: Point
    scale: float


def largest_place(region: shapely.Geometry, width: float, height: float, near: Point | None = None) -> Place | None:
    """Return where a rectangle of these proportions has most room; nearest to a point where several have as much.

    That point is the middle of the region where none is given.

    None where the region is empty.
    """
    if shapely.is_empty(region):
        return None
    size = np.array([width, height]) / 2
    edges = _edges(shapely.transform(region, lambda points: points / size))
    x0, y0, x1, y1 = (shapely.bounds(region).reshape(2, 2) / size).ravel().tolist()
    points, step = _grid(x0, y0, x1, y1), max(x1 - x0, y1 - y0) / _GRID
    scales = _scales(points, edges, region, size)
    for _ in range(_ROUNDS):
        best = np.argsort(-scales, kind="stable")[:_KEPT]
        finer = np.concatenate([_about(points[i], step) for i in best])
        points = np.concatenate([points, finer])
        scales = np.concatenate([scales, _scales(finer, edges, region, size)])
        step /= _FINER / 2
    if scales.max() <= 0:
        return None
    wanted = np.array(near) / size if near else np.array([(x0 + x1) / 2, (y0 + y1) / 2])
    return _nearest(points, scales, wanted, size)


def _nearest(points: Floats, scales: Floats, wanted: Floats, size: Floats) -> Place:
    good = scales >= _ENOUGH * scales.max()
    far = np.hypot(*((points[good] - wanted) * size).T).round(6)
    chosen = np.flatnonzero(good)[np.lexsort((points[good][:, 0], points[good][:, 1], far))[0]]
    x, y = (points[chosen] * size).tolist()
    return Place((x, y), float(scales[chosen]))


def _grid(x0: float, y0: float, x1: float, y1: float) -> Floats:
    """The middles of the cells of a grid, and a row through the middle each way."""
    across = np.linspace(x0, x1, _GRID + 1)
    up = np.linspace(y0, y1, _GRID + 1)
    return np.stack(np.meshgrid(across, up), axis=-1).reshape(-1, 2)


def _about(point: Floats, step: float) -> Floats:
    offsets = np.linspace(-step, step, _FINER)
    made: Floats = np.stack(np.meshgrid(offsets, offsets), axis=-1).reshape(-1, 2) + point
    return made


def _edges(region: shapely.Geometry) -> Floats:
    """The chords of the region's edge: start and end of each."""
    rings = [shapely.get_coordinates(ring) for part in shapely.get_parts(region) for ring in _rings(part)]
    return np.concatenate([np.concatenate([ring[:-1], ring[1:]], axis=1) for ring in rings])


def _rings(part: shapely.Polygon) -> list[shapely.LinearRing]:
    return [part.exterior, *part.interiors]


def _scales(points: Floats, edges: Floats, region: shapely.Geometry, size: Floats) -> Floats:
    """How large a square about each point may be, 0 outside."""
    inside = shapely.contains_xy(region, *(points * size).T)
    found = np.zeros(len(points))
    within = points[inside]
    at_once = max(1, _AT_ONCE // len(edges))
    rows = [_far_off(within[i : i + at_once], edges) for i in range(0, len(within), at_once)]
    found[inside] = np.concatenate([*rows, np.empty(0)])
    return found


def _far_off(points: Floats, edges: Floats) -> Floats:
    """The distance of each point to its nearest chord by the larger coordinate.

    It is least at an end of a chord, or where both coordinates are alike or one is 0.
    """
    ax, ay = edges[:, 0] - points[:, :1], edges[:, 1] - points[:, 1:]
    dx, dy = edges[:, 2] - edges[:, 0], edges[:, 3] - edges[:, 1]
    least = np.minimum(np.maximum(abs(ax), abs(ay)), np.maximum(abs(ax + dx), abs(ay + dy)))
    for over, under in ((-ax, dx), (-ay, dy), (ay - ax, dx - dy), (-ay - ax, dx + dy)):
        t = np.clip(np.divide(over, under, out=np.zeros_like(over), where=under != 0), 0.0, 1.0)
        least = np.minimum(least, np.maximum(abs(ax + t * dx), abs(ay + t * dy)))
    nearest: Floats = least.min(axis=1)
    return nearest
