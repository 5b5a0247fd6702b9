r"""Flat cross bracket: two bars that cross in one plate, a row of bolt holes in each arm.

             width_up
              _____
             |  o  |
     ________|     |________
    |  o  o           o  o  |  width_level
    |________       ________|
             |     |            the inside corners have a radius, or a relief for a square edge
             |  o  |            raised: the level bar stands above the middle, as on a Latin cross
             |_____|            corner_radius rounds the ends
              across

Holes stand on the middle of their bar and are counted from its ends.
"""

from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Corner, Point, fillet, polygon
from parts.profile import Dimension, Profile
from parts.spec import Preset, Template, bolt, count, length
from parts.templates.bracket.shared.arms import Arm, Arms

_LEVEL, _UP = "Holes in the level bar", "Holes in the upright bar"


class BracketFlatCross(Arms):
    """The foot of the upright bar is on the x axis, its middle on the y axis."""

    across: float = length("Level bar, across", default=200, minimum=30, maximum=2000)
    height: float = length("Upright bar, over all", default=200, minimum=30, maximum=2000)
    width_level: float = length("Width of the level bar", default=50, minimum=10, maximum=500)
    width_up: float = length("Width of the upright bar", default=50, minimum=10, maximum=500)
    raised: float = length(
        "Level bar above the middle", default=0, minimum=0, maximum=900, help="0: the four arms pair up."
    )
    holes_level: int = count("Holes in each arm of the level bar", default=2, minimum=0, maximum=20, group=_LEVEL)
    first_level: float = length(
        "First hole from each end, level", default=25, minimum=1, maximum=2000, group=_LEVEL, when=("holes_level",)
    )
    pitch_level: float = length(
        "Hole spacing, level", default=45, minimum=1, maximum=2000, group=_LEVEL, when=("holes_level", "2")
    )
    holes_up: int = count("Holes in the upper arm", default=2, minimum=0, maximum=20, group=_UP)
    holes_down: int = count("Holes in the lower arm", default=2, minimum=0, maximum=20, group=_UP)
    first_up: float = length(
        "First hole from each end, upright",
        default=25,
        minimum=1,
        maximum=2000,
        group=_UP,
        when=[("holes_up",), ("holes_down",)],
    )
    pitch_up: float = length(
        "Hole spacing, upright",
        default=45,
        minimum=1,
        maximum=2000,
        group=_UP,
        when=[("holes_up", "2"), ("holes_down", "2")],
    )
    bolt: str = bolt(
        "Bolt", default="M10", diameter="hole", when=[("holes_level",), ("holes_up",), ("holes_down",), ("middle",)]
    )

    @property
    def crossing(self) -> Point:
        """Where the middle lines of the bars meet."""
        return 0.0, self.height / 2 + self.raised

    @property
    def arms(self) -> tuple[Arm, Arm, Arm, Arm]:
        """The left, right, upper and lower arm."""
        y = self.crossing[1]
        level = self.across / 2, self.width_level, self.holes_level, self.first_level, self.pitch_level
        row = self.first_up, self.pitch_up
        return (
            Arm("level", "the level bar", self.crossing, (-1.0, 0.0), *level),
            Arm("level", "the level bar", self.crossing, (1.0, 0.0), *level),
            Arm("up", "the upper arm", self.crossing, (0.0, 1.0), self.height - y, self.width_up, self.holes_up, *row),
            Arm("down", "the lower arm", self.crossing, (0.0, -1.0), y, self.width_up, self.holes_down, *row, "up"),
        )

    @property
    def corners(self) -> list[Corner | Point]:
        """The outline counter-clockwise from the left of the foot."""
        r, x, half, top = self.corner_radius, self.width_up / 2, self.across / 2, self.height
        low, high = self.crossing[1] - self.width_level / 2, self.crossing[1] + self.width_level / 2
        foot, right = [fillet(-x, 0, r), fillet(x, 0, r)], [fillet(half, low, r), fillet(half, high, r)]
        head, left = [fillet(x, top, r), fillet(-x, top, r)], [fillet(-half, high, r), fillet(-half, low, r)]
        return [
            *foot, self.inner(x, low), *right, self.inner(x, high),
            *head, self.inner(-x, high), *left, self.inner(-x, low),
        ]  # fmt: skip

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where an arm doesn't stand out, radii meet, or holes run out or into each other."""
        clash = [
            *self.under("width_up", self.across, "so that the level bar stands out"),
            *self.under("width_level", self.height, "so that the upright bar stands out"),
        ]
        if not clash:
            clash = [*self.under("raised", (self.height - self.width_level) / 2, "so that the upper arm stands out")]
        yield from clash
        if clash:
            return
        out = min((self.across - self.width_up) / 2, (self.height - self.width_level) / 2 - self.raised)
        narrower = min(self.width_level, self.width_up)
        yield from self.corner_problems((narrower,), out, narrower / 2)
        yield from self.hole_problems(self.arms)


def outline(p: BracketFlatCross) -> Profile:
    """Draw the plate and its holes."""
    return Profile((polygon(p.corners),), p.openings_in(p.arms, p.crossing), dimensions=tuple(dimensions(p)))


def dimensions(p: BracketFlatCross) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    (_, y), half, x = p.crossing, p.across / 2, p.width_up / 2
    low, high = y - p.width_level / 2, y + p.width_level / 2
    left, _, up, down = p.arms
    yield Dimension("across", (-half, low), (half, low), "below")
    yield Dimension("height", (-x, 0), (-x, p.height), "left")
    yield Dimension("width_level", (half, low), (half, high), "right")
    yield Dimension("width_up", (-x, p.height), (x, p.height), "above")
    if p.raised:
        yield Dimension("raised", (x, p.height / 2), (half, y), "right")
    yield from p.row_measured(left)
    yield from p.row_measured(max(up, down, key=lambda arm: arm.holes))
    yield from p.corners_measured((half, high), (x, low))
    if p.middle or any(arm.holes for arm in p.arms):
        yield from p.hole_measured(next((arm.centres[0] for arm in p.arms if arm.holes), p.crossing))


TEMPLATE = Template(
    "bracket-flat-cross",
    "Flat cross bracket",
    BracketFlatCross,
    outline,
    summary="Ties two rails where they cross: four arms in one plate, bolt holes in each.",
    cautions=(
        "A bracket that carries load or people, holds a sign in the wind or is part of a vehicle is for a qualified "
        "person to size under the local code; edge distances here are minimums of detailing, not strength.",
    ),
    words=("plus", "x", "tie", "plate", "mending", "joint", "crossing", "lattice", "latin"),
    presets=(
        Preset(
            "Garden bench, slats to back rail",
            "across=120 height=120 width_level=35 width_up=35 thickness=4 bolt=M6 holes_level=1 holes_up=1 "
            "holes_down=1 first_level=18 first_up=18 middle=on",
        ),
        Preset(
            "Trailer, cross member to long member",
            "across=10in height=12in width_level=2-1/2in width_up=2-1/2in thickness=1/4in bolt=1/2 first_level=1-1/4in "
            "first_up=1-1/4in pitch_level=2in pitch_up=2in inside_radius=1/2in corner_radius=1/4in",
        ),
        Preset(
            "Trail sign, board low on a tall post",
            "height=300 raised=50 holes_down=3 holes_up=1 bolt=M8",
            inches="bolt=3/8",
        ),
    ),
)
