"""Bolt holes of one size: the parameters that templates with such holes share."""

import math
from collections.abc import Iterable, Iterator, Mapping
from typing import ClassVar

from parts.errors import Problem
from parts.geometry import Point, circles, round_clear_of
from parts.profile import Dimension, Opening, openings
from parts.spec import BY_DIAMETER, Parameters, When, bolt, bolt_mm, fit, hole_diameter, length
from parts.templates.shared.hole_making import WorkedHoles, hole_kind, where_worked


class ClearanceHoles(Parameters):
    """A template's parameters with a bolt, its fit, and the hole's diameter where no bolt sets it."""

    bolt: str = bolt("Bolt", default="M10", diameter="hole")
    fit: str = fit(of=("bolt",))
    hole: float = length(
        "Hole diameter", default=11, minimum=1, maximum=200, group="Holes", help="Where the bolt is by diameter."
    )

    @property
    def hole_size(self) -> float:
        """Diameter of the bolt holes in mm."""
        return hole_diameter(self.bolt, self.fit, self.hole)

    def holes_at(self, centres: Iterable[Point], name: str, parameter: str) -> tuple[Opening, ...]:
        """Return a bolt hole at each centre, called `name`, set by `parameter`."""
        return openings(circles(centres, self.hole_size), name, parameter, bolt_mm(self.bolt))

    def rounding_problems(self, inset: Point) -> Iterator[Problem]:
        """Yield a problem where the plate's `corner_radius` cuts into a hole that is `inset` from both its edges."""
        most = round_clear_of(inset, self.hole_size / 2, (0.0, 0.0))
        yield from self.under("corner_radius", most, "to clear the hole at the corner")

    def spread_problems(self, name: str, room: float) -> Iterator[Problem]:
        """Yield a problem where so many holes would meet, spread over `room` from the first to the last."""
        most = max(math.ceil(room / self.hole_size), 2)
        if getattr(self, name) > most:
            between = f"there are {self.say(max(room, 0.0))} between the corner holes"
            yield self.problem(name, f"must be at most {most}: {between}.")

    def hole_measured(self, centre: Point) -> Iterator[Dimension]:
        """Yield where the diameter can be measured, where no bolt sets it."""
        if self.bolt == BY_DIAMETER:
            yield Dimension("hole", centre, (centre[0] + self.hole / 2, centre[1]), "diameter")


class BoltHoles(WorkedHoles, ClearanceHoles):
    """The same for round holes, which can be made in other ways than cut through."""

    hole_groups: ClassVar[Mapping[str, tuple[str, str]]] = {"bolt": ("hole_kind", "")}
    optional: ClassVar[tuple[str, ...]] = ("hole_kind",)
    shared_when: ClassVar[Mapping[str, When]] = where_worked("hole_kind")

    hole_kind: str = hole_kind("bolt")
