"""A flattened view: a shapely copy of loops for looking and for checks, never for deciding.

Arcs become chords whose ends lie on the arc and whose middles lie within `chord_error` mm of it, so an
outside arc loses a little area and a hole gains as little.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import cast

import numpy as np
import shapely
from numpy.typing import NDArray

from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Box, Point, Segment
from parts.tolerance import FLATTEN_MM

# Of a radius, by how much a region shrinks at the least where GEOS is asked to shrink it by the radius, with a margin.
_SHRUNK = 0.97


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


def roomiest(shape: shapely.Polygon, chord_error: float = FLATTEN_MM) -> Point:
    """Return a point as far from every edge as any, but for twice the chord error; of loops that don't cross."""
    (x, y), _ = shapely.maximum_inscribed_circle(shape, tolerance=chord_error).coords
    return float(x), float(y)


def centres(shape: shapely.Polygon, radius: float, chord_error: float = FLATTEN_MM) -> Box | None:
    """Return a box around the centres of all circles of a radius in a flattened region, or None where none fits.

    The box is large rather than small, since the region shrinks by a little less than the radius: flattening takes
    the chord error at either end, and GEOS smooths what it shrinks by up to a hundredth.
    """
    shrunk = shape.buffer(-(_SHRUNK * radius - 2 * chord_error))
    return None if shrunk.is_empty else shrunk.bounds


def hull(points: Sequence[Point]) -> NDArray[np.float64]:
    """Return the corners (n x 2) of the convex hull of points, each one of them."""
    corners = shapely.get_coordinates(shapely.convex_hull(shapely.linestrings(np.array(points))))
    return corners[:-1] if len(corners) > 3 else corners


def near_boxes_of(of: Sequence[Box], boxes: Sequence[Box], reach: float) -> Iterator[list[int]]:
    """Yield for each box of the first list the indices of those of the second within `reach` mm of it."""
    if not of or not boxes:
        yield from ([] for _ in of)
        return
    i, j = _meeting(of, boxes, reach)
    order = np.argsort(i, kind="stable")
    ends = np.searchsorted(i[order], np.arange(1, len(of) + 1))
    found, start = j[order].tolist(), 0
    for end in ends.tolist():
        yield found[start:end]
        start = end


def pairs_between(a: Sequence[Box], b: Sequence[Box], reach: float) -> list[tuple[int, int]]:
    """Return the indices (of a, of b) of boxes within `reach` mm of each other in x and in y."""
    if not a or not b:
        return []
    i, j = _meeting(a, b, reach)
    return list(zip(i.tolist(), j.tolist(), strict=True))


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
        return self.near_box(*self._boxes[index])

    def near_box(self, x0: float, y0: float, x1: float, y1: float) -> list[int]:
        """Return the indices of the boxes within `reach` of another box."""
        r = self._reach
        return [int(i) for i in self._tree.query(shapely.box(x0 - r, y0 - r, x1 + r, y1 + r))]


def index_of(boxes: Sequence[Box], reach: float = 0.0) -> BoxIndex:
    """Return an index over plain boxes, to be asked which of them come within `reach` of another."""
    return BoxIndex(np.array(boxes), reach)


def boxes_within(boxes: Sequence[Box], corners: NDArray[np.float64]) -> list[bool]:
    """Return, for each box, whether all of it lies inside the closed outline through the corners, nowhere on it."""
    inside = shapely.Polygon(corners)
    shapely.prepare(inside)
    within: list[bool] = shapely.contains_properly(inside, _boxes(np.array(boxes))).tolist()
    return within


def _meeting(a: Sequence[Box], b: Sequence[Box], reach: float) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """The index arrays (of a, of b) of boxes within `reach` of each other."""
    grown = np.array(a, dtype=np.float64) + np.array([-reach, -reach, reach, reach])
    i, j = shapely.STRtree(_boxes(np.array(b, dtype=np.float64))).query(_boxes(grown))
    return i, j


def _boxes(boxes: NDArray[np.float64]) -> NDArray[np.object_]:
    return cast(NDArray[np.object_], shapely.box(*boxes.T))
