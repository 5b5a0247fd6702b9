"""Rows of bolt holes along the two legs of a gusset: the parameters and openings that such gussets share."""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Point
from parts.profile import Dimension, DimensionStyle, Opening
from parts.spec import bolt, count, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.tolerance import LIMIT_SLACK_MM

_EITHER = [("holes_a",), ("holes_b",)]
LEG_HOLES = ("holes_a", "holes_b", "bolt", "fit", "hole", "first_hole", "pitch", "back_mark")
"""The parameters of the rows, in the order in which a shop thinks of them."""


class LegHoles(BoltHoles):
    """The root is at the origin, leg A along x, leg B along `leg_b_way`; both rows are measured from the root."""

    holes_a: int = count("Holes along leg A", default=0, minimum=0, maximum=12)
    holes_b: int = count("Holes along leg B", default=0, minimum=0, maximum=12)
    bolt: str = bolt("Bolt", default="M10", diameter="hole", when=_EITHER)
    first_hole: float = length(
        "First hole from the root", default=45, minimum=2, maximum=1500, group="Holes", when=_EITHER, moves="care"
    )
    pitch: float = length(
        "Hole spacing", default=40, minimum=2, maximum=1500, group="Holes", when=[("holes_a", "2"), ("holes_b", "2")]
    )
    back_mark: float = length(
        "Hole centres from the leg's edge",
        default=20,
        minimum=2,
        maximum=500,
        group="Holes",
        when=_EITHER,
        moves="care",
    )

    @property
    def leg_b_way(self) -> Point:
        """The unit vector along leg B: legs are square unless a template says otherwise."""
        return 0.0, 1.0

    @property
    def legs_are_square(self) -> bool:
        """Whether leg B stands square on leg A."""
        return self.leg_b_way == (0.0, 1.0)

    def on_leg_b(self, along: float, inward: float) -> Point:
        """Return the point so far along leg B from the root, and so far inward from its edge."""
        c, s = self.leg_b_way
        return c * along + s * inward, s * along - c * inward

    @property
    def half_corner(self) -> Point:
        """Cosine and sine of half the angle between the legs."""
        c, _ = self.leg_b_way
        return math.sqrt((1 + c) / 2), math.sqrt((1 - c) / 2)

    @property
    def leg_centres(self) -> tuple[tuple[Point, ...], tuple[Point, ...]]:
        """Centres of the holes of leg A, and of leg B, from the root."""
        along = [self.first_hole + i * self.pitch for i in range(max(self.holes_a, self.holes_b))]
        return (
            tuple((at, self.back_mark) for at in along[: self.holes_a]),
            tuple(self.on_leg_b(at, self.back_mark) for at in along[: self.holes_b]),
        )

    def leg_openings(self) -> tuple[Opening, ...]:
        """Return the holes of leg A, then of leg B, from the root."""
        on_a, on_b = self.leg_centres
        return (
            *self.holes_at(on_a, "hole in leg A", "holes_a"),
            *self.holes_at(on_b, "hole in leg B", "holes_b"),
        )

    def room_below(self, leg: float, other: float, toe: float) -> float:
        """Return how far from the root a hole along `leg` may stand, under a straight long edge from toe to toe.

        Its centre, `back_mark` up, is a hole's radius from the end, and from the edge through (leg, toe) and the
        toe of the other leg.
        """
        half, (x, y) = self.hole_size / 2, self.on_leg_b(other, toe)
        across, up = leg - x, y - toe
        sloping = leg - ((self.back_mark - toe) * across + half * math.hypot(across, up)) / up
        return min(sloping, leg - half) if toe else sloping

    def leg_hole_problems(self, snipe: float, rooms: tuple[float, float]) -> Iterator[Problem]:
        """Yield a problem where the holes of a leg leave the gusset or run into each other.

        `rooms` says for leg A and for leg B how far from the root a hole may stand.
        """
        if not self.holes_a and not self.holes_b:
            return
        half, mark, (cos, sin), (c, s) = self.hole_size / 2, self.back_mark, self.half_corner, self.leg_b_way
        nearest = max((half + mark * c) / s, snipe + (half - mark * sin) / cos)
        clash = [
            *self.over("back_mark", half, "to keep metal beside the hole"),
            *self.over("first_hole", nearest, "to stay clear of the root"),
        ]
        if max(self.holes_a, self.holes_b) > 1:
            clash += self.over("pitch", self.hole_size, "to keep metal between the holes")
        yield from clash
        if clash:
            return
        for leg, holes, room in (("A", self.holes_a, rooms[0]), ("B", self.holes_b, rooms[1])):
            if holes:
                yield from self._row_problems(leg, holes, room)
        if self._rows_meet:
            clear = (half + mark * cos) / sin  # a row's first hole is half a hole from the line that halves the corner
            yield from self.over("first_hole", clear, "so that the rows clear each other")

    def _row_problems(self, leg: str, holes: int, room: float) -> Iterator[Problem]:
        """Yield a problem where the row of one leg runs out of it."""
        yield from self.under("first_hole", room, f"on leg {leg}")
        if holes == 1 or self.first_hole >= room:
            return
        widest = (room - self.first_hole) / (holes - 1)
        if widest > self.hole_size:
            yield from self.under("pitch", widest, f"for {holes} holes on leg {leg}")
        else:
            fitting = max(1, math.ceil((room - self.first_hole) / self.pitch))
            yield self.problem(f"holes_{leg.lower()}", f"must be at most {fitting} at this spacing on leg {leg}.")

    @property
    def _rows_meet(self) -> bool:
        """Whether a hole of leg A runs into one of leg B."""
        on_a, on_b = self.leg_centres
        return any(math.dist(one, other) <= self.hole_size + LIMIT_SLACK_MM for one in on_a for other in on_b)

    def leg_holes_measured(self) -> Iterator[Dimension]:
        """Yield where the rows can be measured, on leg A where it has what is measured, else on leg B."""
        first, mark, second = self.first_hole, self.back_mark, self.first_hole + self.pitch
        on_b = self.on_leg_b
        beside: DimensionStyle = "left" if self.legs_are_square else "along"
        across: DimensionStyle = "above" if self.legs_are_square else "along"
        if self.holes_a:
            yield Dimension("first_hole", (0, mark), (first, mark), "below")
            yield Dimension("back_mark", (first, 0), (first, mark), "right")
            yield from self.hole_measured((first, mark))
        elif self.holes_b:
            yield Dimension("first_hole", on_b(0, mark), on_b(first, mark), beside)
            yield Dimension("back_mark", on_b(first, 0), on_b(first, mark), across)
            yield from self.hole_measured(on_b(first, mark))
        if self.holes_a > 1:
            yield Dimension("pitch", (first, mark), (second, mark), "below")
        elif self.holes_b > 1:
            yield Dimension("pitch", on_b(first, mark), on_b(second, mark), beside)
