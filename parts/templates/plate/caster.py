r"""Caster plate: the pad that a caster's top plate bolts to, four holes or slots that take two patterns.

     __________________
    / o              o \    across, along: from bolt to bolt, the short and the long way
    |  \            /  |    slots run from there to a second pattern, to_across by to_along
    |       __         |    middle: for a kingpin, or to drain
    |  /   (__)     \  |
    \_o______________o_/

The patterns of the presets are common practice, from memory: measure the caster's own plate before cutting.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Loop, Point, circle, rectangle, slot
from parts.profile import Dimension, Opening, Profile, openings
from parts.spec import Preset, Template, bolt, bolt_mm, choice, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.templates.shared.lettered import Lettered
from parts.tolerance import SAME_POINT_MM

_SECOND = ("holes", "slots")


class PlateCaster(BoltHoles, Lettered):
    """The centre of the plate is at the origin, the long way along x."""

    width: float = length("Plate, the long way", default=140, minimum=30, maximum=800)
    height: float = length("Plate, the short way", default=110, minimum=30, maximum=800)
    corner_radius: float = length("Corner radius", default=8, minimum=0, maximum=200, moves="free")
    along: float = length("Bolt to bolt, the long way", default=105, minimum=10, maximum=780, group="Holes")
    across: float = length("Bolt to bolt, the short way", default=80, minimum=10, maximum=780, group="Holes")
    holes: str = choice(
        "Bolts in",
        default="round",
        choices=("round", "slots"),
        group="Holes",
        help="slots: from one pattern to another.",
    )
    to_along: float = length(
        "Second pattern, the long way", default=90, minimum=10, maximum=780, group="Holes", when=_SECOND
    )
    to_across: float = length(
        "Second pattern, the short way", default=80, minimum=10, maximum=780, group="Holes", when=_SECOND
    )
    bolt: str = bolt("Bolt", default="M10", diameter="hole")
    middle: float = length(
        "Hole in the middle",
        default=0,
        minimum=0,
        maximum=600,
        group="Middle",
        help="Diameter, 0 for none.",
        moves="care",
    )

    @property
    def patterns(self) -> tuple[Point, ...]:
        """Half of each pattern along and across: the upper right bolt of each."""
        first = self.along / 2, self.across / 2
        return (first, (self.to_along / 2, self.to_across / 2)) if self.holes == "slots" else (first,)

    @property
    def travel(self) -> float:
        """From one pattern's bolt to the other's, mm; 0 of round holes."""
        return math.dist(self.patterns[0], self.patterns[-1])

    @property
    def loops(self) -> tuple[Loop, ...]:
        """Holes or slots, counter-clockwise from the upper right."""
        (ax, ay), (bx, by) = self.patterns[0], self.patterns[-1]
        size, tilt = self.hole_size, math.atan2(by - ay, bx - ax) if self.travel > SAME_POINT_MM else 0.0
        return tuple(
            slot((sx * (ax + bx) / 2, sy * (ay + by) / 2), self.travel + size, size, sx * sy * tilt)
            for sx, sy in ((1, 1), (-1, 1), (-1, -1), (1, -1))
        )

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where bolts of either pattern leave the plate, meet, or reach the hole in the middle."""
        hole = self.hole_size
        yield from self.at_most("corner_radius", min(self.width, self.height) / 2, "on the shorter side")
        for name in self._lengths("along"):
            yield from self.under(name, self.width - hole, "for the bolts to stay inside the ends")
            yield from self.over(name, hole, "for metal between the bolts")
        for name in self._lengths("across"):
            yield from self.under(name, self.height - hole, "for the bolts to stay inside the sides")
            yield from self.over(name, hole, "for metal between the bolts")
        yield from self.rounding_problems(((self.width - self.along) / 2, (self.height - self.across) / 2))
        if self.middle:
            yield from self.under("middle", 2 * self._nearest - hole, "to clear the bolts")
            yield from self.under("middle", min(self.width, self.height), "inside the plate")

    def _lengths(self, way: str) -> tuple[str, ...]:
        return (way, f"to_{way}") if self.holes == "slots" else (way,)

    @property
    def _nearest(self) -> float:
        """How near the middle line of a slot comes to the centre of the plate."""
        (ax, ay), (bx, by) = self.patterns[0], self.patterns[-1]
        if self.travel <= SAME_POINT_MM:
            return math.hypot(ax, ay)
        share = -(ax * (bx - ax) + ay * (by - ay)) / self.travel**2
        share = min(max(share, 0.0), 1.0)
        return math.hypot(ax + share * (bx - ax), ay + share * (by - ay))


def outline(p: PlateCaster) -> Profile:
    """Draw the plate, the bolts' holes or slots, and the hole in the middle."""
    plate = rectangle((-p.width / 2, -p.height / 2), p.width, p.height, p.corner_radius)
    name = "slot" if p.travel > SAME_POINT_MM else "bolt hole"
    inside = openings(p.loops, name, "along", bolt_mm(p.bolt))
    middle = (Opening(circle((0, 0), p.middle), "hole in the middle", "middle"),) if p.middle else ()
    return Profile((plate,), inside + middle, dimensions=tuple(dimensions(p)))


def dimensions(p: PlateCaster) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    x, y, r, hand = p.width / 2, p.height / 2, p.corner_radius, 0.5**0.5
    yield Dimension("width", (-x, -y), (x, -y), "below")
    yield Dimension("height", (-x, -y), (-x, y), "left")
    if r:
        yield Dimension("corner_radius", (x - r, y - r), (x - r + r * hand, y - r + r * hand), "radius")
    (a, b), (c, d) = p.patterns[0], p.patterns[-1]
    yield Dimension("along", (-a, b), (a, b), "above")
    yield Dimension("across", (a, -b), (a, b), "right")
    if p.holes == "slots":
        yield Dimension("to_along", (-c, d), (c, d), "above")
        yield Dimension("to_across", (c, -d), (c, d), "right")
    if p.middle:
        yield Dimension("middle", (0, 0), (p.middle / 2 * hand, p.middle / 2 * hand), "diameter")
    yield from p.hole_measured((-c, -d))


TEMPLATE = Template(
    "plate-caster",
    "Caster plate",
    PlateCaster,
    outline,
    summary="The pad under a caster: four holes, or slots that take two bolt patterns; common top plates as presets.",
    cautions=(
        "Casters are rated: see that bolts, pad and frame carry a load that rolls over a step, and that brakes hold.",
        "Measure the caster's own plate before cutting: makers differ.",
    ),
    sizes=("width", "height"),
    words=("caster", "wheel", "castor", "top plate", "trolley", "cart", "dolly", "swivel", "leveling", "foot", "pad"),
    presets=(
        Preset(
            "For a top plate of 105 by 85",
            "width=120 height=100 along=80 across=60 bolt=M8 thickness=5",
            is_metric=True,
        ),
        Preset(
            "For a top plate of 140 by 110, slotted from 105 by 80 to 105 by 75",
            "width=160 height=130 holes=slots to_along=105 to_across=75 corner_radius=12",
            is_metric=True,
        ),
        Preset(
            "For a top plate of 100 by 85 with a kingpin, drilled",
            "width=120 height=115 along=80 across=60 bolt=M8 middle=40 thickness=8 small_holes=drill",
            is_metric=True,
        ),
        Preset(
            "For a top plate of 4 by 4-1/2 in, 2-5/8 by 3-5/8 slotted to 3 by 3",
            "width=5-1/2in height=5in along=3-5/8in across=2-5/8in holes=slots to_along=3in to_across=3in bolt=3/8 "
            "thickness=1/4in corner_radius=3/8in",
        ),
        Preset(
            "For a top plate of 4-1/2 by 6-1/4 in, 2-7/16 by 4-15/16 slotted to 3-3/8 by 5-1/4",
            "width=7-1/2in height=6in along=5-1/4in across=3-3/8in holes=slots to_along=4-15/16in "
            "to_across=2-7/16in bolt=1/2 thickness=3/8in corner_radius=1/2in",
        ),
        Preset(
            "For a top plate of 2-3/8 by 3-5/8 in, 1-3/4 by 2-7/8",
            "width=4-1/4in height=3in along=2-7/8in across=1-3/4in bolt=5/16 thickness=3/16in corner_radius=1/4in",
        ),
    ),
)
