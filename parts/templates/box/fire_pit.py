r"""Fire pit panels: four panels that stand in each other by half slots, with air slots and feet.

       _  ________________  _
      | ||                || |    front and back: slots from the top; the sides have theirs from the foot
      | ||                || |    inset: from a panel's end to the middle of its slots
      |_||  |  |  |  |    ||_|    air: upright slots along the panel
      |     |  |  |  |       |
      |   ___________________|    foot: how high the panels are cut out between their legs
      |__|                |__|

A slot is as wide as the plate is thick and the clearance on both sides, and straight for half the height; its round
end lies beyond, so that the panels seat level. All four panels are drawn.
"""

import math
from collections.abc import Iterator
from typing import NamedTuple

from parts.errors import Problem
from parts.geometry import Corner, Loop, Point, fillet, polygon, row, slot, translation
from parts.profile import Dimension, Opening, Profile
from parts.spec import ACROSS, BACK, UP, Frame, Parameters, Preset, Standing, Template, count, length

_AIR, _FEET = "Air slots", "Feet"
_UPRIGHT = math.pi / 2
_NAMES = ("left side", "right side", "front", "back")


class Panel(NamedTuple):
    """One panel: its length, and whether its slots come from the top."""

    long: float
    from_top: bool


class BoxFirePit(Parameters):
    """The lower left corner of the left side is at the origin; the other panels stand above it."""

    long: float = length("Front and back, length over all", default=700, minimum=150, maximum=3000)
    deep: float = length("Sides, length over all", default=700, minimum=150, maximum=3000)
    height: float = length("Height over all", default=350, minimum=60, maximum=1500)
    corner_radius: float = length("Corner radius", default=10, minimum=0, maximum=100, moves="free")
    inset: float = length(
        "Slots at the corners, in from the ends", default=50, minimum=10, maximum=500, help="To their middle."
    )
    clearance: float = length(
        "Clearance in the slots, each side", default=0.5, minimum=0, maximum=5, help="Measure the plate first."
    )
    measured: float = length(
        "Plate as measured", default=0, minimum=0, maximum=60, help="0: as thick as it is called.", auto="plate"
    )
    air: int = count("Air slots in each panel", default=7, minimum=0, maximum=40, group=_AIR)
    air_width: float = length(
        "Air slots, width", default=14, minimum=3, maximum=100, group=_AIR, when=("air",), moves="care"
    )
    air_height: float = length(
        "Air slots, height", default=90, minimum=5, maximum=1000, group=_AIR, when=("air",), moves="care"
    )
    air_up: float = length(
        "Air slots, middle above the ground",
        default=150,
        minimum=5,
        maximum=1400,
        group=_AIR,
        when=("air",),
        moves="care",
    )
    air_pitch: float = length(
        "From one air slot to the next", default=60, minimum=5, maximum=1000, group=_AIR, when=("air", "2")
    )
    foot: float = length(
        "Feet: cut out between the legs, height", default=40, minimum=0, maximum=700, group=_FEET, moves="care"
    )
    leg: float = length("Legs, width", default=120, minimum=10, maximum=1000, group=_FEET, when=("foot",), moves="care")
    between: float = length("Between the panels in the drawing", default=20, minimum=5, maximum=500, moves="free")

    @property
    def plate(self) -> float:
        """Thickness of the plate as it is, mm."""
        return self.measured or self.thickness

    @property
    def slot_width(self) -> float:
        """Width of the half slots, mm."""
        return self.plate + 2 * self.clearance

    @property
    def panels(self) -> tuple[Panel, ...]:
        """Both sides, front and back."""
        return (*(Panel(self.deep, False),) * 2, *(Panel(self.long, True),) * 2)

    def air_slots(self, long: float) -> tuple[Loop, ...]:
        """Return the air slots of a panel of this length, from the left."""
        if not self.air:
            return ()
        out = self.air_pitch * (self.air - 1) / 2
        at = row((long / 2 - out, self.air_up), (long / 2 + out, self.air_up), self.air)
        turned = self.air_height >= self.air_width
        sizes = (self.air_height, self.air_width) if turned else (self.air_width, self.air_height)
        return tuple(slot(centre, *sizes, _UPRIGHT if turned else 0.0) for centre in at)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where slots meet each other or an edge, or air slots or feet reach them."""
        half, short = self.slot_width / 2, min(self.long, self.deep)
        yield from self.over("inset", half + self.corner_radius, "for the slots to clear the corners")
        clash = [*self.under("inset", short / 2 - half, "to keep metal between the slots")]
        yield from clash
        if clash:
            return
        yield from self.over("height", 2 * half, "for half slots in this plate")
        if self.foot:
            yield from self._foot_problems(half, short)
        elif self.corner_radius:
            yield from self.at_most("corner_radius", self.height / 2, "on the height")
        if self.air:
            yield from self._air_problems(half, short)

    def _foot_problems(self, half: float, short: float) -> Iterator[Problem]:
        yield from self.over("leg", self.inset + half + self.corner_radius, "beyond the slots of the sides")
        yield from self.under("leg", short / 2 - 2 * self.corner_radius, "to leave a cut-out between them")
        yield from self.under("foot", self.height / 2 - half, "below the ends of the slots")
        yield from self.over("foot", 2 * self.corner_radius, "for the radii at the legs")
        yield from self.at_most("corner_radius", self.height / 2, "on the height")

    def _air_problems(self, half: float, short: float) -> Iterator[Problem]:
        reach, rim = self.air_height / 2, self.height
        yield from self.over("air_up", self.foot + reach, "to clear the foot")
        yield from self.under("air_up", rim - reach, "to clear the top")
        if self.air > 1:
            yield from self.over("air_pitch", self.air_width, "for metal between the air slots")
        across = (self.air - 1) * self.air_pitch + self.air_width
        if across >= short - 2 * (self.inset + half):
            yield self.tight("air_pitch" if self.air > 1 else "air_width", "between the slots at the corners")


def outline(p: BoxFirePit) -> Profile:
    """Draw the four panels, one above the other."""
    outside, inside = [], []
    for i, (panel, name) in enumerate(zip(p.panels, _NAMES, strict=True)):
        up = translation(0.0, i * (p.height + p.between))
        outside.append(up.loop(edge(p, panel)))
        inside += [Opening(up.loop(loop), f"air slot in the {name}", "air") for loop in p.air_slots(panel.long)]
    return Profile(tuple(outside), tuple(inside), dimensions=tuple(dimensions(p)), pieces=_NAMES)


def assembly(p: BoxFirePit) -> Iterator[Standing]:
    """Yield the panels put together: the sides, their slots from the foot, over front and back."""
    half = p.plate / 2
    far_x, far_y = p.long - p.inset, p.deep - p.inset
    frames = (
        Frame((p.inset - half, 0.0, 0.0), BACK, UP),
        Frame((far_x - half, 0.0, 0.0), BACK, UP),
        Frame((0.0, p.inset + half, 0.0), ACROSS, UP),
        Frame((0.0, far_y + half, 0.0), ACROSS, UP),
    )
    for panel, name, frame in zip(p.panels, _NAMES, frames, strict=True):
        air = tuple(Opening(loop, f"air slot in the {name}", "air") for loop in p.air_slots(panel.long))
        yield Standing(name, Profile((edge(p, panel),), air), p.plate, frame)


def edge(p: BoxFirePit, panel: Panel) -> Loop:
    """Return the edge of a panel, counter-clockwise from its lower left corner."""
    long, r = panel.long, p.corner_radius
    left, right = p.inset, long - p.inset
    low: list[Corner | Point] = [fillet(0, 0, r)]
    low += [] if panel.from_top else _half_slot(p, left, from_top=False)
    if p.foot:
        low += [
            fillet(p.leg, 0, r),
            fillet(p.leg, p.foot, r),
            fillet(long - p.leg, p.foot, r),
            fillet(long - p.leg, 0, r),
        ]
    low += [] if panel.from_top else _half_slot(p, right, from_top=False)
    high = _half_slot(p, right, from_top=True) + _half_slot(p, left, from_top=True) if panel.from_top else []
    return polygon([*low, fillet(long, 0, r), fillet(long, p.height, r), *high, fillet(0, p.height, r)])


def _half_slot(p: BoxFirePit, x: float, *, from_top: bool) -> list[Corner | Point]:
    """The corners of a half slot about x, in the order of a counter-clockwise edge."""
    half = p.slot_width / 2
    if from_top:
        end = p.height / 2 - half
        return [(x + half, p.height), fillet(x + half, end, half), fillet(x - half, end, half), (x - half, p.height)]
    end = p.height / 2 + half
    return [(x - half, 0.0), fillet(x - half, end, half), fillet(x + half, end, half), (x + half, 0.0)]


def dimensions(p: BoxFirePit) -> Iterator[Dimension]:
    """Yield where each length can be measured: those of the feet on the left side, the others on the back."""
    foot = 3 * (p.height + p.between)
    top = foot + p.height
    yield Dimension("long", (0, top), (p.long, top), "above")
    yield Dimension("deep", (0, 0), (p.deep, 0), "below")
    yield Dimension("height", (0, 0), (0, p.height), "left")
    yield Dimension("between", (0, p.height), (0, p.height + p.between), "left")
    yield Dimension("inset", (0, top), (p.inset, top), "above")
    half = p.plate / 2
    yield Dimension("measured", (p.inset - half, top), (p.inset + half, top), "above")
    if p.clearance:
        yield Dimension("clearance", (p.inset + half, top), (p.inset + half + p.clearance, top), "above")
    if r := p.corner_radius:
        out = r * 0.5**0.5
        yield Dimension("corner_radius", (p.deep - r, r), (p.deep - r + out, r - out), "radius")
    if p.foot:
        yield Dimension("foot", (p.deep, 0), (p.deep - p.leg, p.foot), "right")
        yield Dimension("leg", (0, 0), (p.leg, 0), "below")
    if p.air:
        x, y, a, b = p.long / 2 + p.air_pitch * (p.air - 1) / 2, foot + p.air_up, p.air_width / 2, p.air_height / 2
        yield Dimension("air_width", (x - a, y), (x + a, y), "above")
        yield Dimension("air_height", (x, y - b), (x, y + b), "right")
        yield Dimension("air_up", (p.long, foot), (x, y), "right")
        if p.air > 1:
            yield Dimension("air_pitch", (x - p.air_pitch, y), (x, y), "above")


TEMPLATE = Template(
    "box-fire-pit",
    "Fire pit panels",
    BoxFirePit,
    outline,
    assembly=assembly,
    summary="Four panels that stand in each other by half slots, with air slots and legs: they pack flat.",
    cautions=(
        "Open fires are for the outdoors and for where the local rules allow them: keep clear of what burns, off "
        "decking, and never leave a fire alone.",
        "Galvanised or painted steel gives off fumes when hot: use bare steel, and let the first fires burn off oil.",
        "Panels stay hot long after, and corners are sharp: wear gloves, and break the edges.",
    ),
    sizes=("long", "deep", "height"),
    words=(
        "fire pit",
        "firepit",
        "fire",
        "brazier",
        "panel",
        "interlocking",
        "slot",
        "flat pack",
        "grill",
        "burn",
        "camp",
    ),
    presets=(
        Preset(
            "Garden fire pit, 500 square, 5 plate",
            "long=500 deep=500 height=300 air=5 air_up=130 air_height=70 thickness=5 leg=100",
            inches="long=20 deep=20 height=12",
            inch_name="Garden fire pit, 20 square",
        ),
        Preset(
            "Camp fire box, packs flat",
            "long=350 deep=300 height=200 inset=30 air=4 air_pitch=45 air_width=12 air_up=90 "
            "air_height=50 foot=20 corner_radius=6 leg=65 thickness=3 clearance=0.4",
        ),
        Preset(
            "Fire pit of 36 by 24 in, 1/4 plate",
            "long=36in deep=24in height=15in inset=2in air_pitch=2-1/2in "
            "air_up=6in air_height=3in foot=1-1/2in leg=5in thickness=1/4in clearance=1/64in",
        ),
    ),
)
