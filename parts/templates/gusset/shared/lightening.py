"""A lightening hole in a gusset: its diameter, where it is measured, and how much room it has."""

import math
from collections.abc import Iterable, Iterator

from parts.errors import Problem
from parts.geometry import Point, circle, distance
from parts.profile import Dimension, Opening
from parts.spec import Parameters, length


class Lightened(Parameters):
    """A template's parameters with a lightening hole, whose centre the template says."""

    lightening: float = length(
        "Lightening hole", default=0, minimum=0, maximum=800, group="Holes", help="Diameter; 0 for none.", moves="free"
    )

    def lightening_opening(self, centre: Point) -> tuple[Opening, ...]:
        """Return the hole, where there is one."""
        if not self.lightening:
            return ()
        return (Opening(circle(centre, self.lightening), "lightening hole", "lightening"),)

    def lightening_problems(
        self, centre: Point, room: float, holes: Iterable[Point], hole_size: float
    ) -> Iterator[Problem]:
        """Yield a problem where the hole meets an edge, `room` from its centre, or one of the bolt holes."""
        if not self.lightening:
            return
        yield from self.under("lightening", 2 * room, "to keep metal all round")
        nearest = min((distance(centre, hole) for hole in holes), default=math.inf)
        if nearest < room + hole_size / 2:
            yield from self.under("lightening", 2 * nearest - hole_size, "to clear the bolt holes")

    def lightening_measured(self, centre: Point) -> Iterator[Dimension]:
        """Yield where the diameter can be measured."""
        if self.lightening:
            out = self.lightening / 2 * math.sqrt(0.5)
            yield Dimension("lightening", centre, (centre[0] + out, centre[1] + out), "diameter")
