r"""Flat L bracket: two legs in one plate, each with a pattern of bolt holes or adjusting slots.

     width_b
     _____
    |  o  |       corner_radius rounds the ends, heel_radius the heel
    |  o  |       the inside corner has a radius, or a relief for a square edge
    |  o  |____________
    |       =  =  =    | width_a
    |__________________|
          leg_a

Holes stand on the middle of the leg, or in two rows astride it, counted from its end; a back_mark
measures them from the outer edge instead. A slot runs along its leg.
"""

import math
from collections.abc import Iterator, Mapping
from typing import Any, ClassVar

from parts.errors import Problem
from parts.geometry import Corner, Point, fillet, polygon, relief
from parts.geometry.figure import Window
from parts.profile import Dimension, Profile
from parts.spec import (
    BY_DIAMETER,
    Preset,
    Template,
    When,
    bolt,
    bolt_mm,
    choice,
    count,
    fit,
    hole_diameter,
    length,
)
from parts.templates.bracket.shared.arms import RELIEF_BITE, RELIEF_SETBACK
from parts.templates.bracket.shared.leg_of_l import Leg, dimensions_of, openings_of
from parts.templates.shared.hole_making import WorkedHoles, hole_kind, where_worked
from parts.tolerance import SAME_POINT_MM

_IN_A, _IN_B = "Holes in leg A", "Holes in leg B"
_ROWS = "2: astride the middle."
_MARK = "Of the row next to the outer edge; 0 for the middle of the leg."
_SLOT = "Over all, along the leg; 0 for round holes."
_BY_DIAMETER = "Where the bolt is by diameter."


class BracketFlatL(WorkedHoles):
    """The heel is at the origin, leg A along x and leg B along y."""

    hole_groups: ClassVar[Mapping[str, tuple[str, str]]] = {
        "bolt_a": ("hole_kind_a", "leg A"),
        "bolt_b": ("hole_kind_b", "leg B"),
    }
    optional: ClassVar[tuple[str, ...]] = (
        "hole_kind_a",
        "hole_kind_b",
    )
    shared_when: ClassVar[Mapping[str, When]] = where_worked("hole_kind_a", "hole_kind_b")

    leg_a: float = length("Leg A, outside", default=150, minimum=20, maximum=2000)
    leg_b: float = length("Leg B, outside", default=120, minimum=20, maximum=2000)
    width_a: float = length("Width of leg A", default=50, minimum=10, maximum=500)
    width_b: float = length("Width of leg B", default=50, minimum=10, maximum=500)
    corner_radius: float = length(
        "Radius at the ends", default=6, minimum=0, maximum=250, group="Corners", moves="free"
    )
    heel_radius: float = length("Radius at the heel", default=6, minimum=0, maximum=1000, group="Corners", moves="free")
    inside: str = choice(
        "Inside corner", default="radius", choices=("radius", "relief"), group="Corners",
        help="relief: opened so that a square edge seats.", moves="care",
    )  # fmt: skip
    inside_radius: float = length(
        "Radius of the inside corner",
        default=8,
        minimum=0,
        maximum=250,
        group="Corners",
        help="Or of its relief.",
        moves="care",
    )
    fit: str = fit(of=("bolt_a", "bolt_b"))
    holes_a: int = count("Holes along leg A", default=2, minimum=0, maximum=20, group=_IN_A, help="In each row.")
    bolt_a: str = bolt("Bolt in leg A", default="M10", diameter="hole_a", group=_IN_A, when=("holes_a",))
    hole_a: float = length("Hole diameter in leg A", default=11, minimum=1, maximum=200, group=_IN_A, help=_BY_DIAMETER)
    first_a: float = length(
        "First hole from the end of leg A",
        default=25,
        minimum=1,
        maximum=2000,
        group=_IN_A,
        when=("holes_a",),
        moves="care",
    )
    pitch_a: float = length(
        "Hole spacing along leg A", default=50, minimum=1, maximum=2000, group=_IN_A, when=("holes_a", "2")
    )
    rows_a: int = count(
        "Rows of holes in leg A", default=1, minimum=1, maximum=2, group=_IN_A, help=_ROWS, when=("holes_a",)
    )
    gauge_a: float = length(
        "Gauge between the rows of leg A", default=22, minimum=1, maximum=480, group=_IN_A, when=("rows_a", "2")
    )
    back_mark_a: float = length(
        "Back mark in leg A",
        default=0,
        minimum=0,
        maximum=480,
        group=_IN_A,
        help=_MARK,
        auto="nearest_a",
        when=("holes_a",),
        moves="care",
    )
    slot_a: float = length(
        "Slot length in leg A",
        default=0,
        minimum=0,
        maximum=1000,
        group=_IN_A,
        help=_SLOT,
        when=("holes_a",),
        moves="care",
    )
    holes_b: int = count("Holes along leg B", default=2, minimum=0, maximum=20, group=_IN_B, help="In each row.")
    bolt_b: str = bolt("Bolt in leg B", default="M10", diameter="hole_b", group=_IN_B, when=("holes_b",))
    hole_b: float = length("Hole diameter in leg B", default=11, minimum=1, maximum=200, group=_IN_B, help=_BY_DIAMETER)
    first_b: float = length(
        "First hole from the end of leg B",
        default=25,
        minimum=1,
        maximum=2000,
        group=_IN_B,
        when=("holes_b",),
        moves="care",
    )
    pitch_b: float = length(
        "Hole spacing along leg B", default=40, minimum=1, maximum=2000, group=_IN_B, when=("holes_b", "2")
    )
    rows_b: int = count(
        "Rows of holes in leg B", default=1, minimum=1, maximum=2, group=_IN_B, help=_ROWS, when=("holes_b",)
    )
    gauge_b: float = length(
        "Gauge between the rows of leg B", default=22, minimum=1, maximum=480, group=_IN_B, when=("rows_b", "2")
    )
    back_mark_b: float = length(
        "Back mark in leg B",
        default=0,
        minimum=0,
        maximum=480,
        group=_IN_B,
        help=_MARK,
        auto="nearest_b",
        when=("holes_b",),
        moves="care",
    )
    slot_b: float = length(
        "Slot length in leg B",
        default=0,
        minimum=0,
        maximum=1000,
        group=_IN_B,
        help=_SLOT,
        when=("holes_b",),
        moves="care",
    )
    hole_kind_a: str = hole_kind("bolt_a", "Holes in leg A are made")
    hole_kind_b: str = hole_kind("bolt_b", "Holes in leg B are made")

    @property
    def legs(self) -> tuple[Leg, Leg]:
        """Leg A and leg B."""
        return self._leg("a"), self._leg("b")

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the legs leave no corner, radii meet, or holes run out or into each other."""
        clash = [
            *self.under("width_a", self.leg_b, "so that leg B stands out"),
            *self.under("width_b", self.leg_a, "so that leg A stands out"),
        ]
        if not clash:
            clash = [*self._corner_problems()]
        for leg in self.legs:
            clash += _hole_problems(self, leg)
        yield from clash or _heel_problems(self, *self.legs)

    @property
    def nearest_a(self) -> float:
        """Back mark of leg A as drawn, mm."""
        return self._leg("a").lines[0]

    @property
    def nearest_b(self) -> float:
        """Back mark of leg B as drawn, mm."""
        return self._leg("b").lines[0]

    def _leg(self, letter: str) -> Leg:
        def own(name: str) -> Any:  # noqa: ANN401 - a parameter of any kind
            return getattr(self, f"{name}_{letter}")

        return Leg(
            letter=letter,
            length=own("leg"),
            width=own("width"),
            holes=own("holes"),
            hole=hole_diameter(own("bolt"), self.fit, own("hole")),
            bolt=bolt_mm(own("bolt")),
            by_diameter=own("bolt") == BY_DIAMETER,
            first=own("first"),
            pitch=own("pitch"),
            rows=own("rows"),
            gauge=own("gauge"),
            back_mark=own("back_mark"),
            slot=own("slot"),
        )

    def _corner_problems(self) -> Iterator[Problem]:
        """Yield a problem where radii meet on an edge, or the heel's cuts through to the inside corner."""
        r, narrower = self.corner_radius, min(self.width_a, self.width_b)
        inner = min(self.leg_a - self.width_b, self.leg_b - self.width_a)
        at_ends = [*self.at_most("corner_radius", min(narrower / 2, inner), "at the ends")]
        yield from at_ends
        if at_ends:
            return
        room = (inner - r) / (RELIEF_SETBACK if self.inside == "relief" else 1)
        behind = narrower / RELIEF_BITE if self.inside == "relief" else math.inf
        if behind <= room:
            in_corner = [*self.under("inside_radius", behind, "to leave metal behind the relief")]
        else:
            in_corner = [*self.at_most("inside_radius", room, "beside the radius at the ends")]
        yield from in_corner
        along = min(self.leg_a, self.leg_b) - r
        if in_corner or along < self._heel_limit():
            yield from self.at_most("heel_radius", along, "beside the radius at the ends")
        else:
            yield from self.under("heel_radius", self._heel_limit(), "to leave metal at the inside corner")

    def _heel_limit(self) -> float:
        """The heel radius whose arc just touches the inside corner.

        That is the circle on both outer edges, R from each, that holds a circle of radius r in it touching the
        lines x = v and y = w (the inside corner, a relief's bite taken off both widths):
        (R - v - r)² + (R - w - r)² = (R - r)², the larger root.
        """
        r = self.inside_radius
        bite = RELIEF_BITE * r if self.inside == "relief" else 0.0
        v, w = self.width_b - bite, self.width_a - bite
        return v + w + r + math.sqrt(2 * v * w)


def _hole_problems(p: BracketFlatL, leg: Leg) -> Iterator[Problem]:
    """Yield a problem where openings of one leg run out of it or into each other."""
    if not leg.holes:
        return
    sizes = [*_size_problems(p, leg)]
    yield from sizes
    if not sizes:
        yield from _along_problems(p, leg)
        yield from _across_problems(p, leg)


def _size_problems(p: BracketFlatL, leg: Leg) -> Iterator[Problem]:
    """Yield a problem where a hole is too large for the leg, or a slot too long for it or too short for its bolt."""
    room = min(leg.width, leg.length)
    if leg.by_diameter:
        yield from p.under(leg.name("hole"), room, f"in {leg.said}")
    elif leg.hole >= room:
        yield p.problem(
            leg.name("bolt"),
            f"wants a hole of {p.say(leg.hole, room)}; {leg.said} has room for {p.say(room, leg.hole)}.",
        )
    if 0 < leg.slot < leg.hole:
        yield p.problem(leg.name("slot"), f"must be 0, or at least the hole's {p.say(leg.hole)}.")
    yield from p.under(leg.name("slot"), leg.length, f"on {leg.said}")


def _along_problems(p: BracketFlatL, leg: Leg) -> Iterator[Problem]:
    """Yield a problem where openings run out of an end of the leg, or into the next in their row."""
    reach, name = leg.over_all / 2, leg.name("first")
    clash = [*p.over(name, reach, "to stay inside the end"), *p.under(name, leg.length - reach, f"on {leg.said}")]
    yield from clash
    if clash or leg.holes == 1:
        return
    yield from p.over(leg.name("pitch"), leg.over_all, "to keep metal between the holes")
    room = leg.length - reach - leg.first
    if room / (leg.holes - 1) > leg.over_all:
        yield from p.under(leg.name("pitch"), room / (leg.holes - 1), f"for {leg.holes} holes on {leg.said}")
    else:
        fitting = max(1, math.ceil(room / max(leg.pitch, leg.over_all)))
        yield p.problem(leg.name("holes"), f"must be at most {fitting} at this spacing on {leg.said}.")


def _across_problems(p: BracketFlatL, leg: Leg) -> Iterator[Problem]:
    """Yield a problem where the rows run out of a side of the leg, or into each other."""
    gauge, radius = leg.gauge if leg.rows > 1 else 0.0, leg.hole / 2
    clash: list[Problem] = []
    if leg.rows > 1 and 2 * leg.hole >= leg.width:
        clash = [p.problem(leg.name("rows"), f"must be 1: two rows of these holes don't fit {leg.said}.")]
    elif leg.rows > 1:
        clash += p.over(leg.name("gauge"), leg.hole, "to keep metal between the rows")
        clash += p.under(leg.name("gauge"), leg.width - leg.hole, f"on {leg.said}")
    yield from clash
    if leg.back_mark and not clash:
        yield from p.over(leg.name("back_mark"), radius, "to stay inside the outer edge")
        yield from p.under(leg.name("back_mark"), leg.width - radius - gauge, f"on {leg.said}")


def _heel_problems(p: BracketFlatL, a: Leg, b: Leg) -> Iterator[Problem]:
    """Yield a problem where openings of leg B run into those of leg A, where the legs cross."""
    in_a = a.windows
    in_b = [_turned(window) for window in b.windows]
    if not any(window.gap(other) <= SAME_POINT_MM for window in in_b for other in in_a):
        return
    clear = max(other.centre[1] + _turned(window).touching(_turned(other)) for window in in_b for other in in_a)
    first, room = b.name("first"), b.length - clear
    if b.holes == 1:
        yield from p.under(first, room, "to clear the holes of leg A")
        return
    fitting = math.ceil((room - b.first) / b.pitch)
    if fitting < 1:
        yield from p.under(first, room, "to clear the holes of leg A")
    else:
        yield p.problem(b.name("holes"), f"must be at most {fitting} at this spacing, to clear the holes of leg A.")


def _turned(window: Window) -> Window:
    """The window mirrored in the diagonal."""
    x, y = window.centre
    return Window((y, x), window.height, window.width, window.radius)


def outline(p: BracketFlatL) -> Profile:
    """Draw the bracket counter-clockwise from the heel."""
    a, b, r = p.leg_a, p.leg_b, p.corner_radius
    treat = relief if p.inside == "relief" else fillet
    corners: list[Corner | Point] = [
        fillet(0, 0, p.heel_radius),
        fillet(a, 0, r),
        fillet(a, p.width_a, r),
        treat(p.width_b, p.width_a, p.inside_radius),
        fillet(p.width_b, b, r),
        fillet(0, b, r),
    ]
    inside = tuple(opening for leg in p.legs for opening in openings_of(leg))
    return Profile(outside=(polygon(corners),), inside=inside, dimensions=tuple(dimensions(p)))


def dimensions(p: BracketFlatL) -> Iterator[Dimension]:
    """Yield where each length of the bracket can be measured."""
    half = math.sqrt(0.5)
    for leg in p.legs:
        yield from dimensions_of(leg)
    if p.corner_radius:
        r, x, y = p.corner_radius, p.leg_a, p.width_a
        yield Dimension("corner_radius", (x - r, y - r), (x - r + r * half, y - r + r * half), "radius")
    if p.heel_radius:
        r = p.heel_radius
        yield Dimension("heel_radius", (r, r), (r - r * half, r - r * half), "radius")
    if p.inside_radius:
        r = p.inside_radius
        away = r * half if p.inside == "relief" else r
        x, y = p.width_b + away, p.width_a + away
        yield Dimension("inside_radius", (x, y), (x - r * half, y - r * half), "radius")


TEMPLATE = Template(
    "bracket-flat-l",
    "Flat L bracket",
    BracketFlatL,
    outline,
    summary="Ties a corner flat: two legs with bolt holes or adjusting slots, a radius or a relief inside.",
    cautions=(
        "A bracket that carries load or people, holds a sign in the wind or is part of a vehicle is for a qualified "
        "person to size under the local code; edge distances here are minimums of detailing, not strength.",
    ),
    words=("corner", "angle", "tie", "plate", "mending", "bench", "slot", "adjust"),
    presets=(
        Preset(
            "Garden bench, back to seat",
            "leg_a=110 leg_b=90 width_a=40 width_b=40 thickness=5 bolt_a=M8 bolt_b=M8 pitch_a=40 pitch_b=30",
        ),
        Preset("Trailer mudguard stay", "leg_a=220 leg_b=140 slot_a=30 pitch_a=80"),
        Preset(
            "Trail sign to post",
            "leg_a=160 leg_b=160 width_a=45 width_b=45 thickness=3/16in bolt_a=3/8 bolt_b=3/8 pitch_a=75 pitch_b=75",
        ),
    ),
)
