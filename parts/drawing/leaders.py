"""Leaders: radius, diameter and slanting dimensions, each put where it covers least.

leader  a line from an arrowhead on the part to lettering on a level shelf
shelf   the level end of a leader that the lettering stands on
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from parts.drawing.frame import Frame
from parts.drawing.primitives import Arrow, Group, Path, Text, text_width
from parts.drawing.room import Room
from parts.geometry.segment import Box, Line, Point, distance

REACHES = (1.6, 2.4, 3.4, 5.0, 7.0, 10.0, 14.0)
"""Lengths of leaders to try, in sizes of lettering."""

_AIMS = tuple(math.radians(a) for a in (45, 135, 315, 225, 30, 150, 60, 120, 330, 210, 300, 240))


@dataclass(frozen=True, slots=True)
class Place:
    """One way to draw a dimension, and what it costs in mm of paper."""

    group: Group
    text: Text
    cost: float


def radius(frame: Frame, room: Room, parameter: str, text: str, ends: tuple[Point, Point]) -> Group:
    """Return a radius from its centre to a point of its arc as a leader aimed at the centre."""
    centre, on_arc = frame.point(ends[0]), frame.point(ends[1])
    r = distance(centre, on_arc)
    ux, uy = (on_arc[0] - centre[0]) / r, (on_arc[1] - centre[1]) / r
    ways = [((ux, uy), on_arc, 0.0), ((-ux, -uy), on_arc, r)]
    return _best(frame, room, [_shelf(frame, room, parameter, text, *way) for way in ways])


def diameter(frame: Frame, room: Room, parameter: str, text: str, ends: tuple[Point, Point]) -> Group:
    """Return a diameter from a circle's centre to a point on it as a leader aimed at the centre."""
    centre, on_circle = frame.point(ends[0]), frame.point(ends[1])
    r = distance(centre, on_circle)
    ways = []
    for aim in _AIMS:
        u = math.cos(aim), math.sin(aim)
        tip = centre[0] + r * u[0], centre[1] + r * u[1]
        ways.append(_shelf(frame, room, parameter, text, u, tip, 0.0))
    return _best(frame, room, ways)


def along(frame: Frame, room: Room, parameter: str, text: str, ends: tuple[Point, Point]) -> Group:
    """Return a slanting distance with its dimension line beside it, on whichever side is clear."""
    a, b = sorted((frame.point(ends[0]), frame.point(ends[1])))
    length = distance(a, b)
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    if ux < 1e-3 * abs(uy) and uy < 0:  # all but upright: read from the right, like any upright dimension
        a, b, ux, uy = b, a, -ux, -uy
    return _best(frame, room, [_beside(frame, room, parameter, text, a, (ux, uy), length)])


def _beside(
    frame: Frame, room: Room, parameter: str, text: str, a: Point, u: Point, length: float
) -> Iterator[Place]:
    ...
