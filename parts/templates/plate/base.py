r"""Base plate: rectangular, four anchor holes inset from the corners or a grid of them, an opening in the middle.

     ___________________
    / o               o \    inset_x, inset_y from the edges to the corner holes
    |      . __ .       |    holes_x by holes_y in all, spread evenly between the corner ones;
    |      .(__).       |    those inside the grid are left out: they would be under the post
    \_o_______________o_/    the post's outline may be scribed about the middle, to set it by
            width
The lower left corner is at the origin.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Loop, Point, circle, distance, grid, rectangle
from parts.profile import Dimension, Opening, Profile, Scribe
from parts.spec import Preset, Template, bolt, choice, count, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.templates.shared.lettered import Lettered

_POST = "Post"


class PlateBase(BoltHoles, Lettered):
    """Holes stand along the four edges; a grid of more leaves out those under the post."""

    width: float = length("Width", default=200, minimum=40, maximum=2000)
    height: float = length("Height", default=200, minimum=40, maximum=2000)
    corner_radius: float = length("Corner radius", default=8, minimum=0, maximum=300, moves="free")
    holes_x: int = count("Holes along the width", default=2, minimum=2, maximum=12)
    holes_y: int = count("Holes along the height", default=2, minimum=2, maximum=12)
    inset_x: float = length("Corner holes in from the sides", default=30, minimum=3, maximum=900, group="Holes")
    inset_y: float = length("Corner holes in from top and foot", default=30, minimum=3, maximum=900, group="Holes")
    bolt: str = bolt("Anchor", default="M12", diameter="hole")
    middle: float = length(
        "Opening in the middle", default=0, minimum=0, maximum=1500, group="Middle",
        help="For conduit, grout or draining zinc; diameter, 0 for none.", moves="care",
    )  # fmt: skip
    post: str = choice(
        "Outline of the post", default="none", choices=("none", "rectangle", "round"), group=_POST,
        help="Scribed about the middle, to set the post by.",
    )  # fmt: skip
    post_x: float = length(
        "Post across, or its diameter", default=80, minimum=6, maximum=1900, group=_POST,
        when=("post", "rectangle", "round"),
    )  # fmt: skip
    post_y: float = length(
        "Post, upright size", default=80, minimum=6, maximum=1900, group=_POST, when=("post", "rectangle")
    )
    post_radius: float = length(
        "Corner radius of the post", default=6, minimum=0, maximum=200, group=_POST, when=("post", "rectangle"),
        help="Of a hollow section about twice its wall.",
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

    @property
    def post_outline(self) -> Loop | None:
        """What is scribed of the post."""
        x, y = self.width / 2, self.height / 2
        if self.post == "rectangle":
            corner = x - self.post_x / 2, y - self.post_y / 2
            return rectangle(corner, self.post_x, self.post_y, self.post_radius)
        return circle((x, y), self.post_x) if self.post == "round" else None

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the radius takes a side, holes on opposite sides meet, or the post stands on one."""
        yield from self.at_most("corner_radius", min(self.width, self.height) / 2, "on the shorter side")
        yield from self.under("middle", min(self.width, self.height), "to leave metal around the opening")
        yield from self._anchor_problems()
        if self.post != "none":
            yield from self._post_problems()

    def _anchor_problems(self) -> Iterator[Problem]:
        half = self.hole_size / 2
        for inset, holes, side in (("inset_x", "holes_x", self.width), ("inset_y", "holes_y", self.height)):
            clash = [*self.over(inset, half, "to keep the holes on the plate")]
            clash += self.under(inset, side / 2 - half, "to keep metal between the holes")
            yield from clash or self.spread_problems(holes, side - 2 * getattr(self, inset))
        yield from self.rounding_problems((self.inset_x, self.inset_y))
        if self.middle:
            clear = min(distance(at, (self.width / 2, self.height / 2)) for at in self.centres) - half
            yield from self.under("middle", 2 * clear, "to clear the anchor holes")

    def _post_problems(self) -> Iterator[Problem]:
        up = self.post_y if self.post == "rectangle" else self.post_x
        clash = [*self.at_most("post_x", self.width, "on the plate")]
        if self.post == "rectangle":
            clash += self.at_most("post_y", self.height, "on the plate")
            clash += self.at_most("post_radius", min(self.post_x, up) / 2, "on the post")
        else:
            clash += self.at_most("post_x", self.height, "on the plate")
        if not clash and self.middle:
            clash += self.under("middle", min(self.post_x, up), "inside the post")
        yield from clash
        if not clash and self._on_an_anchor:
            yield self.tight("post_x", "between the anchor holes")

    @property
    def _on_an_anchor(self) -> bool:
        post = self.post_outline
        return post is not None and any(
            post.contains(at)
            or min(distance(at, segment.nearest(at)) for segment in post.segments) <= self.hole_size / 2
            for at in self.centres
        )


def outline(p: PlateBase) -> Profile:
    """Draw the plate, its anchor holes and the opening, the post scribed."""
    inside = p.holes_at(p.centres, "anchor hole", "inset_x")
    if p.middle:
        inside += (Opening(circle((p.width / 2, p.height / 2), p.middle), "opening in the middle", "middle"),)
    plate = rectangle((0, 0), p.width, p.height, p.corner_radius)
    post = p.post_outline
    return Profile((plate,), inside, (Scribe(post.segments),) if post else (), tuple(dimensions(p)))


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
    yield from post_dimensions(p)


def post_dimensions(p: PlateBase) -> Iterator[Dimension]:
    """Yield those of the post."""
    (x, y), a, b, r = (p.width / 2, p.height / 2), p.post_x / 2, p.post_y / 2, p.post_radius
    out = math.sqrt(0.5)
    if p.post == "round":
        yield Dimension("post_x", (x, y), (x - a * out, y + a * out), "diameter")
    elif p.post == "rectangle":
        yield Dimension("post_x", (x - a, y + b), (x + a, y + b), "above")
        yield Dimension("post_y", (x + a, y - b), (x + a, y + b), "right")
        if r:
            at = x - a + r, y + b - r
            yield Dimension("post_radius", at, (at[0] - r * out, at[1] + r * out), "radius")


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
    words=("foot", "anchor", "post", "column", "shoe", "baseplate", "caster", "castor", "handrail"),
    presets=(
        Preset(
            "Shelter post, 100 mm square tube, scribed",
            "width=220 height=220 thickness=10 bolt=M16 inset_x=35 inset_y=35 post=rectangle post_x=100 post_y=100 "
            "post_radius=8",
            is_metric=True,
        ),
        Preset("Garden bench foot", "width=80 height=80 inset_x=18 inset_y=18 bolt=M8 thickness=5 corner_radius=5"),
        Preset(
            "Trail sign post, 60.3 mm tube with conduit",
            "width=180 height=180 middle=40 thickness=1/4in inset_x=28 inset_y=28 post=round post_x=60.3",
            is_metric=True,
        ),
        Preset("Cutting table, eight anchors in a foot", "width=300 holes_x=4 inset_x=25 inset_y=25"),
    ),
)
