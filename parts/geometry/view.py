"""A flattened view: a shapely copy of loops for looking and for checks, never for deciding.

Arcs become chords whose ends lie on the arc and whose middles lie within `chord_error` mm of it, so an
outside arc loses a little area and a hole gains as little.
"""

import math
from collections.abc import Iterable, Sequence
from typing import cast

import numpy as np
import shapely
from numpy.typing import NDArray

from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Box, Point, Segment
from parts.tolerance import FLATTEN_MM


def flattened(segment: Segment, chord_error: float = FLATTEN_MM) -> list[Point]:
    """Return points along a segment, its start first, its end left out.

    A chord that spans the angle t is r (1 - cos(t / 2)) = 2 r sin²(t / 4) from its arc.
    """
    if not isinstance(segment, Arc):
        return [segment.start]
    span = 4 * math.asin(min(math.sqrt(chord_error / (2 * segment.radius)), 1.0))
    count = max(math.ceil(abs(segment.sweep) / span), 1)
    return [segment.start, *(segment.at(i / count) for i in range(1, count))]


def ring(loop: Loop, chord_error: float = FLATTEN_MM) -> list[Point]:
    """Return the points of a loop with its arcs flattened, not closed."""
    return [point for segment in loop.segments for point in flattened(segment, chord_error)]


def polygon(outside: Loop, inside: Iterable[Loop] = (), chord_error: float = FLATTEN_MM) -> shapely.Polygon:
    """Return one outside loop and the loops within it as a shapely polygon."""
    return shapely.Polygon(ring(outside, chord_error), [ring(loop, chord_error) for loop in inside])


def is_sound(outside: Loop, inside: Iterable[Loop] = (), chord_error: float = FLATTEN_MM) -> bool:
    """Tell whether loops, flattened, neither cross themselves nor each other, and those within are within."""
    return bool(polygon(outside, inside, chord_error).is_valid)


def roomiest(outside: Loop, inside: Iterable[Loop] = (), chord_error: float = FLATTEN_MM) -> Point:
    """Return a point as far from every edge as any, but for twice the chord error; of loops that don't cross."""
    shape = polygon(outside, inside, chord_error)
    (x, y), _ = shapely.maximum_inscribed_circle(shape, tolerance=chord_error).coords
    return float(x), float(y)


def hull(points: Sequence[Point]) -> NDArray[np.float64]:
    """Return the corners (n x 2) of the convex hull of points, each one of them."""
    corners = shapely.get_coordinates(shapely.convex_hull(shapely.linestrings(np.array(points))))
    return corners[:-1] if len(corners) > 3 else corners


class BoxTree:
    """An R-tree over boxes (n x 4), packed by shapely's sort-tile-recursive algorithm."""

    def __init__(self, boxes: NDArray[np.float64]) -> None:
        self._tree = shapely.STRtree(_shapes(boxes))

    def meeting(self, box: Box) -> list[int]:
        """Return the indices, in order, of the boxes that meet another one."""
        return sorted(self._tree.query(shapely.box(*box)).tolist())

    def meetings(self, boxes: NDArray[np.float64]) -> int:
        """Return how many pairs of one of these boxes and one in the tree meet."""
        return int(self._tree.query(_shapes(boxes)).shape[1])


def near_outline(points: Iterable[Point], corners: NDArray[np.float64], reach: float) -> list[bool]:
    """Return, for each point, whether it lies within `reach` mm of the closed outline through the corners."""
    outline = shapely.LinearRing(corners)
    shapely.prepare(outline)
    return [bool(near) for near in shapely.dwithin(outline, shapely.points(list(points)), reach)]


def _shapes(boxes: NDArray[np.float64]) -> NDArray[np.object_]:
    return cast(NDArray[np.object_], shapely.box(*boxes.T))
