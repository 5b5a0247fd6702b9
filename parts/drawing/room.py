"""Room: what is taken on the paper while a drawing is laid out.

box   room that lettering or a mark has to itself; nothing else may be lettered there
ink   lines already drawn, kept as cells of a coarse grid: good for choosing between places, never for
      measuring; lettering over ink costs, so that it goes elsewhere if it can
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeAlias

from parts.drawing.primitives import Polygon, around, box_of
from parts.geometry import Arc, Box, Line, Point, Segment, cross, distance, meeting_points
from parts.geometry.disk import piece
from parts.tolerance import SAME_POINT_MM

Cell: TypeAlias = tuple[int, int]


@dataclass(frozen=True, slots=True)
class _Taken:
    """A convex polygon that is taken, its box, and whether they are the same."""

    polygon: Polygon
    box: Box
    is_upright: bool


class Room:
    """The paper taken so far; `cell` is the side of a cell of ink, `extent` the box of all that is taken."""

    def __init__(self, cell: float, extent: Box) -> None:
        self.cell = cell
        self.extent = extent
        self._ink: dict[Cell, float] = {}
        self._boxes: dict[Cell, list[_Taken]] = {}

    def claim(self, polygon: Polygon) -> None:
        """Take the room of a convex polygon."""
        box = box_of(polygon)
        taken = _Taken(polygon, box, _is_upright(polygon, box))
        self.extent = around([self.extent, box])
        for cell in self._cells_in(box, 4):
            self._boxes.setdefault(cell, []).append(taken)

    def draw(self, segments: Iterable[Segment], weight: float) -> None:
        """Take note of drawn lines; `weight` is how bad it is to letter over them."""
        for segment in segments:
            self.extent = around([self.extent, segment.box])
            for cell in self._cells_of(segment, 1):
                self._ink[cell] = max(self._ink.get(cell, 0.0), weight)

    def free(self, polygon: Polygon) -> bool:
        """Tell whether a convex polygon meets no box."""
        box = x0, y0, x1, y1 = box_of(polygon)
        upright = _is_upright(polygon, box)
        for taken in self._near(self._cells_in(box, 4)):
            tx0, ty0, tx1, ty1 = taken.box
            apart = tx1 <= x0 or x1 <= tx0 or ty1 <= y0 or y1 <= ty0
            if not apart and ((upright and taken.is_upright) or _overlap(polygon, taken.polygon)):
                return False
        return True

    def cover(self, polygon: Polygon) -> float:
        """Return the weight of the ink under a convex polygon, roughly."""
        return sum(self._ink.get(cell, 0.0) for cell in self._cells_in(box_of(polygon), 1))

    def along(self, line: Line) -> float:
        """Return the weight of the ink that a line runs over, roughly."""
        return sum(self._ink.get(cell, 0.0) for cell in set(self._cells_of(line, 1)))

    def crossed(self, line: Line) -> int:
        """Count the boxes that a straight line runs through."""
        near = self._near(set(self._cells_of(line, 4)))
        return sum(inside_of(line, taken.polygon) is not None for taken in near)

    def growth(self, box: Box) -> float:
        """Return by how much a box reaches beyond all that is taken, summed over the four sides."""
        x0, y0, x1, y1 = self.extent
        return max(x0 - box[0], 0) + max(y0 - box[1], 0) + max(box[2] - x1, 0) + max(box[3] - y1, 0)

    def _near(self, cells: Iterable[Cell]) -> Iterable["_Taken"]:
        return {id(taken): taken for cell in cells for taken in self._boxes.get(cell, ())}.values()

    def _cells_in(self, box: Box, coarse: int) -> Iterator[Cell]:
        side = self.cell * coarse
        for i in range(math.floor(box[0] / side), math.floor(box[2] / side) + 1):
            for j in range(math.floor(box[1] / side), math.floor(box[3] / side) + 1):
                yield i, j

    def _cells_of(self, segment: Segment, coarse: int) -> Iterator[Cell]:
        side = self.cell * coarse
        steps = max(1, math.ceil(segment.length / self.cell * 2))
        for i in range(steps + 1):
            x, y = segment.at(i / steps)
            yield math.floor(x / side), math.floor(y / side)


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
    cuts = sorted(cut for polygon in polygons if (cut := inside_of(line, polygon)))
    done = 0.0
    for low, high in [*cuts, (1.0, 1.0)]:
        start, end = line.at(done), line.at(low)
        if low > done and distance(start, end) > 0:
            yield Line(start, end)
        done = max(done, high)


def _is_upright(polygon: Polygon, box: Box) -> bool:
    """Tell whether a polygon is its own box."""
    return len(polygon) == 4 and all(x in (box[0], box[2]) and y in (box[1], box[3]) for x, y in polygon)


def _overlap(a: Polygon, b: Polygon) -> bool:
    """Tell whether two convex polygons share more than an edge, by separating axes."""
    edges = [edge for one in (a, b) for edge in zip(one, one[1:] + one[:1], strict=True)]
    return not any(_separates(p, q, a, b) for p, q in edges)


def _separates(p: Point, q: Point, a: Polygon, b: Polygon) -> bool:
    nx, ny = q[1] - p[1], p[0] - q[0]
    on_a, on_b = [nx * x + ny * y for x, y in a], [nx * x + ny * y for x, y in b]
    return max(on_a) <= min(on_b) or max(on_b) <= min(on_a)
