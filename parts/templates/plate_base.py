r"""Base plate: rectangular, four anchor holes inset from the corners or a grid of them, an opening in the middle.

     ___________________
    / o               o \    inset_x, inset_y from the edges to the corner holes
    |        __         |    holes_x by holes_y in all, spread evenly between the corner ones;
    |       (__)        |    those inside the grid are left out: they would be under the post
    \_o_______________o_/
            width
The lower left corner is at the origin.
"""

import math
from collections.abc import Iterator

from parts.bolt_holes import BoltHoles
from parts.errors import Problem
from parts.geometry.draft import circle, grid, rectangle
from parts.geometry.segment import Point
from parts.parameter import bolt, count, length
from parts.profile import Dimension, Opening, Profile
from parts.template import Preset, Template


class PlateBase(BoltHoles):
    """Holes stand along the four edges; a grid of more leaves out those under the post."""

    width: float = length("Width", default=200, minimum=40, maximum=2000)
    height: float = length("Height", default=200, minimum=40, maximum=2000)
    corner_radius: float = length("Corner radius", default=8, minimum=0, maximum=300)
    holes_x: int = count("Holes along the width", default=2, minimum=2, maximum=12)
    holes_y: int = count("Holes along the height", default=2, minimum=2, maximum=12)
    inset_x: float = length("Corner holes in from the sides", default=30, minimum=3, maximum=900, group="Holes")
    inset_y: float = length("Corner holes in from top and foot", default=30, minimum=3, maximum=900, group="Holes")
    bolt: str = bolt("Anchor", default="M12", diameter="hole")
    middle: float = length(
        "Opening in the middle", default=0, minimum=0, maximum=1500, group="Middle",
        help="For conduit, grout or draining zinc; diameter, 0 for none.",
    )  # fmt: skip

    @property
    def centres(self) -> tuple[Point, ...]:
        """Centres of the holes around the edge, from the lower left one."""
        across, up = self.width - 2 * self.inset_x, self.height - 2 * self.inset_y
        steps = across / (self.holes_x - 1), up / (self.holes_y - 1)
        every = grid((self.inset_x, self.inset_y), steps, self.holes_x, self.holes_y)
        return tuple(at for i, at in enumerate(every) if self._on_the_rim(i % self.holes_x, i // self.holes_x))

    def _on_the_rim(self, column: int, row: int) -> bool:
        return column in (0, self.holes_x - 1) or row in (0, self.holes_y - 1)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the radius takes a side, or holes on opposite sides meet."""
        yield from self.at_most("corner_radius", min(self.width, self.height) / 2, "on the shorter side")
        yield from self.under("inset_x", (self.width - self.hole_size) / 2, "to keep metal between the holes")
        yield from self.under("inset_y", (self.height - self.hole_size) / 2, "to keep metal between the holes")


def outline(p: PlateBase) -> Profile:
    """Draw the plate, its anchor holes and the opening."""
    inside = p.holes_at(p.centres, "anchor hole", "inset_x")
    if p.middle:
        inside += (Opening(circle((p.width / 2, p.height / 2), p.middle), "opening in the middle", "middle"),)
    plate = rectangle((0, 0), p.width, p.height, p.corner_radius)
    return Profile((plate,), inside, dimensions=tuple(dimensions(p)))


def dimensions(p: PlateBase) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    first, r = p.centres[0], p.corner_radius
    yield Dimension("width", (0, 0), (p.width, 0), "below")
    yield Dimension("height", (0, 0), (0, p.height), "left")
    yield Dimension("inset_x", (0, first[1]), first, "below")
    yield Dimension("inset_y", (first[0], 0), first, "left")
    if r:
        out = r * math.sqrt(0.5)
        at = p.width - r, p.height - r
        yield Dimension("corner_radius", at, (at[0] + out, at[1] + out), "radius")
    if p.middle:
        centre = p.width / 2, p.height / 2
        yield Dimension("middle", centre, (centre[0] + p.middle / 2, centre[1]), "diameter")
    yield from p.hole_measured(first)


TEMPLATE = Template(
    "plate-base",
    "Base plate",
    PlateBase,
    outline,
    summary="Foot of a post: anchor holes in from the corners or all round, an opening for conduit or grout.",
    cautions=(
        "A base plate and its anchors carry a post: have size, welds and anchors settled by a qualified engineer "
        "under the local code.",
        "Plates from about 20 kg want two people or a hoist; mind fingers under an edge.",
    ),
    words=("foot", "anchor", "post", "column", "shoe", "baseplate"),
    presets=(
        Preset("Shelter post, 100 mm square tube", "width=220 height=220 thickness=10 bolt=M16 inset_x=35 inset_y=35"),
        Preset("Bench foot", "width=80 height=80 inset_x=18 inset_y=18 bolt=M8 thickness=5 corner_radius=5"),
        Preset("Sign post with conduit", "width=180 height=180 middle=40 thickness=1/4in inset_x=28 inset_y=28"),
    ),
)
