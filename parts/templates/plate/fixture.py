r"""Fixture plate: a grid of holes for clamps, pins and stops, as on a welding table.

     ______________________
    / o   o   o   o   o    \    holes_x by holes_y of them, pitch_x and pitch_y apart,
    |   o   o   o   o      |    even about the middle
    | o   o   o   o   o    |    rows: in line, or every other one half a pitch over
    \___o___o___o___o______/
            width

Plates laid side by side carry on the grid where the holes stand half a pitch in from the edges.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Point, rectangle
from parts.profile import Dimension, Profile
from parts.spec import Preset, Template, bolt, choice, count, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.templates.shared.lettered import Lettered

_GRID = "Grid"


class PlateFixture(BoltHoles, Lettered):
    """The centre of plate and grid is at the origin."""

    width: float = length("Width", default=500, minimum=30, maximum=6000)
    height: float = length("Height", default=300, minimum=30, maximum=6000)
    corner_radius: float = length("Corner radius", default=8, minimum=0, maximum=300, moves="free")
    holes_x: int = count("Holes along the width", default=10, minimum=1, maximum=60, group=_GRID)
    holes_y: int = count("Holes along the height", default=6, minimum=1, maximum=60, group=_GRID)
    pitch_x: float = length(
        "Hole to hole along the width", default=50, minimum=4, maximum=1000, group=_GRID, when=("holes_x", "2")
    )
    pitch_y: float = length(
        "Hole to hole along the height", default=50, minimum=4, maximum=1000, group=_GRID, when=("holes_y", "2")
    )
    rows: str = choice(
        "Rows", default="in-line", choices=("in-line", "staggered"), group=_GRID,
        help="staggered: every other row half a pitch over, with one hole less.", when=("holes_y", "2"),
    )  # fmt: skip
    bolt: str = bolt("Bolt, pin or clamp", default="by-diameter", diameter="hole")
    hole: float = length(
        "Hole diameter", default=16, inches="5/8", minimum=1, maximum=200, group="Holes",
        help="Where the bolt is by diameter; ream or file to the pin.",
    )  # fmt: skip

    @property
    def is_staggered(self) -> bool:
        """Whether every other row stands half a pitch over."""
        return self.rows == "staggered" and self.holes_y > 1

    @property
    def centres(self) -> tuple[Point, ...]:
        """Centres of the holes, row by row from the lower left one."""
        x, y = self.pitch_x * (self.holes_x - 1) / 2, self.pitch_y * (self.holes_y - 1) / 2
        every = []
        for j in range(self.holes_y):
            over = self.is_staggered and j % 2 == 1
            start, holes = (-x + self.pitch_x / 2, self.holes_x - 1) if over else (-x, self.holes_x)
            every += [(start + i * self.pitch_x, j * self.pitch_y - y) for i in range(holes)]
        return tuple(every)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the grid leaves the plate or holes meet."""
        hole = self.hole_size
        yield from self.at_most("corner_radius", min(self.width, self.height) / 2, "on the shorter side")
        for way, side in (("x", "width"), ("y", "height")):
            holes, pitch = getattr(self, f"holes_{way}"), getattr(self, f"pitch_{way}")
            needed = (holes - 1) * pitch + hole if holes > 1 else hole
            yield from self.over(side, needed, "for a grid of so many holes")
            if holes > 1:
                yield from self.over(f"pitch_{way}", self._least(way), "for metal between the holes")

    def _least(self, way: str) -> float:
        """What a pitch must be more than: a hole, or between staggered rows what half a pitch over leaves."""
        if way == "x" or not self.is_staggered:
            return self.hole_size
        over = self.pitch_x / 2
        straight = self.hole_size / 2 if self.holes_y > 2 else 0.0  # the row after the next stands in line
        return max(math.sqrt(max(self.hole_size**2 - over**2, 0.0)), straight)


def outline(p: PlateFixture) -> Profile:
    """Draw the plate and its grid."""
    plate = rectangle((-p.width / 2, -p.height / 2), p.width, p.height, p.corner_radius)
    return Profile((plate,), p.holes_at(p.centres, "hole", "holes_x"), dimensions=tuple(dimensions(p)))


def dimensions(p: PlateFixture) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    x, y, r, hand = p.width / 2, p.height / 2, p.corner_radius, 0.5**0.5
    yield Dimension("width", (-x, -y), (x, -y), "below")
    yield Dimension("height", (-x, -y), (-x, y), "left")
    if r:
        yield Dimension("corner_radius", (x - r, y - r), (x - r + r * hand, y - r + r * hand), "radius")
    first = p.centres[0]
    if p.holes_x > 1:
        yield Dimension("pitch_x", first, p.centres[1], "below")
    if p.holes_y > 1:
        yield Dimension("pitch_y", first, (first[0], first[1] + p.pitch_y), "left")
    yield from p.hole_measured(first)


TEMPLATE = Template(
    "plate-fixture",
    "Fixture plate",
    PlateFixture,
    outline,
    summary="A plate with a grid of holes for clamps, pins and stops; plates side by side carry on the grid.",
    cautions=(
        "A thermally cut hole tapers and is hard at its rim: ream what must locate, and see that the plate lies flat.",
        "Clamp work so that it can't fly or fall: a fixture is no lifting device.",
    ),
    sizes=("width", "height"),
    words=("fixture", "grid", "welding table", "jig", "bench", "dog hole", "peg", "perforated", "tooling", "clamp"),
    presets=(
        Preset("Welding table tile, 16 mm holes each 50 mm", "thickness=8", is_metric=True),
        Preset(
            "Welding table tile, 28 mm holes each 100 mm",
            "width=600 height=400 holes_x=6 holes_y=4 pitch_x=100 pitch_y=100 hole=28 thickness=12",
            is_metric=True,
        ),
        Preset(
            "Welding table tile, 5/8 in holes each 2 in",
            "width=24in height=12in holes_x=12 pitch_x=2in pitch_y=2in hole=5/8in thickness=3/8in corner_radius=1/4in",
        ),
        Preset(
            "Bench jig, staggered for M10",
            "width=400 height=240 holes_x=8 holes_y=5 pitch_x=48 pitch_y=45 rows=staggered bolt=M10 thickness=5",
        ),
        Preset("Peg strip for clamps", "width=600 height=60 holes_x=12 holes_y=1 thickness=5", inches="width=24"),
    ),
)
