"""The notch that a square tube sits in, flat or on its corner: its edge, what bounds it, where it is measured."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from parts.errors import Problem
from parts.geometry import Arc, Corner, Loop, Point, fillet, largest_fillet, polygon, relief
from parts.profile import Dimension
from parts.templates.gusset.shared.tube_seat import FLAT, TubeSeat


@dataclass(frozen=True, slots=True)
class SquareSeat:
    """A notch as wide as the tube and a gap each side, or a square V; its inside corners relieved."""

    p: TubeSeat

    @property
    def top(self) -> float:
        """How high the lips are."""
        return self.p.below + self.p.depth

    @property
    def half(self) -> float:
        """Half the width of the seat between the lips; the flanks of a corner seat rise at 45 degrees."""
        return self.p.tube / 2 + self.p.gap if self.p.seat == FLAT else self.p.depth

    @property
    def reach(self) -> float:
        """How far a relief reaches past a flat seat's side: its centre is r / sqrt 2 inside of it."""
        return self.p.relief * (1 - math.sqrt(0.5)) if self.p.seat == FLAT else 0.0

    @property
    def corners(self) -> list[Corner | Point]:
        """The outline counter-clockwise from the left end of the foot; the filleted corners are the outside ones."""
        out, over, r = self.p.foot / 2, self.half + self.p.lip, self.p.corner_radius
        bottom = (self.half, -self.half) if self.p.seat == FLAT else (0.0,)
        seat: list[Corner | Point] = [relief(x, self.p.below, self.p.relief) for x in bottom]
        seat = [
            fillet(over, self.top, r),
            (self.half, self.top),
            *seat,
            (-self.half, self.top),
            fillet(-over, self.top, r),
        ]
        if self.p.toe:
            seat = [fillet(out, self.p.toe, r), *seat, fillet(-out, self.p.toe, r)]
        return [fillet(-out, 0, r), fillet(out, 0, r), *seat]

    @property
    def outside(self) -> list[Corner | Point]:
        """The corners as they bound the radius of the outside ones: the reliefs left sharp."""
        return [at if not isinstance(at, Corner) or at.kind == "fillet" else at.at for at in self.corners]

    @property
    def edge(self) -> Loop:
        """The outline."""
        return polygon(self.corners)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the seat is too deep for the tube, a relief too large, or a side meets the seat."""
        if self.p.seat == FLAT:
            clash = [
                *self.p.at_most("relief", min(self.half, self.p.depth) * math.sqrt(0.5), "in the corners of the seat"),
                *self.p.over("foot", 2 * (self.half + self.reach), "to be wider than the seat"),
                *self.p.over("lip", self.reach, "to be wider than the relief reaches"),
                *self.p.under("relief", self.p.below / (1 - math.sqrt(0.5)), "for metal under the seat"),
            ]
        else:
            half_diagonal = self.p.tube * math.sqrt(0.5)
            clash = [
                *self.p.at_most("depth", half_diagonal, "where the tube is widest"),
                *self.p.at_most("relief", self.p.depth, "on the flanks of the seat"),
                *self.p.over("foot", 2 * self.p.relief, "to be wider than the relief"),
            ]
        clash = clash or list(self.p.under("toe", self.top, "to stay below the lips"))
        yield from clash
        if clash:
            return
        yield from self.p.at_most("corner_radius", largest_fillet(self.outside), "to fit between the corners")
        if self.p.holes:
            yield from self.p.under("back_mark", self.top - self.p.hole_size / 2, "to stay inside the gusset")
        yield from self.p.foot_hole_problems((self.half + self.p.lip, self.top))

    def dimensions(self) -> Iterator[Dimension]:
        """Yield where each length can be measured."""
        half, out = self.half, self.p.foot / 2
        yield Dimension("foot", (-out, 0), (out, 0), "below")
        yield Dimension("below", (-out, 0), (-half if self.p.seat == FLAT else 0.0, self.p.below), "left")
        yield Dimension(
            "depth", (half if self.p.seat == FLAT else 0.0, self.p.below), (half + self.p.lip, self.top), "right"
        )
        if self.p.seat == FLAT:
            yield Dimension("tube", (-self.p.tube / 2, self.top), (self.p.tube / 2, self.top), "above")
            if self.p.gap:
                yield Dimension("gap", (self.p.tube / 2, self.top), (half, self.top), "above")
        yield Dimension("lip", (half, self.top), (half + self.p.lip, self.top), "above")
        if self.p.toe:
            yield Dimension("toe", (out, 0), (out, self.p.toe), "right")
        for arc in [segment for segment in self.edge.segments if isinstance(segment, Arc) and segment.bulge > 0][:1]:
            yield Dimension("corner_radius", arc.centre, arc.at(0.5), "radius")
        if self.p.relief:
            aside = self.p.relief * math.sqrt(0.5)
            corner, out_of = (
                ((half, self.p.below), (-aside, aside))
                if self.p.seat == FLAT
                else ((0.0, self.p.below), (0.0, self.p.relief))
            )
            yield Dimension("relief", (corner[0] + out_of[0], corner[1] + out_of[1]), corner, "radius")
        yield from self.p.foot_holes_measured()
