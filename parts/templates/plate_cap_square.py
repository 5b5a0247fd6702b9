r"""End cap of a square or rectangular tube: inside the tube, over its end, or back on its wall for a fillet weld.

     ________
    /        \     seat: inside: smaller than the bore by a gap all round
    |   o    |           over: wider than the tube by a lip all round
    |        |           back: smaller than the tube, for a fillet on the wall
    \________/     step: that gap, lip or setback
      width        the corners keep step by step with those of the tube

The hole lets air out while welding, and zinc run out in the bath.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry.draft import circle, rectangle
from parts.parameter import choice, length
from parts.profile import Dimension, Opening, Profile
from parts.template import Parameters, Preset, Template


class PlateCapSquare(Parameters):
    """The tube's centre is at the origin."""

    width: float = length("Tube, width", default=60, minimum=10, maximum=1000)
    height: float = length("Tube, height", default=60, minimum=10, maximum=1000)
    wall: float = length(
        "Wall of the tube",
        default=3,
        minimum=0.5,
        maximum=50,
        help="For seats inside, and back on the wall.",
        when=("seat", "inside", "back"),
    )
    corner_radius: float = length(
        "Outside corner radius of the tube", default=6, minimum=0, maximum=200, help="About twice the wall."
    )
    seat: str = choice("Seat", default="over", choices=("over", "inside", "back"))
    step: float = length(
        "Lip, gap or setback", default=0, minimum=0, maximum=200,
        help="over: lip beyond the tube; inside: gap to the wall; back: from the outside of the tube.",
    )  # fmt: skip
    vent: float = length("Vent or drain hole", default=10, minimum=0, maximum=900, group="Hole", help="0 for none.")
    vent_down: float = length(
        "Hole below the centre",
        default=0,
        minimum=0,
        maximum=500,
        group="Hole",
        help="A drain stands near the wall.",
        when=("vent",),
    )

    @property
    def out(self) -> float:
        """How far the cap stands out beyond the tube all round; negative: in from its outside."""
        return {"over": self.step, "inside": -self.wall - self.step, "back": -self.step}[self.seat]

    @property
    def rounded(self) -> float:
        """Corner radius of the cap: it keeps the same distance from the tube round the corner."""
        sharp = self.corner_radius == 0 and self.out > 0  # a lip around a sharp corner is sharp too
        return 0.0 if sharp else max(self.corner_radius + self.out, 0.0)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where nothing is left of the tube or the cap, or the hole leaves it."""
        half = min(self.width, self.height) / 2
        clash = [*self.at_most("corner_radius", half, "on half of the shorter side")]
        if self.seat != "over":
            clash += self.under("wall", half, "to leave a bore in the tube")
        if not clash and self.seat == "inside":
            clash += self.under("step", half - self.wall, "to leave a plate in the bore")
        if not clash and self.seat == "back":
            clash += self.at_most("step", self.wall, "to sit on the wall of the tube")
        yield from clash
        if clash or not self.vent:
            return
        too_wide = [*self.under("vent", 2 * (half + self.out), "to leave metal on both sides")]
        yield from too_wide or self.under("vent_down", self._lowest, "to keep the hole inside the cap")

    @property
    def _lowest(self) -> float:
        """How far below the centre the hole touches the edge: the foot, or the corner arcs where they reach it."""
        low, r = self.height / 2 + self.out, self.rounded
        middle, reach = self.width / 2 + self.out - r, r - self.vent / 2
        return low - r + math.sqrt(reach**2 - middle**2) if reach > middle else low - self.vent / 2


def outline(p: PlateCapSquare) -> Profile:
    """Draw the cap and its hole."""
    x, y = p.width / 2 + p.out, p.height / 2 + p.out
    vent = (Opening(circle((0, -p.vent_down), p.vent), "vent hole", "vent"),) if p.vent else ()
    return Profile((rectangle((-x, -y), 2 * x, 2 * y, p.rounded),), vent, dimensions=tuple(dimensions(p)))


def dimensions(p: PlateCapSquare) -> Iterator[Dimension]:
    """Yield where each length can be measured: those of the tube on it, the step from there to the cap."""
    x, y, r = p.width / 2, p.height / 2, p.corner_radius
    yield Dimension("width", (-x, -y), (x, -y), "below")
    yield Dimension("height", (-x, -y), (-x, y), "left")
    if p.seat == "inside":
        yield Dimension("wall", (x - p.wall, y), (x, y), "above")
    if p.step:
        face = -x + (p.wall if p.seat == "inside" else 0)
        yield Dimension("step", (face, y), (-x - p.out, y), "above")
    if r:
        at = r * math.sqrt(0.5)
        yield Dimension("corner_radius", (x - r, r - y), (x - r + at, r - y - at), "radius")
    if p.vent:
        out = p.vent / 2 * math.sqrt(0.5)
        yield Dimension("vent", (0, -p.vent_down), (out, out - p.vent_down), "diameter")
        if p.vent_down:
            yield Dimension("vent_down", (0, 0), (0, -p.vent_down), "right")


TEMPLATE = Template(
    "plate-cap-square",
    "End cap, square tube",
    PlateCapSquare,
    outline,
    summary="For the end of a square or rectangular tube: inside, over or back on the wall, with a vent or drain hole.",
    cautions=(
        "Never weld or hot-dip a closed hollow: what is shut in bursts it. Vent it, with the hole that the galvaniser "
        "asks for.",
        "A cap cut from plate is not a pressure part, and a foot under load is a base plate's work.",
    ),
    words=("cap", "tube", "box section", "hollow section", "rhs", "shs", "plug", "lid", "end", "vent", "drain"),
    presets=(
        Preset("Trail sign post, 80 mm tube, drain", "width=80 height=80 seat=back step=2 vent=12 vent_down=24 wall=4"),
        Preset(
            "Bench leg, 40 mm tube, inside",
            "width=40 height=40 corner_radius=4 wall=2 seat=inside step=0.5 thickness=4",
        ),
        Preset("Trailer crossmember, 100 by 50", "width=100 height=50 seat=inside step=1 wall=4 corner_radius=8"),
        Preset(
            "Gate post, 4 in with a rain lip", "width=4in height=4in step=3/16in thickness=3/16in corner_radius=3/8in"
        ),
    ),
)
