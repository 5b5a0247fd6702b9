"""A figure drawn by hand: a table of points with the names of what they are, and what is cut out of it.

Points are in any unit, y up, the outline counter-clockwise. What is cut out has a rank: where there isn't room for all,
what has the highest goes first. Widths are in the table's unit too, and never less than a process cuts.
"""

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple, TypeAlias

from parts.artwork import Spot, curve, slit
from parts.errors import GeometryError
from parts.geometry import Arc, Loop, Point, centroid, circle

_ROUNDS, _EXACT = 12, 1e-12
_ROOMY = 1.4
"""How much larger than the smallest hole the box of a window is, which is narrower in its corners."""


class Slit(NamedTuple):
    """A slot along a curve: its widths at both ends and, between them, perhaps the middle; and its points.

    In the middle it is wide enough to be pierced there.
    """

    name: str
    rank: int
    widths: tuple[float, ...]
    points: tuple[Point, ...]


class Dot(NamedTuple):
    """A round hole."""

    name: str
    rank: int
    at: Point
    diameter: float


class Window(NamedTuple):
    """An opening of any outline."""

    name: str
    rank: int
    spots: tuple[Spot, ...]


Cut: TypeAlias = Slit | Dot | Window


class Least(NamedTuple):
    """What a process cuts at the least, mm: a slot's width, what it can be pierced in, a round hole."""

    slot: float = 0.0
    pierce: float = 0.0
    hole: float = 0.0


@dataclass(frozen=True, eq=False)
class Design:
    """The table of a figure; `foot` is the place along x of what it stands on."""

    edge: tuple[Spot, ...]
    cuts: tuple[Cut, ...] = ()
    foot: float = 0.0

    @property
    def aspect(self) -> float:
        """Its width over its height."""
        return _fitted(self, None).width

    @property
    def is_symmetric(self) -> bool:
        """Whether its outline, and so all of it, is alike on both sides."""
        return _fitted(self, None).is_symmetric


class Frame(NamedTuple):
    """The outline one high from the origin up, how wide it is, and how the table's points come to be in it."""

    edge: Loop
    width: float
    scale: Point
    shift: Point
    is_symmetric: bool

    def at(self, point: Point, height: float) -> Point:
        """Return where a point of the table is in a figure of a height."""
        (sx, sy), (dx, dy) = self.scale, self.shift
        return height * (sx * point[0] + dx), height * (sy * point[1] + dy)

    def outline(self, height: float) -> Loop:
        """Return the outline at a height."""
        return Loop.through(
            [
                (height * s.start[0], height * s.start[1], s.bulge if isinstance(s, Arc) else 0.0)
                for s in self.edge.segments
            ]
        )

    def cut(self, each: Cut, height: float, least: Least) -> Loop:
        """Return what is cut out of a figure of a height.

        Raises:
            GeometryError: if it can't be drawn so wide.
        """
        grown = height * min(self.scale)
        if isinstance(each, Dot):
            return circle(self.at(each.at, height), max(grown * each.diameter, least.hole))
        if isinstance(each, Slit):
            widths = [max(grown * width, least.slot) for width in each.widths]
            middle = widths[1] if len(widths) == 3 else sum(widths) / 2
            points = [self.at(point, height) for point in each.points]
            if len(points) == 2:
                points.insert(1, ((points[0][0] + points[1][0]) / 2, (points[0][1] + points[1][1]) / 2))
            return slit(points, (widths[0], max(middle, least.pierce), widths[-1]))
        spots: list[Spot] = []
        for name, x, y, *radius in each.spots:
            at = self.at((x, y), height)
            spots.append((name, *at, grown * radius[0]) if radius else (name, *at))
        made = curve(spots)
        x0, y0, x1, y1 = made.box
        if min(x1 - x0, y1 - y0) < _ROOMY * least.hole:
            raise GeometryError("It is too small to be cut.")
        return made


def frame(design: Design, aspect: float | None = None) -> Frame:
    """Return a design one high and as wide as it is drawn, or stretched to a width over height.

    Raises:
        GeometryError: if it can't be drawn so.
    """
    return _fitted(design, aspect)


@lru_cache(maxsize=256)
def _fitted(design: Design, aspect: float | None) -> Frame:
    """Stretched in rounds, since the arcs between the points reach out a little beyond them."""
    sx = sy = 1.0
    for _ in range(_ROUNDS):
        loop = curve([_stretched(spot, sx, sy) for spot in design.edge])
        x0, y0, x1, y1 = loop.box
        width, height = x1 - x0, y1 - y0
        if aspect is None or abs(width / height / aspect - 1) <= _EXACT:
            one = 1 / height
            moved = [
                (one * (s.start[0] - x0), one * (s.start[1] - y0), s.bulge if isinstance(s, Arc) else 0.0)
                for s in loop.segments
            ]
            edge = Loop.through(moved)
            is_symmetric = abs(centroid(edge)[0] - one * width / 2) <= _EXACT * width
            return Frame(edge, one * width, (one * sx, one * sy), (-one * x0, -one * y0), is_symmetric)
        sx *= aspect / (width / height)
    raise GeometryError("It can't be stretched so far.")


def _stretched(spot: Spot, sx: float, sy: float) -> Spot:
    name, x, y, *radius = spot
    return (name, sx * x, sy * y, min(sx, sy) * radius[0]) if radius else (name, sx * x, sy * y)


def bow(centre: Point, radius: float, first: float, last: float) -> tuple[Point, Point, Point]:
    """Return three points of an arc about a centre, from one direction to another in degrees."""
    turns = (math.radians(a) for a in (first, (first + last) / 2, last))
    a, b, c = ((centre[0] + radius * math.cos(t), centre[1] + radius * math.sin(t)) for t in turns)
    return a, b, c


def on_both_sides(cuts: tuple[Cut, ...], axis: float = 0.0) -> tuple[Cut, ...]:
    """Return cuts and what mirrors them in the upright line at `axis`."""
    return tuple(each for one in cuts for each in (one, _mirrored(one, axis)))


def _mirrored(each: Cut, axis: float) -> Cut:
    if isinstance(each, Dot):
        return each._replace(at=(2 * axis - each.at[0], each.at[1]))
    if isinstance(each, Slit):
        return each._replace(points=tuple((2 * axis - x, y) for x, y in each.points))
    spots: list[Spot] = []
    for name, x, y, *radius in reversed(each.spots):
        spots.append((name, 2 * axis - x, y, *radius))  # type: ignore[arg-type]  # as long as it was
    return each._replace(spots=tuple(spots))
