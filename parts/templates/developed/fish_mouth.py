r"""Fish-mouth: the end of a tube cut to saddle another at any angle, laid flat: a wrap to mark by, or the tube to roll.

       .-.       .-.
      /   \     /   \       the upper edge is the joint line; the lower one is square to the tube
     |  :  '-.-'  :  |
     |  :   :  :  :  |      band: from the square edge to the nearest place of the joint
     |__:___:__:__:__|      lines are scribed at each quarter turn of the tube

The joint of a branch of radius r with a main tube of radius R, their axes at an angle A and e apart, is, at the turn F
round the branch from its obtuse side, (sqrt(R² - (r sin F + e)²) - r cos F cos A) / sin A along the branch from where
the axes pass each other. A cut square to the wall leaves one edge for all of the wall: it follows, at each turn, that
radius between the inside and the outside of the wall which reaches the main tube first. Bevelled, it follows the
outside alone. The flat is as long as the middle of the sheet is round the tube.
"""

import math
from collections.abc import Iterator

from parts.cached import cached_property
from parts.errors import Problem
from parts.geometry import Line, Loop, Vertex
from parts.profile import Dimension, Profile, Scribe
from parts.spec import STOCK, Parameters, Preset, Template, angle, choice, length, thickness
from parts.templates.developed.shared.curve import Station, arcs_along

_QUARTER = math.pi / 2
_SEAMS = {"obtuse": 0.0, "acute": math.pi, "side": -_QUARTER}
_JUST_RAD = 1e-7
"""How far beside a quarter turn a heading is taken: where both tubes are alike, the joint has a corner there."""
_STEPS = 360


class DevelopedFishMouth(Parameters):
    """The square edge is on the x axis, the seam at its left end."""

    thickness: float = thickness("Thickness", default=1, minimum=0.3, maximum=150, group=STOCK)
    made: str = choice(
        "Made as", default="wrap", choices=("wrap", "rolled"),
        help="wrap: laid round the branch to mark its cut. rolled: the branch itself, rolled from this sheet.",
    )  # fmt: skip
    main_od: float = length(
        "Main tube, outside diameter", default=60.3, inches="2-3/8", minimum=0, maximum=5000, drawn=False,
        help="What the branch stands on; 0: a flat plate.",
    )  # fmt: skip
    branch_od: float = length(
        "Branch tube, outside diameter", default=48.3, inches="1.9", minimum=5, maximum=5000, drawn=False
    )
    branch_wall: float = length(
        "Wall of the branch", default=3, minimum=0.3, maximum=100, drawn=False, when=("made", "wrap")
    )
    joint: float = angle("Angle between the tubes", default=90, minimum=20, maximum=90)
    beside: float = length(
        "Branch beside the middle of the main tube", default=0, minimum=0, maximum=2500, drawn=False, when=("main_od",)
    )
    cut: str = choice(
        "Cut of the branch", default="square", choices=("square", "bevelled"),
        help="square: as a torch or saw held square to the wall leaves it. bevelled: ground to fit after.",
    )  # fmt: skip
    seam: str = choice(
        "Seam on the side of the",
        default="acute",
        choices=("acute", "obtuse", "side"),
        help="Of the angle, or beside it.",
    )
    band: float = length(
        "Square edge to the nearest place of the joint", default=60, minimum=5, maximum=5000, moves="free"
    )

    @property
    def radii(self) -> tuple[float, float]:
        """Inside and outside radius of the branch, mm."""
        wall = self.branch_wall if self.made == "wrap" else self.thickness
        return self.branch_od / 2 - wall, self.branch_od / 2

    @property
    def round_length(self) -> float:
        """Length of the flat: the middle of the sheet once round, mm."""
        return math.pi * (self.branch_od + (self.thickness if self.made == "wrap" else -self.thickness))

    def along(self, turn: float) -> float:
        """Return how far along the branch the cut is at a turn from its obtuse side, mm from where the axes pass."""
        return self._at(self._reach(turn), turn)

    def _reach(self, turn: float) -> float:
        """The radius of the branch that meets the main tube first."""
        inner, outer = self.radii
        if self.cut == "bevelled":
            return outer
        cosine, sine, lean = math.cos(turn), math.sin(turn), math.cos(math.radians(self.joint))
        if not self.main_od or abs(sine) < _JUST_RAD:
            return inner if cosine * lean >= 0 else outer
        # along the wall the joint rises to where its slope over the radius is none, and falls beyond
        away = -math.copysign(1.0, sine) * self.main_od / 2 * cosine * lean / math.hypot(sine, cosine * lean)
        return min(max((away - self.beside) / sine, inner), outer)

    def _at(self, radius: float, turn: float) -> float:
        lean, rise = math.cos(math.radians(self.joint)), math.sin(math.radians(self.joint))
        if self.joint == 90:
            lean = 0.0
        off = radius * math.sin(turn) + self.beside
        hollow = math.sqrt(max((self.main_od / 2) ** 2 - off**2, 0.0)) if self.main_od else 0.0
        return (hollow - radius * math.cos(turn) * lean) / rise

    @cached_property
    def throat(self) -> float:
        """The turn at which the branch is shortest."""
        step = 2 * math.pi / _STEPS
        low = step * (max(range(_STEPS), key=lambda i: self.along(i * step)) - 1)
        high = low + 2 * step
        for _ in range(60):
            a, b = low + (high - low) / 3, high - (high - low) / 3
            low, high = (a, high) if self.along(a) < self.along(b) else (low, b)
        return (low + high) / 2

    def height_at(self, turn: float) -> float:
        """Return how high the joint line is above the square edge, mm."""
        return self.band + self.along(self.throat) - self.along(turn)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the wall fills the branch, or the branch is wider than what it stands on."""
        if self.made == "wrap":
            yield from self.under("branch_wall", self.branch_od / 2, "for a tube")
        else:
            yield from self.over("branch_od", 2 * self.thickness, "to be rolled from this sheet")
        if not self.main_od:
            return
        room = (self.main_od - self.branch_od) / 2
        if room < 0:
            yield from self.at_most("branch_od", self.main_od, "to stand on the main tube")
        else:
            yield from self.at_most("beside", room, "for the branch to stand on the main tube with all of its wall")


def outline(p: DevelopedFishMouth) -> Profile:
    """Draw the flat, and a scribed line at each quarter turn that isn't the seam."""
    quarter = p.round_length / 4
    lines = tuple(Scribe((Line((i * quarter, 0.0), (i * quarter, p.band)),)) for i in (1, 2, 3))
    return Profile((edge(p),), (), lines, tuple(dimensions(p)))


def edge(p: DevelopedFishMouth) -> Loop:
    """Return the edge counter-clockwise from the lower left corner, the joint line quarter by quarter."""
    first, long = _SEAMS[p.seam], p.round_length
    vertices: list[Vertex] = [(0.0, 0.0, 0.0), (long, 0.0, 0.0)]
    for quarter in (3, 2, 1, 0):
        low, high = first + quarter * _QUARTER, first + (quarter + 1) * _QUARTER

        def station(turn: float, low: float = low, high: float = high) -> Station:
            near = min(max(turn, low + _JUST_RAD), high - _JUST_RAD)
            rise = (p.height_at(near + _JUST_RAD / 2) - p.height_at(near - _JUST_RAD / 2)) / _JUST_RAD
            x = long * (turn - first) / (2 * math.pi)
            return Station((x, p.height_at(turn)), math.atan2(-rise * 2 * math.pi / long, -1.0))

        vertices += arcs_along(station, high, low)
    return Loop.through([*vertices, (0.0, p.height_at(first), 0.0)])


def dimensions(p: DevelopedFishMouth) -> Iterator[Dimension]:
    """Yield where the band can be measured: the tubes are round, and the flat shows their circumference."""
    turn = (p.throat - _SEAMS[p.seam]) % (2 * math.pi)
    x = p.round_length * turn / (2 * math.pi)
    yield Dimension("band", (x, 0), (x, p.height_at(p.throat)), "left")


TEMPLATE = Template(
    "developed-fish-mouth",
    "Fish-mouth wrap",
    DevelopedFishMouth,
    outline,
    summary="A tube's end to saddle another at any angle and offset, laid flat: a wrap, or the tube to roll.",
    cautions=(
        "Roll cages, frames, lifting gear and pressure pipe are for qualified people to design and weld under the "
        "local code: a pattern is no weld procedure.",
        "Try the pattern in paper or thin sheet first: tubes are seldom round or of their size.",
    ),
    sizes=("main_od", "branch_od"),
    words=(
        "fish mouth",
        "fishmouth",
        "cope",
        "coping",
        "notch",
        "saddle",
        "tube",
        "pipe",
        "wrap",
        "template",
        "miter",
        "branch",
        "joint",
        "development",
        "flat pattern",
        "handrail",
        "cage",
    ),
    presets=(
        Preset(
            "Tubes of 48.3 alike, square",
            "main_od=48.3 thickness=0.8 process=laser",
            inches="main_od=1.9",
            inch_name="Pipe of 1-1/2 in on the same, square",
        ),
        Preset(
            "Tubes of 42.4 at 45 degrees, 2.6 wall",
            "main_od=42.4 branch_od=42.4 branch_wall=2.6 joint=45 thickness=0.8 process=laser band=50",
            is_metric=True,
        ),
        Preset(
            "Branch of 1-1/2 in on 2 in, 0.120 wall, at 60 degrees",
            "main_od=2in branch_od=1-1/2in branch_wall=0.12in joint=60 thickness=1/32in process=laser band=2in",
        ),
        Preset(
            "Duct of 300 rolled onto 500, 1.5 sheet, beside the middle",
            "made=rolled main_od=500 branch_od=300 beside=60 thickness=1.5 band=200",
            inches="main_od=20 branch_od=12 beside=2-1/2 band=8",
            inch_name="Duct of 12 in rolled onto 20, beside the middle",
        ),
        Preset(
            "Post of 60.3 onto a slope of 30 degrees",
            "main_od=0 branch_od=60.3 branch_wall=3.6 joint=60 cut=bevelled process=laser",
            is_metric=True,
        ),
    ),
)
