"""Arms: flat bars that cross or meet in one plate, each with a row of bolt holes from its end.

arm      one bar as seen from the middle of the crossing, where the centre lines meet
clear    how far from that middle an arm's innermost hole must be, so that it clears those of the others
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from parts.errors import Problem
from parts.geometry import Corner, Point, fillet, relief
from parts.profile import Dimension, DimensionStyle, Opening
from parts.spec import BY_DIAMETER, choice, flag, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.tolerance import SAME_POINT_MM

RELIEF_SETBACK = math.sqrt(2)
"""A relief meets each edge this many radii from its corner,"""
RELIEF_BITE = 1 - math.sqrt(0.5)
"""and goes this many radii deep into the metal beside it."""
_HALF = math.sqrt(0.5)


@dataclass(frozen=True, slots=True)
class Arm:
    """One arm: `name` ends the names of its parameters, `said` is what it is called.

    It runs from `middle` in the direction of the unit vector `toward`; `length` and `width` are mm.
    """

    name: str
    said: str
    middle: Point
    toward: Point
    length: float
    width: float
    holes: int
    first: float
    pitch: float
    row: str = ""
    """What ends the names of first hole and spacing, where another arm has the same."""

    @property
    def innermost(self) -> float:
        """Distance of the innermost hole from the middle."""
        return self.length - self.first - (self.holes - 1) * self.pitch

    @property
    def centres(self) -> tuple[Point, ...]:
        """Centres of the holes, from the end inward."""
        return tuple(self.at(self.length - self.first - i * self.pitch) for i in range(self.holes))

    def at(self, along: float) -> Point:
        """Return the point of the centre line that far from the middle."""
        return self.middle[0] + along * self.toward[0], self.middle[1] + along * self.toward[1]


class Arms(BoltHoles):
    """The corners that such a plate has, and a hole where its bars cross."""

    corner_radius: float = length(
        "Radius at the ends", default=6, minimum=0, maximum=250, group="Corners", moves="free"
    )
    inside: str = choice(
        "Inside corners", default="radius", choices=("radius", "relief"), group="Corners",
        help="relief: opened so that a square edge seats.", moves="care",
    )  # fmt: skip
    inside_radius: float = length(
        "Radius of the inside corners",
        default=8,
        minimum=0,
        maximum=250,
        group="Corners",
        help="Or of their reliefs.",
        moves="care",
    )
    middle: bool = flag("Hole where the bars cross", group="Holes")

    def inner(self, x: float, y: float) -> Corner:
        """Return an inside corner, treated as chosen."""
        return (relief if self.inside == "relief" else fillet)(x, y, self.inside_radius)

    @property
    def clear(self) -> float:
        """How far from the middle of the crossing the innermost hole of each arm must be.

        Holes of arms at right angles are apart when each is 0.71 of its size away, and then so are opposite ones;
        from a hole in the middle each must be its whole size.
        """
        return self.hole_size * (1 if self.middle else _HALF)

    def corner_problems(self, widths: Iterable[float], standing_out: float, behind: float) -> Iterator[Problem]:
        """Yield a problem where radii have no room at the ends, or reliefs meet each other or the far edge.

        `standing_out` is how far the shortest arm stands out, `behind` the metal that a relief may bite into.
        """
        clash = [*self.at_most("corner_radius", min(*(width / 2 for width in widths), standing_out), "at the ends")]
        yield from clash
        if clash:
            return
        is_relief = self.inside == "relief"
        room = (standing_out - self.corner_radius) / (RELIEF_SETBACK if is_relief else 1)
        if is_relief and behind / RELIEF_BITE <= room:
            yield from self.under("inside_radius", behind / RELIEF_BITE, "to leave metal between the reliefs")
        else:
            yield from self.at_most("inside_radius", room, "beside the radius at the ends")

    def hole_problems(self, arms: Iterable[Arm]) -> Iterator[Problem]:
        """Yield a problem where holes run out of an arm, into the next of their row or into another arm's."""
        for arm in arms:
            if arm.holes or self.middle:
                yield from self._too_large(arm)
            if arm.holes:
                yield from self._row_problems(arm)

    def _too_large(self, arm: Arm) -> Iterator[Problem]:
        if self.hole_size < arm.width - SAME_POINT_MM:
            return
        if self.bolt == BY_DIAMETER:
            yield from self.under("hole", arm.width, f"in {arm.said}")
        else:
            size, wide = self.hole_size, arm.width
            message = f"wants a hole of {self.say(size, wide)}; {arm.said} is {self.say(wide, size)} wide."
            yield self.problem("bolt", message)

    def _row_problems(self, arm: Arm) -> Iterator[Problem]:
        row, last = arm.row or arm.name, arm.length - self.clear
        first, pitch = f"first_{row}", f"pitch_{row}"
        clash = [
            *self.over(first, self.hole_size / 2, "to stay inside the end"),
            *self.under(first, last, "to clear the middle of the crossing"),
        ]
        yield from clash
        if clash or arm.holes == 1:
            return
        tight = [*self.over(pitch, self.hole_size, "to keep metal between the holes")]
        yield from tight
        if not tight and arm.innermost <= self.clear + SAME_POINT_MM:
            fitting = max(1, math.ceil((last - arm.first) / arm.pitch))
            yield self.problem(f"holes_{arm.name}", f"must be at most {fitting} at this spacing in {arm.said}.")

    def openings_in(self, arms: Iterable[Arm], middle: Point) -> tuple[Opening, ...]:
        """Return the holes of the arms, and the one in the middle."""
        inside = tuple(
            o for arm in arms for o in self.holes_at(arm.centres, f"hole in {arm.said}", f"holes_{arm.name}")
        )
        first = next(iter(arms)).name
        return (*inside, *(self.holes_at((middle,), "hole in the middle", f"holes_{first}") if self.middle else ()))

    def row_measured(self, arm: Arm) -> Iterator[Dimension]:
        """Yield where the places of an arm's holes can be measured."""
        row = arm.row or arm.name
        if arm.holes:
            yield Dimension(f"first_{row}", arm.at(arm.length - arm.first), arm.at(arm.length), _beside(arm))
        if arm.holes > 1:
            yield Dimension(f"pitch_{row}", arm.centres[1], arm.centres[0], _beside(arm))

    def corners_measured(self, end: Point, inner: Point) -> Iterator[Dimension]:
        """Yield where the radii can be measured: of the upper right corner at an end, and of one inside below right."""
        r, q = self.corner_radius, self.inside_radius
        if r:
            x, y = end[0] - r, end[1] - r
            yield Dimension("corner_radius", (x, y), (x + r * _HALF, y + r * _HALF), "radius")
        if q:
            away = q * _HALF if self.inside == "relief" else q
            x, y = inner[0] + away, inner[1] - away
            yield Dimension("inside_radius", (x, y), (x - q * _HALF, y + q * _HALF), "radius")


def _beside(arm: Arm) -> DimensionStyle:
    return "left" if arm.toward[1] else "above"
