r"""Star: points evenly round, every tip and every valley an arc, tapered slots cut out along the ridges.

              ^  tip_radius
             /|\
    ________/ | \________
     `-._ \  \|/  / _.-'     the slots run from `hub` in the middle toward the tips,
         `-. (o) .-'         `bridge` of metal to both flanks at their ends
          / .-'-. \  valley_radius
         /.'     `.\         diameter over the tips, valley_diameter across the valleys
"""

import math
from collections.abc import Iterator

from parts.cached import cached_property
from parts.errors import GeometryError, Problem
from parts.geometry import Circle, Loop, Point, cross, fillet, meetings, polygon
from parts.geometry.figure import Pin, belt, polar, tangent
from parts.profile import Dimension, Opening
from parts.spec import Preset, Template, choice, count, length
from parts.templates.silhouette.shared.hanging import CAUTIONS, Hung, hang_choice, hung, seed
from parts.templates.silhouette.shared.tapered import straight
from parts.tolerance import PARALLEL_RAD

SHORTEST, SIDEWAYS = 0.45, 0.16
"""Of a variant: the least reach of a tip beyond the valleys and how far it strays, as shares of reach and pitch."""

LEAST_SLOT = 2.0
"""A slot is at least this many times as long as it is wide."""


class SilhouetteStar(Hung):
    """The middle is at the origin, one tip straight up."""

    points: int = count("Points", default=5, minimum=3, maximum=32, group="Outline", moves="care")
    diameter: float = length("Diameter of the circle round the tips", default=280, minimum=40, maximum=2500)
    valley_diameter: float = length(
        "Diameter of the circle in the valleys", default=120, minimum=10, maximum=2400,
        help="0.38 of the diameter makes five points as drawn in one stroke.", moves="free",
    )  # fmt: skip
    tip_radius: float = length("Radius of the tips", default=2.5, minimum=1, maximum=200, moves="free")
    valley_radius: float = length("Radius in the valleys", default=5, minimum=0, maximum=300, moves="free")
    seed: int = seed()
    slots: str = choice(
        "Cut out", default="facets", choices=("none", "ridges", "facets"), group="Slots",
        help="ridges: a slot along each. facets: one half of each point, as if the star stood out from the wall.",
    )  # fmt: skip
    slot_width: float = length(
        "Slots toward the middle",
        default=10,
        minimum=1,
        maximum=100,
        group="Slots",
        when=("slots", "ridges"),
        moves="free",
    )
    slot_end: float = length(
        "Slots toward the tips",
        default=4,
        minimum=1,
        maximum=100,
        group="Slots",
        when=("slots", "ridges"),
        moves="free",
    )
    hub: float = length(
        "Metal in the middle",
        default=44,
        minimum=4,
        maximum=2000,
        group="Slots",
        when=("slots", "ridges"),
        moves="free",
    )
    bridge: float = length(
        "Metal beside the slots", default=7, minimum=1, maximum=200, group="Slots", when=("slots",), moves="free"
    )
    hang: str = hang_choice("lug")

    @cached_property
    def tips(self) -> tuple[tuple[float, float], ...]:
        """Angle and reach of each tip, counter-clockwise from the upper one, which always has full reach."""
        pitch, full, chance = 2 * math.pi / self.points, self.diameter / 2, self.chance()
        made = [(math.pi / 2, full)]
        for i in range(1, self.points):
            angle, reach = math.pi / 2 + i * pitch, full
            if self.seed:
                angle += SIDEWAYS * pitch * (2 * chance.random() - 1)
                least = self.valley_diameter / 2 + SHORTEST * (full - self.valley_diameter / 2)
                reach = least + (full - least) * chance.random()
            made.append((angle, reach))
        return tuple(made)

    @cached_property
    def gaps(self) -> tuple[float, ...]:
        """The angle from each tip to the next."""
        angles = [angle for angle, _ in self.tips]
        return tuple((b - a) % (2 * math.pi) for a, b in zip(angles, [*angles[1:], angles[0]], strict=True))

    @cached_property
    def pins(self) -> list[Pin]:
        """Centres and radii of tips and valleys in turn."""
        made = []
        for (angle, reach), gap in zip(self.tips, self.gaps, strict=True):
            made.append(Pin(polar(reach - self.tip_radius, angle), self.tip_radius))
            valley = self.valley_diameter / 2 + self.valley_radius
            made.append(Pin(polar(valley, angle + gap / 2), -self.valley_radius))
        return made

    @cached_property
    def figure(self) -> Loop:
        """The star's edge."""
        return belt(self.pins)

    @cached_property
    def ridges(self) -> tuple[tuple[Circle, Circle], ...]:
        """Both ends of each slot: at the hub, and where the bridge is left to the nearer flank.

        Beside the ray along the ridge, in the direction a, a flank through P in the direction u leaves
        cross(u, s a - P) at the distance s; that is solved for s.
        """
        clear, made = self.bridge + self.slot_end / 2, []
        for (angle, _), (before, after) in zip(self.tips, self.flanks, strict=True):
            away = polar(1.0, angle)
            reach = min((clear + cross(*u, *p)) / cross(*u, *away) for p, u in (before, after))
            foot = (self.hub + self.slot_width) / 2
            made.append((Circle(polar(foot, angle), self.slot_width), Circle(polar(reach, angle), self.slot_end)))
        return tuple(made)

    @cached_property
    def flanks(self) -> list[tuple[tuple[Point, Point], tuple[Point, Point]]]:
        """For each tip a point and the direction of the flank before and after it."""
        both = []
        for i in range(0, len(self.pins), 2):
            before = _flank(self.pins[i - 1], self.pins[i])
            both.append((before, _flank(self.pins[i], self.pins[i + 1])))
        return both

    @property
    def cut_outs(self) -> tuple[Opening, ...]:
        """The slots, or the facets."""
        if self.slots == "facets":
            return tuple(Opening(loop, "facet", "bridge") for loop in self.facets)
        return tuple(Opening(straight(*ends), "slot", "slot_width") for ends in self.ridges) if self.has_slots else ()

    @cached_property
    def facets(self) -> tuple[Loop, ...]:
        """The left half of each point: a bridge from its flank, half of one from its ridge and from the valley's line.

        Raises:
            GeometryError: if one has no room.
        """
        made, half = [], self.bridge / 2
        for (angle, _), gap, (_, after) in zip(self.tips, self.gaps, self.flanks, strict=True):
            ridge, valley = polar(1.0, angle), polar(1.0, angle + gap / 2)
            lines = (
                ((-half * ridge[1], half * ridge[0]), ridge),
                (_aside(after, self.bridge), after[1]),
                ((half * valley[1], -half * valley[0]), valley),
            )
            made.append(polygon([fillet(*_crossing(lines[i - 1], lines[i]), self._facet_radius) for i in range(3)]))
        return tuple(made)

    @property
    def _facet_radius(self) -> float:
        return max(self.valley_radius / 2, self.tip_radius)

    @property
    def has_slots(self) -> bool:
        """Whether slots are cut."""
        return self.slots == "ridges"

    def figure_problems(self) -> Iterator[Problem]:
        """Yield where tips or valleys have no room beside each other, then where the slots have none."""
        half = min(self.gaps) / 2
        sine, shortest = math.sin(half), min(reach for _, reach in self.tips)
        outline = [
            *self.at_most("valley_diameter", self.diameter * 0.95, "to leave points"),
            *self.under("tip_radius", shortest * sine / (1 + sine), "for the tips to stand apart"),
        ]
        if not outline and sine < 1:
            most = self.valley_diameter / 2 * sine / (1 - sine)
            outline += self.at_most("valley_radius", most, "for the valleys to stand apart")
        yield from outline
        if outline:
            return
        try:
            _ = self.figure
        except GeometryError:
            yield self.problem("valley_diameter", "leaves no points with these radii; it must be smaller, or they.")
            return
        if self.has_slots:
            yield from self._slot_problems(half)
        elif self.slots == "facets":
            yield from self._facet_problems()

    def _facet_problems(self) -> Iterator[Problem]:
        try:
            sound = all(loop.counter_clockwise for loop in self.facets)
        except (GeometryError, ZeroDivisionError):
            sound = False
        if not sound or any(meetings([self.figure, *self.facets])):
            yield self.tight("bridge", "beside the facets, with their rounds")

    def _slot_problems(self, half: float) -> Iterator[Problem]:
        yield from self.at_most("slot_end", self.slot_width, "to be no wider than toward the middle")
        least = (self.bridge + self.slot_width) / math.sin(half) - self.slot_width
        crowded = [*self.at_least("hub", least, "to part the slots by a bridge")]
        yield from crowded
        if crowded:
            return
        for (foot, end), both in zip(self.ridges, self.flanks, strict=True):
            beside = min(_beside(flank, foot.centre) for flank in both)
            apart = math.hypot(*end.centre) - math.hypot(*foot.centre)
            if beside < self.bridge + self.slot_width / 2 or apart < LEAST_SLOT * self.slot_width:
                yield self.tight("slot_width", "beside hub and bridges")
                return

    def figure_dimensions(self) -> Iterator[Dimension]:
        """Yield the star's lengths: round the second tip and its valley, along the first slot."""
        angle = self.tips[0][0]
        yield Dimension("diameter", (0, 0), polar(self.diameter / 2, angle), "diameter")
        valley = self.pins[3 if self.points > 3 else 1].at
        low = polar(self.valley_diameter / 2, math.atan2(valley[1], valley[0]))
        yield Dimension("valley_diameter", (0, 0), low, "diameter")
        tip, heading = self.pins[-2].at, self.tips[-1][0]
        out = polar(self.tip_radius, heading)
        yield Dimension("tip_radius", tip, (tip[0] + out[0], tip[1] + out[1]), "radius")
        if self.valley_radius:
            yield Dimension("valley_radius", valley, low, "radius")
        if self.has_slots:
            yield from self._slot_dimensions()
        elif self.slots == "facets":
            flank = self.flanks[1][1]
            yield Dimension("bridge", flank[0], _aside(flank, self.bridge), "along")

    def _slot_dimensions(self) -> Iterator[Dimension]:
        (foot, end), (angle, _) = self.ridges[1], self.tips[1]
        for name, circle in (("slot_width", foot), ("slot_end", end)):
            (x, y), (ox, oy) = circle.centre, polar(circle.diameter / 2, angle + math.pi / 2)
            yield Dimension(name, (x - ox, y - oy), (x + ox, y + oy), "along")
        yield Dimension("hub", (0, 0), polar(self.hub / 2, self.tips[-1][0]), "diameter")
        nearer = min(self.flanks[1], key=lambda flank: _beside(flank, end.centre))
        (x, y), (_, u) = end.centre, nearer
        ends = [(x + d * u[1], y - d * u[0]) for d in (end.diameter / 2, _beside(nearer, end.centre))]
        yield Dimension("bridge", ends[0], ends[1], "along")


def _aside(flank: tuple[Point, Point], away: float) -> Point:
    """A point so far on the left of a flank."""
    (x, y), (ux, uy) = flank
    return x - away * uy, y + away * ux


def _crossing(one: tuple[Point, Point], other: tuple[Point, Point]) -> Point:
    """Where two lines cross, each through a point in a direction.

    Raises:
        GeometryError: if they don't.
    """
    ((x, y), (ux, uy)), ((px, py), (vx, vy)) = one, other
    sine = cross(ux, uy, vx, vy)
    if abs(sine) <= PARALLEL_RAD:
        raise GeometryError("The point has no flank.")
    along = cross(px - x, py - y, vx, vy) / sine
    return x + along * ux, y + along * uy


def _beside(flank: tuple[Point, Point], at: Point) -> float:
    """How far a point is on the left of a flank."""
    (px, py), (ux, uy) = flank
    return cross(ux, uy, at[0] - px, at[1] - py)


def _flank(first: Pin, last: Pin) -> tuple[Point, Point]:
    """A point of the flank between two pins, and its direction."""
    line = tangent(first, last)
    return line.start, line.heading


TEMPLATE = Template(
    "silhouette-star",
    "Star",
    SilhouetteStar,
    hung,
    summary="A star of three points and more, round in tips and valleys, slots along its ridges, hung or on a stake.",
    cautions=CAUTIONS,
    sizes=("diameter",),
    words=(
        "ornament", "garden", "christmas", "advent", "barn star", "pendant", "yard art", "decoration", "wall art",
        "xmas",
    ),
    presets=(
        Preset("Barn star for the workshop gable", "diameter=900 valley_diameter=360 tip_radius=6 valley_radius=12 "
               "slot_width=26 slot_end=10 hub=130 bridge=22 hole=11 eye=14 blend_radius=15 thickness=4"),
        Preset("Garden stake, eight points", "points=8 diameter=220 valley_diameter=110 slot_width=6 hub=50 "
               "bridge=5 hang=none foot=stake"),
        Preset("Tree ornament", "diameter=120 valley_diameter=50 slots=none hole=5 eye=4 thickness=2"),
        Preset("Twinkling one, nine uneven points", "points=9 seed=4 slots=none diameter=240 valley_diameter=100"),
    ),
)  # fmt: skip
