"""A flattened view: a shapely copy of loops for looking and for checks, never for deciding.

Arcs become chords whose ends lie on the arc and whose middles lie within `chord_error` mm of it, so an
outside arc loses a little area and a hole gains as little.
"""

import math
from collections.abc import Iterable
from typing import cast

import numpy as np
import shapely
from numpy.typing import NDArray

from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Point, Segment
from parts.tolerance import FLATTEN_MM


def flattened(segment: Segment, chord_error: float = FLATTEN_MM) -> list[Point]:
    """Return points along a segment, its start first, its end left out.

    A chord that spans the angle t is r (1 - cos(t / 2)) from its arc.
    """
    if not isinstance(segment, Arc):
        return [segment.start]
    span = 2 * math.acos(max(1 - chord_error / segment.radius, -1.0))
    count = max(math.ceil(abs(segment.sweep) / span), 1)
    return [segment.start, *(segment.at(i / count) for i in range(1, count))]


def ring(loop: Loop, chord_error: float = FLATTEN_MM) -> list[Point]:
    """Return the points of a loop with its arcs flattened, not closed."""
    return [point for segment in loop.segments for point in flattened(segment, chord_error)]


def polygon(outside: Loop, inside: Iterable[Loop] = (), chord_error: float = FLATTEN_MM) -> shapely.Polygon:
    """Return one outside loop and the loops within it as a shapely polygon."""
    return shapely.Polygon(ring(outside, chord_error), [ring(loop, chord_error) for loop in inside])


def near_boxes(boxes: NDArray[np.float64], reach: float) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return index arrays (i < j) of the pairs of boxes (n x 4) within `reach` mm in x and in y."""
    grown = boxes + np.array([-reach, -reach, reach, reach]) / 2
    made = _boxes(grown)
    i, j = shapely.STRtree(made).query(made)
    ordered = i < j
    return i[ordered], j[ordered]


def crowded(boxes: NDArray[np.float64], reach: float, most: int) -> bool:
    """Tell whether more than `most` pairs of boxes (n x 4) come within `reach` mm of each other in x and in y.

    Counts a few boxes at a time, and no further than it must, so that it takes little time and memory whatever
    the boxes are.
    """
    tree, found, at, step = shapely.STRtree(_boxes(boxes)), 0, 0, 16
    while at < len(boxes):
        grown = boxes[at : at + step] + np.array([-reach, -reach, reach, reach])
        hits = int(tree.query(_boxes(grown)).shape[1])
        found, at = found + hits, at + step
        if found > 2 * most + at:  # each pair is met from both its ends, and each box meets itself
            return True
        step = 16 if hits > 100_000 else 2 * step
    return False


class BoxIndex:
    """Many boxes, to be asked again and again which of them are near one."""

    def __init__(self, boxes: NDArray[np.float64], reach: float) -> None:
        self._boxes = boxes
        self._reach = reach
        self._tree = shapely.STRtree(_boxes(boxes))

    def near(self, index: int) -> list[int]:
        """Return the indices of the boxes within `reach` of the one at `index`, itself among them."""
        x0, y0, x1, y1 = self._boxes[index]
        r = self._reach
        return [int(i) for i in self._tree.query(shapely.box(x0 - r, y0 - r, x1 + r, y1 + r))]


def _boxes(boxes: NDArray[np.float64]) -> NDArray[np.object_]:
    return cast(NDArray[np.object_], shapely.box(*boxes.T))
