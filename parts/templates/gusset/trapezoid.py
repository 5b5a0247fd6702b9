r"""Trapezoidal gusset: a long edge to one member, a short one to the other, blunt ends at the long edge.

          offset   top
             ______________
            / o          o \      hole rows along either edge, back_mark in from it,
           /                \     the end holes `first` from the ends of their edge
    height/        O         \
         |  o             o   |   lightening hole midway up
     toe |____________________|
                 base
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Arc, Corner, Loop, Point, fillet, largest_fillet, polygon, row
from parts.profile import Dimension, Profile
from parts.spec import Preset, Template, bolt, count, length
from parts.templates.gusset.shared.lightening import Lightened
from parts.templates.shared.bolt_holes import BoltHoles
from parts.tolerance import LIMIT_SLACK_MM


class GussetTrapezoid(Lightened, BoltHoles):
    """The left end of the base is at the origin, the base along x."""

    base: float = length("Long edge", default=160, minimum=25, maximum=2000)
    top: float = length("Short edge", default=80, minimum=10, maximum=2000)
    height: float = length("Height", default=100, minimum=15, maximum=1500, help="From edge to edge.")
    offset: float = length(
        "Short edge in from the left end", default=40, minimum=0, maximum=2000, help="0: the left side stands square."
    )
    toe: float = length("Blunt ends of the long edge", default=12, minimum=0, maximum=300, moves="free")
    corner_radius: float = length("Corner radius", default=4, minimum=0, maximum=200, group="Corners", moves="free")
    holes_base: int = count("Holes along the long edge", default=0, minimum=0, maximum=12)
    holes_top: int = count("Holes along the short edge", default=0, minimum=0, maximum=12)
    first: float = length(
        "End holes from the ends of their edge",
        default=20,
        minimum=2,
        maximum=500,
        group="Holes",
        when=[("holes_base", "2"), ("holes_top", "2")],
    )
    back_mark: float = length(
        "Hole centres in from their edge",
        default=22,
        minimum=2,
        maximum=500,
        group="Holes",
        when=[("holes_base",), ("holes_top",)],
        moves="care",
    )
    bolt: str = bolt("Bolt", default="M10", diameter="hole", when=[("holes_base",), ("holes_top",)])

    @property
    def corners(self) -> list[Corner]:
        """The outline counter-clockwise from the left end of the base."""
        r, left, right = self.corner_radius, self.offset, self.offset + self.top
        corners = [fillet(0, 0, r), fillet(self.base, 0, r)]
        if self.toe and self.base - right > LIMIT_SLACK_MM:
            corners.append(fillet(self.base, self.toe, r))
        corners += [fillet(right, self.height, r), fillet(left, self.height, r)]
        if self.toe and left:
            corners.append(fillet(0, self.toe, r))
        return corners

    @property
    def rows(self) -> tuple[tuple[Point, ...], tuple[Point, ...]]:
        """Centres of the holes along the base and along the top; a single one stands in the middle."""
        level, left, right = self.height - self.back_mark, self.offset, self.offset + self.top
        low, high = (self.first, self.back_mark), (self.base - self.first, self.back_mark)
        return (
            row(low, high, self.holes_base) if self.holes_base else (),
            row((left + self.first, level), (right - self.first, level), self.holes_top) if self.holes_top else (),
        )

    @property
    def middle(self) -> Point:
        """Where the lightening hole stands: midway between the sides, halfway up."""
        return (self.base + 2 * self.offset + self.top) / 4, self.height / 2

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the short edge doesn't stand over the long one, or toes and radius take a side."""
        clash = [
            *self.at_most("top", self.base, "to be the short edge"),
            *self.under("toe", self.height, "to leave the sides a slope"),
        ]
        clash = clash or list(
            self.at_most("offset", self.base - self.top, "for the short edge to end over the long one")
        )
        yield from clash
        if clash:
            return
        yield from self.at_most("corner_radius", largest_fillet(self.corners), "to fit between the corners")
        yield from self._row_problems()
        low, high = self.rows
        yield from self.lightening_problems(self.middle, self.lightening_room, (*low, *high), self.hole_size)

    def _row_problems(self) -> Iterator[Problem]:
        """Yield a problem where a hole leaves the gusset or runs into the next of its row."""
        d, rows = self.hole_size, (("base", self.base, self.holes_base), ("top", self.top, self.holes_top))
        if self.holes_base or self.holes_top:
            yield from self.over("back_mark", d / 2, "to stay inside its edge")
            yield from self.under("back_mark", self.height - d / 2, "to stay inside the gusset")
        for name, edge, holes in rows:
            if holes < 2:
                continue
            clash = [
                *self.over("first", self._least_first(name), "inside the sides"),
                *self.under("first", (edge - d) / 2, "to keep metal between the holes"),
            ]
            yield from clash
            between = edge - 2 * self.first
            if not clash and between / (holes - 1) <= d:
                fitting = math.ceil(between / d)
                yield self.problem(f"holes_{name}", f"must be at most {fitting} on this edge.")

    def _least_first(self, edge: str) -> float:
        """How far in from the ends of its edge an end hole must be to stay a radius inside the sides."""
        level = self.back_mark if edge == "base" else self.height - self.back_mark
        half, least = self.hole_size / 2, -math.inf
        for run in self.leans:
            lean = run / (self.height - self.toe)
            side = max(half, lean * (level - self.toe) + half * math.hypot(lean, 1))
            least = max(least, side if edge == "base" else side - run)
        return least

    @property
    def leans(self) -> tuple[float, float]:
        """How far the left side and the right one lean in over all."""
        return self.offset, self.base - self.offset - self.top

    @property
    def lightening_room(self) -> float:
        """From the middle of the lightening hole to the nearest edge."""
        x, y = self.middle
        sides = []
        for run, away in zip(self.leans, (x, self.base - x), strict=True):
            lean = run / (self.height - self.toe)
            sides += [away, (away - lean * (y - self.toe)) / math.hypot(lean, 1)]
        return min(y, *sides)


def outline(p: GussetTrapezoid) -> Profile:
    """Draw the gusset, its hole rows and the lightening hole."""
    low, high = p.rows
    inside = (
        *p.holes_at(low, "hole in the long edge", "holes_base"),
        *p.holes_at(high, "hole in the short edge", "holes_top"),
        *p.lightening_opening(p.middle),
    )
    edge = polygon(p.corners)
    return Profile((edge,), inside, dimensions=tuple(dimensions(p, edge)))


def dimensions(p: GussetTrapezoid, edge: Loop) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    right = p.offset + p.top
    yield Dimension("base", (0, 0), (p.base, 0), "below")
    yield Dimension("top", (p.offset, p.height), (right, p.height), "above")
    yield Dimension("height", (0, 0), (p.offset, p.height), "left")
    if p.offset:
        yield Dimension("offset", (0, p.toe), (p.offset, p.height), "above")
    if p.toe and len(p.corners) > 4:
        yield Dimension("toe", (p.base, 0), (p.base, p.toe), "right")
    for arc in [segment for segment in edge.segments if isinstance(segment, Arc)][:1]:
        yield Dimension("corner_radius", arc.centre, arc.at(0.5), "radius")
    yield from hole_dimensions(p)
    yield from p.lightening_measured(p.middle)


def hole_dimensions(p: GussetTrapezoid) -> Iterator[Dimension]:
    """Yield those of the hole rows, along the base where it has what is measured, else along the top."""
    low, high = p.rows
    if len(low) > 1:
        yield Dimension("first", (0, 0), low[0], "below")
    elif len(high) > 1:
        yield Dimension("first", (p.offset, p.height), high[0], "above")
    if low:
        yield Dimension("back_mark", (low[-1][0], 0), low[-1], "right")
    elif high:
        yield Dimension("back_mark", high[-1], (high[-1][0], p.height), "right")
    if at := (*low, *high)[:1]:
        yield from p.hole_measured(at[0])


TEMPLATE = Template(
    "gusset-trapezoid",
    "Trapezoidal gusset",
    GussetTrapezoid,
    outline,
    summary="Spreads a narrow member over a wide one: blunt ends, a square side if wanted, holes along either edge.",
    cautions=(
        "A gusset in a structure or a vehicle carries load: have its size, welds and bolts settled by a "
        "qualified engineer under the local code.",
    ),
    sizes=("base", "height"),
    words=("trapezium", "fishplate", "cheek", "web", "splice", "brace", "foot plate"),
    presets=(
        Preset("Trailer crossmember to rail", "base=220 top=100 height=120 offset=60 thickness=8 toe=18 lightening=50"),
        Preset("Garden bench, leg to foot rail", "base=90 top=40 height=60 offset=25 toe=8 thickness=4"),
        Preset(
            "Trail sign post, bolted cheek",
            "base=200 top=110 height=140 offset=45 holes_base=3 holes_top=2 first=25 back_mark=25",
        ),
        Preset("Table leg, square side to the leg", "base=140 top=70 offset=0 height=120 lightening=40 bolt=M8"),
    ),
)
