"""What holds a silhouette: hanging holes or a lug above, a ground stake or a tab below; and its variant by number.

A silhouette's parameters are `Hung`. It gives its `figure`, an outside loop, its `cut_outs`, its own `figure_problems`
and `figure_dimensions`; its outline is `hung`. Where hole and foot stand is `hang_x` and `foot_x`.
"""

import math
import random
from collections.abc import Iterator
from typing import cast

from parts.cached import cached_property
from parts.errors import GeometryError, Problem
from parts.geometry import Box, Loop, Point, Vertex, centre_of_mass, circles, meetings, toward
from parts.geometry.figure import (
    Ring,
    Seam,
    Touch,
    attached,
    clearance_on,
    highest_touch,
    highest_within,
    ring_on,
    ringed,
    seam,
)
from parts.profile import Dimension, Opening, Profile, openings
from parts.spec import STOCK, choice, count, length, thickness
from parts.templates.silhouette.shared.plumb import level_seats
from parts.templates.silhouette.shared.sized import Sized
from parts.tolerance import LIMIT_SLACK_MM

HANG = ("none", "one", "two", "lug")
FOOT = ("none", "stake", "tab")
HANGING, FOOTING = "Hanging hole", "Stake or tab"

_LUG = ("edge", "lug_ring", "lug_height", "lug_seam")
_LUG_ROUNDS = 2
"""How often the place of a lug is reckoned anew; each time it is off by a small share of before."""

LEAST_NECK = 0.75
"""Least width of the neck under a ring, in widths of the metal around its hole."""

CAUTIONS = (
    "Blunt and deburr tips, edges and stake: what hangs or stands at the height of eyes or of children can injure.",
    "Hang it from fastenings that hold a multiple of its weight, and so that it can't swing off; outdoors the wind "
    "loads it too, and local rules may say where one may stand by a path.",
    "Before a stake is driven, make sure that no cable or pipe lies below.",
    "Water hangs at the lower edges and rusts them first: round them before painting.",
)
"""What holds for every silhouette."""


def hang_choice(default: str = "one") -> str:
    """Declare how it hangs."""
    hint = "one, two: holes in the figure, as high as the metal around them allows. lug: an eye on top of it."
    declared: str = choice("Hanging hole", default=default, choices=HANG, group=HANGING, help=hint)
    return declared


def hanging_hole(default: float) -> float:
    """Declare the diameter of the hanging hole."""
    declared: float = length(
        "Hanging hole's diameter", default=default, minimum=1, maximum=60, group=HANGING, when=("hang",), moves="care"
    )
    return declared


def metal_around(default: float) -> float:
    """Declare how much metal stands around the hanging hole."""
    declared: float = length(
        "Metal around the hanging hole",
        default=default, minimum=1, maximum=100, group=HANGING, when=("hang",), moves="free",
    )  # fmt: skip
    return declared


def seed(default: int = 0) -> int:
    """Declare the number of the variant: 0 for the regular figure, any other for one drawn by chance from it."""
    hint = "0 for the regular one. Every other number draws one of its own, always the same."
    declared: int = count("Variant", default=default, minimum=0, maximum=9999, group="Outline", help=hint)
    return declared


class Hung(Sized):
    """What silhouettes share; the figure's lower edge is below, its upper above."""

    hang: str = hang_choice()
    hole: float = hanging_hole(7)
    eye: float = metal_around(6)
    apart: float = length("Two holes apart", default=60, minimum=4, maximum=2000, group=HANGING, when=("hang", "two"))
    foot: str = choice(
        "Foot", default="none", choices=FOOT, group=FOOTING,
        help="stake: pointed, for the ground. tab: square, for a slot or to weld to a base.",
    )  # fmt: skip
    foot_width: float = length(
        "Width of the foot", default=20, minimum=3, maximum=300, group=FOOTING, when=("foot",), moves="care"
    )
    foot_length: float = length(
        "Foot below the figure", default=160, minimum=5, maximum=1500, group=FOOTING, when=("foot",), moves="care"
    )
    point_length: float = length(
        "Length of the stake's point",
        default=45,
        minimum=2,
        maximum=500,
        group=FOOTING,
        when=("foot", "stake"),
        moves="free",
    )
    point_width: float = length(
        "Blunt end of the point", default=4, minimum=1, maximum=100, group=FOOTING,
        help="A knife point melts, and injures.", when=('foot', 'stake'), moves="free"
    )  # fmt: skip
    blend_radius: float = length(
        "Radius from foot or lug into the figure",
        default=6,
        minimum=0,
        maximum=200,
        group=FOOTING,
        when=[("foot",), ("hang", "lug")],
        moves="free",
    )
    thickness: float = thickness("Thickness", default=3, minimum=0.3, maximum=150, group=STOCK)

    @cached_property
    def is_sound(self) -> bool:
        """Whether the figure can be drawn and doesn't cross itself."""
        try:
            return not any(meetings([self.figure]))
        except GeometryError:
            return False

    @property
    def figure(self) -> Loop:
        """The figure without lug and foot, counter-clockwise."""
        raise NotImplementedError

    @property
    def cut_outs(self) -> tuple[Opening, ...]:
        """What is cut out of the figure."""
        return ()

    @cached_property
    def hang_x(self) -> float:
        """Where the hole is, or the middle of two: straight above the centre of mass.

        Raises:
            GeometryError: if the figure, its foot or its lug can't be drawn.
        """
        return self.foot_x if self.is_symmetric else hang_x(self)

    @property
    def is_symmetric(self) -> bool:
        """Whether all of it, foot and lug too, is alike to the left and right of its foot."""
        return False

    @property
    def foot_x(self) -> float:
        """Where the foot is."""
        return 0.0

    def figure_problems(self) -> Iterator[Problem]:
        """Yield what of the figure itself doesn't go together."""
        yield from ()

    def figure_dimensions(self) -> Iterator[Dimension]:
        """Yield where each length of the figure can be measured."""
        yield from ()

    def chance(self) -> random.Random:
        """Return the source of a variant's chances, new from its start: the same numbers on every machine."""
        return random.Random(getattr(self, "seed", 0))  # noqa: S311 - it draws, it keeps no secret

    @cached_property
    def clear(self) -> float:
        """From the hole's centre to the edge of the metal around it."""
        return self.hole / 2 + self.eye

    @cached_property
    def floor(self) -> float:
        """Height of the figure's lowest point."""
        return self.figure.box[1]

    @cached_property
    def foot_seam(self) -> Seam:
        """Where the foot joins the figure.

        Raises:
            GeometryError: if the figure doesn't reach over the foot and its rounds.
        """
        return seam(self.figure, self.foot_x, self.foot_width, self.blend_radius)

    @cached_property
    def footed(self) -> Loop:
        """The figure with its foot.

        Raises:
            GeometryError: if it has no place.
        """
        return self.figure if self.foot == "none" else attached(self.figure, self.foot_seam, self._foot_end)

    @property
    def _foot_end(self) -> list[Vertex]:
        x, half, low = self.foot_x, self.foot_width / 2, self.floor - self.foot_length
        if self.foot == "tab":
            return [(x - half, low, 0.0), (x + half, low, 0.0)]
        blunt, shoulder = self.point_width / 2, low + self.point_length
        return [(x + a, y, 0.0) for a, y in ((-half, shoulder), (-blunt, low), (blunt, low), (half, shoulder))]

    @cached_property
    def lug_seam(self) -> Seam:
        """Where the lug joins the figure.

        Raises:
            GeometryError: if the figure doesn't reach under the lug and its rounds.
        """
        return seam(self.footed, self.hang_x, 2 * self.clear, self.blend_radius, -1)

    @cached_property
    def lug_height(self) -> float:
        """Height of the lug's hole: the figure's top there, or the rounds' ends, but clear of all cut-outs.

        Raises:
            GeometryError: if the figure isn't there.
        """
        x, rounds = self.hang_x, (self.lug_seam.left.height, self.lug_seam.right.height)
        top = max(highest_within(self.footed, x, self.clear), *rounds)
        return highest_touch((each.loop for each in self.cut_outs), x, self.clear, top)

    @cached_property
    def lug_ring(self) -> Ring | None:
        """How the lug stands as a ring on a tip narrower than it; None where it stands on upright sides.

        So it does where the figure carries it at full width, and where the tip is too slight for a ring.

        Raises:
            GeometryError: if it has no place.
        """
        found = ring_on(self.footed, (self.hang_x, self.lug_height), self.clear, self.blend_radius)
        return found if found and found.neck >= LEAST_NECK * self.eye else None

    @cached_property
    def edge(self) -> Loop:
        """The figure with foot and lug.

        Raises:
            GeometryError: if either has no place.
        """
        if self.hang != "lug":
            return self.footed
        x, r = self.hang_x, self.clear
        if found := self.__dict__.get("edge"):  # that of the lug there, by which its place was found
            return cast(Loop, found)
        if self.lug_ring:
            return ringed(self.footed, self.lug_ring)
        y = self.lug_height
        return attached(self.footed, self.lug_seam, [(x + r, y, 1.0), (x - r, y, 0.0)])

    @cached_property
    def seats(self) -> tuple[Touch, ...]:
        """Where the holes in the figure are, from the left, each with the place of the edge that is nearest to it.

        Raises:
            GeometryError: if one has no place with enough metal around it.
        """
        return level_seats(self._hung_in, self._hang_xs, self.clear)

    @property
    def _hang_xs(self) -> tuple[float, ...]:
        offsets = {"one": (0.0,), "two": (-self.apart / 2, self.apart / 2)}.get(self.hang, ())
        return tuple(self.hang_x + off for off in offsets)

    @cached_property
    def hang_centres(self) -> tuple[Point, ...]:
        """Centres of the hanging holes, from the left.

        Raises:
            GeometryError: if one has no place with enough metal around it.
        """
        if self.hang == "lug":
            return ((self.hang_x, self.lug_height),)
        return tuple((x, seat.height) for x, seat in zip(self._hang_xs, self.seats, strict=True))

    def shortfall(self, name: str) -> float:
        """Return by how much the hanging holes lack room, which takes less than whether the figure crosses itself."""
        if name != "hole" or self.hang == "none":
            return 0.0
        try:
            if (beyond := self._holes_beyond) > 0:
                return beyond
            return 0.0 if self.hang_centres else math.inf
        except GeometryError:
            return self._seat_lacks
        except (ArithmeticError, ValueError):
            return 0.0  # sizes at odds: that is told by the problems of the figure

    @property
    def _holes_beyond(self) -> float:
        """By how much two holes with the metal around them surely lack room in the width of the figure."""
        if self.hang != "two":
            return 0.0
        x0, _, x1, _ = self.footed.box
        return (self.apart + 2 * self.clear - (x1 - x0)) / 2

    @property
    def _seat_lacks(self) -> float:
        """By how much a hole that has no place in the figure lacks one, about; infinite where that can't be told."""
        try:
            return max(self.clear - self.hang_room, LIMIT_SLACK_MM) if self.hang != "lug" else math.inf
        except GeometryError:
            return math.inf

    @cached_property
    def hang_room(self) -> float:
        """How much may be clear around each hole in the figure, about.

        Raises:
            GeometryError: if the figure has no place for its foot.
        """
        return min(clearance_on(self._hung_in, x) for x in self._hang_xs)

    @property
    def _hung_in(self) -> list[Loop]:
        return [self.edge, *(opening.loop for opening in self.cut_outs)]

    def problems(self) -> Iterator[Problem]:
        """Yield what doesn't go together: the figure first, then, where it is sound, what holds it."""
        if self.is_sized:
            yield from self.size_problems()
            return
        figure = [*self.own_problems(), *self._hanging_sizes()]
        yield from figure
        if not figure:
            held = [*self._foot_problems()]
            yield from held
            yield from () if held else self._hole_problems()

    def own_problems(self) -> Iterator[Problem]:
        """Yield what of the figure and its foot doesn't go together, whatever its size."""
        yield from (*self.figure_problems(), *self._foot_sizes())

    @property
    def whole(self) -> Box:
        """The box of figure, foot and lug."""
        return self.edge.box

    def _hanging_sizes(self) -> Iterator[Problem]:
        if self.hang == "two":
            yield from self.over("apart", self.hole + self.eye, "to keep metal between the two holes")

    def _foot_sizes(self) -> Iterator[Problem]:
        if self.foot == "stake":
            yield from self.under("point_length", self.foot_length, "on a stake of this length")
            yield from self.at_most("point_width", self.foot_width, "to be no wider than the stake")

    def _foot_problems(self) -> Iterator[Problem]:
        if self.foot == "none":
            return
        try:
            joint = self.foot_seam
        except GeometryError:
            yield self.tight("foot_width", "on the figure, with the radius to both sides")
            return
        lowest = min(joint.left.height, joint.right.height)
        point = self.point_length if self.foot == "stake" else 0.0
        yield from self.over(
            "foot_length",
            self.floor - lowest + point,
            "below the radius into the figure",
        )

    def _hole_problems(self) -> Iterator[Problem]:
        try:
            _ = self.hang_centres
        except GeometryError:
            lug = "for its lug, with the radius to both sides, on the figure there"
            yield self.tight("hole", lug if self.hang == "lug" else "in the figure there, with the metal around it")


def hang_x(p: Hung) -> float:
    """Return the place straight above the centre of mass.

    Raises:
        GeometryError: if the figure, its foot or its lug can't be drawn.
    """
    loops = [opening.loop for opening in p.cut_outs]
    x, _ = centre_of_mass(p.footed, loops)
    for _ in range(_LUG_ROUNDS if p.hang == "lug" else 0):  # what joins lug and figure may be heavier on a side
        tried = p.changed()
        names = ("scale", "figure", "footed", "cut_outs")
        tried.keep({**{name: p.__dict__[name] for name in names if name in p.__dict__}, "hang_x": x})
        before, (x, _) = x, centre_of_mass(tried.edge, loops)
        if abs(x - before) <= LIMIT_SLACK_MM:
            p.keep({name: tried.__dict__[name] for name in _LUG if name in tried.__dict__})
            return before
    return x


def hung(p: Hung) -> Profile:
    """Draw the figure with what is cut out of it, its foot and its hanging holes."""
    if p.is_sized:
        return p.sized_profile(hung(p.sized))
    holes = openings(circles(p.hang_centres, p.hole), "hanging hole", "hole")
    dimensions = *p.figure_dimensions(), *_hole_dimensions(p), *_foot_dimensions(p)
    return Profile((p.edge,), (*p.cut_outs, *holes), (), dimensions)


def _hole_dimensions(p: Hung) -> Iterator[Dimension]:
    if not p.hang_centres:
        return
    (x, y), *more = p.hang_centres
    side = math.radians(30)
    yield Dimension("hole", (x, y), (x + p.hole / 2 * math.cos(side), y - p.hole / 2 * math.sin(side)), "diameter")
    at, near = ((x, y), (x, y + p.clear)) if p.hang == "lug" else _seated(p)
    yield Dimension("eye", toward(at, near, p.hole / 2), near, "along")
    for other in more:
        yield Dimension("apart", (x, y), other, "above")
    if p.hang == "lug" and p.foot == "none" and p.blend_radius:
        if p.lug_ring:
            centre = p.lug_ring.right.centre
            yield Dimension("blend_radius", centre, toward(centre, (x, y), p.blend_radius), "radius")
            return
        height = p.lug_seam.left.height
        yield Dimension("blend_radius", (x + p.clear + p.blend_radius, height), (x + p.clear, height), "radius")


def _seated(p: Hung) -> tuple[Point, Point]:
    """The centre of a hole that touches what is around it with its eye, and where."""
    return next((at, seat.at) for at, seat in zip(p.hang_centres, p.seats, strict=True) if seat.segment >= 0)


def _foot_dimensions(p: Hung) -> Iterator[Dimension]:
    if p.foot == "none":
        return
    x, half, low = p.foot_x, p.foot_width / 2, p.floor - p.foot_length
    shoulder = low + (p.point_length if p.foot == "stake" else 0.0)
    yield Dimension("foot_width", (x - half, shoulder), (x + half, shoulder), "below")
    yield Dimension("foot_length", (x - half, p.floor), (x - half, low), "left")
    if p.foot == "stake":
        blunt = p.point_width / 2
        yield Dimension("point_length", (x + blunt, low), (x + half, shoulder), "right")
        yield Dimension("point_width", (x - blunt, low), (x + blunt, low), "below")
    if p.blend_radius:
        height = p.foot_seam.right.height
        yield Dimension("blend_radius", (x + half + p.blend_radius, height), (x + half, height), "radius")
