"""A gusset that stands on a straight foot, its sides leaning in, bolt holes along the foot."""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Line, Point, distance, row
from parts.profile import Dimension
from parts.spec import bolt, count, length
from parts.templates.shared.bolt_holes import BoltHoles

FOOT_HOLES = ("holes", "bolt", "fit", "hole", "first", "back_mark")
"""The parameters of the holes, in the order in which a shop thinks of them."""


class FootHoles(BoltHoles):
    """The middle of the foot is at the origin; both sides rise from its ends, upright as far as `toe`."""

    foot: float = length("Foot", default=120, minimum=10, maximum=2500)
    toe: float = length("Upright ends of the foot", default=15, minimum=0, maximum=1000, moves="free")
    holes: int = count("Holes along the foot", default=0, minimum=0, maximum=12)
    first: float = length(
        "End holes in from the ends", default=25, minimum=2, maximum=1000, group="Holes", when=("holes", "2")
    )
    back_mark: float = length(
        "Hole centres up from the foot",
        default=22,
        minimum=2,
        maximum=1000,
        group="Holes",
        when=("holes",),
        moves="care",
    )
    bolt: str = bolt("Bolt", default="M10", diameter="hole", when=("holes",))

    @property
    def centres(self) -> tuple[Point, ...]:
        """Centres of the holes; a single one stands in the middle."""
        end = self.foot / 2 - self.first
        return row((-end, self.back_mark), (end, self.back_mark), self.holes) if self.holes else ()

    def foot_hole_problems(self, shoulder: Point) -> Iterator[Problem]:
        """Yield a problem where a hole leaves the foot or a side, or runs into the next.

        `shoulder` is where the right side ends, up at the lip.
        """
        if not self.holes:
            return
        d = self.hole_size
        yield from self.over("back_mark", d / 2, "to keep metal under the holes")
        if self.holes == 1:
            return
        clash = [
            *self.over("first", self._least_first(shoulder), "inside the sides"),
            *self.under("first", (self.foot - d) / 2, "to keep metal between the holes"),
        ]
        yield from clash
        between = self.foot - 2 * self.first
        if not clash and between / (self.holes - 1) <= d:
            yield self.problem("holes", f"must be at most {math.ceil(between / d)} on this foot.")

    def _least_first(self, shoulder: Point) -> float:
        """How far in from the end of the foot an end hole must be, where the sides lean in."""
        (over, top), out, half = shoulder, self.foot / 2, self.hole_size / 2
        if over > out:  # the sides lean out: only the upright ends are in the way of every hole
            return half if self.back_mark <= self.toe else -math.inf
        lean = (out - over) / (top - self.toe)
        return max(half, lean * (self.back_mark - self.toe) + half * math.hypot(lean, 1))

    def beside(self, at: Point, shoulder: Point) -> float:
        """Return how far a point within the gusset is from its right side."""
        foot, toe = (self.foot / 2, 0.0), (self.foot / 2, self.toe)
        sides = [Line(toe, shoulder), *([Line(foot, toe)] if self.toe else [])]
        return min(distance(at, side.nearest(at)) for side in sides)

    def foot_holes_measured(self) -> Iterator[Dimension]:
        """Yield where the places of the holes, and their diameter, can be measured."""
        if self.holes > 1:
            yield Dimension("first", (-self.foot / 2, 0), self.centres[0], "below")
        if self.holes:
            yield Dimension("back_mark", (self.foot / 2, 0), self.centres[-1], "right")
            yield from self.hole_measured(self.centres[0])
