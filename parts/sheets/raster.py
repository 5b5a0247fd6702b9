"""Raster: a shape as the cells that it touches, none left out.

Two shapes whose touched cells are different ones have no point in common, so a layout of cells holds for the shapes.
"""

import numpy as np
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from parts.geometry import Point
from parts.sheets.piece import edges_of

Mask = NDArray[np.bool_]
_TINY = 1e-6
"""In cells, what an edge along a line between two cells isn't taken to cross by: rounding."""


def touched(shape: BaseGeometry, cell: float, spare: float = 0.0) -> Mask:
    """Return the cells that a shape touches, rows up and columns across, from the lower left of its box on.

    Args:
        shape: polygons, mm.
        cell: the side of a cell, mm.
        spare: how much larger the box is taken to be on every side, mm.
    """
    x0, y0, x1, y1 = shape.bounds
    x0, y0, x1, y1 = x0 - spare, y0 - spare, x1 + spare, y1 + spare
    columns = max(int(np.ceil((x1 - x0) / cell - _TINY)), 1)
    rows = max(int(np.ceil((y1 - y0) / cell - _TINY)), 1)
    return touched_on(shape, cell, (x0, y0), (rows, columns))


def touched_on(shape: BaseGeometry, cell: float, origin: Point, size: tuple[int, int]) -> Mask:
    """Return the cells that a shape touches of a grid that begins at a place and has so many rows and columns.

    What reaches out of the grid counts as of the cells at its edge.
    """
    rows, columns = size
    edges = (edges_of(shape) - (*origin, *origin)) / cell
    mask = _filled(edges, rows, columns)
    x, y = _along(edges)
    mask[np.clip(np.floor(y).astype(int), 0, rows - 1), np.clip(np.floor(x).astype(int), 0, columns - 1)] = True
    return mask


def _filled(edges: NDArray[np.float64], rows: int, columns: int) -> Mask:
    """The cells whose centre is inside: each crossing of a row's middle line toggles all to its right."""
    ax, ay, bx, by = edges.T
    low, high = np.minimum(ay, by), np.maximum(ay, by)
    first = np.ceil(low - 0.5).astype(int)
    count = np.maximum(np.ceil(high - 0.5).astype(int) - first, 0)
    edge = np.repeat(np.arange(len(edges)), count)
    row = first[edge] + np.arange(len(edge)) - np.repeat(np.cumsum(count) - count, count)
    x = ax[edge] + (row + 0.5 - ay[edge]) / (by - ay)[edge] * (bx - ax)[edge]
    toggles = np.zeros((rows, columns + 1), dtype=np.int32)
    inside = (row >= 0) & (row < rows)
    np.add.at(toggles, (row[inside], np.clip(np.ceil(x[inside] - 0.5), 0, columns).astype(int)), 1)
    filled: Mask = np.cumsum(toggles[:, :columns], axis=1) % 2 == 1
    return filled


def _along(edges: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Points of the edges, one in every cell that they pass: between each two crossings of lines of the grid.

    An edge along a line of the grid is in no cell: what lies beside it is inside, and filled, or outside.
    """
    edges = edges[~(_on_line(edges[:, 0], edges[:, 2]) | _on_line(edges[:, 1], edges[:, 3]))]
    ends = np.arange(len(edges))
    edge, at = [ends, ends], [np.zeros(len(edges)), np.ones(len(edges))]
    for a, b in ((edges[:, 0], edges[:, 2]), (edges[:, 1], edges[:, 3])):
        which, t = _crossings(a, b)
        edge.append(which)
        at.append(t)
    of, t = np.concatenate(edge), np.concatenate(at)
    order = np.lexsort((t, of))
    of, t = of[order], t[order]
    same = of[:-1] == of[1:]
    of, middle = of[:-1][same], (t[:-1][same] + t[1:][same]) / 2
    ax, ay, bx, by = edges[of].T
    return ax + middle * (bx - ax), ay + middle * (by - ay)


def _on_line(a: NDArray[np.float64], b: NDArray[np.float64]) -> NDArray[np.bool_]:
    on: NDArray[np.bool_] = (np.abs(a - np.round(a)) < _TINY) & (np.abs(b - np.round(a)) < _TINY)
    return on


def _crossings(a: NDArray[np.float64], b: NDArray[np.float64]) -> tuple[NDArray[np.int_], NDArray[np.float64]]:
    """Where edges from a to b cross whole numbers: which edge, and at what share of its length."""
    first = np.ceil(np.minimum(a, b)).astype(int)
    count = np.maximum(np.floor(np.maximum(a, b)).astype(int) - first + 1, 0)
    count[a == b] = 0
    edge = np.repeat(np.arange(len(a)), count)
    line = first[edge] + np.arange(len(edge)) - np.repeat(np.cumsum(count) - count, count)
    return edge, np.clip((line - a[edge]) / (b - a)[edge], 0.0, 1.0)
