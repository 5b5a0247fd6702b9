"""Material: whether points of a part lie on it, asked many times of one part."""

from collections.abc import Iterator, Sequence
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Line, Point
from parts.tolerance import SAME_END_MM

Mask: TypeAlias = NDArray[np.bool_]


class Material:
    """The boundary of a part, filed so that a point is compared with the segments at its height alone."""

    def __init__(self, loops: Sequence[Loop]) -> None:
        self._boxes = np.array([loop.box for loop in loops]).reshape(-1, 4).T
        segments = [(i, segment) for i, loop in enumerate(loops) for segment in loop.segments]
        lines = [(i, line) for i, line in segments if isinstance(line, Line)]
        self._arcs = [arc for _, arc in segments if isinstance(arc, Arc)]
        self._line_loops = np.array([i for i, _ in lines], dtype=np.int64)
        self._lines = np.array([(*line.start, *line.end) for _, line in lines]).reshape(-1, 4).T
        self._arc_loops = np.array([i for i, arc in segments if isinstance(arc, Arc)], dtype=np.int64)
        heights = [(arc.box[1], arc.box[3]) for arc in self._arcs]
        self._lows, self._highs = np.array(heights).reshape(-1, 2).T

    def holds(self, p: Point) -> bool:
        """Tell whether a point lies inside an odd number of the loops, as `Loop.contains` tells of each."""
        x, y = p
        x0, y0, x1, y1 = self._boxes
        within = (x0 <= x) & (x <= x1) & (y0 <= y) & (y <= y1)
        if not within.any():
            return False
        ax, ay, bx, by = self._lines
        k = np.flatnonzero(((ay > y) != (by > y)) & within[self._line_loops])
        ax, ay, bx, by = ax[k], ay[k], bx[k], by[k]
        crossings = int(np.count_nonzero(ax + (y - ay) * (bx - ax) / (by - ay) > x))
        return (crossings + sum(arc.crossings_right_of(p) for arc in self._arcs_at(y, within))) % 2 == 1

    def _arcs_at(self, y: float, within: Mask) -> Iterator[Arc]:
        """The arcs at a height, of loops that may hold the point."""
        near = (self._lows - SAME_END_MM <= y) & (y <= self._highs + SAME_END_MM) & within[self._arc_loops]
        return (self._arcs[k] for k in np.flatnonzero(near).tolist())
