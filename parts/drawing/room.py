"""Room: what is taken on the paper while a drawing is laid out.

box   room that lettering or a mark has to itself; nothing else may be lettered there
ink   lines already drawn, kept as cells of a coarse grid: good for choosing between places, never for
      measuring; lettering over ink costs, so that it goes elsewhere if it can
"""

import math
from collections.abc import Iterable, Iterator

from parts.drawing.primitives import Polygon, box_of
from parts.geometry.segment import Box, Line, Point, Segment, distance

Cell = tuple[int, int]


class Room:
    """The paper taken so far; `cell` is the side of a cell of ink."""

    def __init__(self, cell: float) -> None:
        self.cell = cell
        self.boxes: list[tuple[Polygon, Box]] = []
        self.ink: dict[Cell, float] = {}

    def claim(self, polygon: Polygon) -> None:
        """Take the room of a convex polygon."""
        self.boxes.append((polygon, box_of(polygon)))

    def draw(self, segments: Iterable[Segment], weight: float) -> None:
        """Take note of drawn lines; `weight` is how bad it is to letter over them."""
        for segment in segments:
            for cell in self._cells_of(segment):
                self.ink[cell] = max(self.ink.get(cell, 0.0), weight)

    def free(self, polygon: Polygon) -> bool:
        """Tell whether a convex polygon meets no box."""
        x0, y0, x1, y1 = box_of(polygon)
        return not any(
            x0 < bx1 and bx0 < x1 and y0 < by1 and by0 < y1 and _overlap(polygon, box)
            for box, (bx0, by0, bx1, by1) in self.boxes
        )

    def cover(self, polygon: Polygon) -> float:
        """Return the weight of the ink under a convex polygon."""
        x0, y0, x1, y1 = box_of(polygon)
        columns = range(math.floor(x0 / self.cell), math.floor(x1 / self.cell) + 1)
        rows = range(math.floor(y0 / self.cell), math.floor(y1 / self.cell) + 1)
        return sum(self.ink.get((i, j), 0.0) for i in columns for j in rows)

    def crossed(self, a: Point, b: Point) -> int:
        """Count the boxes that the straight line from a to b runs through."""
        return sum(inside_of(Line(a, b), polygon) is not None for polygon, _ in self.boxes) if a != b else 0

    def _cells_of(self, segment: Segment) -> Iterator[Cell]:
        steps = max(1, math.ceil(segment.length / self.cell * 2))
        for i in range(steps + 1):
            x, y = segment.at(i / steps)
            yield math.floor(x / self.cell), math.floor(y / self.cell)


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


def without(line: Line, polygons: Iterable[Polygon]) -> list[Line]:
    """Return what is left of a line outside some convex polygons."""
    cuts = sorted(cut for polygon in polygons if (cut := inside_of(line, polygon)))
    pieces: list[Line] = []
    done = 0.0
    for low, high in [*cuts, (1.0, 1.0)]:
        if low > done and distance(a := line.at(done), b := line.at(low)) > 0:
            pieces.append(Line(a, b))
        done = max(done, high)
    return pieces


def _overlap(a: Polygon, b: Polygon) -> bool:
    """Tell whether two convex polygons share more than an edge, by separating axes."""
    return not any(_separates(p, q, a, b) for one in (a, b) for p, q in zip(one, one[1:] + one[:1], strict=True))


def _separates(p: Point, q: Point, a: Polygon, b: Polygon) -> bool:
    nx, ny = q[1] - p[1], p[0] - q[0]
    on_a, on_b = [nx * x + ny * y for x, y in a], [nx * x + ny * y for x, y in b]
    return max(on_a) <= min(on_b) or max(on_b) <= min(on_a)
