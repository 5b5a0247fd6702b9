r"""Slotted adjustment plate: slots one way let it shift under its bolts, round holes carry what is to be adjusted.

     ___________________
    / (==)  o   o  (==) \    travel: how far the bolts may move in their slots
    |         __        |    slots_x by slots_y of them, spacing_x and spacing_y apart
    |        (__)       |    fixed: round holes, four on a rectangle or two in a row
    \_(==)__o___o__(==)_/    middle: an opening for a shaft, a belt or a cable
            width

All slots run along x.
"""

import itertools
import math
from collections.abc import Iterator, Mapping
from typing import ClassVar

from parts.errors import Problem
from parts.geometry import Point, circles, grid, rectangle
from parts.geometry.figure import Window, hole, level_slot, upright_slot
from parts.profile import Dimension, Opening, Profile, openings
from parts.spec import BY_DIAMETER, Preset, Template, When, bolt_mm, choice, count, fit, hole_diameter, length
from parts.spec import bolt as bolt_size
from parts.templates.shared.bolt_holes import ClearanceHoles
from parts.templates.shared.hole_making import WorkedHoles, hole_kind, where_worked
from parts.templates.shared.lettered import Lettered

SLOTS, FIXED = "Slots", "Round holes"


class PlateSlotted(WorkedHoles, ClearanceHoles, Lettered):
    """The middle of the plate, of the slots and of the round holes is at the origin."""

    hole_groups: ClassVar[Mapping[str, tuple[str, str]]] = {"fixed_bolt": ("fixed_hole_kind", "round")}
    optional: ClassVar[tuple[str, ...]] = ("fixed_hole_kind",)
    shared_when: ClassVar[Mapping[str, When]] = where_worked("fixed_hole_kind")

    width: float = length("Width", default=200, minimum=30, maximum=2500)
    height: float = length("Height", default=140, minimum=20, maximum=2500)
    corner_radius: float = length("Corner radius", default=10, minimum=0, maximum=300, moves="free")
    way: str = choice("Slots run along", default="width", choices=("width", "height"), group=SLOTS)
    travel: float = length(
        "Travel in the slots", default=25, minimum=0, maximum=800, group=SLOTS,
        help="How far a bolt can move: the slot is that and a hole's diameter long.",
    )  # fmt: skip
    slots_x: int = count("Slots along the width", default=2, minimum=1, maximum=12, group=SLOTS)
    slots_y: int = count("Slots along the height", default=2, minimum=1, maximum=12, group=SLOTS)
    spacing_x: float = length(
        "Slot spacing along the width", default=130, minimum=5, maximum=2400, group=SLOTS, when=("slots_x", "2")
    )
    spacing_y: float = length(
        "Slot spacing along the height", default=100, minimum=5, maximum=2400, group=SLOTS, when=("slots_y", "2")
    )
    bolt: str = bolt_size("Bolt in the slots", default="M10", diameter="hole", group=SLOTS)
    fit: str = fit(group=SLOTS, of=("bolt", "fixed_bolt"))
    hole: float = length(
        "Width of the slots", default=11, minimum=1, maximum=200, group=SLOTS, help="Where the bolt is by diameter."
    )
    fixed: str = choice("Round holes", default="four", choices=("none", "two", "four"), group=FIXED)
    fixed_x: float = length(
        "Fixed holes apart along the width",
        default=60,
        minimum=3,
        maximum=2400,
        group=FIXED,
        when=("fixed", "two", "four"),
    )
    fixed_y: float = length(
        "Fixed holes apart along the height", default=60, minimum=3, maximum=2400, group=FIXED, when=("fixed", "four")
    )
    fixed_bolt: str = bolt_size(
        "Bolt in the round holes",
        default="M8",
        inches="3/8",
        diameter="fixed_hole",
        group=FIXED,
        when=("fixed", "two", "four"),
    )
    fixed_hole: float = length(
        "Fixed hole diameter", default=9, minimum=1, maximum=200, group=FIXED, help="Where the bolt is by diameter."
    )
    middle: float = length(
        "Opening in the middle",
        default=0,
        minimum=0,
        maximum=2000,
        group="Middle",
        help="Diameter, 0 for none.",
        moves="care",
    )
    fixed_hole_kind: str = hole_kind("fixed_bolt", "Round holes are made")

    @property
    def fixed_size(self) -> float:
        """Diameter of the round holes."""
        return hole_diameter(self.fixed_bolt, self.fit, self.fixed_hole)

    @property
    def slots(self) -> tuple[Window, ...]:
        """The slots, from the lower left one."""
        x, y = (self.slots_x - 1) * self.spacing_x / 2, (self.slots_y - 1) * self.spacing_y / 2
        at = grid((-x, -y), (self.spacing_x, self.spacing_y), self.slots_x, self.slots_y)
        slot = level_slot if self.way == "width" else upright_slot
        return tuple(slot(centre, self.travel + self.hole_size, self.hole_size) for centre in at)

    @property
    def fixed_centres(self) -> tuple[Point, ...]:
        """Centres of the round holes, from the lower left one."""
        if self.fixed == "none":
            return ()
        rows = 2 if self.fixed == "four" else 1
        start = -self.fixed_x / 2, (-self.fixed_y / 2 if rows == 2 else 0.0)
        return grid(start, (self.fixed_x, self.fixed_y), 2, rows)

    @property
    def rounds(self) -> tuple[tuple[str, Window], ...]:
        """What is round, each with the parameter that places it: the holes, and the opening in the middle."""
        holes = tuple(("fixed_x", hole(at, self.fixed_size)) for at in self.fixed_centres)
        return (*holes, ("middle", hole((0.0, 0.0), self.middle))) if self.middle else holes

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where slots, holes and opening meet, or leave the plate."""
        clash = [
            *self.at_most("corner_radius", min(self.width, self.height) / 2, "on half of the shorter side"),
            *self._slot_problems(),
        ]
        if self.fixed != "none":
            clash += self.over("fixed_x", self.fixed_size, "to keep metal between the round holes")
            clash += self.under("fixed_x", self.width - self.fixed_size, "to keep the round holes on the plate")
        if self.fixed == "four":
            clash += self.over("fixed_y", self.fixed_size, "to keep metal between the round holes")
            clash += self.under("fixed_y", self.height - self.fixed_size, "to keep the round holes on the plate")
        clash += self.under("middle", min(self.width, self.height), "to leave a plate around it")
        yield from clash
        if not clash:
            yield from self._meeting()

    def _slot_problems(self) -> Iterator[Problem]:
        along, across = self.travel + self.hole_size, self.hole_size
        long_x, long_y = (along, across) if self.way == "width" else (across, along)
        for name, number, size, side in (
            ("spacing_x", self.slots_x, long_x, self.width),
            ("spacing_y", self.slots_y, long_y, self.height),
        ):
            if number > 1:
                yield from self.over(name, size, "to keep metal between the slots")
                yield from self.under(name, (side - size) / (number - 1), "to keep the slots on the plate")
            elif size >= side:
                yield self.problem("travel", f"leaves no plate beside a slot {self.say(size)} long.")

    def _meeting(self) -> Iterator[Problem]:
        """Yield the first meeting of the opening with a round hole, and of either with a slot."""
        if any(a.gap(b) <= 0 for (_, a), (_, b) in itertools.combinations(self.rounds, 2)):
            yield self.tight("middle", "between the round holes")
            return
        for (name, a), b in itertools.product(self.rounds, self.slots):
            if a.gap(b) <= 0:
                yield self.tight(name, "between the slots" if name == "middle" else "beside the slots")
                return


def outline(p: PlateSlotted) -> Profile:
    """Draw the plate, its slots, its round holes and the opening."""
    inside = openings([slot.loop for slot in p.slots], "slot", "travel", bolt_mm(p.bolt))
    inside += openings(circles(p.fixed_centres, p.fixed_size), "round hole", "fixed_x", bolt_mm(p.fixed_bolt))
    if p.middle:
        inside += (Opening(hole((0, 0), p.middle).loop, "opening in the middle", "middle"),)
    plate = rectangle((-p.width / 2, -p.height / 2), p.width, p.height, p.corner_radius)
    return Profile((plate,), inside, dimensions=tuple(dimensions(p)))


def dimensions(p: PlateSlotted) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    x, y, r, out = p.width / 2, p.height / 2, p.corner_radius, math.sqrt(0.5)
    yield Dimension("width", (-x, -y), (x, -y), "below")
    yield Dimension("height", (-x, -y), (-x, y), "left")
    if r:
        yield Dimension("corner_radius", (x - r, y - r), (x - r + r * out, y - r + r * out), "radius")
    yield from slot_dimensions(p)
    if p.fixed_centres:
        first, last = p.fixed_centres[0], p.fixed_centres[-1]
        yield Dimension("fixed_x", (first[0], last[1]), last, "above")
        if p.fixed == "four":
            yield Dimension("fixed_y", (last[0], first[1]), last, "right")
        if p.fixed_bolt == BY_DIAMETER:
            half = p.fixed_hole / 2
            yield Dimension("fixed_hole", first, (first[0] - half * out, first[1] + half * out), "diameter")
    if p.middle:
        yield Dimension("middle", (0, 0), (p.middle / 2 * out, p.middle / 2 * out), "diameter")


def slot_dimensions(p: PlateSlotted) -> Iterator[Dimension]:
    """Yield those of the slots: travel from the middle of one round end to that of the other."""
    first, last, half = p.slots[0].centre, p.slots[-1].centre, p.travel / 2
    if p.slots_x > 1:
        yield Dimension("spacing_x", first, (first[0] + p.spacing_x, first[1]), "below")
    if p.slots_y > 1:
        yield Dimension("spacing_y", first, (first[0], first[1] + p.spacing_y), "left")
    if p.travel:
        across = p.way == "width"
        ends = ((-half, 0.0), (half, 0.0)) if across else ((0.0, -half), (0.0, half))
        start, end = ((last[0] + dx, last[1] + dy) for dx, dy in ends)
        yield Dimension("travel", start, end, "above" if across else "right")
    if p.travel or p.bolt == BY_DIAMETER:
        (x, y), r, name = last, p.hole_size / 2, p.hole_from("bolt")
        if p.way == "width":
            yield Dimension(name, (x, y - r), (x, y + r), "right")
        else:
            yield Dimension(name, (x - r, y), (x + r, y), "above")


TEMPLATE = Template(
    "plate-slotted",
    "Slotted adjustment plate",
    PlateSlotted,
    outline,
    summary="Shifts under its bolts: slots one way, round holes for what it carries, an opening in the middle.",
    cautions=(
        "A slotted joint holds along the slots by friction alone: where load pulls that way, stop it or pin it, and "
        "have it settled by a qualified engineer.",
        "Set it with the machine stopped and locked out.",
    ),
    words=("adjuster", "tension", "slide", "motor", "belt", "alignment", "shim", "levelling", "slot"),
    presets=(
        Preset(
            "Belt of the gantry drive",
            "width=160 height=120 travel=15 spacing_x=110 spacing_y=90 middle=40 bolt=M8",
            inches="width=7 spacing_x=5",
        ),
        Preset(
            "Bench vise, side to side",
            "width=260 height=180 travel=40 spacing_x=180 spacing_y=140 fixed_x=100 fixed_y=80 fixed_bolt=M12 "
            "thickness=8 bolt=M12",
            inches="width=11",
        ),
        Preset(
            "Gate hinge, up and down",
            "way=height width=100 height=180 travel=30 slots_x=1 spacing_y=120 fixed=two bolt=3/8 fixed_bolt=3/8",
        ),
        Preset(
            "Trail sign arm, two slots",
            "width=8in height=3in slots_y=1 spacing_x=5in travel=1in fixed=two fixed_x=2in bolt=5/16 fixed_bolt=5/16 "
            "thickness=3/16in",
        ),
    ),
)
