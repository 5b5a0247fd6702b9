r"""Strap: a flat bar with a row of bolt holes or slots, its ends square, round or clipped.

     ________________________
    /                        \
    |  o    o        o    o  |  width
    \________________________/
     end_mark  pitch             rows at each end, or one row spread evenly
             long

A round end is half a turn; a clipped one has its corners cut off, a square one may have them rounded.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Loop, Point, chamfer, fillet, polygon
from parts.geometry.figure import Window, level_slot
from parts.profile import Dimension, Profile, openings
from parts.spec import BY_DIAMETER, Preset, Template, bolt, bolt_mm, choice, count, length
from parts.templates.shared.bolt_holes import BoltHoles


class BracketStrap(BoltHoles):
    """The lower left corner is at the origin, the strap along x."""

    long: float = length("Length over all", default=200, minimum=20, maximum=3000)
    width: float = length("Width", default=40, minimum=8, maximum=500)
    ends: str = choice("Ends", default="square", choices=("square", "round", "clipped"))
    corner: float = length(
        "Corners of the ends",
        default=5,
        minimum=0,
        maximum=250,
        help="Radius of square ends, leg of clipped ones.",
        when=("ends", "square", "clipped"),
        moves="free",
    )
    row: str = choice(
        "Row of holes", default="at-each-end", choices=("at-each-end", "spread"), group="Holes",
        help="spread: evenly between the first and the last.", when=("holes",),
    )  # fmt: skip
    holes: int = count("Holes", default=2, minimum=0, maximum=60, help="At each end, or in the whole spread row.")
    end_mark: float = length(
        "First hole from each end", default=20, minimum=1, maximum=1500, group="Holes", when=("holes",)
    )
    pitch: float = length(
        "Hole spacing at each end", default=40, minimum=1, maximum=1500, group="Holes", when=("row", "at-each-end")
    )
    slot: float = length(
        "Slot length",
        default=0,
        minimum=0,
        maximum=1000,
        group="Holes",
        help="Over all, along; 0 for round holes.",
        when=("holes",),
        moves="care",
    )
    bolt: str = bolt("Bolt", default="M10", diameter="hole", when=("holes",))

    @property
    def stations(self) -> list[float]:
        """Where along the strap the holes are, from its left end."""
        if self.row == "at-each-end":
            left = [self.end_mark + i * self.pitch for i in range(self.holes)]
            return [*left, *(self.long - x for x in reversed(left))]
        if self.holes == 1:
            return [self.long / 2]
        step = (self.long - 2 * self.end_mark) / max(self.holes - 1, 1)
        return [self.end_mark + i * step for i in range(self.holes)]

    @property
    def windows(self) -> list[Window]:
        """The holes or slots, from the left."""
        return [level_slot((x, self.width / 2), self.slot, self.hole_size) for x in self.stations]

    @property
    def edge(self) -> Loop:
        """The outline, counter-clockwise."""
        w, long = self.width, self.long
        if self.ends == "round":
            r = w / 2
            return Loop.through([(r, 0, 0), (long - r, 0, 1), (long - r, w, 0), (r, w, 1)])
        treat = chamfer if self.ends == "clipped" else fillet
        return polygon(treat(x, y, self.corner) for x, y in ((0, 0), (long, 0), (long, w), (0, w)))

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where ends or corners meet, or holes run out of the strap or into each other."""
        if self.ends == "round":
            yield from self.under("width", self.long, "for round ends")
        else:
            yield from self.at_most("corner", min(self.width, self.long) / 2, "at the ends")
        if self.holes:
            yield from self._hole_problems()

    def _hole_problems(self) -> Iterator[Problem]:
        if self.bolt == BY_DIAMETER:
            clash = [*self.under("hole", self.width, "in this width")]
        elif (size := self.hole_size) >= (wide := self.width):
            clash = [
                self.problem(
                    "bolt", f"wants a hole of {self.say(size, wide)}; the strap is {self.say(wide, size)} wide."
                )
            ]
        else:
            clash = []
        if 0 < self.slot < self.hole_size:
            clash.append(self.problem("slot", f"must be 0, or at least the hole's {self.say(self.hole_size)}."))
        yield from clash
        if not clash and not (self.row == "spread" and self.holes == 1):
            yield from self._along_problems(self.slot or self.hole_size)

    def _along_problems(self, each: float) -> Iterator[Problem]:
        """Yield a problem where openings, `each` long, run out of an end or into each other."""
        clash = [
            *self.over("end_mark", each / 2, "to stay inside the end"),
            *self.under("end_mark", (self.long - each) / 2, "to keep metal in the middle"),
        ]
        yield from clash
        if clash:
            return
        between = self.long - 2 * self.end_mark
        if self.row == "spread":
            if between / (self.holes - 1) <= each:
                yield self.problem("holes", f"must be at most {math.ceil(between / each)} on this length.")
        elif self.holes > 1:
            tight = [*self.over("pitch", each, "to keep metal between the holes")]
            yield from tight
            if not tight:
                why = f"for {self.holes} holes at each end"
                yield from self.under("pitch", (between - each) / 2 / (self.holes - 1), why)


def outline(p: BracketStrap) -> Profile:
    """Draw the strap and its holes."""
    what = "slot" if p.slot else "hole"
    inside = openings((window.loop for window in p.windows), what, "holes", bolt_mm(p.bolt))
    return Profile((p.edge,), inside, dimensions=tuple(dimensions(p)))


def dimensions(p: BracketStrap) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    long, w, c = p.long, p.width, p.corner
    yield Dimension("long", (0, 0), (long, 0), "below")
    yield Dimension("width", (0, 0), (0, w), "left")
    if c and p.ends == "clipped":
        yield Dimension("corner", (long - c, w), (long, w - c), "above")
    elif c and p.ends == "square":
        out = c * math.sqrt(0.5)
        yield Dimension("corner", (long - c, w - c), (long - c + out, w - c + out), "radius")
    if not p.holes:
        return
    first: Point = p.windows[0].centre
    if p.row == "at-each-end" or p.holes > 1:
        yield Dimension("end_mark", (0, w / 2), first, "above")
    if p.row == "at-each-end" and p.holes > 1:
        yield Dimension("pitch", first, p.windows[1].centre, "above")
    if p.slot:
        x, y = p.windows[-1].centre
        yield Dimension("slot", (x - p.slot / 2, y), (x + p.slot / 2, y), "below")
        half = p.hole_size / 2
        yield Dimension(p.hole_from("bolt"), (x, y - half), (x, y + half), "right")
    else:
        yield from p.hole_measured(first)


TEMPLATE = Template(
    "bracket-strap",
    "Strap",
    BracketStrap,
    outline,
    summary="A flat bar with holes or slots: ties, hangs or splices; ends square, round or clipped.",
    cautions=(
        "A strap that carries load or people, holds a sign in the wind or is part of a vehicle is for a qualified "
        "person to size under the local code; edge distances here are minimums of detailing, not strength.",
    ),
    words=("tie", "flat bar", "splice", "fish plate", "link", "hanger", "mending", "perforated", "grating", "clip"),
    presets=(
        Preset("Garden bench, stretcher tie", "long=300 width=30 bolt=M8 holes=1 ends=round thickness=5"),
        Preset(
            "Trailer, board strap on 6-inch centres",
            "long=26in width=2in thickness=1/4in bolt=3/8 row=spread holes=5 end_mark=1in ends=clipped corner=1/2in",
        ),
        Preset("Trail sign, slotted hanger", "long=180 width=35 bolt=M8 holes=1 slot=25 end_mark=25 thickness=4"),
        Preset(
            "Grating clip, a flat bar over the bars",
            "long=75 row=spread holes=1 bolt=M8 thickness=4 corner=8",
            inches="width=1-1/2",
        ),
        Preset(
            "Garden bench rail, splice, three bolts a side",
            "long=280 width=60 thickness=8 bolt=M12 holes=3 end_mark=30",
        ),
    ),
)
