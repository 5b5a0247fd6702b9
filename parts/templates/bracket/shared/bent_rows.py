"""A strip bent along parallel lines, with rows of bolt holes across it: what templates of that shape share."""

from collections.abc import Iterator, Mapping
from typing import Any

from parts.errors import Problem
from parts.forming import Strip
from parts.geometry import Point, row
from parts.spec import bolt, length
from parts.templates.shared.bent import Bent
from parts.templates.shared.bolt_holes import BoltHoles


def row_bolt(*counts: str) -> Any:  # noqa: ANN401 - declares a parameter
    """Declare the bolt of rows whose holes these parameters count; without any it has no say."""
    return bolt("Bolt", default="M10", diameter="hole", when=[(name,) for name in counts])


def row_first(*counts: str) -> Any:  # noqa: ANN401 - declares a parameter
    """Declare where the rows begin that these parameters count; a single hole stands in the middle."""
    return length(
        "First hole from the side", default=20, minimum=2, maximum=1000, group="Holes",
        when=[(name, "2") for name in counts],
    )  # fmt: skip


class BentRows(Bent, BoltHoles):
    """The flat lies along the x axis from the origin, from y = 0 to y = `width`."""

    width: float = length("Width", default=80, minimum=8, maximum=2500, help="Along the bends.")
    corner_radius: float = length("Corner radius", default=5, minimum=0, maximum=200, moves="free")
    first: float = row_first()

    @property
    def flat(self) -> Strip:
        """The flat: straight pieces with a bend between each two."""
        raise NotImplementedError

    def row(self, x: float, holes: int) -> tuple[Point, ...]:
        """Return the centres of a row across the flat at x, spread evenly; a single one stands in the middle."""
        return row((x, self.first), (x, self.width - self.first), holes)

    def row_problems(self, rows: Mapping[str, tuple[int, float, float]]) -> Iterator[Problem]:
        """Yield a problem where a row lies in a bend or leaves its flange, or holes leave or meet across it.

        `rows` gives for each parameter that places a row how many holes are in it, how far from the mould point the
        bend reaches, and how long the flange is.
        """
        half, most = self.hole_size / 2, max((holes for holes, _, _ in rows.values()), default=0)
        for name, (holes, setback, flange) in rows.items():
            if holes:
                yield from self.over(name, setback + half, "for the hole to clear the bend")
                yield from self.under(name, flange - half, "inside the flange")
        yield from self.across_problems(most)

    def across_problems(self, most: int) -> Iterator[Problem]:
        """Yield a problem where the holes of a row of `most` leave the flat or meet."""
        half = self.hole_size / 2
        if most > 1:
            yield from self.over("first", half, "inside the side")
            yield from self.under(
                "first", (self.width - (most - 1) * self.hole_size) / 2, "for metal between the holes"
            )
        elif most == 1 and self.width <= self.hole_size:
            yield from self.over("width", self.hole_size, "for the hole")

    def corner_problems(self) -> Iterator[Problem]:
        """Yield a problem where the corners of an end take more than half the width or run into a bend."""
        straights = self.flat.straights
        yield from self.at_most("corner_radius", min(self.width / 2, straights[0], straights[-1]), "on the flanges")
