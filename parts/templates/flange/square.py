r"""Square flange: four bolts on a square round a round or square opening, corners rounded.

     ______________
    / o          o \     size: across the flats
    |    ______    |     square: from bolt to bolt along a side
    |   /      \   |     opening: round (a diameter) or square (across, with its own corner radius)
    |   \______/   |
    \_o__________o_/

A square opening takes a duct or a tube through the flange; `none` is a blank.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Loop, Point, circle, rectangle
from parts.profile import Dimension, Opening, Profile
from parts.spec import Preset, Template, bolt, choice, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.templates.shared.lettered import Lettered

_DIAGONAL = math.sqrt(0.5)


class FlangeSquare(BoltHoles, Lettered):
    """The centre is at the origin."""

    size: float = length("Width and height over all", default=160, minimum=20, maximum=2000)
    corner_radius: float = length("Corner radius", default=12, minimum=0, maximum=400, moves="free")
    opening: str = choice("Opening", default="round", choices=("round", "square", "none"))
    bore: float = length(
        "Opening across", default=90, minimum=3, maximum=1900, when=("opening", "round", "square"),
        help="Bore: the tube or spigot that goes through, plus 1 to 2 mm.",
    )  # fmt: skip
    bore_radius: float = length(
        "Corner radius of a square opening", default=8, minimum=0, maximum=400, when=("opening", "square"), moves="care"
    )
    square: float = length(
        "Bolt to bolt along a side", default=124, inches="4-3/4", minimum=8, maximum=1900, group="Holes"
    )
    bolt: str = bolt("Bolt", default="M10", diameter="hole")

    @property
    def centres(self) -> tuple[Point, ...]:
        """Centres of the bolts, counter-clockwise from the upper right."""
        at = self.square / 2
        return ((at, at), (-at, at), (-at, -at), (at, -at))

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where holes reach the edge, the opening or each other, or a radius takes a side."""
        hole, inset = self.hole_size, (self.size - self.square) / 2
        yield from self.at_most("corner_radius", self.size / 2, "on half a side")
        yield from self.under("square", self.size - hole, "for the holes to stay inside the edge")
        yield from self.over("square", hole, "for metal between the holes")
        yield from self.rounding_problems((inset, inset))
        if self.opening == "none":
            return
        yield from self.under("bore", self.size, "to leave metal around it")
        why = "for the holes to clear the opening"
        if self.opening == "round":
            yield from self.over("square", (self.bore + hole) * _DIAGONAL, why)
            return
        clash = [*self.at_most("bore_radius", self.bore / 2, "in an opening of this size")]
        yield from clash
        if not clash:
            core = self.bore - 2 * self.bore_radius
            yield from self.over("square", core + (2 * self.bore_radius + hole) * _DIAGONAL, why)


def outline(p: FlangeSquare) -> Profile:
    """Draw the flange: the opening first, then the four holes."""
    half = p.size / 2
    edge = rectangle((-half, -half), p.size, p.size, p.corner_radius)
    inside = () if p.opening == "none" else (Opening(_opening(p), "opening", "bore"),)
    holes = p.holes_at(p.centres, "bolt hole", "square")
    return Profile((edge,), inside + holes, dimensions=tuple(dimensions(p)))


def _opening(p: FlangeSquare) -> Loop:
    if p.opening == "round":
        return circle((0, 0), p.bore)
    return rectangle((-p.bore / 2, -p.bore / 2), p.bore, p.bore, p.bore_radius)


def dimensions(p: FlangeSquare) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    half, side = p.size / 2, p.bore / 2
    yield Dimension("size", (-half, -half), (half, -half), "below")
    if p.corner_radius:
        yield _rounded("corner_radius", half, p.corner_radius)
    yield Dimension("square", p.centres[1], p.centres[0], "above")
    if p.opening == "round":
        yield Dimension("bore", (0, 0), (-side * _DIAGONAL, side * _DIAGONAL), "diameter")
    if p.opening == "square":
        yield Dimension("bore", (-side, -side), (-side, side), "left")
        if p.bore_radius:
            yield _rounded("bore_radius", side, p.bore_radius)
    yield from p.hole_measured(p.centres[3])


def _rounded(name: str, half: float, radius: float) -> Dimension:
    """Where a corner's radius can be measured, at the upper right."""
    at = half - radius
    return Dimension(name, (at, at), (at + radius * _DIAGONAL, at + radius * _DIAGONAL), "radius")


TEMPLATE = Template(
    "flange-square",
    "Square flange",
    FlangeSquare,
    outline,
    summary="Four bolts on a square round a round or square opening: for ducts, spigots, gearboxes and posts.",
    cautions=(
        "A flange cut from plate is not a pressure part: flanges under pressure, gas, steam or vacuum are bought to "
        "the standard, rated and marked, and fitted under the local code.",
        "Where a flange joins what turns or carries load, have plate, bolts and welds settled by a qualified engineer.",
    ),
    sizes=("size", "bore"),
    words=("flange", "square", "four bolt", "4 bolt", "duct", "spigot", "gearbox", "pillow", "frame", "blank"),
    presets=(
        Preset(
            "Dust duct, square of 150 inside",
            "size=220 opening=square bore=150 bore_radius=3 square=190 bolt=M8 thickness=4 corner_radius=8",
            inches="size=8-1/2 bore=6 square=7-1/4",
        ),
        Preset(
            "Round duct of 160, wall side",
            "size=230 bore=162 square=190 bolt=M8 thickness=3 corner_radius=20",
            inches="bore=6-3/8 square=7-1/2",
        ),
        Preset(
            "Trailer hub blank", "size=6in opening=none square=4-1/2in bolt=1/2 thickness=3/8in corner_radius=1/2in"
        ),
        Preset(
            "Square tube of 100 through, welded",
            "size=200 opening=square bore=101 bore_radius=4 square=154 bolt=M16 thickness=10",
            inches="bore=4-1/32 square=6-1/4",
        ),
        Preset(
            "Bearing seat, spigot of 80",
            "size=140 bore=80.5 square=102 bolt=M12 thickness=8 corner_radius=18",
            is_metric=True,
        ),
    ),
)
