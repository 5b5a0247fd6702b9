"""A closed curve in tangent arcs through points set by hand, and slits along such a curve.

spot     a point of a table: what it is, x, y, and the radius of its corner; without one, the curve is smooth there
slit     a slot along a curve, as wide at its start, its end and, where three widths are given, its middle as asked
"""

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import TypeAlias

from parts.artwork.biarc import Knot, closed, heading_of, rounded
from parts.geometry import Arc, Loop, Point, Vertex, distance

Spot: TypeAlias = tuple[str, float, float] | tuple[str, float, float, float]


def both_sides(right: Sequence[Spot]) -> tuple[Spot, ...]:
    """Return a symmetric outline of its right half, going up; what is at x = 0 stands once."""
    left = [(name, -x, *rest) for name, x, *rest in reversed(right) if x]
    return (*right, *left)  # type: ignore[arg-type]  # as long as it was


def curve(spots: Sequence[Spot]) -> Loop:
    """Return the closed curve through the spots, each corner an arc whose middle is at its spot.

    Raises:
        GeometryError: if two spots that follow each other are at one place, or no arcs join them.
    """
    return Loop.through(_merged(closed([*_knots(spots)])))


def _knots(spots: Sequence[Spot]) -> Iterable[Knot]:
    at = [(x, y) for _, x, y, *_ in spots]
    radii = [float(rest[0]) if rest else 0.0 for _, _, _, *rest in spots]
    n = len(at)
    smooth = [None if r else heading_of(at[i - 1], at[i], at[(i + 1) % n]) for i, r in enumerate(radii)]
    for i, radius in enumerate(radii):
        before, after = i - 1, (i + 1) % n
        if not radius:
            yield Knot(at[i], smooth[i])
            continue
        arriving = _beside(at[before], at[i], smooth[before])
        leaving = _beside(at[after], at[i], smooth[after]) + math.pi
        turn = math.remainder(leaving - arriving, 2 * math.pi)
        if abs(turn) < _STRAIGHT:
            yield Knot(at[i], arriving + turn / 2)
        else:
            yield from rounded(at[i], arriving + turn / 2, radius, turn)


_STRAIGHT = math.radians(1)
"""What turns less is no corner."""
_SAME = 1e-9
"""As a share of a radius: two circles so much alike are one."""


def _beside(other: Point, at: Point, heading: float | None) -> float:
    """The heading at a corner, on the way from the spot beside it: that of the one arc from there, or straight.

    Toward the spot after it, it is that of the way back.
    """
    chord = math.atan2(at[1] - other[1], at[0] - other[0])
    if heading is None:
        return chord
    off = math.remainder(chord - heading, 2 * math.pi)
    if abs(off) > math.pi / 2:  # it runs the other way there
        off = math.remainder(off - math.pi, 2 * math.pi)
    return chord + off


def slit(points: Sequence[Point], widths: Sequence[float]) -> Loop:
    """Return a slit along the curve through points, round at both ends, its middle line from the first to the last.

    Raises:
        GeometryError: if it is wider than its curve lets it, or as for `curve`.
    """
    along = [0.0]
    for a, b in pairwise(points):
        along.append(along[-1] + distance(a, b))
    halves = [_width(widths, s / along[-1]) / 2 for s in along]
    headings = [_heading(points, i) for i in range(len(points))]
    right, left = [], []
    for i, (x, y) in enumerate(points):
        low, high = max(i - 1, 0), min(i + 1, len(points) - 1)
        lean = math.atan2(halves[high] - halves[low], along[high] - along[low])
        t, h = headings[i], halves[i]
        right.append(Knot((x + h * math.sin(t), y - h * math.cos(t)), t - lean))
        left.append(Knot((x - h * math.sin(t), y + h * math.cos(t)), t + lean + math.pi))
    return Loop.through(_merged(closed([*right, *reversed(left)])))


def _merged(vertices: list[Vertex]) -> list[Vertex]:
    """The vertices of a closed curve without those between two arcs of one circle, which turn less than half round."""
    made = [vertices[0]]
    for here, after in zip(vertices[1:], (*vertices[2:], vertices[0]), strict=True):
        bulge = _one_arc(made[-1], here, after)
        if bulge:
            made[-1] = (*made[-1][:2], bulge)
        else:
            made.append(here)
    return made


def _one_arc(before: Vertex, here: Vertex, after: Vertex) -> float:
    """The bulge of the one arc that two in a row are; 0 where they aren't."""
    first, last = before[2], here[2]
    if first * last <= 0:
        return 0.0
    one, other = Arc(before[:2], here[:2], first), Arc(here[:2], after[:2], last)
    turn = math.atan(first) + math.atan(last)
    is_one = abs(one.radius - other.radius) <= _SAME * one.radius and distance(one.centre, other.centre) <= (
        _SAME * one.radius
    )
    return math.tan(turn) if is_one and abs(turn) <= math.pi / 4 + _SAME else 0.0


def _width(widths: Sequence[float], share: float) -> float:
    if len(widths) == 2:
        return widths[0] + share * (widths[1] - widths[0])
    first, middle, last = widths
    return first + 2 * share * (middle - first) if share < 0.5 else last + 2 * (1 - share) * (middle - last)


def _heading(points: Sequence[Point], i: int) -> float:
    """The heading of a slit's middle; at an end that of one arc to the point beside it."""
    last = len(points) - 1
    if 0 < i < last:
        return heading_of(points[i - 1], points[i], points[i + 1])
    (ax, ay), (bx, by) = (points[0], points[1]) if i == 0 else (points[last - 1], points[last])
    chord = math.atan2(by - ay, bx - ax)
    if last == 1:
        return chord
    inner = _heading(points, 1 if i == 0 else last - 1)
    return chord + math.remainder(chord - inner, 2 * math.pi)
