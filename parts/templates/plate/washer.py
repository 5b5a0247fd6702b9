r"""Plate washer: round or square outside, a round or square hole for a bolt in the middle.

     ________
    /        \
    |   __   |    outside: round or square, size across
    |  |__|  |    inside: round, or square for the neck of a coach bolt
    \________/
       size

The hole is the bolt's clearance hole of ISO 273 or ASME B18.2.8; a square one is as wide as that is across.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Loop, circle, rectangle
from parts.profile import Dimension, Opening, Profile
from parts.spec import BY_DIAMETER, Preset, Template, bolt, bolt_mm, choice, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.templates.shared.lettered import Lettered

_SHAPES = ("round", "square")
_DIAGONAL = math.sqrt(0.5)


class PlateWasher(BoltHoles, Lettered):
    """The centre is at the origin."""

    outside: str = choice("Outside", default="round", choices=_SHAPES)
    size: float = length(
        "Outside, across", default=80, minimum=6, maximum=600, help="Outside diameter, or side of the square."
    )
    corner_radius: float = length(
        "Corner radius of a square one", default=4, minimum=0, maximum=200, when=("outside", "square"), moves="free"
    )
    inside: str = choice(
        "Shape of the hole", default="round", choices=_SHAPES, group="Holes", help="Square: for a coach bolt."
    )
    relief: float = length(
        "Corner radius of a square hole",
        default=1.5,
        minimum=0,
        maximum=50,
        group="Holes",
        when=("inside", "square"),
        moves="care",
    )
    bolt: str = bolt("Bolt", default="M20", diameter="hole")

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the hole takes the washer, or a radius a side."""
        if self.outside == "square":
            yield from self.at_most("corner_radius", self.size / 2, "on half a side")
        if self.inside == "square":
            yield from self.at_most("relief", self.hole_size / 2, "in a hole of that width")
        if self.outside == "round" and self.inside == "square":
            yield from self.over("size", 2 * self._hole_reach, "for metal around the corners of the hole")
        else:
            yield from self.over("size", self.hole_size, "for metal around the hole")
            if self.outside == self.inside == "square":
                # rounded by r, a corner of the edge reaches (size / 2 - r) sqrt 2 + r
                most = (self.size / 2 / _DIAGONAL - self._hole_reach) / (1 / _DIAGONAL - 1)
                yield from self.under("corner_radius", most, "to leave metal at the corners of the hole")

    @property
    def _hole_reach(self) -> float:
        """How far the hole reaches from the centre towards a corner."""
        return (self.hole_size / 2 - self.relief) / _DIAGONAL + self.relief


def _shape(kind: str, across: float, radius: float) -> Loop:
    if kind == "round":
        return circle((0, 0), across)
    return rectangle((-across / 2, -across / 2), across, across, radius)


def outline(p: PlateWasher) -> Profile:
    """Draw the washer around its hole."""
    hole = Opening(
        _shape(p.inside, p.hole_size, p.relief), "hole", "hole" if p.bolt == BY_DIAMETER else "bolt", bolt_mm(p.bolt)
    )
    return Profile((_shape(p.outside, p.size, p.corner_radius),), (hole,), dimensions=tuple(dimensions(p)))


def dimensions(p: PlateWasher) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    half, side = p.size / 2, p.hole_size / 2
    if p.outside == "round":
        yield Dimension("size", (0, 0), (half, 0), "diameter")
    else:
        yield Dimension("size", (-half, 0), (half, 0), "below")
    if p.outside == "square" and p.corner_radius:
        yield _rounded("corner_radius", half, p.corner_radius)
    if p.inside == "square" and p.relief:
        yield _rounded("relief", side, p.relief)
    if p.inside == "round":
        yield from p.hole_measured((0, 0))
    elif p.bolt == BY_DIAMETER:
        yield Dimension("hole", (-side, side), (side, side), "above")


def _rounded(name: str, half: float, radius: float) -> Dimension:
    """Where a corner's radius can be measured, at the upper right."""
    at = half - radius
    return Dimension(name, (at, at), (at + radius * _DIAGONAL, at + radius * _DIAGONAL), "radius")


TEMPLATE = Template(
    "plate-washer",
    "Plate washer",
    PlateWasher,
    outline,
    summary="Round or square, with a round hole to ISO 273 or ASME B18.2.8, or a square one for a coach bolt.",
    cautions=(
        "A washer in a joint that carries load wants the size, thickness and hardness that its bolt asks for: see the "
        "standard, or ask a qualified engineer.",
        "Small parts fall between the slats and come out hot: let them cool, and pick them up with tongs.",
    ),
    sizes=("size",),
    by_bolt=True,
    words=("washer", "repair washer", "fender", "plate", "spreader", "coach bolt", "timber", "anchor", "disc", "disk"),
    presets=(
        Preset(
            "Garden bench, coach bolt M10", "outside=square size=40 inside=square bolt=M10 thickness=4", is_metric=True
        ),
        Preset("Trailer floor, M10 spreader", "bolt=M10 thickness=4 size=45", is_metric=True),
        Preset("Trail sign, M16 post bolt", "bolt=M16 size=70 outside=square thickness=5", is_metric=True),
        Preset(
            "Garden bench, square 1/2 in timber washer",
            "outside=square size=2in bolt=1/2 corner_radius=1/8in thickness=3/16in",
        ),
        Preset(
            "Shelter post, anchor 3/4 in, oversize hole", "outside=square size=3in bolt=3/4 fit=loose thickness=1/4in"
        ),
        Preset("Table leg, M20", "size=100 thickness=8", is_metric=True),
    ),
)
