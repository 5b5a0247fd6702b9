r"""Adapter plate: two hole patterns that don't match, each a circle or a rectangle with its own bolt, and a bore.

      ________________
     / o     .      o \     first:  a rectangle (x by y, four holes) or a circle of holes
    |    .        .    |    second: the same, with its own bolt; turned by its own angle
    |       ( )        |    bore: round hole in the middle
    |    .        .    |    form: a round or a rectangular plate
     \_o_____.______o_/
           width

Angles are counter-clockwise from the x axis.
"""

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from typing import ClassVar

from parts.errors import Problem
from parts.geometry import Loop, Point, bolt_circle, circle, circles, distance, rectangle
from parts.profile import Dimension, DimensionStyle, Opening, Profile, openings
from parts.spec import (
    BY_DIAMETER,
    Preset,
    Template,
    When,
    angle,
    bolt,
    bolt_mm,
    choice,
    count,
    fit,
    hole_diameter,
    length,
)
from parts.templates.shared.hole_making import WorkedHoles, hole_kind, where_worked
from parts.templates.shared.lettered import Lettered
from parts.tolerance import LIMIT_SLACK_MM

FIRST, SECOND = "First pattern", "Second pattern"
PATTERNS = ("rectangle", "circle")


class PlateAdapter(WorkedHoles, Lettered):
    """The middle of both patterns and of the plate is at the origin."""

    hole_groups: ClassVar[Mapping[str, tuple[str, str]]] = {
        "first_bolt": ("first_hole_kind", "first"),
        "second_bolt": ("second_hole_kind", "second"),
    }
    optional: ClassVar[tuple[str, ...]] = (
        "first_hole_kind",
        "second_hole_kind",
    )
    shared_when: ClassVar[Mapping[str, When]] = where_worked("first_hole_kind", "second_hole_kind")

    form: str = choice("Form of the plate", default="rectangle", choices=("rectangle", "round"))
    width: float = length("Width, or diameter", default=160, minimum=20, maximum=2000)
    height: float = length("Height", default=160, minimum=20, maximum=2000, when=("form", "rectangle"))
    corner_radius: float = length(
        "Corner radius", default=10, minimum=0, maximum=300, when=("form", "rectangle"), moves="free"
    )
    bore: float = length("Bore", default=50, minimum=0, maximum=1800, help="0 for none.")
    fit: str = fit(of=("first_bolt", "second_bolt"))
    first: str = choice("First pattern", default="rectangle", choices=PATTERNS, group=FIRST)
    first_x: float = length(
        "First pattern, hole to hole across",
        default=120,
        minimum=3,
        maximum=1900,
        group=FIRST,
        when=("first", "rectangle"),
    )
    first_y: float = length(
        "First pattern, hole to hole up", default=120, minimum=3, maximum=1900, group=FIRST, when=("first", "rectangle")
    )
    first_circle: float = length(
        "Bolt circle of the first pattern",
        default=120,
        minimum=3,
        maximum=1900,
        group=FIRST,
        help="Diameter of a circle of holes.",
        when=("first", "circle"),
    )
    first_holes: int = count(
        "Holes on the first circle", default=4, minimum=2, maximum=48, group=FIRST, when=("first", "circle")
    )
    first_turn: float = angle("First pattern turned by", default=0, minimum=-180, maximum=180, group=FIRST)
    first_bolt: str = bolt("Bolt of the first pattern", default="M10", diameter="first_hole", group=FIRST)
    first_hole: float = length(
        "Hole diameter of the first pattern",
        default=11,
        minimum=1,
        maximum=200,
        group=FIRST,
        help="Where the bolt is by diameter.",
    )
    second: str = choice("Second pattern", default="circle", choices=PATTERNS, group=SECOND)
    second_x: float = length(
        "Second pattern, hole to hole across",
        default=80,
        minimum=3,
        maximum=1900,
        group=SECOND,
        when=("second", "rectangle"),
    )
    second_y: float = length(
        "Second pattern, hole to hole up",
        default=80,
        minimum=3,
        maximum=1900,
        group=SECOND,
        when=("second", "rectangle"),
    )
    second_circle: float = length(
        "Bolt circle of the second pattern",
        default=90,
        minimum=3,
        maximum=1900,
        group=SECOND,
        help="Diameter of a circle of holes.",
        when=("second", "circle"),
    )
    second_holes: int = count(
        "Holes on the second circle", default=4, minimum=2, maximum=48, group=SECOND, when=("second", "circle")
    )
    second_turn: float = angle("Second pattern turned by", default=0, minimum=-180, maximum=180, group=SECOND)
    second_bolt: str = bolt(
        "Bolt of the second pattern", default="M8", inches="3/8", diameter="second_hole", group=SECOND
    )
    second_hole: float = length(
        "Hole diameter of the second pattern",
        default=9,
        minimum=1,
        maximum=200,
        group=SECOND,
        help="Where the bolt is by diameter.",
    )
    first_hole_kind: str = hole_kind("first_bolt", "Holes of the first pattern are made")
    second_hole_kind: str = hole_kind("second_bolt", "Holes of the second pattern are made")

    def size(self, which: str) -> float:
        """Diameter of the holes of the `first` or the `second` pattern."""
        return hole_diameter(getattr(self, f"{which}_bolt"), self.fit, getattr(self, f"{which}_hole"))

    def setting(self, which: str) -> str:
        """The parameter that sets how far out a pattern is."""
        return f"{which}_circle" if getattr(self, which) == "circle" else f"{which}_x"

    def centres(self, which: str) -> tuple[Point, ...]:
        """Centres of the holes of a pattern; the first on a circle is at its turn from the x axis."""
        turn = math.radians(getattr(self, f"{which}_turn"))
        if getattr(self, which) == "circle":
            return bolt_circle((0, 0), getattr(self, f"{which}_circle"), getattr(self, f"{which}_holes"), turn)
        x, y = getattr(self, f"{which}_x") / 2, getattr(self, f"{which}_y") / 2
        c, s = (math.cos(turn), math.sin(turn)) if turn else (1.0, 0.0)
        return tuple((c * a - s * b, s * a + c * b) for a, b in ((-x, -y), (x, -y), (x, y), (-x, y)))

    @property
    def rim(self) -> Loop:
        """The edge of the plate."""
        if self.form == "round":
            return circle((0, 0), self.width)
        return rectangle((-self.width / 2, -self.height / 2), self.width, self.height, self.corner_radius)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where holes meet each other, the bore or the edge of the plate."""
        sound = True
        if self.form == "rectangle":
            clash = [*self.at_most("corner_radius", min(self.width, self.height) / 2, "on half of the shorter side")]
            sound = not clash
            yield from clash
        smallest = self.width if self.form == "round" else min(self.width, self.height)
        bore = [*self.under("bore", smallest, "to leave a plate around it")]
        yield from bore
        for which in ("first", "second"):
            yield from self._within(which)
            if not bore:
                yield from self._clear_of_bore(which)
            if sound:
                yield from self._on_the_plate(which)
        yield from self._apart()

    def _within(self, which: str) -> Iterator[Problem]:
        """Holes of one pattern keep apart: a rectangle's across and up, a circle's next to each other."""
        size = self.size(which)
        if getattr(self, which) == "rectangle":
            yield from self.over(f"{which}_x", size, "to keep metal between the holes")
            yield from self.over(f"{which}_y", size, "to keep metal between the holes")
        else:
            least = size / math.sin(math.pi / getattr(self, f"{which}_holes"))
            yield from self.over(f"{which}_circle", least, "to keep metal between the holes")

    def _clear_of_bore(self, which: str) -> Iterator[Problem]:
        out = math.hypot(*self.centres(which)[0])
        if self.bore and out - self.size(which) / 2 <= self.bore / 2:
            most, why = 2 * out - self.size(which), f"to clear the holes of the {which} pattern"
            if most <= LIMIT_SLACK_MM:
                yield self.problem("bore", f"must be 0 {why}: they reach the middle.")
            else:
                yield from self.under("bore", most, why)

    def _on_the_plate(self, which: str) -> Iterator[Problem]:
        centres, r = self.centres(which), self.size(which) / 2
        beyond = max(self._beyond(at, r) for at in centres)
        if beyond > LIMIT_SLACK_MM:
            yield self.tight(self.setting(which), "on the plate", beyond)
            return
        rim = self.rim
        for at in centres:
            edge = min(distance(segment.nearest(at), at) for segment in rim.segments)
            if not rim.contains(at) or edge <= r:
                yield self.tight(self.setting(which), "on the plate")
                return

    def _beyond(self, at: Point, r: float) -> float:
        """How far a hole reaches beyond the plate's box: then it isn't on the plate, whatever its corners."""
        x, y = self.width / 2, (self.width if self.form == "round" else self.height) / 2
        return max(abs(at[0]) + r - x, abs(at[1]) + r - y)

    def _apart(self) -> Iterator[Problem]:
        least = (self.size("first") + self.size("second")) / 2
        nearest = min(distance(a, b) for a, b in itertools.product(self.centres("first"), self.centres("second")))
        if nearest <= least:
            yield self.problem(
                "second_turn" if self.second == "circle" else "second_x",
                f"puts holes of both patterns {self.say(nearest, least)} apart; they must be more than "
                f"{self.say(least, nearest)} apart, centre to centre. Turn one pattern, or change its size.",
            )


def outline(p: PlateAdapter) -> Profile:
    """Draw the plate, both patterns and the bore."""
    inside: tuple[Opening, ...] = ()
    if p.bore:
        inside = (Opening(circle((0, 0), p.bore), "bore", "bore"),)
    for which in ("first", "second"):
        loops = circles(p.centres(which), p.size(which))
        inside += openings(
            loops, f"hole in the {which} pattern", p.setting(which), bolt_mm(getattr(p, f"{which}_bolt"))
        )
    return Profile((p.rim,), inside, dimensions=tuple(dimensions(p)))


def dimensions(p: PlateAdapter) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    x, y, r, slant = p.width / 2, p.height / 2, p.corner_radius, math.sqrt(0.5)
    if p.form == "round":
        yield Dimension("width", (0, 0), (x * slant, -x * slant), "diameter")
    else:
        yield Dimension("width", (-x, -y), (x, -y), "below")
        yield Dimension("height", (-x, -y), (-x, y), "left")
        if r:
            yield Dimension("corner_radius", (x - r, y - r), (x - r + r * slant, y - r + r * slant), "radius")
    if p.bore:
        yield Dimension("bore", (0, 0), (-p.bore / 2 * slant, p.bore / 2 * slant), "diameter")
    yield from pattern_dimensions(p, "first", p.centres("first"))
    yield from pattern_dimensions(p, "second", p.centres("second"))


def pattern_dimensions(p: PlateAdapter, which: str, centres: Sequence[Point]) -> Iterator[Dimension]:
    """Yield those of one pattern: a rectangle's sides, square to the plate or slanting, or the bolt circle."""
    if getattr(p, which) == "circle":
        yield Dimension(f"{which}_circle", (0, 0), centres[0], "diameter")
    else:
        below, right, above, left = itertools.pairwise((*centres, centres[0]))
        sides: tuple[tuple[Point, Point, DimensionStyle], ...] = (
            ((*below, "below"), (*right, "right")) if which == "first" else ((*above, "above"), (*left, "left"))
        )
        for name, (start, end, style) in zip((f"{which}_x", f"{which}_y"), sides, strict=True):
            yield Dimension(name, start, end, "along" if getattr(p, f"{which}_turn") else style)
    if getattr(p, f"{which}_bolt") == BY_DIAMETER:
        (x, y), out = centres[-1], p.size(which) / 2
        yield Dimension(f"{which}_hole", (x, y), (x - out, y), "diameter")


TEMPLATE = Template(
    "plate-adapter",
    "Adapter plate",
    PlateAdapter,
    outline,
    summary="Joins two hole patterns that don't match: circle or rectangle, each with its bolt, around a bore.",
    cautions=(
        "Between a wheel and a hub, in steering, brakes or lifting gear an adapter is no workshop part: leave it to "
        "who is licensed for that.",
        "Guard what turns; a plate that carries load is for a qualified engineer under the local code.",
    ),
    words=("mount", "conversion", "spacer", "bolt pattern", "flange", "interface", "motor", "gearbox", "pump"),
    presets=(
        Preset(
            "Winch to trailer drawbar",
            "width=200 height=140 first_x=160 first_y=90 first_bolt=M12 second=rectangle second_x=100 second_y=60 "
            "second_bolt=M10 bore=0 thickness=7",
            inches="second_x=3-1/2 second_y=2",
        ),
        Preset(
            "Garden pump to its stand, round",
            "form=round width=180 first=circle first_circle=150 second_turn=45 bore=40",
            inches="first_circle=5-1/2",
        ),
        Preset(
            "Sign post foot to old anchors, 1/2 and 3/8 in",
            "width=9in height=9in first_x=7in first_y=7in first_bolt=1/2 second=rectangle second_x=4in second_y=4in "
            "second_bolt=3/8 thickness=1/4in bore=2in",
        ),
        Preset(
            "Turntable to table of the workshop, six to four",
            "form=round width=260 first=circle first_circle=220 first_holes=6 second_circle=140 bore=80",
            inches="first_circle=8-1/2",
        ),
    ),
)
