"""Drafting helpers: the shapes a template is put together from, each an exact loop.

Loops run counter-clockwise unless the corners were given the other way round. Lengths are mm,
angles radians from the x axis to the left.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from parts.errors import GeometryError
from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Line, Point, cross, distance
from parts.tolerance import LIMIT_SLACK_MM, PARALLEL_RAD, SAME_POINT_MM
from parts.units import format_figures, to_figures

Vertex: TypeAlias = tuple[float, float, float]
"""x, y, and the bulge of the segment that leaves it."""


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of a polygon and what is done to it.

    `setback` is where the treatment begins on each edge, as a multiple of `size`: it depends on the
    turn at the corner alone. `sweep` is the arc that takes the corner's place, as a multiple of the turn.
    """

    at: Point
    size: float = 0.0
    kind: str = "sharp"

    def setback(self, turn: float) -> float:
        """Return how far from the corner the treatment begins, in mm, for a turn in radians."""
        if self.kind == "fillet":
            return self.size * math.tan(abs(turn) / 2)
        if self.kind == "relief":
            return 2 * self.size * math.sin(abs(turn) / 2)
        return self.size

    def bulge(self, turn: float) -> float:
        """Return the bulge of what takes the corner's place."""
        sweep = {"fillet": turn, "relief": 2 * turn}.get(self.kind, 0.0)
        return math.tan(sweep / 4)


def fillet(x: float, y: float, radius: float) -> Corner:
    """Return a corner rounded to `radius`, inside or outside."""
    return Corner((x, y), radius, "fillet")


def chamfer(x: float, y: float, length: float) -> Corner:
    """Return a corner cut off straight, `length` back along each edge."""
    return Corner((x, y), length, "chamfer")


def relief(x: float, y: float, radius: float) -> Corner:
    """Return an inside corner opened by a round relief, so that a square edge can seat in it.

    The relief is a circle of `radius` through the corner with its centre on the corner's bisector.
    """
    return Corner((x, y), radius, "relief")


def polygon(corners: Iterable[Corner | Point]) -> Loop:
    """Return the closed outline through `corners`, each sharp (a plain point) or treated.

    Raises:
        GeometryError: if a corner folds back on itself, or treatments of neighbours meet; the message
            says how much room there is.
    """
    points = [corner if isinstance(corner, Corner) else Corner(corner) for corner in corners]
    if len(points) < 3:
        raise GeometryError(f"A polygon needs three corners or more, not {len(points)}.")
    turns = [_turn(points[i - 1].at, points[i].at, points[(i + 1) % len(points)].at) for i in range(len(points))]
    setbacks = [
        0.0 if abs(turn) <= PARALLEL_RAD else corner.setback(turn) for corner, turn in zip(points, turns, strict=True)
    ]
    _refuse_meeting(points, setbacks)
    vertices: list[Vertex] = []
    for i, corner in enumerate(points):
        if setbacks[i] <= 0:
            vertices.append((*corner.at, 0.0))
            continue
        before = toward(corner.at, points[i - 1].at, setbacks[i])
        after = toward(corner.at, points[(i + 1) % len(points)].at, setbacks[i])
        vertices += [(*before, corner.bulge(turns[i])), (*after, 0.0)]
    return Loop.through(vertices)


def largest_fillet(corners: Sequence[Corner | Point]) -> float:
    """Return the largest one radius that all the corners given as `Corner` can be filleted to, in mm.

    Infinite where no corner is given so. Each edge holds the setbacks of the corners at its ends.

    Raises:
        GeometryError: if a corner folds straight back.
    """
    points = [corner if isinstance(corner, Corner) else Corner(corner) for corner in corners]
    turns = [_turn(points[i - 1].at, points[i].at, points[(i + 1) % len(points)].at) for i in range(len(points))]
    per_mm = [
        math.tan(abs(turn) / 2) if isinstance(corner, Corner) else 0.0
        for corner, turn in zip(corners, turns, strict=True)
    ]
    return (
        min(
            distance(points[i - 1].at, points[i].at) / needed
            for i in range(len(points))
            if (needed := per_mm[i - 1] + per_mm[i]) > 0
        )
        if any(per_mm)
        else math.inf
    )


def round_clear_of(at: Point, radius: float, corner: Point) -> float:
    """Return how large a corner can be rounded before its arc meets a round at `at`; a corner at 0 opens to +.

    With a and b the distances of the round's centre from the two edges, the arc of radius R touches it where
    (R - a)² + (R - b)² = (R - radius)², so R = s + sqrt(2 (a - radius) (b - radius)), s = a + b - radius.
    """
    a, b = ((p if c == 0 else c - p) for p, c in zip(at, corner, strict=True))
    if min(a, b) <= radius:
        return math.inf
    return a + b - radius + math.sqrt(2 * (a - radius) * (b - radius))


def _turn(before: Point, at: Point, after: Point) -> float:
    """Angle turned at a corner, positive to the left; a fold straight back can't be drawn."""
    ax, ay, bx, by = at[0] - before[0], at[1] - before[1], after[0] - at[0], after[1] - at[1]
    turn = math.atan2(cross(ax, ay, bx, by), ax * bx + ay * by)
    if math.pi - abs(turn) <= PARALLEL_RAD:
        raise GeometryError(f"The outline folds straight back at {at}.")
    return turn


def _refuse_meeting(points: Sequence[Corner], setbacks: Sequence[float]) -> None:
    """Raise where the treatments of two neighbouring corners need more than the edge between them."""
    for i, corner in enumerate(points):
        edge, needed = distance(points[i - 1].at, corner.at), setbacks[i - 1] + setbacks[i]
        if edge <= SAME_POINT_MM and (corner.size or points[i - 1].size):
            raise GeometryError(f"Two corners are at one place, {corner.at}; one is rounded or cut off.")
        if needed > edge + LIMIT_SLACK_MM:
            raise GeometryError(
                f"The corners at {points[i - 1].at} and {corner.at} need {format_figures(needed)} "
                f"of the {format_figures(edge)} edge between them."
            )


def toward(a: Point, b: Point, length: float) -> Point:
    """Return the point `length` mm from a on the way to b."""
    fraction = length / distance(a, b)
    return a[0] + fraction * (b[0] - a[0]), a[1] + fraction * (b[1] - a[1])


def arched(loop: Loop, start: Point, end: Point, bulge: float) -> Loop:
    """Return the loop with an arc of this bulge in place of its straight edge from `start` to `end`."""
    chord = Line(start, end)
    return Loop(tuple(Arc(start, end, bulge) if segment == chord else segment for segment in loop.segments))


def around(points: Iterable[Point], clearance: float) -> Loop:
    """Return the offset of the convex hull of the points by `clearance` mm: lines and tangent arcs.

    Raises:
        GeometryError: if the points lie on one line.
    """
    corners = convex_hull(points)
    if len(corners) < 3:
        raise GeometryError("The points to draw around lie on one line.")
    vertices: list[Vertex] = []
    for before, at, after in zip((corners[-1], *corners[:-1]), corners, (*corners[1:], corners[0]), strict=True):
        start, end = _outward(before, at, clearance), _outward(at, after, clearance)
        vertices.append((at[0] + start[0], at[1] + start[1], math.tan(_turn(before, at, after) / 4)))
        vertices.append((at[0] + end[0], at[1] + end[1], 0.0))
    return Loop.through(vertices)


def convex_hull(points: Iterable[Point]) -> tuple[Point, ...]:
    """Return the corners of the convex hull, counter-clockwise from the leftmost; none lies on an edge."""
    ordered = sorted(set(points))

    def chain(along: Iterable[Point]) -> list[Point]:
        kept: list[Point] = []
        for at in along:
            while len(kept) > 1 and _is_left_out(kept[-2], kept[-1], at):
                kept.pop()
            kept.append(at)
        return kept[:-1]

    return (*chain(ordered), *chain(reversed(ordered)))


def _is_left_out(before: Point, at: Point, after: Point) -> bool:
    """Whether a chain running counter-clockwise has no left turn at a point."""
    ax, ay, bx, by = at[0] - before[0], at[1] - before[1], after[0] - at[0], after[1] - at[1]
    return cross(ax, ay, bx, by) <= PARALLEL_RAD * math.hypot(ax, ay) * math.hypot(bx, by)


def _outward(start: Point, end: Point, length: float) -> Point:
    """Return the vector of this length that points to the right of the way from start to end."""
    scale = length / distance(start, end)
    return (end[1] - start[1]) * scale, (start[0] - end[0]) * scale


def circle(centre: Point, diameter: float) -> Loop:
    """Return a full circle, as two half turns.

    Raises:
        GeometryError: if the diameter isn't more than nothing.
    """
    if diameter <= 0:
        raise GeometryError(f"A circle needs a diameter of more than 0 mm, not {to_figures(diameter)}.")
    (x, y), r = centre, diameter / 2
    return Loop.through([(x + r, y, 1.0), (x - r, y, 1.0)])


def circles(centres: Iterable[Point], diameter: float) -> tuple[Loop, ...]:
    """Return a circle of one diameter at each centre."""
    return tuple(circle(centre, diameter) for centre in centres)


def slot(centre: Point, length: float, width: float, angle: float = 0.0) -> Loop:
    """Return a slot with round ends; `length` is over all, along `angle`. As long as wide, it is a circle.

    Raises:
        GeometryError: if it is shorter than wide.
    """
    if length < width - LIMIT_SLACK_MM:
        raise GeometryError(f"A slot {format_figures(width)} wide can't be {format_figures(length)} long.")
    if length - width <= LIMIT_SLACK_MM:
        return circle(centre, width)
    straight, r = (length - width) / 2, width / 2
    c, s = math.cos(angle), math.sin(angle)

    def vertex(along: float, across: float, bulge: float) -> Vertex:
        return centre[0] + c * along - s * across, centre[1] + s * along + c * across, bulge

    return Loop.through(
        [vertex(-straight, -r, 0), vertex(straight, -r, 1), vertex(straight, r, 0), vertex(-straight, r, 1)]
    )


def rectangle(corner: Point, width: float, height: float, radius: float = 0.0) -> Loop:
    """Return an axis-parallel rectangle from its lower left `corner`, its corners rounded to `radius`.

    Raises:
        GeometryError: if the radii of two corners meet.
    """
    x, y = corner
    at = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
    return polygon(fillet(px, py, radius) for px, py in at)


def bolt_circle(centre: Point, diameter: float, count: int, first: float = 0.0) -> tuple[Point, ...]:
    """Return `count` centres spaced evenly on a circle, the first at the angle `first`."""
    r, step = diameter / 2, 2 * math.pi / count
    return tuple(
        (centre[0] + r * math.cos(first + i * step), centre[1] + r * math.sin(first + i * step)) for i in range(count)
    )


def row(first: Point, last: Point, count: int) -> tuple[Point, ...]:
    """Return `count` centres evenly from `first` to `last`; a single one stands in the middle."""
    if count == 1:
        return (((first[0] + last[0]) / 2, (first[1] + last[1]) / 2),)
    steps = [i / (count - 1) for i in range(count)]
    return tuple((first[0] + t * (last[0] - first[0]), first[1] + t * (last[1] - first[1])) for t in steps)


def grid(corner: Point, spacing: Point, columns: int, rows: int) -> tuple[Point, ...]:
    """Return the centres of a hole grid, row by row from its lower left `corner`."""
    return tuple((corner[0] + i * spacing[0], corner[1] + j * spacing[1]) for j in range(rows) for i in range(columns))
