r"""Skid plate: closes the underside behind the bumper; openings for air and drain, a lip folded up if wanted.

     _________________________
    | o        o        o |   |
    |     ======  slots   |   |    width across the vehicle
    |     ======    ( )   |lip|    ( ) drain opening, on the middle line
    |     ======          |   |
    |_o________o________o_|___|
            body

The drawing is the flat, its front on the right; lengths along it are outside dimensions of the bent part.
"""

import math
from collections.abc import Iterator, Mapping
from typing import ClassVar

from parts.errors import Problem
from parts.forming import Fold, Strip, strip
from parts.geometry import Point, circle, grid, rectangle, row, slot
from parts.geometry.figure import hole, level_slot
from parts.profile import Dimension, Opening, Profile, openings
from parts.spec import Preset, Template, When, angle, bolt, count, length
from parts.templates.shared.bent import Bent, bend_lines
from parts.templates.shared.bolt_holes import BoltHoles

_AIR, _DRAIN, _LIP = "Air slots", "Drain opening", "Bending"


class BumperSkid(Bent, BoltHoles):
    """The lower left corner is at the origin: rear on the left, front on the right."""

    shared_when: ClassVar[Mapping[str, When]] = {"bend_radius": ("lip",), "k": ("lip",)}

    body: float = length("Body, outside", default=480, minimum=80, maximum=2000, help="Along the vehicle.")
    width: float = length("Width", default=620, minimum=60, maximum=2400, help="Across the vehicle.")
    lip: float = length(
        "Lip at the front, outside", default=70, minimum=0, maximum=500, group=_LIP, help="0 for a flat plate."
    )
    bend: float = angle("Lip folded up by", default=35, minimum=5, maximum=120, group=_LIP, when=("lip",))
    corner_radius: float = length("Corner radius", default=20, minimum=0, maximum=300, moves="free")
    bolt: str = bolt("Bolt", default="M10", diameter="hole")
    holes: int = count("Holes along each side", default=3, minimum=2, maximum=12)
    hole_rear: float = length(
        "First hole from the rear", default=30, minimum=3, maximum=1000, group="Holes", moves="care"
    )
    hole_side: float = length("Holes in from the sides", default=30, minimum=3, maximum=1000, group="Holes")
    pitch: float = length("Hole spacing", default=190, minimum=5, maximum=1900, group="Holes")
    slots: int = count("Slots side by side", default=5, minimum=0, maximum=30, group=_AIR, moves="care")
    slot_length: float = length(
        "Slot length", default=120, minimum=5, maximum=1500, group=_AIR, when=("slots",), moves="free"
    )
    slot_width: float = length(
        "Slot width", default=16, minimum=2, maximum=200, group=_AIR, when=("slots",), moves="free"
    )
    slot_pitch: float = length(
        "Between the slots",
        default=60,
        minimum=3,
        maximum=600,
        group=_AIR,
        help="Centres.",
        when=("slots", "2"),
        moves="free",
    )
    slot_rear: float = length(
        "Slots' middle from the rear", default=180, minimum=5, maximum=1900, group=_AIR, when=("slots",), moves="free"
    )
    drain: float = length(
        "Drain opening, diameter", default=75, minimum=0, maximum=800, group=_DRAIN, help="0 for none.", moves="care"
    )
    drain_rear: float = length(
        "Drain opening's centre from the rear",
        default=340,
        minimum=5,
        maximum=1900,
        group=_DRAIN,
        when=("drain",),
        moves="free",
    )

    lip_spacing: float = length(
        "Two holes in the lip, apart", default=0, minimum=0, maximum=2300, group=_LIP, when=("lip",),
        help="To the skid holes of a face plate; 0 for none.",
    )  # fmt: skip
    lip_up: float = length(
        "They are up, outside", default=25, minimum=3, maximum=480, group=_LIP, when=("lip_spacing",),
        help="Along the lip, from the underside.",
    )  # fmt: skip

    @property
    def fold_up(self) -> Fold:
        """The bend of the lip."""
        return self.fold(self.bend)

    @property
    def flat(self) -> Strip:
        """The flat: the body, and the lip with its bend where there is one."""
        return strip((self.body, self.lip), (self.fold_up,)) if self.lip else strip((self.body,), ())

    @property
    def bent_size(self) -> tuple[float, float, float]:
        """The body lies flat; beyond a square bend the lip leans back over it."""
        if not self.lip:
            return self.body, self.width, self.thickness
        fold, ahead, up = self.fold_up, math.cos(math.radians(self.bend)), math.sin(math.radians(self.bend))
        t, square = self.thickness, self.bend >= 90
        back = min(0.0, self.body + self.lip * ahead - t * up)
        front = self.body + (fold.radius + t - fold.setback if square else self.lip * ahead)
        return front - back, self.width, max(t, self.lip * up + (0.0 if square else t * ahead))

    @property
    def centres(self) -> tuple[Point, ...]:
        """Centres of the bolt holes, along the lower side first."""
        across = self.width - 2 * self.hole_side
        return grid((self.hole_rear, self.hole_side), (self.pitch, across), self.holes, 2)

    @property
    def lip_holes(self) -> tuple[Point, ...]:
        """Centres of the holes in the lip, the lower one first."""
        if not (self.lip and self.lip_spacing):
            return ()
        x, half = self.flat.length - self.lip + self.lip_up, self.lip_spacing / 2
        return (x, self.width / 2 - half), (x, self.width / 2 + half)

    @property
    def slots_at(self) -> tuple[Point, ...]:
        """Centres of the air slots, the lowest first."""
        x, half = self.slot_rear, (self.slots - 1) * self.slot_pitch / 2
        return row((x, self.width / 2 - half), (x, self.width / 2 + half), self.slots) if self.slots else ()

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the bend takes body or lip, or an opening leaves the body or meets its neighbour."""
        setback = self.fold_up.setback if self.lip else 0.0
        clash = [*self.over("body", setback, "behind the bend")]
        clash += self.over("lip", setback, "beyond the bend") if self.lip else ()
        yield from clash
        if clash:
            return
        room = min(self.width / 2, *(self.flat.straights if self.lip else (self.body / 2,)))
        yield from self.at_most("corner_radius", room, "on the plate")
        front = self.body - setback
        yield from self._hole_problems(front)
        yield from self._slot_problems(front)
        yield from self._lip_problems(setback)
        if self.drain:
            yield from self.under("drain", self.width, "in the width")
            yield from self.over("drain_rear", self.drain / 2, "for the drain opening to clear the rear")
            yield from self.under("drain_rear", front - self.drain / 2, "for the drain opening to clear the front")
        yield from self._meeting()

    def _meeting(self) -> Iterator[Problem]:
        """Yield a problem where air slots meet bolt holes, or the drain opening either."""
        slots = [level_slot(at, self.slot_length, self.slot_width) for at in self.slots_at]
        bolts = [hole(at, self.hole_size) for at in self.centres]
        if any(each.gap(bolt) <= 0 for each in slots for bolt in bolts):
            yield self.tight("slot_pitch" if self.slots > 1 else "slot_width", "between the bolt holes")
        drain = hole((self.drain_rear, self.width / 2), self.drain)
        if self.drain and any(drain.gap(each) <= 0 for each in slots):
            yield self.tight("drain_rear", "beside the air slots")
        elif self.drain and any(drain.gap(bolt) <= 0 for bolt in bolts):
            yield self.tight("drain", "between the bolt holes")

    def _hole_problems(self, front: float) -> Iterator[Problem]:
        half = self.hole_size / 2
        yield from self.over("hole_rear", half, "inside the rear")
        yield from self.over("hole_side", half, "inside the side")
        yield from self.under("hole_side", self.width / 2 - half, "to keep metal between the holes")
        yield from self.over("pitch", 2 * half, "to keep metal between the holes")
        room = front - self.hole_rear - half
        yield from self.under("pitch", room / (self.holes - 1), "for the last hole behind the front")

    def _lip_problems(self, setback: float) -> Iterator[Problem]:
        if not self.lip_holes:
            return
        half = self.hole_size / 2
        yield from self.over("lip_spacing", 2 * half, "to keep metal between the holes")
        yield from self.under("lip_spacing", self.width - 2 * half, "in the width")
        yield from self.over("lip_up", setback + half, "beyond the bend")
        yield from self.under("lip_up", self.lip - half, "on the lip")
        inset = self.lip - self.lip_up, (self.width - self.lip_spacing) / 2
        if min(inset) > half:
            yield from self.rounding_problems(inset)

    def _slot_problems(self, front: float) -> Iterator[Problem]:
        if not self.slots:
            return
        yield from self.at_least("slot_length", self.slot_width, "to be no shorter than wide")
        half = self.slot_length / 2
        yield from self.over("slot_rear", half, "for the slots to clear the rear")
        yield from self.under("slot_rear", front - half, "for the slots to clear the front")
        if self.slots > 1:
            yield from self.over("slot_pitch", self.slot_width, "to keep metal between the slots")
            room = (self.width - self.slot_width) / (self.slots - 1)
            yield from self.under("slot_pitch", room, "in the width")
        else:
            yield from self.under("slot_width", self.width, "in the width")


def outline(p: BumperSkid) -> Profile:
    """Draw the flat with its openings and its bend line."""
    flat = p.flat
    inside = p.holes_at(p.centres, "bolt hole", "hole_side")
    inside += p.holes_at(p.lip_holes, "hole in the lip", "lip_spacing")
    inside += openings([slot(at, p.slot_length, p.slot_width) for at in p.slots_at], "air slot", "slot_rear")
    if p.drain:
        inside += (Opening(circle((p.drain_rear, p.width / 2), p.drain), "drain opening", "drain_rear"),)
    plate = rectangle((0, 0), flat.length, p.width, p.corner_radius)
    return Profile((plate,), inside, bend_lines(flat, p.width), tuple(dimensions(p)))


def dimensions(p: BumperSkid) -> Iterator[Dimension]:
    """Yield where each length can be measured: outside dimensions run from an end to the mould line."""
    end, high, r = p.flat.length, p.width, p.corner_radius
    yield Dimension("body", (0, 0), (p.body, 0), "below")
    yield Dimension("width", (0, 0), (0, high), "left")
    if p.lip:
        yield Dimension("lip", (end - p.lip, high), (end, high), "above")
    if r:
        yield Dimension("corner_radius", (end - r, high - r), (end, high - r), "radius")
    first, upper = p.centres[0], p.centres[p.holes]
    yield Dimension("hole_rear", (0, high), upper, "above")
    yield Dimension("pitch", upper, p.centres[p.holes + 1], "above")
    yield Dimension("hole_side", (first[0], 0), first, "left")
    yield from p.hole_measured(first)
    if p.lip_holes:
        low, high_one = p.lip_holes
        yield Dimension("lip_spacing", low, high_one, "right")
        yield Dimension("lip_up", (end - p.lip, low[1]), low, "below")
    if p.slots:
        (x, y), half = p.slots_at[0], p.slot_length / 2
        yield Dimension("slot_rear", (0, 0), (x, y), "below")
        yield Dimension("slot_length", (x - half, y), (x + half, y), "below")
        yield Dimension("slot_width", (x, y - p.slot_width / 2), (x, y + p.slot_width / 2), "right")
        if p.slots > 1:
            yield Dimension("slot_pitch", p.slots_at[-2], p.slots_at[-1], "left")
    if p.drain:
        x, y = p.drain_rear, high / 2
        yield Dimension("drain_rear", (0, 0), (x, y), "below")
        yield Dimension("drain", (x, y), (x + p.drain / 2, y), "diameter")


TEMPLATE = Template(
    "bumper-skid",
    "Skid plate",
    BumperSkid,
    outline,
    summary="Closes the underside behind a bumper: air slots, a drain opening, bolt holes, a folded lip "
    "(small, medium and large set).",
    cautions=(
        "A skid plate changes cooling, crash behaviour and what hot exhaust parts heat: keep air, drains and sensors "
        "free, and clear of exhaust and fuel lines. Local vehicle rules come first.",
        "A press brake crushes: keep hands clear of the tools, and leave its guards in place.",
    ),
    words=("vehicle", "truck", "underbody", "belly", "guard", "sump", "bash", "protection", "drain", "air"),
    set_of="bumper",
    presets=(
        Preset(
            "Small set: 1500 by 200 face",
            "body=400 width=520 thickness=4 pitch=160 slots=4 slot_length=90 drain=60 drain_rear=300 slot_rear=150",
            inch_name="Small set: 60 by 8 in face",
        ),
        Preset("Medium set: 1800 by 250 face", "thickness=5", inch_name="Medium set: 72 by 10 in face"),
        Preset(
            "Large set: 2000 by 300 face",
            "body=600 width=720 lip=90 pitch=165 holes=4 slots=6 drain_rear=420",
            inch_name="Large set: 78 by 12 in face",
        ),
        Preset("Trailer coupling guard, flat", "lip=0 body=300 width=300 pitch=240 holes=2 slots=0 drain_rear=150"),
    ),
)
