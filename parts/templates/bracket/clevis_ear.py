r"""Clevis ear: a round head concentric with the pin hole, the shank tapered from it tangentially to the foot.

        ___
       /   \      head: its diameter; the flanks leave it as tangents
      |  o  |
      /     \
     /       \    rise: from the foot to the pin
    |         |   straight: how far up the foot stays upright
    |_________|
       foot

Two make a clevis, on either side of what the pin goes through. On a round tube the foot is hollowed to it.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Loop, Point, distance
from parts.profile import Dimension, Profile
from parts.spec import BY_DIAMETER, Preset, Template, bolt, flag, length
from parts.templates.bracket.shared.tube_foot import TubeFoot
from parts.templates.shared.bolt_holes import BoltHoles


class BracketClevisEar(TubeFoot, BoltHoles):
    """The foot, or the crown of its hollow, is on the x axis, the pin on the y axis."""

    head: float = length("Head diameter", default=50, minimum=10, maximum=500, moves="care")
    rise: float = length("Height of the pin", default=70, minimum=8, maximum=1000, help="From the foot.")
    foot: float = length("Width of the foot", default=80, minimum=8, maximum=1000)
    straight: float = length(
        "Upright sides of the foot",
        default=10,
        minimum=0,
        maximum=500,
        help="How far up; blunts the toes.",
        moves="free",
    )
    shoulder: float = length(
        "Radius where the taper begins",
        default=10,
        minimum=0,
        maximum=500,
        help="Over the upright sides.",
        moves="free",
    )
    bolt: str = bolt("Pin or bolt", default="M16", diameter="hole")
    drilled: bool = flag(
        "Drill the hole after cutting",
        group="Holes",
        help="A pin wants a drilled hole: its centre is marked.",
        moves="care",
    )

    @property
    def pin(self) -> Point:
        """Centre of the hole and of the head."""
        return 0.0, self.rise

    @property
    def tangent_length(self) -> float:
        """From the shoulder to where the right flank touches the head."""
        away = distance((self.foot / 2, self.straight), self.pin)
        return math.sqrt(away**2 - (self.head / 2) ** 2)

    @property
    def lean(self) -> float:
        """How far the right flank leans over from upright, to the left; negative where the head is the wider.

        Seen from the shoulder the pin is to the left of upright by one angle, the tangent to the right of the pin
        by another, whose tangent is the head's radius over the flank's length.
        """
        to_pin = math.atan2(self.foot / 2, self.rise - self.straight)
        return to_pin - math.atan2(self.head / 2, self.tangent_length)

    @property
    def setback(self) -> float:
        """How far from the shoulder its radius begins, on both sides of it."""
        return self.shoulder * math.tan(abs(self.lean) / 2) if self.straight else 0.0

    @property
    def edge(self) -> Loop:
        """The outline counter-clockwise from the left of the foot."""
        x, low, r, lean, back = self.foot / 2, self.straight, self.head / 2, self.lean, self.setback
        touch = r * math.cos(lean), self.rise + r * math.sin(lean)
        over = math.tan(lean / 4) if back else 0.0
        after = x - back * math.sin(lean), low + back * math.cos(lean)
        head = math.tan((math.pi - 2 * lean) / 4)
        down = -self.sunk(x)
        right = (x, down, 0.0), (x, low - back, over), (*after, 0.0), (*touch, head)
        left = (-touch[0], touch[1], 0.0), (-after[0], after[1], over), (-x, low - back, 0.0)
        return Loop.through([(-x, down, self.foot_bulge(x)), *right, *left])

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the head reaches the foot or its shoulders, or the hole is too large for the head."""
        standing = [*self.foot_problems("foot")]
        yield from standing
        if standing:
            return
        clash = [*self.over("rise", self.head / 2, "so that the head clears the foot")]
        if not clash:
            clash = [*self.under("straight", self.rise - self.head / 2, "so that the taper begins below the head")]
        yield from clash
        if self.bolt == BY_DIAMETER:
            yield from self.under("hole", self.head, "in this head")
        elif self.hole_size >= self.head:
            size = self.hole_size
            message = f"wants a hole of {self.say(size, self.head)}; the head is {self.say(self.head, size)}."
            yield self.problem("bolt", message)
        if not clash and self.straight:
            room = min(self.straight, self.tangent_length)
            if self.setback > room:
                largest = room / math.tan(abs(self.lean) / 2)
                yield from self.at_most("shoulder", largest, "between foot and head")


def outline(p: BracketClevisEar) -> Profile:
    """Draw the ear; a hole to be drilled is a mark."""
    profile = Profile((p.edge,), p.holes_at((p.pin,), "pin hole", "rise"), dimensions=tuple(dimensions(p)))
    return profile.drilled_below(math.inf) if p.drilled else profile


def dimensions(p: BracketClevisEar) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    x, out = p.foot / 2, p.head / 2 * math.sqrt(0.5)
    yield Dimension("foot", (-x, -p.sunk(x)), (x, -p.sunk(x)), "below")
    yield Dimension("rise", (0 if p.tube else -x, 0), p.pin, "left")
    yield from p.foot_measured()
    yield Dimension("head", p.pin, (out, p.rise + out), "diameter")
    if p.straight:
        yield Dimension("straight", (x, 0), (x, p.straight), "right")
        if p.shoulder:
            # the arc's centre is inside the metal where the flank leans in, else outside
            side = math.copysign(1, p.lean)
            centre = x - side * p.shoulder, p.straight - p.setback
            middle = p.lean / 2
            arc = centre[0] + side * p.shoulder * math.cos(middle), centre[1] + p.shoulder * math.sin(abs(middle))
            yield Dimension("shoulder", centre, arc, "radius")
    yield from p.hole_measured(p.pin)


TEMPLATE = Template(
    "bracket-clevis-ear",
    "Clevis ear",
    BracketClevisEar,
    outline,
    summary="Carries a pin: a round head concentric with the hole, the shank tapered tangentially to a foot to weld.",
    cautions=(
        "A clevis that lifts, tows or holds people is an engineer's job: steel, weld and pin settled by a qualified "
        "person under the local code.",
        "Holes for pins are drilled or reamed, not flame cut.",
        "A closed tube heated by welding can burst: drill a vent first.",
    ),
    words=("lug", "ear", "yoke", "pin", "fork", "cylinder", "pivot", "eye"),
    presets=(
        Preset("Trailer, tipping ram ear, pin drilled", "head=80 rise=110 foot=140 thickness=12 bolt=M30 drilled=on"),
        Preset("Garden bench, folding back pivot", "head=30 rise=40 foot=44 straight=8 bolt=M8 thickness=5"),
        Preset(
            "Trailer, swing arm ear on 60.3 mm tube",
            "head=40 foot=50 rise=45 thickness=8 bolt=M12 tube=60.3",
            is_metric=True,
        ),
        Preset(
            "Trail gate, drop bar keeper",
            "head=2in rise=2-1/2in foot=3in straight=1/4in shoulder=3/8in bolt=5/8 thickness=1/4in",
        ),
    ),
)
