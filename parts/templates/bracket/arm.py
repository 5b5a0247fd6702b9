r"""Arm bracket: an upright that is bolted to the side of a post, an arm that a sign hangs from, a knee brace between.

              arm
     _____________________
    |  o           o    o |   bar: width of upright and arm
    |    ____   __________|   the sign hangs from the eyes
    |   |   /  /
    |   | /  /                brace: how far the knee reaches down and along from the inner corner
    |   |  /                  brace_width: square to it
    | o | /
    |___|

The bolts go through the side of the post; one plate is the whole bracket.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Corner, Point, circle, fillet, largest_fillet, polygon, row
from parts.profile import Dimension, Opening, Profile
from parts.spec import BY_DIAMETER, Preset, Template, bolt, count, length
from parts.templates.shared.bolt_holes import BoltHoles

_EYES = "Eyes for the sign"


class BracketArm(BoltHoles):
    """The foot of the upright is at the origin, the arm at its top stands out along x."""

    arm: float = length("Arm, over all", default=400, minimum=40, maximum=3000, help="From the back of the upright.")
    height: float = length("Upright, over all", default=300, minimum=40, maximum=3000)
    bar: float = length("Width of upright and arm", default=40, minimum=8, maximum=400)
    brace: float = length(
        "Knee brace from the inner corner", default=180, minimum=10, maximum=2500, help="As far down as along.",
        moves="care",
    )  # fmt: skip
    brace_width: float = length("Width of the knee brace", default=30, minimum=5, maximum=400, moves="care")
    inside_radius: float = length(
        "Radius in the inner corners", default=6, minimum=0, maximum=200, group="Corners", moves="free"
    )
    corner_radius: float = length(
        "Radius at the ends", default=6, minimum=0, maximum=200, group="Corners", moves="free"
    )
    holes: int = count("Bolt holes in the upright", default=2, minimum=0, maximum=12)
    first: float = length(
        "End holes in from the ends of the upright", default=30, minimum=2, maximum=1000, group="Holes",
        when=("holes",),
    )  # fmt: skip
    bolt: str = bolt("Bolt", default="M8", diameter="hole", when=("holes",))
    eyes: int = count("Eyes in the arm", default=2, minimum=0, maximum=2, group=_EYES)
    eye: float = length("Diameter of the eyes", default=10, minimum=2, maximum=100, group=_EYES, when=("eyes",))
    tip: float = length(
        "Outer eye from the end of the arm", default=20, minimum=2, maximum=1000, group=_EYES, when=("eyes",),
        moves="care",
    )  # fmt: skip
    eyes_apart: float = length(
        "Eyes apart",
        default=120,
        minimum=4,
        maximum=2500,
        group=_EYES,
        when=("eyes", "2"),
        help="As those of the sign.",
    )

    @property
    def inner(self) -> Point:
        """Where the inner edges of upright and arm meet."""
        return self.bar, self.height - self.bar

    @property
    def window(self) -> list[Corner | Point]:
        """The corners of the opening above the brace."""
        (x, y), r = self.inner, self.inside_radius
        leg = self.brace - self.brace_width * math.sqrt(2)
        return [fillet(x, y, r), fillet(x, y - leg, r), fillet(x + leg, y, r)]

    @property
    def corners(self) -> list[Corner | Point]:
        """The outline counter-clockwise from the foot."""
        (x, y), r, into = self.inner, self.corner_radius, self.inside_radius
        return [
            fillet(0, 0, r), fillet(x, 0, r), fillet(x, y - self.brace, into), fillet(x + self.brace, y, into),
            fillet(self.arm, y, r), fillet(self.arm, self.height, r), fillet(0, self.height, r),
        ]  # fmt: skip

    @property
    def centres(self) -> tuple[Point, ...]:
        """Centres of the bolt holes from the foot up; a single one is the lowest."""
        x, top = self.bar / 2, self.height - self.first
        if self.holes < 2:
            return ((x, self.first),) * self.holes
        return row((x, self.first), (x, top), self.holes)

    @property
    def eye_centres(self) -> tuple[Point, ...]:
        """Centres of the eyes, the outer one first."""
        x, y = self.arm - self.tip, self.height - self.bar / 2
        return ((x, y), (x - self.eyes_apart, y))[: self.eyes]

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the brace has no room, radii meet, or holes run out of a bar or into each other."""
        clash = [
            *self.under("brace", min(self.arm, self.height) - self.bar, "so that upright and arm go on beyond it"),
            *self.under("brace_width", self.brace * math.sqrt(0.5), "to leave an opening above the brace"),
        ]
        yield from clash
        if clash:
            return
        yield from self.at_most("inside_radius", largest_fillet(self.window), "in the corners above the brace")
        beyond = min(self.arm, self.height) - self.bar - self.brace
        turn = math.tan(math.pi / 8)
        yield from self.at_most("corner_radius", min(self.bar / 2, beyond), "at the ends")
        yield from self.at_most("inside_radius", max(beyond - self.corner_radius, 0) / turn, "beside the ends")
        yield from self._bolt_problems()
        yield from self._eye_problems()

    def _bolt_problems(self) -> Iterator[Problem]:
        """Yield a problem where a bolt hole runs out of the upright or into the next."""
        if not self.holes:
            return
        d = self.hole_size
        if self.bolt == BY_DIAMETER:
            clash = [*self.under("hole", self.bar, "in this width")]
        else:
            message = f"wants a hole of {self.say(d, self.bar)}; the upright is {self.say(self.bar, d)} wide."
            clash = [self.problem("bolt", message)] if d >= self.bar else []
        clash += self.over("first", d / 2, "to stay inside the ends")
        most = self.height - d / 2 if self.holes == 1 else (self.height - d) / 2
        clash += self.under("first", most, "on the upright")
        yield from clash
        between = self.height - 2 * self.first
        if not clash and self.holes > 1 and between / (self.holes - 1) <= d:
            yield self.problem("holes", f"must be at most {math.ceil(between / d)} on this upright.")

    def _eye_problems(self) -> Iterator[Problem]:
        """Yield a problem where an eye runs out of the arm, or into the other or a bolt hole."""
        if not self.eyes:
            return
        clash = [
            *self.under("eye", self.bar, "in the arm"),
            *self.over("tip", self.eye / 2, "to stay inside the end of the arm"),
            *self.under("tip", self.arm - self.bar - self.eye / 2, "to stay clear of the upright"),
        ]
        if self.eyes == 2 and not clash:
            clash = [
                *self.over("eyes_apart", self.eye, "to keep metal between the eyes"),
                *self.under(
                    "eyes_apart", self.arm - self.bar - self.tip - self.eye / 2, "to stay clear of the upright"
                ),
            ]
        yield from clash


def outline(p: BracketArm) -> Profile:
    """Draw the bracket, its opening and its holes."""
    eyes = (Opening(circle(at, p.eye), "eye", "eye") for at in p.eye_centres)
    window = Opening(polygon(p.window), "opening above the brace", "brace_width")
    inside = (window, *p.holes_at(p.centres, "bolt hole", "holes"), *eyes)
    return Profile((polygon(p.corners),), inside, dimensions=tuple(dimensions(p)))


def dimensions(p: BracketArm) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    (x, y), top = p.inner, p.height
    yield Dimension("arm", (0, top), (p.arm, top), "above")
    yield Dimension("height", (0, 0), (0, top), "left")
    yield Dimension("bar", (0, 0), (x, 0), "below")
    yield Dimension("brace", (x, y - p.brace), (x, y), "right")
    mid, off = (x + p.brace / 2, y - p.brace / 2), p.brace_width * math.sqrt(0.5)
    yield Dimension("brace_width", mid, (mid[0] - off, mid[1] + off), "along")
    out = math.sqrt(0.5)
    if r := p.corner_radius:
        yield Dimension("corner_radius", (r, top - r), (r - r * out, top - r + r * out), "radius")
    if r := p.inside_radius:
        yield Dimension("inside_radius", (x + r, y - r), (x + r - r * out, y - r + r * out), "radius")
    if p.holes:
        yield Dimension("first", (0, 0), p.centres[0], "left")
        yield from p.hole_measured(p.centres[0])
    if p.eyes:
        (ex, ey) = p.eye_centres[0]
        yield Dimension("tip", (ex, ey), (p.arm, top), "above")
        yield Dimension("eye", (ex, ey), (ex + p.eye / 2 * out, ey - p.eye / 2 * out), "diameter")
    if p.eyes == 2:
        yield Dimension("eyes_apart", p.eye_centres[1], p.eye_centres[0], "above")


TEMPLATE = Template(
    "bracket-arm",
    "Arm bracket",
    BracketArm,
    outline,
    summary="Holds a hanging sign out from a post: an upright to bolt to its side, an arm with eyes, a knee brace.",
    cautions=(
        "What hangs over people, or catches the wind, wants its size and its fixing settled by a qualified person "
        "under the local code.",
    ),
    words=("sign", "hanging sign", "arm", "pub sign", "projecting", "lantern", "basket", "plant", "knee", "post"),
    presets=(
        Preset(
            "Trail sign, board of 300 on two chains", "arm=380 height=250 brace=150 eyes_apart=240 bar=35 thickness=5"
        ),
        Preset(
            "Workshop door, lantern",
            "arm=220 height=200 bar=30 brace=110 brace_width=20 eyes=1 eye=12 thickness=4 bolt=M6 first=18",
        ),
        Preset(
            "Market stall, flower basket",
            "arm=12in height=10in bar=1-1/4in brace=6in brace_width=1in eyes=1 eye=1/2in tip=3/4in thickness=3/16in "
            "bolt=5/16 first=1in",
        ),
    ),
)
