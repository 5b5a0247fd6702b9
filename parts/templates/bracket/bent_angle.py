r"""Bent angle: one bend between two flanges, a row of holes in each; the drawing is the flat.

     ____________________
    |        |        |  |
    | o   o  |   o  o |  | width    flange_b is folded up along the chain line
    |________|________|__|
      flange_a   flange_b

Flanges and holes are set from the outside of the bend, as they are measured on the bent part. The holes of B may be
slots, to adjust by.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.forming import Strip, strip
from parts.geometry import Point, rectangle
from parts.geometry.figure import level_slot
from parts.profile import Dimension, Profile, openings
from parts.spec import Preset, Template, angle, bolt_mm, count, length
from parts.templates.bracket.shared.bent_rows import BentRows, row_bolt, row_first
from parts.templates.shared.bent import BRAKE_CAUTION, SIZE_CAUTION, bend_lines


class BracketBentAngle(BentRows):
    """The free end of flange A is on the y axis of the flat, the sheet above the x axis."""

    flange_a: float = length("Flange A, outside", default=60, minimum=8, maximum=1000)
    flange_b: float = length("Flange B, outside", default=60, minimum=8, maximum=1000)
    bend: float = angle(
        "Bend angle", default=90, minimum=5, maximum=150, group="Bending", help="Turned through; 90 is square."
    )
    holes_a: int = count("Holes in flange A", default=2, minimum=0, maximum=12)
    holes_b: int = count("Holes in flange B", default=2, minimum=0, maximum=12)
    mark_a: float = length(
        "Holes of A from the outside of the bend",
        default=40,
        inches="1-3/4",
        minimum=3,
        maximum=1000,
        group="Holes",
        when=("holes_a",),
    )
    mark_b: float = length(
        "Holes of B from the outside of the bend",
        default=40,
        inches="1-3/4",
        minimum=3,
        maximum=1000,
        group="Holes",
        when=("holes_b",),
    )
    first: float = row_first("holes_a", "holes_b")
    slot_b: float = length(
        "Slots of B, length", default=0, minimum=0, maximum=500, group="Holes", when=("holes_b",),
        help="Over all, away from the bend, to adjust by; 0 for round holes.",
    )  # fmt: skip
    bolt: str = row_bolt("holes_a", "holes_b")

    @property
    def flat(self) -> Strip:
        """The flat: flange A, the bend, flange B."""
        return strip((self.flange_a, self.flange_b), (self.fold(self.bend),))

    @property
    def bent_size(self) -> tuple[float, float, float]:
        """Flange A lies flat, B stands up from it, or leans on over where the bend turns past square."""
        bend, t = math.radians(self.bend), self.thickness
        fold, along, rise = self.fold(self.bend), self.flange_b * math.cos(bend), self.flange_b * math.sin(bend)
        square = self.bend >= 90
        least = min(0.0, self.flange_a + along - t * math.sin(bend))
        most = self.flange_a + (fold.radius + t - fold.setback if square else along)
        return most - least, self.width, rise + (0.0 if square else t * math.cos(bend))

    @property
    def rows(self) -> tuple[tuple[Point, ...], tuple[Point, ...]]:
        """Centres of the holes of both flanges, on the flat."""
        x_a, x_b = self.flange_a - self.mark_a, self.flat.length - self.flange_b + self.mark_b
        return self.row(x_a, self.holes_a), self.row(x_b, self.holes_b)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the bend takes a flange, a hole lies in the bend or rows meet."""
        fold = self.fold(self.bend)
        clash = [
            *self.over("flange_a", fold.setback, "beyond the bend"),
            *self.over("flange_b", fold.setback, "beyond the bend"),
        ]
        yield from clash
        if clash:
            return
        if self.holes_b and 0 < self.slot_b < self.hole_size:
            yield self.problem("slot_b", f"must be 0, or at least the hole's {self.say(self.hole_size)}.")
        for letter, long in (("a", 0.0), ("b", self.slot_b)):
            half = max(long, self.hole_size) / 2
            if getattr(self, f"holes_{letter}"):
                yield from self.over(f"mark_{letter}", fold.setback + half, "for the hole to clear the bend")
                yield from self.under(f"mark_{letter}", getattr(self, f"flange_{letter}") - half, "inside the flange")
        yield from self.across_problems(max(self.holes_a, self.holes_b))
        yield from self.corner_problems()


def outline(p: BracketBentAngle) -> Profile:
    """Draw the flat with its bend line."""
    flat = p.flat
    row_a, row_b = p.rows
    slots = (level_slot(at, p.slot_b, p.hole_size).loop for at in row_b)
    inside = (
        *p.holes_at(row_a, "hole in flange A", "mark_a"),
        *openings(slots, f"{'slot' if p.slot_b else 'hole'} in flange B", "mark_b", bolt_mm(p.bolt)),
    )
    sheet = rectangle((0, 0), flat.length, p.width, p.corner_radius)
    return Profile((sheet,), inside, bend_lines(flat, p.width), tuple(dimensions(p)))


def dimensions(p: BracketBentAngle) -> Iterator[Dimension]:
    """Yield where each length can be measured: outside dimensions run from an end to the mould line."""
    end, r = p.flat.length, p.corner_radius
    yield Dimension("flange_a", (0, 0), (p.flange_a, 0), "below")
    yield Dimension("flange_b", (end - p.flange_b, p.width), (end, p.width), "above")
    yield Dimension("width", (0, 0), (0, p.width), "left")
    if r:
        yield Dimension("corner_radius", (end - r, p.width - r), (end, p.width - r), "radius")
    row_a, row_b = p.rows
    for name, centres, mould in (("mark_a", row_a, p.flange_a), ("mark_b", row_b, end - p.flange_b)):
        if centres:
            yield Dimension(name, centres[0], (mould, centres[0][1]), "below")
    longest = max(p.rows, key=len)
    if len(longest) > 1:
        yield Dimension("first", (longest[0][0], 0), longest[0], "left")
    if row_b and p.slot_b:
        (x, y), half = row_b[-1], p.hole_size / 2
        yield Dimension("slot_b", (x - p.slot_b / 2, y), (x + p.slot_b / 2, y), "above")
        yield Dimension(p.hole_from("bolt"), (x, y - half), (x, y + half), "right")
    elif longest:
        yield from p.hole_measured(longest[0])


TEMPLATE = Template(
    "bracket-bent-angle",
    "Bent angle",
    BracketBentAngle,
    outline,
    summary="An L folded from sheet: outside dimensions asked, the flat drawn with its bend line and hole rows.",
    cautions=(
        BRAKE_CAUTION,
        SIZE_CAUTION,
    ),
    sizes=("flange_a", "flange_b", "width"),
    words=("angle", "cleat", "bent", "folded", "bracket", "l", "angle iron", "stair", "tread", "stringer", "step"),
    presets=(
        Preset("Bench slat cleat", "flange_a=40 flange_b=40 width=50 thickness=3 bolt=M6 mark_a=25 mark_b=25 first=14"),
        Preset(
            "Trailer lamp bracket, slotted",
            "flange_a=90 flange_b=65 width=120 thickness=4 mark_a=55 mark_b=38 bolt=M8 slot_b=25",
            inches="mark_b=1-3/4 flange_b=2-3/4",
        ),
        Preset(
            "Stair tread bracket, slots for a wooden tread",
            "flange_a=65 flange_b=55 width=220 thickness=4 bolt=M8 holes_a=3 holes_b=3 mark_a=36 mark_b=38 "
            "slot_b=18 first=30",
            inches="flange_a=2-1/2 flange_b=2-3/8 mark_b=1-5/8",
        ),
        Preset("Sign to post", "flange_a=50 flange_b=50 width=200 thickness=3 holes_a=3 bolt=M8 mark_a=32 mark_b=32"),
    ),
)
