r"""Flower: petals evenly round that go over into each other smoothly, a slot in each, dots round the middle.

     .-.   tip_radius
    ( | )
 .-. \|/ .-.    petal_width where a petal is widest, `widest` from the middle
(__-.(o).-__)   valley_radius between two petals
   .-/|\-.      the slots start at slot_from, `bridge` of metal at their ends
  (_/ | \_)
     `-'        diameter over the tips
"""

import math
from collections.abc import Iterator

from parts.cached import cached_property
from parts.errors import Problem
from parts.geometry import Circle, Loop, Point, Vertex, bolt_circle, circle, circles, distance, rotation, toward
from parts.geometry.figure import Touch, highest_seat, is_beside, polar
from parts.profile import Dimension, Opening, openings
from parts.spec import Preset, Template, angle, count, length
from parts.templates.silhouette.shared.hanging import CAUTIONS, Hung, hang_choice, hung
from parts.templates.silhouette.shared.tapered import arc_vertex, curved, straight
from parts.tolerance import LIMIT_SLACK_MM

ORIGIN = (0.0, 0.0)
DOTS = "Slots and dots"
LEAST_TURN = 4.0
"""Degrees below which a slot is straight."""


class SilhouetteFlower(Hung):
    """The middle is at the origin, one petal straight up; the petal's own frame has it along x."""

    petals: int = count("Petals", default=8, minimum=4, maximum=24, group="Outline", moves="care")
    diameter: float = length("Diameter of the circle round the tips", default=240, minimum=40, maximum=2500)
    petal_width: float = length("Petals at their widest", default=54, minimum=8, maximum=1200, moves="free")
    widest: float = length("Widest place from the middle", default=80, minimum=5, maximum=1200, moves="free")
    tip_radius: float = length(
        "Radius of the tips", default=14, minimum=1, maximum=500, help="Small for pointed petals.", moves="free"
    )
    valley_radius: float = length("Radius between the petals", default=3, minimum=1, maximum=300, moves="free")
    slot_width: float = length(
        "Petals' slots at their foot",
        default=5,
        minimum=0,
        maximum=100,
        group=DOTS,
        help="0 for no slots.",
        moves="free",
    )
    slot_end: float = length(
        "Slots at their end", default=8, minimum=1, maximum=100, group=DOTS, when=("slot_width",), moves="free"
    )
    slot_from: float = length(
        "Slots from the middle", default=46, minimum=2, maximum=1000, group=DOTS, when=("slot_width",), moves="free"
    )
    slot_turn: float = angle(
        "Slots turn by", default=64, minimum=0, maximum=80, group=DOTS, when=("slot_width",), moves="free",
        help="0 for straight ones; curved, the petals look turned over each other.",
    )  # fmt: skip
    bridge: float = length(
        "Metal round slots and dots",
        default=8,
        minimum=1,
        maximum=200,
        group=DOTS,
        when=[("slot_width",), ("dots",)],
        moves="free",
    )
    dots: int = count("Dots round the middle", default=8, minimum=0, maximum=36, group=DOTS, moves="care")
    dot: float = length(
        "Diameter of a dot", default=7, minimum=1, maximum=100, group=DOTS, when=("dots",), moves="free"
    )
    dot_ring: float = length(
        "Diameter of the dots' ring", default=52, minimum=4, maximum=1500, group=DOTS, when=("dots",), moves="free"
    )
    middle: float = length(
        "Hole in the middle", default=12, minimum=0, maximum=500, group=DOTS, help="Diameter, 0 for none.", moves="free"
    )
    hang: str = hang_choice("lug")

    @property
    def is_symmetric(self) -> bool:
        """Yes: one petal is straight up, and each is alike on both sides."""
        return True

    @property
    def half_pitch(self) -> float:
        """Half the angle from petal to petal."""
        return math.pi / self.petals

    @property
    def side_radius(self) -> float:
        """Radius of a petal's side: it is widest at `widest` and touches the tip's round from around it.

        With c from the widest place to the tip's centre: (R - t)² = c² + (R - w/2)².
        """
        w, t = self.petal_width, self.tip_radius
        c = self.diameter / 2 - t - self.widest
        return (c**2 + w**2 / 4 - t**2) / (w - 2 * t)

    @property
    def side_centre(self) -> Point:
        """Centre of the left side of a petal along x."""
        return self.widest, self.petal_width / 2 - self.side_radius

    @property
    def valley_centre(self) -> Point | None:
        """Centre of the round on the left of a petal: on the middle between two, its radius outside the side.

        None where petals are too narrow to come so near to each other.
        """
        (ex, ey), (sx, sy) = polar(1.0, self.half_pitch), self.side_centre
        along = sx * ex + sy * ey
        square = along**2 - sx**2 - sy**2 + (self.side_radius + self.valley_radius) ** 2
        return polar(along + math.sqrt(square), self.half_pitch) if square >= 0 else None

    @property
    def joints(self) -> tuple[Point, Point]:
        """Where the left side of a petal begins at the tip's round, and where it goes over into the valley's."""
        centre, valley, tip = self.side_centre, self.valley_centre or ORIGIN, (self.diameter / 2 - self.tip_radius, 0.0)
        start = toward(centre, tip, self.side_radius)
        return start, toward(centre, valley, self.side_radius)

    @cached_property
    def figure(self) -> Loop:
        """The edge of all petals."""
        (start, end), centre, valley = self.joints, self.side_centre, self.valley_centre or ORIGIN
        tip = self.diameter / 2 - self.tip_radius, 0.0
        flipped = (start[0], -start[1]), (end[0], -end[1])
        following = rotation(2 * self.half_pitch).point(flipped[1])
        petal: list[Vertex] = [
            arc_vertex(flipped[1], flipped[0], (centre[0], -centre[1]), 1),
            arc_vertex(flipped[0], start, tip, 1),
            arc_vertex(start, end, centre, 1),
            arc_vertex(end, following, valley, -1),
        ]
        turns = [rotation(math.pi / 2 + 2 * i * self.half_pitch) for i in range(self.petals)]
        return Loop.through((*turn.point((x, y)), bulge) for turn in turns for x, y, bulge in petal)

    @cached_property
    def slot_seat(self) -> Touch | None:
        """Where the outer end of the upright petal's slot is, a bridge from the edge, and the place nearest to it."""
        return highest_seat([self.figure], 0.0, self.bridge + self.slot_end / 2)

    @property
    def slot_ends(self) -> tuple[Circle, Circle]:
        """Both ends of the slot of a petal along x; without room for the outer one it is in the middle."""
        far = self.slot_seat.height if self.slot_seat else 0.0
        return Circle((self.slot_from + self.slot_width / 2, 0.0), self.slot_width), Circle((far, 0.0), self.slot_end)

    @property
    def slot_middle(self) -> Point:
        """The middle of the slot of a petal along x, on its arc."""
        foot, end = self.slot_ends
        long = end.centre[0] - foot.centre[0]
        return foot.centre[0] + long / 2, -long / 2 * math.tan(math.radians(self.slot_turn) / 4)

    @property
    def _slot(self) -> Loop:
        """The slot of a petal along x."""
        foot, end = self.slot_ends
        if self.slot_turn < LEAST_TURN:
            return straight(foot, end)
        return curved(foot, end, (end.centre[0] - foot.centre[0]) / 2 / math.sin(math.radians(self.slot_turn) / 2))

    @cached_property
    def cut_outs(self) -> tuple[Opening, ...]:
        """Slots, dots, and the hole in the middle."""
        made: tuple[Opening, ...] = ()
        if self.slot_width:
            turns = [rotation(math.pi / 2 + 2 * i * self.half_pitch) for i in range(self.petals)]
            made += openings((turn.loop(self._slot) for turn in turns), "slot", "slot_width")
        if self.dots:
            centres = bolt_circle(ORIGIN, self.dot_ring, self.dots, math.pi / 2)
            made += openings(circles(centres, self.dot), "dot", "dot")
        return (*made, Opening(circle(ORIGIN, self.middle), "hole in the middle", "middle")) if self.middle else made

    def figure_problems(self) -> Iterator[Problem]:
        """Yield what the petals don't allow, then what has no room in them."""
        half, sine = self.diameter / 2, math.sin(self.half_pitch)
        sizes = [
            *self.under("tip_radius", self.petal_width / 2, "to be less than half a petal's width"),
            *self.under("petal_width", self.diameter, "for a flower of this size"),
            *self.at_most("tip_radius", half * sine / (1 + sine), "for the tips to stand apart"),
        ]
        if not sizes:
            sizes += self.at_most("widest", half - self.petal_width / 2, "to round the petals off")
        yield from sizes
        if sizes:
            return
        if self.valley_centre is None:
            yield self.problem("petal_width", "must be more: so narrow, the petals don't meet.")
            return
        (start, end), (x, y) = self.joints, self.side_centre
        turns = [math.atan2(py - y, px - x) for px, py in (start, end)]
        if turns[1] <= turns[0] + 1e-3:
            yield self.problem("petal_width", "must be less: so wide, the petals leave no valleys between them.")
            return
        yield from self._cut_problems(distance(ORIGIN, self.valley_centre) - self.valley_radius)

    def _cut_problems(self, valley: float) -> Iterator[Problem]:
        if self.slot_width:
            yield from self._slot_problems()
        room = min(valley, self.slot_from) if self.slot_width else valley
        inner = self.middle / 2 + self.bridge if self.middle else 0.0
        if self.dots:
            yield from self.at_most("dot_ring", 2 * (room - self.bridge) - self.dot, "inside the slots and the petals")
            least = 2 * inner + self.dot
            if self.dots > 1:
                least = max(least, (self.dot + self.bridge) / math.sin(math.pi / self.dots))
            yield from self.at_least("dot_ring", least, "for the dots to part")
        elif self.middle:
            yield from self.at_most("middle", 2 * (room - self.bridge), "inside the slots and the petals")

    def _slot_problems(self) -> Iterator[Problem]:
        foot, end = self.slot_ends
        x, least = foot.centre[0], self.bridge + self.slot_width / 2
        narrow = 2 * x * math.sin(self.half_pitch) - self.slot_width < self.bridge - LIMIT_SLACK_MM
        if narrow or is_beside(self.figure, rotation(math.pi / 2).point(foot.centre), least - LIMIT_SLACK_MM):
            yield self.tight("slot_width", "at its foot, with the bridges")
        elif not self.slot_seat:
            yield self.tight("bridge", "beside the slots' ends")
        elif end.centre[0] - x < self.slot_end + self.slot_width:
            yield self.problem("slot_from", "leaves slots too short to show; it must be less, or the bridge.")
        elif self.slot_turn >= LEAST_TURN:
            middle = rotation(math.pi / 2).point(self.slot_middle)
            wide = self.bridge + max(self.slot_width, self.slot_end) / 2
            if is_beside(self.figure, middle, wide) or not self.figure.contains(middle):
                message = "brings the slots too near the petals' sides; it must be less, or 0 for straight ones."
                yield self.problem("slot_turn", message, {"slot_turn": "0"})

    def figure_dimensions(self) -> Iterator[Dimension]:
        """Yield the lengths of the petals, on the second and the last one, then of what is cut out."""
        up, left, right = (rotation(math.pi / 2 + 2 * i * self.half_pitch) for i in (0, 1, -1))
        half, w, tip = self.diameter / 2, self.petal_width / 2, self.diameter / 2 - self.tip_radius
        yield Dimension("diameter", ORIGIN, polar(half, math.pi / 2 - 4 * self.half_pitch), "diameter")
        yield Dimension("petal_width", left.point((self.widest, w)), left.point((self.widest, -w)), "along")
        yield Dimension("widest", ORIGIN, left.point((self.widest, 0.0)), "along")
        yield Dimension("tip_radius", right.point((tip, 0.0)), right.point((half, 0.0)), "radius")
        if valley := self.valley_centre:
            at = right.point(valley)
            yield Dimension("valley_radius", at, toward(at, ORIGIN, self.valley_radius), "radius")
        if self.slot_width:
            (a, wide), (b, end) = self.slot_ends
            down = rotation(math.pi / 2 + 2 * (self.petals // 2) * self.half_pitch)
            yield Dimension("slot_width", down.point(a), down.point((a[0], wide / 2)), "diameter")
            yield Dimension("slot_end", down.point(b), down.point((b[0], end / 2)), "diameter")
            yield Dimension("slot_from", ORIGIN, right.point((self.slot_from, 0.0)), "along")
            turn, seat = rotation(4 * self.half_pitch), self.slot_seat
            edge = seat.at if seat else up.point(b)
            ends = turn.point(toward(up.point(b), edge, end / 2)), turn.point(edge)
            yield Dimension("bridge", ends[0], ends[1], "along")
        if self.dots:
            yield Dimension("dot_ring", ORIGIN, polar(self.dot_ring / 2, math.pi * 0.8), "diameter")
            x, y = bolt_circle(ORIGIN, self.dot_ring, self.dots, math.pi / 2)[self.dots // 2]
            yield Dimension("dot", (x, y), (x + self.dot / 2, y), "diameter")
        if self.middle:
            yield Dimension("middle", ORIGIN, polar(self.middle / 2, math.pi / 4), "diameter")


TEMPLATE = Template(
    "silhouette-flower",
    "Flower",
    SilhouetteFlower,
    hung,
    summary="A flower for garden or wall: round or pointed petals with slots, dots round the middle, on a stake.",
    cautions=CAUTIONS,
    sizes=("diameter",),
    words=("blossom", "daisy", "rose", "garden", "ornament", "stake", "yard art", "petals", "decoration", "wall art"),
    presets=(
        Preset("Daisy on a stake for the herb bed", "petals=12 petal_width=38 widest=84 tip_radius=12 "
               "valley_radius=2 slot_width=0 dots=12 dot_ring=60 foot=stake foot_width=18 foot_length=220 hang=none",
               inches="petal_width=1-5/8"),
        Preset("Pointed, for the workshop gate", "petals=6 petal_width=68 tip_radius=3 widest=76 slot_from=42",
               inches="petal_width=2-7/8"),
        Preset("Five round petals for a bench back", "petals=5 diameter=150 petal_width=56 widest=47 tip_radius=23 "
               "slot_end=7 slot_from=30 dots=5 dot=6 dot_ring=32 middle=0 hang=none thickness=4",
               inches="dot=5/16 hole=5/16 slot_end=5/16"),
    ),
)  # fmt: skip
