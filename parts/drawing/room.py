"""Occupancy: what is taken on the paper while a drawing is laid out.

box     room that lettering or a mark has to itself; nothing else may be lettered there
ink     lines already drawn (`ink`); lettering over ink costs, so that it goes elsewhere if it can
leader  a line from lettering or a mark to what it is of; on a page none may cross another
"""

from collections.abc import Iterable, Iterator
from copy import copy
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from parts.drawing.ink import Boxes, Ink
from parts.drawing.primitives import Polygon, around, box_around, box_of
from parts.geometry import Arc, Box, Line, Point, Segment, cross, distance, meeting_points
from parts.geometry.disk import piece
from parts.geometry.search import Floats, Indices
from parts.tolerance import SAME_POINT_MM

Mask: TypeAlias = NDArray[np.bool_]

DEAR = 10.0
"""How many times as much it costs to reach beyond a window as to make a drawing grow."""

COST_PLACES = 6
"""Decimal places that the costs of places are compared to: below them is rounding, which differs from one kind of
processor to the next. Of places that cost the same, the first is taken everywhere."""

_CORNER_BEFORE = np.array([3, 0, 1, 2])
"""The corner before each of four."""


@dataclass(frozen=True, slots=True)
class _Taken:
    """A convex polygon of four corners that is taken, its bounding box, and whether they are the same."""

    polygon: Polygon
    box: Box
    is_axis_aligned: bool


class Occupancy:
    """The paper taken so far; `cell` is the side of a cell of ink, `extent` the bounding box of all that is taken.

    `apart` is whether it is told of leaders that would cross others, `tangles` how many of them do, `dear` how many
    times as much as usual it costs to reach beyond the extent.
    """

    def __init__(self, cell: float, extent: Box, *, apart: bool = False) -> None:
        self.extent, self.apart, self.tangles, self.dear = extent, apart, 0, 1.0
        self._leaders: list[Line] = []
        self._ink = Ink(cell, extent)
        self._taken: list[_Taken] = []
        self._turned: list[int] = []
        self._boxes, self._corners = np.empty((32, 4)), np.empty((32, 4, 2))

    def branch(self, within: Box | None = None) -> "Occupancy":
        """Return the same paper, to be taken without taking it here; it is dear there to reach beyond `within`."""
        other = copy(self)
        if within:
            other.extent, other.dear = within, DEAR
        other._ink, other._leaders = self._ink.branch(), list(self._leaders)
        other._taken, other._turned = list(self._taken), list(self._turned)
        other._boxes, other._corners = self._boxes.copy(), self._corners.copy()
        return other

    def become(self, other: "Occupancy") -> None:
        """Take what has been taken of a branch."""
        vars(self).update(vars(other))

    def lead(self, lines: Iterable[Line]) -> None:
        """Take note of the lines of a leader."""
        if self.apart:
            drawn = list(lines)
            ends = np.array([(*line.start, *line.end) for line in drawn]).T
            self.tangles += int(self.crossed_leaders(ends).sum())
            self._leaders += drawn

    def crossed_leaders(self, ends: Floats) -> Indices:
        """Count the leaders that each of many lines crosses; none where nobody minds."""
        if not self._leaders:
            return np.zeros(ends.shape[1], dtype=np.int64)
        ax, ay, bx, by = ends
        px, py, qx, qy = np.array([(*line.start, *line.end) for line in self._leaders]).T[..., None]

        def side(ux: Floats, uy: Floats, vx: Floats, vy: Floats, x: Floats, y: Floats) -> Floats:
            return (vx - ux) * (y - uy) - (vy - uy) * (x - ux)

        apart = side(ax, ay, bx, by, px, py) * side(ax, ay, bx, by, qx, qy) > 0
        apart |= side(px, py, qx, qy, ax, ay) * side(px, py, qx, qy, bx, by) > 0
        counts: Indices = np.count_nonzero(~apart, axis=0).astype(np.int64)
        return counts

    def claim(self, polygon: Polygon) -> None:
        """Take the room of a convex polygon of four corners."""
        box = box_of(polygon)
        self.extent = around([self.extent, box])
        count, taken = len(self._taken), _Taken(polygon, box, _is_axis_aligned(polygon, box))
        if count == len(self._boxes):
            self._boxes, self._corners = (np.concatenate((rows, rows)) for rows in (self._boxes, self._corners))
        self._boxes[count], self._corners[count] = box, polygon
        self._turned += [] if taken.is_axis_aligned else [count]
        self._taken.append(taken)

    def draw(self, segments: Iterable[Segment], weight: float, box: Box | None = None) -> None:
        """Take note of drawn lines; `weight` is how bad it is to letter over them, `box` theirs where it is known."""
        drawn = list(segments)
        if drawn:
            self.extent = around((self.extent, box or box_around(drawn)))
        self._ink.mark(drawn, weight)

    def free(self, polygon: Polygon) -> bool:
        """Tell whether a convex polygon meets no box."""
        box = x0, y0, x1, y1 = box_of(polygon)
        aligned = _is_axis_aligned(polygon, box)
        for taken in self._taken:
            tx0, ty0, tx1, ty1 = taken.box
            if tx1 <= x0 or x1 <= tx0 or ty1 <= y0 or y1 <= ty0:
                continue
            if (aligned and taken.is_axis_aligned) or _overlap(polygon, taken.polygon):
                return False
        return True

    def free_boxes(self, boxes: Boxes) -> Mask:
        """Tell of each of many axis-aligned rectangles whether it meets no box."""
        x0, y0, x1, y1 = boxes
        tx0, ty0, tx1, ty1 = self._boxes[: len(self._taken)].T[:, :, None]
        meet = (tx0 < x1) & (x0 < tx1) & (ty0 < y1) & (y0 < ty1)
        if self._turned:
            some, at = np.nonzero(meet[self._turned])
            turned = np.array(self._turned)[some]
            meet[turned, at] = _overlap_boxes(self._corners[turned], (x0[at], y0[at], x1[at], y1[at]))
        free: Mask = ~meet.any(axis=0)
        return free

    def cover(self, polygon: Polygon) -> float:
        """Return the weight of the ink under a convex polygon, roughly."""
        return self._ink.under_box(box_of(polygon))

    def cover_boxes(self, boxes: Boxes) -> Floats:
        """Return the weight of the ink under each of many axis-aligned rectangles, roughly."""
        return self._ink.under(boxes)

    def along(self, line: Line) -> float:
        """Return the weight of the ink that a line runs over, roughly."""
        return self._ink.along(line)

    def crossed(self, line: Line) -> int:
        """Count the boxes that a straight line runs through."""
        x0, y0, x1, y1 = line.box
        count = 0
        for taken in self._taken:
            tx0, ty0, tx1, ty1 = taken.box
            if not (tx1 < x0 or x1 < tx0 or ty1 < y0 or y1 < ty0):
                count += inside_of(line, taken.polygon) is not None
        return count

    def along_lines(self, ends: Floats) -> Floats:
        """Return the weight of the ink that each of many lines runs over: x, y of the starts, then of the ends."""
        return self._ink.along_lines(ends)

    def crossed_lines(self, ends: Floats) -> Indices:
        """Count the boxes that each of many lines runs through."""
        to = self._corners[: len(self._taken)].transpose(1, 2, 0)[..., None]  # by corner, x and y, box, and line
        px, py = to[_CORNER_BEFORE].swapaxes(0, 1)
        qx, qy = to.swapaxes(0, 1)
        ax, ay, bx, by = ends
        nx, ny = py - qy, qx - px  # as `inside_of` does
        before, change = nx * (ax - px) + ny * (ay - py), nx * (bx - ax) + ny * (by - ay)
        level, rising = change == 0, change > 0
        at = -before / np.where(level, 1.0, change)
        low = np.where(rising, at, 0.0).max(axis=0)
        at[rising] = 1.0
        at[level] = np.where(before[level] <= 0, -1.0, 1.0)
        counts: Indices = np.count_nonzero(np.maximum(low, 0.0) < np.minimum(at.min(axis=0), 1.0), axis=0).astype(
            np.int64
        )
        return counts

    def growth(self, box: Box) -> float:
        """Return by how much a box reaches beyond the bounding box of all that is taken, summed over the four sides."""
        x0, y0, x1, y1 = self.extent
        beyond = max(x0 - box[0], 0) + max(y0 - box[1], 0) + max(box[2] - x1, 0) + max(box[3] - y1, 0)
        return self.dear * beyond

    def growth_boxes(self, boxes: Boxes) -> Floats:
        """Return the same of each of many boxes."""
        x0, y0, x1, y1 = self.extent
        left, low = np.maximum(x0 - boxes[0], 0), np.maximum(y0 - boxes[1], 0)
        growth: Floats = left + low + np.maximum(boxes[2] - x1, 0) + np.maximum(boxes[3] - y1, 0)
        return self.dear * growth


def inside_of(line: Line, polygon: Polygon) -> tuple[float, float] | None:
    """Return the fractions between which a line runs inside a convex polygon, None where it doesn't."""
    (ax, ay), (bx, by) = line.start, line.end
    low, high = 0.0, 1.0
    for (px, py), (qx, qy) in zip(polygon, polygon[1:] + polygon[:1], strict=True):
        nx, ny = py - qy, qx - px  # points to the inside
        before, change = nx * (ax - px) + ny * (ay - py), nx * (bx - ax) + ny * (by - ay)
        if change == 0:
            if before <= 0:
                return None
        elif change > 0:
            low = max(low, -before / change)
        else:
            high = min(high, -before / change)
    return (low, high) if low < high else None


def without(segment: Segment, polygons: Iterable[Polygon]) -> Iterator[Segment]:
    """Yield what is left of a line or an arc outside some convex polygons."""
    return _line_without(segment, polygons) if isinstance(segment, Line) else _arc_without(segment, polygons)


def _arc_without(arc: Arc, polygons: Iterable[Polygon]) -> Iterator[Segment]:
    x0, y0, x1, y1 = arc.box
    near = [p for p in polygons if (b := box_of(p))[0] < x1 and x0 < b[2] and b[1] < y1 and y0 < b[3]]
    edges = [Line(p, q) for polygon in near for p, q in zip(polygon, polygon[1:] + polygon[:1], strict=True)]
    cuts = sorted({0.0, 1.0, *(arc.fraction_of(at) for edge in edges for at in meeting_points(arc, edge))})
    kept: list[tuple[float, float]] = []
    for low, high in pairwise(cuts):
        if any(_holds(polygon, arc.at((low + high) / 2)) for polygon in near):
            continue
        if kept and kept[-1][1] == low:
            low = kept.pop()[0]
        kept.append((low, high))
    yield from (piece(arc, low, high) for low, high in kept if (high - low) * arc.length > SAME_POINT_MM)


def _holds(polygon: Polygon, p: Point) -> bool:
    """Tell whether a point lies inside a convex polygon."""
    edges = zip(polygon, polygon[1:] + polygon[:1], strict=True)
    return all(cross(bx - ax, by - ay, p[0] - ax, p[1] - ay) > 0 for (ax, ay), (bx, by) in edges)


def _line_without(line: Line, polygons: Iterable[Polygon]) -> Iterator[Line]:
    x0, y0, x1, y1 = line.box
    near = [p for p in polygons if (b := box_of(p))[0] <= x1 and x0 <= b[2] and b[1] <= y1 and y0 <= b[3]]
    cuts = sorted(cut for polygon in near if (cut := inside_of(line, polygon)))
    done = 0.0
    for low, high in [*cuts, (1.0, 1.0)]:
        start, end = line.at(done), line.at(low)
        if low > done and distance(start, end) > 0:
            yield Line(start, end)
        done = max(done, high)


def _is_axis_aligned(polygon: Polygon, box: Box) -> bool:
    """Tell whether a polygon is an axis-aligned rectangle: its own bounding box."""
    return len(polygon) == 4 and all(x in (box[0], box[2]) and y in (box[1], box[3]) for x, y in polygon)


def _overlap(a: Polygon, b: Polygon) -> bool:
    """Tell whether two convex polygons share more than an edge: that no edge of either is a separating axis."""
    for polygon in (a, b):
        px, py = polygon[-1]
        for qx, qy in polygon:
            nx, ny = qy - py, px - qx
            on_a, on_b = [nx * x + ny * y for x, y in a], [nx * x + ny * y for x, y in b]
            if max(on_a) <= min(on_b) or max(on_b) <= min(on_a):
                return False
            px, py = qx, qy
    return True


def _overlap_boxes(polygons: Floats, boxes: Boxes) -> Mask:
    """Tell of pairs of a convex polygon and a box, whose bounding boxes overlap, whether they do too, as `_overlap`.

    Args:
        polygons: the corners of each, n x 4 x 2.
        boxes: one for each polygon.
    """
    (px, py), (qx, qy) = polygons[:, _CORNER_BEFORE].T, polygons.T  # by corner and pair
    nx, ny = qy - py, px - qx
    x0, y0, x1, y1 = boxes
    on_box = np.array([nx * x + ny * y for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))])
    on_polygon = np.array([nx * x + ny * y for x, y in zip(qx, qy, strict=True)])
    apart = (on_box.max(axis=0) <= on_polygon.min(axis=0)) | (on_polygon.max(axis=0) <= on_box.min(axis=0))
    overlap: Mask = ~apart.any(axis=0)
    return overlap
