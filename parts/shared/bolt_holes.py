"""Bolt holes of one size: the parameters that templates with such holes share."""

from collections.abc import Iterable, Iterator

from parts.geometry.draft import circles
from parts.geometry.segment import Point
from parts.parameter import BY_DIAMETER, bolt, bolt_mm, fit, hole_diameter, length
from parts.profile import Dimension, Opening, openings
from parts.template import Parameters


class BoltHoles(Parameters):
    """A template's parameters with a bolt, its fit, and the hole's diameter where no bolt sets it."""

    bolt: str = bolt("Bolt", default="M10", diameter="hole")
    fit: str = fit(of=("bolt",))
    hole: float = length(
        "Hole diameter", default=11, minimum=1, maximum=200, group="Holes", help="Where the bolt is by-diameter."
    )

    @property
    def hole_size(self) -> float:
        """Diameter of the bolt holes in mm."""
        return hole_diameter(self.bolt, self.fit, self.hole)

    def holes_at(self, centres: Iterable[Point], name: str, parameter: str) -> tuple[Opening, ...]:
        """Return a bolt hole at each centre, called `name`, set by `parameter`."""
        return openings(circles(centres, self.hole_size), name, parameter, bolt_mm(self.bolt))

    def hole_measured(self, centre: Point) -> Iterator[Dimension]:
        """Yield where the diameter can be measured, where no bolt sets it."""
        if self.bolt == BY_DIAMETER:
            yield Dimension("hole", centre, (centre[0] + self.hole / 2, centre[1]), "diameter")
