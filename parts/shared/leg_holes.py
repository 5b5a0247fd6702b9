"""Rows of bolt holes along the two square legs of a gusset: the parameters and openings that such gussets share."""

from collections.abc import Iterator

from parts.geometry.segment import Point
from parts.parameter import bolt, count, length
from parts.profile import Dimension, Opening
from parts.shared.bolt_holes import BoltHoles

_EITHER = [("holes_a",), ("holes_b",)]


class LegHoles(BoltHoles):
    """The root is at the origin, leg A along x and leg B along y; both rows are measured from the root."""

    holes_a: int = count("Holes along leg A", default=0, minimum=0, maximum=12)
    holes_b: int = count("Holes along leg B", default=0, minimum=0, maximum=12)
    bolt: str = bolt("Bolt", default="M10", diameter="hole", when=_EITHER)
    first_hole: float = length(
        "First hole from the root", default=45, minimum=2, maximum=1500, group="Holes", when=_EITHER
    )
    pitch: float = length(
        "Hole spacing", default=40, minimum=2, maximum=1500, group="Holes", when=[("holes_a", "2"), ("holes_b", "2")]
    )
    back_mark: float = length(
        "Hole centres from the leg's edge", default=20, minimum=2, maximum=500, group="Holes", when=_EITHER
    )

    def leg_openings(self) -> tuple[Opening, ...]:
        """Return the holes of leg A, then of leg B, from the root."""
        along = [self.first_hole + i * self.pitch for i in range(max(self.holes_a, self.holes_b))]
        on_a: list[Point] = [(at, self.back_mark) for at in along[: self.holes_a]]
        on_b: list[Point] = [(self.back_mark, at) for at in along[: self.holes_b]]
        return (
            *self.holes_at(on_a, "hole in leg A", "holes_a"),
            *self.holes_at(on_b, "hole in leg B", "holes_b"),
        )

    def leg_holes_measured(self) -> Iterator[Dimension]:
        """Yield where the rows can be measured, on leg A where it has what is measured, else on leg B."""
        first, mark, second = self.first_hole, self.back_mark, self.first_hole + self.pitch
        if self.holes_a:
            yield Dimension("first_hole", (0, mark), (first, mark), "below")
            yield Dimension("back_mark", (first, 0), (first, mark), "right")
            yield from self.hole_measured((first, mark))
        elif self.holes_b:
            yield Dimension("first_hole", (mark, 0), (mark, first), "left")
            yield Dimension("back_mark", (0, first), (mark, first), "above")
            yield from self.hole_measured((mark, first))
        if self.holes_a > 1:
            yield Dimension("pitch", (first, mark), (second, mark), "below")
        elif self.holes_b > 1:
            yield Dimension("pitch", (mark, first), (mark, second), "left")
