r"""End cap of a round tube: a disc that sits inside the tube, over its end, or back on its wall for a fillet weld.

      ______
     /      \      seat: inside: smaller than the bore by a gap all round
    |   o    |           over: wider than the tube by a lip all round
    |        |           back: smaller than the tube, for a fillet on the wall
     \______/      step: that gap, lip or setback
       tube

The hole lets air out while welding, and zinc run out in the bath.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry.draft import circle
from parts.parameter import choice, length
from parts.profile import Dimension, Opening, Profile
from parts.template import Parameters, Preset, Template


class PlateCapRound(Parameters):
    """The tube's centre is at the origin."""

    tube: float = length("Tube, outside diameter", default=88.9, minimum=10, maximum=1500)
    wall: float = length(
        "Wall of the tube",
        default=3,
        minimum=0.5,
        maximum=60,
        help="For seats inside, and back on the wall.",
        when=("seat", "inside", "back"),
    )
    seat: str = choice("Seat", default="over", choices=("over", "inside", "back"))
    step: float = length(
        "Lip, gap or setback", default=0, minimum=0, maximum=200,
        help="over: lip beyond the tube; inside: gap to the wall; back: from the outside of the tube.",
    )  # fmt: skip
    vent: float = length("Vent or drain hole", default=10, minimum=0, maximum=1000, group="Hole", help="0 for none.")
    vent_down: float = length(
        "Hole below the centre",
        default=0,
        minimum=0,
        maximum=700,
        group="Hole",
        help="A drain stands near the wall.",
        when=("vent",),
    )

    @property
    def diameter(self) -> float:
        """Diameter of the disc."""
        if self.seat == "over":
            return self.tube + 2 * self.step
        return self.tube - 2 * self.step - (2 * self.wall if self.seat == "inside" else 0)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where nothing is left of the tube or the disc, or the hole leaves it."""
        clash = [*self.under("wall", self.tube / 2, "to leave a bore in the tube")] if self.seat != "over" else []
        if not clash and self.seat == "inside":
            clash += self.under("step", self.tube / 2 - self.wall, "to leave a disc in the bore")
        if not clash and self.seat == "back":
            clash += self.at_most("step", self.wall, "to sit on the wall of the tube")
        yield from clash
        if clash or not self.vent:
            return
        too_wide = [*self.under("vent", self.diameter, "to leave a ring of the disc")]
        yield from too_wide or self.under(
            "vent_down", (self.diameter - self.vent) / 2, "to keep the hole inside the disc"
        )


def outline(p: PlateCapRound) -> Profile:
    """Draw the disc and its hole."""
    vent = (Opening(circle((0, -p.vent_down), p.vent), "vent hole", "vent"),) if p.vent else ()
    return Profile((circle((0, 0), p.diameter),), vent, dimensions=tuple(dimensions(p)))


def dimensions(p: PlateCapRound) -> Iterator[Dimension]:
    """Yield where each length can be measured: tube and wall on the tube, the step from there to the disc."""
    half, rim = p.tube / 2, p.diameter / 2
    yield Dimension("tube", (0, 0), (half, 0), "diameter")
    if p.seat == "inside":
        yield Dimension("wall", (half - p.wall, 0), (half, 0), "above")
    if p.step:
        face = half - p.wall if p.seat == "inside" else half
        yield Dimension("step", (-face, 0), (-rim, 0), "above")
    if p.vent:
        r = p.vent / 2 * math.sqrt(0.5)
        yield Dimension("vent", (0, -p.vent_down), (r, r - p.vent_down), "diameter")
        if p.vent_down:
            yield Dimension("vent_down", (0, 0), (0, -p.vent_down), "right")


TEMPLATE = Template(
    "plate-cap-round",
    "End cap, round tube",
    PlateCapRound,
    outline,
    summary="A disc for the end of a round tube: inside it, over it or back on the wall, with a vent or drain hole.",
    cautions=(
        "Never weld or hot-dip a closed hollow: what is shut in bursts it. Vent it, with the hole that the galvaniser "
        "asks for, and never cap what held fuel or gas.",
        "A cap cut from plate is not a pressure part.",
    ),
    words=("cap", "tube", "pipe", "plug", "lid", "end", "disc", "disk", "vent", "drain"),
    presets=(
        Preset("Trail sign post, 60.3 mm tube, drain", "tube=60.3 seat=back step=1.5 vent_down=19 thickness=4"),
        Preset("Bench leg, 48.3 mm tube, inside", "tube=48.3 seat=inside step=0.5 wall=3.2 thickness=5"),
        Preset("Rain lip on a gate post, 4 in tube", "tube=4in step=1/4in thickness=3/16in"),
        Preset("Trailer jack foot", "tube=70 step=15 thickness=8 vent=14"),
    ),
)
