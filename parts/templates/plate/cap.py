r"""End cap of a tube, round, square or rectangular: inside it, over its end, or back on its wall for a fillet weld.

     ________         ______
    /        \       /      \     seat: inside: smaller than the bore by a gap all round
    |   o    |      |   o    |          over: wider than the tube by a lip all round
    |        |      |        |          back: smaller than the tube, for a fillet on the wall
    \________/       \______/     step: that gap, lip or setback
      width            tube       square corners keep step by step with those of the tube

The hole lets air out while welding, and zinc run out in the bath.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import circle, rectangle
from parts.profile import Dimension, Opening, Profile
from parts.spec import Kind, Preset, Template, choice, length
from parts.templates.shared.lettered import Lettered

_SQUARE, _ROUND = ("section", "square"), ("section", "round")


class PlateCap(Lettered):
    """The tube's centre is at the origin."""

    section: str = choice("Section of the tube", default="square", choices=("square", "round"))
    width: float = length("Tube, width", default=60, minimum=10, maximum=1000, when=_SQUARE)
    height: float = length("Tube, height", default=60, minimum=10, maximum=1000, when=_SQUARE)
    corner_radius: float = length(
        "Outside corner radius of the tube", default=6, minimum=0, maximum=200, help="About twice the wall.",
        when=_SQUARE,
    )  # fmt: skip
    tube: float = length("Tube, outside diameter", default=88.9, minimum=10, maximum=1500, when=_ROUND)
    wall: float = length(
        "Wall of the tube", default=3, minimum=0.5, maximum=60, help="For seats inside, and back on the wall.",
        when=("seat", "inside", "back"),
    )  # fmt: skip
    seat: str = choice("Seat", default="over", choices=("over", "inside", "back"))
    step: float = length(
        "Lip, gap or setback", default=0, minimum=0, maximum=200,
        help="over: lip beyond the tube; inside: gap to the wall; back: from the outside of the tube.", moves="care",
    )  # fmt: skip
    vent: float = length(
        "Vent or drain hole", default=10, minimum=0, maximum=1000, group="Hole", help="0 for none.", moves="care"
    )
    vent_down: float = length(
        "Hole below the centre", default=0, minimum=0, maximum=700, group="Hole",
        help="A drain stands near the wall.", when=("vent",), moves="free",
    )  # fmt: skip

    @property
    def is_round(self) -> bool:
        """Whether the tube is."""
        return self.section == "round"

    @property
    def sides(self) -> tuple[float, float]:
        """The tube over all, outside."""
        return (self.tube, self.tube) if self.is_round else (self.width, self.height)

    @property
    def out(self) -> float:
        """How far the cap stands out beyond the tube all round; negative: in from its outside."""
        return {"over": self.step, "inside": -self.wall - self.step, "back": -self.step}[self.seat]

    @property
    def rounded(self) -> float:
        """Corner radius of the cap of a square tube: it keeps the same distance from the tube round the corner."""
        sharp = self.corner_radius == 0 and self.out > 0  # a lip around a sharp corner is sharp too
        return 0.0 if sharp else max(self.corner_radius + self.out, 0.0)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where nothing is left of the tube or the cap, or the hole leaves it."""
        half = min(self.sides) / 2
        clash = [] if self.is_round else [*self.at_most("corner_radius", half, "on half of the shorter side")]
        clash += self._seat_problems(half)
        yield from clash or self._vent_problems(half + self.out)

    def _seat_problems(self, half: float) -> Iterator[Problem]:
        """Yield a problem where nothing is left of a tube `half` wide from its centre, or of the cap."""
        clash = [*self.under("wall", half, "to leave a bore in the tube")] if self.seat != "over" else []
        if not clash and self.seat == "inside":
            clash += self.under("step", half - self.wall, "to leave a cap in the bore")
        if not clash and self.seat == "back":
            clash += self.at_most("step", self.wall, "to sit on the wall of the tube")
        yield from clash

    def _vent_problems(self, half: float) -> Iterator[Problem]:
        """Yield a problem where the hole leaves a cap `half` wide from its centre."""
        if self.vent:
            too_wide = [*self.under("vent", 2 * half, "to leave metal around it")]
            yield from too_wide or self.under("vent_down", self._lowest, "to keep the hole inside the cap")

    @property
    def _lowest(self) -> float:
        """How far below the centre the hole touches the edge: the foot, or the corner arcs where they reach it."""
        low = self.sides[1] / 2 + self.out
        if self.is_round:
            return low - self.vent / 2
        r = self.rounded
        middle, reach = self.width / 2 + self.out - r, r - self.vent / 2
        return low - r + math.sqrt(reach**2 - middle**2) if reach > middle else low - self.vent / 2

    @property
    def vents(self) -> tuple[Opening, ...]:
        """The hole."""
        return (Opening(circle((0, -self.vent_down), self.vent), "vent hole", "vent"),) if self.vent else ()


def outline(p: PlateCap) -> Profile:
    """Draw the cap and its hole."""
    x, y = (side / 2 + p.out for side in p.sides)
    cap = circle((0, 0), 2 * x) if p.is_round else rectangle((-x, -y), 2 * x, 2 * y, p.rounded)
    return Profile((cap,), p.vents, dimensions=tuple(dimensions(p)))


def dimensions(p: PlateCap) -> Iterator[Dimension]:
    """Yield where each length can be measured: those of the tube on it, the step from there to the cap."""
    x, y = (side / 2 for side in p.sides)
    level = 0.0 if p.is_round else y
    if p.is_round:
        yield Dimension("tube", (0, 0), (x, 0), "diameter")
    else:
        yield Dimension("width", (-x, -y), (x, -y), "below")
        yield Dimension("height", (-x, -y), (-x, y), "left")
    if p.seat == "inside":
        yield Dimension("wall", (x - p.wall, level), (x, level), "above")
    if p.step:
        face = -x + (p.wall if p.seat == "inside" else 0)
        yield Dimension("step", (face, level), (-x - p.out, level), "above")
    if p.corner_radius and not p.is_round:
        r = p.corner_radius
        at = r * math.sqrt(0.5)
        yield Dimension("corner_radius", (x - r, r - y), (x - r + at, r - y - at), "radius")
    yield from _vent_measured(p)


def _vent_measured(p: PlateCap) -> Iterator[Dimension]:
    """Yield where the hole can be measured."""
    if not p.vent:
        return
    r = p.vent / 2 * math.sqrt(0.5)
    yield Dimension("vent", (0, -p.vent_down), (r, r - p.vent_down), "diameter")
    if p.vent_down:
        yield Dimension("vent_down", (0, 0), (0, -p.vent_down), "right")


TEMPLATE = Template(
    "plate-cap",
    "End cap of a tube",
    PlateCap,
    outline,
    summary="For the end of a round, square or rectangular tube: inside, over or back on the wall, with a vent hole.",
    cautions=(
        "Never weld or hot-dip a closed hollow: what is shut in bursts it. Vent it, with the hole that the galvaniser "
        "asks for, and never cap what held fuel or gas.",
        "A cap cut from plate is not a pressure part, and a foot under load is a base plate's work.",
    ),
    words=(
        *("cap", "tube", "pipe", "plug", "lid", "end", "disc", "disk", "vent", "drain", "endcap", "bollard", "round"),
        *("square", "box section", "hollow section", "rhs", "shs"),
    ),
    sizes=("width", "height"),
    kinds=(Kind(frozenset(("round", "pipe", "bollard", "disc", "disk")), {"section": "round"}, ("tube",)),),
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
        Preset(
            "Trail sign post, 60.3 mm tube, drain",
            "section=round tube=60.3 seat=back step=1.5 vent_down=19 thickness=4",
            is_metric=True,
        ),
        Preset(
            "Bench leg, 48.3 mm tube, inside",
            "section=round tube=48.3 seat=inside step=0.5 wall=3.2 thickness=5",
            is_metric=True,
        ),
        Preset(
            "Bollard of 168.3 pipe, over its end", "section=round tube=168.3 step=4 vent=0 thickness=8", is_metric=True
        ),
        Preset(
            "Bollard of 4-1/2 in pipe, set in",
            "section=round tube=4-1/2in seat=inside step=1/64in wall=0.237in vent=0 thickness=1/4in",
        ),
        Preset("Rain lip on a gate post, 4 in tube", "section=round tube=4in step=1/4in thickness=3/16in"),
        Preset("Trailer jack foot", "section=round tube=70 step=15 thickness=8 vent=14"),
    ),
)
