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
from parts.geometry import rectangle
from parts.profile import Dimension, Profile
from parts.spec import Preset, Template, length
from parts.templates.plate.shared.tube_cap import TubeCap


class PlateCapSquare(TubeCap):
    """The tube's centre is at the origin."""

    width: float = length("Tube, width", default=60, minimum=10, maximum=1000)
    height: float = length("Tube, height", default=60, minimum=10, maximum=1000)
    corner_radius: float = length(
        "Outside corner radius of the tube",
        default=6,
        minimum=0,
        maximum=200,
        help="About twice the wall.",
    )

    @property
    def rounded(self) -> float:
        """Corner radius of the cap: it keeps the same distance from the tube round the corner."""
        sharp = self.corner_radius == 0 and self.out > 0  # a lip around a sharp corner is sharp too
        return 0.0 if sharp else max(self.corner_radius + self.out, 0.0)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where nothing is left of the tube or the cap, or the hole leaves it."""
        half = min(self.width, self.height) / 2
        clash = [*self.at_most("corner_radius", half, "on half of the shorter side")]
        clash += self.seat_problems(half)
        yield from clash or self.vent_problems(half + self.out, self._lowest)

    @property
    def _lowest(self) -> float:
        """How far below the centre the hole touches the edge: the foot, or the corner arcs where they reach it."""
        low, r = self.height / 2 + self.out, self.rounded
        middle, reach = self.width / 2 + self.out - r, r - self.vent / 2
        return low - r + math.sqrt(reach**2 - middle**2) if reach > middle else low - self.vent / 2


def outline(p: PlateCapSquare) -> Profile:
    """Draw the cap and its hole."""
    x, y = p.width / 2 + p.out, p.height / 2 + p.out
    return Profile((rectangle((-x, -y), 2 * x, 2 * y, p.rounded),), p.vents, dimensions=tuple(dimensions(p)))


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
    yield from p.vent_measured()


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
    words=(
        "cap",
        "tube",
        "box section",
        "hollow section",
        "rhs",
        "shs",
        "plug",
        "lid",
        "end",
        "vent",
        "drain",
        "endcap",
    ),
    presets=(
        Preset(
            "Trail sign post, 80 mm tube, drain",
            "width=80 height=80 seat=back step=2 vent=12 vent_down=24 wall=4",
            is_metric=True,
        ),
        Preset(
            "Bench leg, 40 mm tube, inside",
            "width=40 height=40 corner_radius=4 wall=2 seat=inside step=0.5 thickness=4",
            is_metric=True,
        ),
        Preset(
            "Trailer crossmember, 100 by 50",
            "width=100 height=50 seat=inside step=1 wall=4 corner_radius=8",
            is_metric=True,
        ),
        Preset(
            "Gate post, 4 in with a rain lip", "width=4in height=4in step=3/16in thickness=3/16in corner_radius=3/8in"
        ),
    ),
)
