r"""Folded pan: a base with four walls bent up, a round relief at each corner, the rim plain or hemmed outward.

           ________________
          |     back       |         long, deep, high: over the outside of the pan
      ____( _ _ _ _ _ _ _ )____      relief: radius of the hole where two bend lines cross
     |    :               :    |     gap: from the end of a side to the front or the back
     |left:     base      :right|    hem: how far the rim is folded back, outward
     |____: _ _ _ _ _ _ _ :____|
          (               )
          |    front      |
          |_______________|

Front and back run over the whole length, the sides stand between them. Welded or sealed at the corners it holds water;
as bent it doesn't. The face drawn is the inside.
"""

import math
from collections.abc import Iterator
from typing import NamedTuple

from parts.errors import Problem
from parts.forming import Fold
from parts.geometry import Line, Loop, Point, Vertex, circle
from parts.profile import Bend, Dimension, Opening, Profile
from parts.spec import STOCK, Preset, Template, choice, length, thickness
from parts.templates.shared.bent import BRAKE_CAUTION, Bent

_RIM = "Rim and corners"
_CLEAR = 1.1
"""Radius of a relief in what it must reach to at least: the ends of the walls stand clear of it."""


class Wall(NamedTuple):
    """A wall in the flat: how far from the middle its bend begins and is, it ends, its hem ends; half its width."""

    flat: float
    line: float
    top: float
    end: float
    half: float


class BoxPan(Bent):
    """The middle of the base is at the origin."""

    thickness: float = thickness("Thickness", default=1.5, minimum=0.3, maximum=150, group=STOCK)
    long: float = length("Length, outside", default=300, minimum=20, maximum=4000)
    deep: float = length("Width, outside", default=200, minimum=20, maximum=4000)
    high: float = length("Height of the walls, outside", default=50, minimum=6, maximum=1500)
    gap: float = length(
        "Gap at each end of the sides", default=0.2, minimum=0, maximum=10, group=_RIM, moves="care",
        help="To the inside of front and back; 0 to 0.5 mm to weld.",
    )  # fmt: skip
    relief: float = length(
        "Radius of the corner reliefs", default=0, minimum=0, maximum=200, group=_RIM, auto="corner_relief",
        help="0: the least that clears both bends.", moves="free",
    )  # fmt: skip
    rim: str = choice("Rim", default="plain", choices=("plain", "hem"), group=_RIM, help="hem: folded back, outward.")
    hem: float = length("Hem, outside", default=10, minimum=2, maximum=200, group=_RIM, when=("rim", "hem"))
    hem_radius: float = length(
        "Inside radius of the hem", default=0.5, minimum=0.1, maximum=50, group=_RIM, when=("rim", "hem"), drawn=False,
        help="Half of what it stands open: closed hems stay open by a little.",
    )  # fmt: skip
    drain: float = length(
        "Drain in the base",
        default=0,
        minimum=0,
        maximum=500,
        group="Openings",
        help="Diameter, 0 for none.",
        moves="care",
    )

    @property
    def wall_fold(self) -> Fold:
        """The bend between base and walls."""
        return self.fold(90)

    @property
    def hem_fold(self) -> Fold:
        """The bend of the rim."""
        return self.fold(180, up=False, radius=self.hem_radius)

    @property
    def rim_out(self) -> float:
        """How far the rim stands out of the walls, mm."""
        return 2 * self.hem_radius + self.thickness if self.rim == "hem" else 0.0

    @property
    def rise(self) -> float:
        """What of a wall is flat above its bend, mm."""
        taken = self.hem_radius + self.thickness if self.rim == "hem" else 0.0
        return self.high - self.wall_fold.setback - taken

    @property
    def hem_flat(self) -> float:
        """What of a hem is flat, mm."""
        return self.hem - self.hem_radius - self.thickness

    @property
    def bent_size(self) -> tuple[float, float, float]:
        """The pan on its base."""
        return self.long + 2 * self.rim_out, self.deep + 2 * self.rim_out, self.high

    @property
    def front(self) -> Wall:
        """Front and back, by their distance from the middle and half their width."""
        return self._wall(self.deep, self.long / 2)

    @property
    def side(self) -> Wall:
        """The sides."""
        return self._wall(self.long, self.deep / 2 - self.thickness - self.gap)

    def _wall(self, across: float, half: float) -> Wall:
        fold = self.wall_fold
        flat = across / 2 - fold.setback
        top = flat + fold.allowance + self.rise
        end = top + self.hem_fold.allowance + self.hem_flat if self.rim == "hem" else top
        return Wall(flat, flat + fold.allowance / 2, top, end, half)

    @property
    def least_relief(self) -> float:
        """What a relief must reach: the corner of the flat base, and both walls' ends, mm."""
        half = self.wall_fold.allowance / 2
        ends = (abs(self.front.half - self.side.line), abs(self.side.half - self.front.line))
        return max(half * math.sqrt(2), *(_CLEAR * end for end in ends))

    @property
    def corner_relief(self) -> float:
        """Radius of the reliefs, mm."""
        return self.relief or self.least_relief

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where bends take a wall, the base or a hem, or a relief has no room."""
        setback, thick = self.wall_fold.setback, self.thickness
        hem = self.hem_radius + thick if self.rim == "hem" else 0.0
        clash = [
            *self.over("high", setback + hem, "beyond its bends"),
            *self.over("long", 2 * setback, "between the bends"),
            *self.over("deep", 2 * (setback + self.gap), "between the bends"),
        ]
        if self.rim == "hem":
            clash += self.over("hem", hem, "beyond its bend")
            if not clash:
                clash += self.under("hem", self.high - setback, "to stay above the base")
        yield from clash
        if clash:
            return
        if self.relief:
            yield from self.at_least("relief", self.least_relief, "to clear both bends")
        # beside its bend a wall must be left wider than two reliefs, and flat beyond them
        flat = min(self.front.line, self.side.line, self.rise + self.wall_fold.allowance / 2)
        name = "relief" if self.relief else "high"
        if self.corner_relief >= flat:
            yield self.tight(name, "for walls beyond the reliefs at the corners")
        if self.drain:
            yield from self.under("drain", 2 * min(self.front.flat, self.side.flat), "in the flat of the base")


def outline(p: BoxPan) -> Profile:
    """Draw the flat, its bend lines and the drain."""
    inside = (Opening(circle((0, 0), p.drain), "drain in the base", "drain"),) if p.drain else ()
    return Profile((edge(p),), inside, tuple(bend_lines(p)), tuple(dimensions(p)))


def edge(p: BoxPan) -> Loop:
    """Return the edge counter-clockwise: front, right side, back, left side, with a relief between each two."""
    front, side, r = p.front, p.side, p.corner_relief
    x, y = side.line, front.line  # where two bend lines cross
    foot = y + math.sqrt(r**2 - (front.half - x) ** 2)  # where the end of the front runs into the relief
    wall = x + math.sqrt(r**2 - (side.half - y) ** 2)
    start = math.atan2(y - foot, front.half - x)
    turn = math.atan2(y - side.half, wall - x)
    bulge = -math.tan((2 * math.pi - (turn - start)) / 4)
    quarter: list[Vertex] = [
        (front.half, -front.end, 0.0),
        (front.half, -foot, bulge),
        (wall, -side.half, 0.0),
        (side.end, -side.half, 0.0),
    ]
    mirrored = [
        (side.end, side.half, 0.0),
        (wall, side.half, bulge),
        (front.half, foot, 0.0),
        (front.half, front.end, 0.0),
    ]
    right = [*quarter, *mirrored]
    return Loop.through([*right, *((-a, -b, c) for a, b, c in right)])


def bend_lines(p: BoxPan) -> Iterator[Bend]:
    """Yield the lines, the base or the wall to the left of each: those of the walls, then those of the hem."""
    front, side, r = p.front, p.side, p.corner_relief
    yield from _round(p.wall_fold, front.line, side.line - r, side.line, front.line - r)
    if p.rim == "hem":
        middle = p.hem_fold.allowance / 2
        yield from _round(p.hem_fold, front.top + middle, front.half, side.top + middle, side.half)


def _round(fold: Fold, y: float, half_x: float, x: float, half_y: float) -> Iterator[Bend]:
    """Yield the bends at the front, on the right, at the back and on the left."""
    ways: tuple[tuple[Point, Point], ...] = (
        ((-half_x, -y), (half_x, -y)),
        ((x, -half_y), (x, half_y)),
        ((half_x, y), (-half_x, y)),
        ((-x, half_y), (-x, -half_y)),
    )
    for start, end in ways:
        yield Bend(Line(start, end), fold.angle, fold.radius, fold.up, fold.k)


def dimensions(p: BoxPan) -> Iterator[Dimension]:
    """Yield where each length can be measured: outside ones to where the outside faces would meet."""
    front, side, setback, r = p.front, p.side, p.wall_fold.setback, p.corner_relief
    yield Dimension("long", (-front.half, -front.end), (front.half, -front.end), "below")
    yield Dimension("deep", (-side.flat, -p.deep / 2), (-side.flat, p.deep / 2), "left")
    mould = front.flat + p.wall_fold.allowance - setback  # as measured back from the wall
    yield Dimension("high", (front.half, mould), (front.half, mould + p.high), "right")
    if p.gap:
        inner = p.deep / 2 - p.thickness
        yield Dimension("gap", (side.end, inner - p.gap), (side.end, inner), "right")
    yield Dimension("relief", (side.line, front.line), (side.line - r, front.line), "radius")
    if p.rim == "hem":
        yield Dimension("hem", (-front.half, front.end - p.hem), (-front.half, front.end), "left")
    if p.drain:
        out = p.drain / 2 * math.sqrt(0.5)
        yield Dimension("drain", (0, 0), (out, out), "diameter")


TEMPLATE = Template(
    "box-pan",
    "Folded pan",
    BoxPan,
    outline,
    summary="A pan or tray folded from one sheet: outside sizes asked, corner reliefs, a plain or hemmed rim.",
    cautions=(
        BRAKE_CAUTION,
        "A pan is a box to the brake: see that the punch clears the walls bent first, and bend the shorter ones last.",
        "A plain rim cuts hands: break it, or hem it. Pans for oil, fuel or heat fall under the local code.",
    ),
    sizes=("long", "deep", "high"),
    words=(
        "pan",
        "tray",
        "folded",
        "bent",
        "box",
        "drip",
        "hem",
        "sheet metal",
        "sheetmetal",
        "oven",
        "baking",
        "enclosure",
        "corner relief",
        "lid",
    ),
    presets=(
        Preset("Drip tray, hemmed", "long=500 deep=350 high=40 rim=hem hem=12"),
        Preset("Parts tray, corners welded", "long=250 deep=180 high=60 thickness=2 gap=0 process=laser"),
        Preset("Planter, drained", "long=600 deep=220 high=180 thickness=3 drain=25"),
        Preset("Cover of 16 gauge", "long=12in deep=8in high=1-1/2in thickness=16ga"),
    ),
)
