"""A smooth curve in tangent arcs through points: between two of them a pair of arcs, a biarc.

knot     a point of the curve and its heading there in radians, or None for that of the circle through its neighbours
biarc    two arcs that meet with one tangent and have a given point and heading at each end

Source of the biarc with equal tangent lengths: K. M. Bolton, "Biarc curves", Computer-Aided Design 7 (1975).
"""

import math
from collections.abc import Sequence
from typing import NamedTuple

from parts.errors import GeometryError
from parts.geometry import Point, Vertex, distance
from parts.tolerance import PARALLEL_RAD, SAME_POINT_MM


class Knot(NamedTuple):
    """A point of a curve, and its heading there."""

    at: Point
    heading: float | None = None


def rounded(at: Point, heading: float, radius: float, turn: float) -> tuple[Knot, Knot]:
    """Return both ends of an arc whose middle is `at`, with this heading there, turning left by `turn` over all."""
    side = math.copysign(radius, turn)
    centre = at[0] - side * math.sin(heading), at[1] + side * math.cos(heading)
    ends = heading - turn / 2, heading + turn / 2
    first, last = (Knot((centre[0] + side * math.sin(a), centre[1] - side * math.cos(a)), a) for a in ends)
    return first, last


def through(knots: Sequence[Knot]) -> list[Vertex]:
    """Return the vertices of the curve from the first knot up to the last, without the last.

    Raises:
        GeometryError: if two knots that follow each other are at one place, or no arcs join them.
    """
    headings = [_heading(knots, i) for i in range(len(knots))]
    vertices: list[Vertex] = []
    for i in range(len(knots) - 1):
        vertices += biarc(knots[i].at, headings[i], knots[i + 1].at, headings[i + 1])
    return vertices


def closed(knots: Sequence[Knot]) -> list[Vertex]:
    """Return the vertices of the closed curve through the knots, for `Loop.through`.

    Raises:
        GeometryError: as for `through`.
    """
    n = len(knots)
    headings = [_heading([knots[i - 1], knots[i], knots[(i + 1) % n]], 1) for i in range(n)]
    pairs = [(knots[i].at, headings[i], knots[(i + 1) % n].at, headings[(i + 1) % n]) for i in range(n)]
    return [vertex for pair in pairs for vertex in biarc(*pair)]


def biarc(start: Point, leaving: float, end: Point, arriving: float) -> list[Vertex]:
    """Return the start and the middle of a biarc, each with the bulge of the arc that leaves it.

    With a tangent of length d at either end, d solves |v - d (t0 + t1)| = 2 d, v being the way from start to
    end and t0, t1 the headings; the arcs meet in the middle of both tangents' ends.

    Raises:
        GeometryError: if both ends are at one place, or the curve would have to turn straight back.
    """
    vx, vy = end[0] - start[0], end[1] - start[1]
    square = vx**2 + vy**2
    if square <= SAME_POINT_MM**2:
        raise GeometryError(f"The curve has two points at {start}.")
    (ax, ay), (bx, by) = (math.cos(leaving), math.sin(leaving)), (math.cos(arriving), math.sin(arriving))
    along, apart = vx * (ax + bx) + vy * (ay + by), (ax - bx) ** 2 + (ay - by) ** 2
    root = math.sqrt(along**2 + apart * square)
    if along + root <= SAME_POINT_MM * math.sqrt(square):
        raise GeometryError(f"The curve folds back between {start} and {end}.")
    d = square / (along + root)
    middle = (start[0] + end[0] + d * (ax - bx)) / 2, (start[1] + end[1] + d * (ay - by)) / 2
    first = _angle((ax, ay), (middle[0] - start[0], middle[1] - start[1]))
    last = _angle((end[0] - middle[0], end[1] - middle[1]), (bx, by))
    return [(*start, math.tan(first / 2)), (*middle, math.tan(last / 2))]


def _angle(u: Point, v: Point) -> float:
    """The angle from u to v; as far as an arc may turn from its chord."""
    (ux, uy), (vx, vy) = u, v
    angle = math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)
    if math.pi - abs(angle) <= PARALLEL_RAD:
        raise GeometryError("The curve folds straight back.")
    return angle


def _heading(knots: Sequence[Knot], i: int) -> float:
    """The heading given, or that of the circle through a knot and both its neighbours; at an end, along the chord.

    The circle's heading is off the first chord by as much as the second chord is seen from the third.
    """
    at, given = knots[i]
    if given is not None:
        return given
    before, after = knots[max(i - 1, 0)].at, knots[min(i + 1, len(knots) - 1)].at
    if at in (before, after):
        return math.atan2(after[1] - before[1], after[0] - before[0])
    return heading_of(before, at, after)


def heading_of(before: Point, at: Point, after: Point) -> float:
    """Return the heading at a point of the circle through it and the points before and after it.

    Raises:
        GeometryError: if two of them are at one place, or the way turns straight back.
    """
    a, b = distance(before, at), distance(at, after)
    turn = _angle((at[0] - before[0], at[1] - before[1]), (after[0] - at[0], after[1] - at[1]))
    if not a or not b:
        raise GeometryError(f"The curve has two points at {at}.")
    whole = _angle((at[0] - before[0], at[1] - before[1]), (after[0] - before[0], after[1] - before[1]))
    return math.atan2(at[1] - before[1], at[0] - before[0]) + turn - whole
