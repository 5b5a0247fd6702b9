"""The saddle that a round tube lies in, square to the plate: its edge, what bounds it, where it is measured."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from parts.errors import Problem
from parts.geometry import Arc, Corner, Loop, Point, arched, fillet, largest_fillet, polygon
from parts.profile import Dimension
from parts.templates.gusset.shared.tube_seat import TubeSeat


@dataclass(frozen=True, slots=True)
class RoundSeat:
    """A saddle of half the tube's outside diameter and the gap; it holds as much of the tube as its wrap says."""

    p: TubeSeat

    @property
    def saddle(self) -> float:
        """Radius of the saddle."""
        return self.p.tube / 2 + self.p.gap

    @property
    def horn(self) -> Point:
        """Right end of the saddle."""
        half = math.radians(self.p.wrap) / 2
        return self.saddle * math.sin(half), self.p.height - self.saddle * math.cos(half)

    @property
    def shoulder(self) -> Point:
        """Where the right side ends at the lip."""
        return self.horn[0] + self.p.lip, self.horn[1]

    @property
    def middle(self) -> Point:
        """Centre of the lightening hole."""
        return 0.0, (self.p.height - self.saddle) / 2

    @property
    def corners(self) -> list[Corner | Point]:
        """The outline counter-clockwise from the left end of the foot, the saddle as its chord."""
        (x, top), out, r = self.horn, self.p.foot / 2, self.p.corner_radius
        seat: list[Corner | Point] = [
            fillet(x + self.p.lip, top, r),
            (x, top),
            (-x, top),
            fillet(-x - self.p.lip, top, r),
        ]
        if self.p.toe:
            seat = [fillet(out, self.p.toe, r), *seat, fillet(-out, self.p.toe, r)]
        return [fillet(-out, 0, r), fillet(out, 0, r), *seat]

    @property
    def narrowest_foot(self) -> float:
        """Foot from which a side would just touch the saddle's circle: the tangent from the lip's end, down to the toe.

        Seen from the tube's middle the tangent point lies acos(R / d) from the lip's end, d away.
        """
        x, y = self.horn[0] + self.p.lip, self.horn[1] - self.p.height
        normal = math.atan2(y, x) - math.acos(self.saddle / math.hypot(x, y))
        return 2 * (self.saddle - (self.p.toe - self.p.height) * math.sin(normal)) / math.cos(normal)

    @property
    def edge(self) -> Loop:
        """The outline."""
        x, top = self.horn
        return arched(polygon(self.corners), (x, top), (-x, top), -math.tan(math.radians(self.p.wrap) / 4))

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the saddle reaches the foot, a side meets it, or corners lack room."""
        clash = list(self.p.over("height", self.saddle, "for metal under the saddle"))
        clash = clash or list(self.p.under("toe", self.p.height - self.saddle, "to stay below the saddle"))
        clash = clash or list(self.p.over("foot", self.narrowest_foot, "for the sides to clear the saddle"))
        yield from clash
        if clash:
            return
        yield from self.p.at_most("corner_radius", largest_fillet(self.corners), "to fit between the corners")
        if self.p.holes:
            yield from self.p.under(
                "back_mark", self.p.height - self.saddle - self.p.hole_size / 2, "to clear the saddle"
            )
        yield from self.p.foot_hole_problems(self.shoulder)
        middle = self.middle
        room = min(middle[1], self.p.beside(middle, self.shoulder))
        yield from self.p.lightening_problems(middle, room, self.p.centres, self.p.hole_size)

    def dimensions(self) -> Iterator[Dimension]:
        """Yield where each length can be measured."""
        (x, top), half, centre = self.horn, self.p.foot / 2, (0.0, self.p.height)
        yield Dimension("foot", (-half, 0), (half, 0), "below")
        yield Dimension("height", (-half, 0), centre, "left")
        yield Dimension("tube", centre, (0, self.p.height - self.p.tube / 2), "diameter")
        if self.p.gap:
            yield Dimension("gap", (0, self.p.height - self.p.tube / 2), (0, self.p.height - self.saddle), "right")
        yield Dimension("lip", (x, top), (x + self.p.lip, top), "above")
        if self.p.toe:
            yield Dimension("toe", (half, 0), (half, self.p.toe), "right")
        for arc in [segment for segment in self.edge.segments if isinstance(segment, Arc) and segment.bulge > 0][:1]:
            yield Dimension("corner_radius", arc.centre, arc.at(0.5), "radius")
        yield from self.p.foot_holes_measured()
        yield from self.p.lightening_measured(self.middle)
