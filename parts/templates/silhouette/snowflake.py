r"""Snowflake: arms evenly round, each with pairs of side branches, every tip and every notch an arc.

        |
      \ | /        tip_radius rounds the ends, notch_radius the corners between arm and branch
  \    \|/    /
---\----|----/---  arm_width, branch_width; the branches leave the arms at branch_angle
    \  /|\  /
     `' | `'       the lowest pair starts at first_branch from the middle, the highest is `last` of the way
    .   |   .      out to the tip, and as long as last_length
"""

import math
import random
from collections.abc import Iterator

from parts.cached import cached_property
from parts.errors import GeometryError, Problem
from parts.geometry import Corner, Loop, Point, circle, fillet, polygon, rotation, toward
from parts.geometry.figure import polar
from parts.profile import Dimension, Opening
from parts.spec import Preset, Template, angle, count, length
from parts.templates.silhouette.shared.hanging import CAUTIONS, Hung, hang_choice, hung, seed
from parts.tolerance import LIMIT_SLACK_MM

ORIGIN = (0.0, 0.0)
SHORTER, STRAY = 0.75, 0.45
"""Of a variant: how much shorter a pair between first and last may be, as a share of its length, and how far it may
stray, as a share of what is free to the next."""
LEFT_OUT, LEAN = 0.4, 10.0
"""Of a variant: how likely a pair between first and last is left out; by how much less its branches may lean off the
arm, in degrees."""
LEANS, ROOM = (1.0, 0.6, 0.3), 0.98
"""Shares of that which are tried, and how much of the way from a pair to the next one may take."""
MORE = 1.1
"""How much longer the shortest branch is than its rounds."""
PLATES = (0.0, 1.0), (0.7, 1.0)
"""Of a variant: how large the plates in the middle and at the ends are, from and to, as shares of what is typed; none
where that is too small for its rounds."""


class SilhouetteSnowflake(Hung):
    """The middle is at the origin, one arm straight up; an arm's own frame has it along x."""

    arms: int = count("Arms", default=6, minimum=4, maximum=8, group="Outline", moves="care")
    diameter: float = length("Diameter of the circle through the arms' ends", default=280, minimum=60, maximum=2500)
    arm_width: float = length("Width of the arms", default=14, minimum=4, maximum=200, moves="free")
    tip_radius: float = length("Radius at the ends' corners", default=3, minimum=0.5, maximum=100, moves="free")
    notch_radius: float = length("Radius in the corners", default=2.5, minimum=0, maximum=100, moves="free")
    pairs: int = count("Pairs of branches on an arm", default=4, minimum=1, maximum=6, group="Branches", moves="care")
    branch_width: float = length(
        "Width of the branches", default=8, minimum=3, maximum=200, group="Branches", moves="free"
    )
    branch_angle: float = angle(
        "Branches to the arm", default=60, minimum=35, maximum=85, group="Branches", moves="free"
    )
    first_branch: float = length(
        "First pair from the middle", default=52, minimum=5, maximum=1200, group="Branches", moves="free"
    )
    last_branch: float = length(
        "Last pair from the middle",
        default=106,
        minimum=6,
        maximum=1240,
        group="Branches",
        when=("pairs", "2"),
        moves="free",
    )
    first_length: float = length(
        "Branches of the first pair", default=28, minimum=3, maximum=800, group="Branches", moves="free"
    )
    last_length: float = length(
        "Branches of the last pair",
        default=15,
        minimum=3,
        maximum=800,
        group="Branches",
        when=("pairs", "2"),
        moves="free",
    )
    middle_plate: float = length(
        "Plate in the middle, from corner to corner", default=78, minimum=0, maximum=1200, group="Plates",
        help="Its corners are between the arms. 0 for none.", moves="free",
    )  # fmt: skip
    side_plate: float = length(
        "Plates on the arms' ends, across", default=24, minimum=0, maximum=400, group="Plates", help="0 for none.",
        moves="free",
    )  # fmt: skip
    middle: float = length("Hole in the middle", default=16, minimum=0, maximum=800, group="Outline", moves="free")
    seed: int = seed()
    hang: str = hang_choice("lug")

    @property
    def is_symmetric(self) -> bool:
        """Yes: one arm is straight up, and each is alike on both sides."""
        return True

    @cached_property
    def branches(self) -> tuple[tuple[float, float], ...]:
        """Where the middle of each branch leaves the arm's side, and how long it is beyond the arm's side."""
        chance, made, half = self.chance(), [], self.branch_width / 2
        step = (self.last_branch - self.first_branch) / max(self.pairs - 1, 1)
        for i in range(self.pairs):
            share = i / (self.pairs - 1) if self.pairs > 1 else 0.0
            reach = self.first_length + share * (self.last_length - self.first_length)
            at = self.first_branch + i * step
            if self.seed and 0 < share < 1:
                if chance.random() < LEFT_OUT:
                    continue
                least = self.notch_radius / math.tan(self.lean / 2) + self.tip_radius + half / math.tan(self.lean)
                reach = max(reach * (1 - SHORTER * chance.random()), min(reach, MORE * least))
                at += STRAY * max(step - self._root - self._rounds, 0.0) * (2 * chance.random() - 1)
            made.append((at, reach))
        return tuple(made)

    @cached_property
    def lean(self) -> float:
        """How far the branches are turned off the arm, in radians."""
        less = LEAN * random.Random(self.seed + 0.5).random() if self.seed else 0.0  # noqa: S311 - it draws
        step = (self.last_branch - self.first_branch) / max(self.pairs - 1, 1)
        for share in LEANS:
            lean = math.radians(max(self.branch_angle - share * less, 35.0))
            if self.pairs == 1 or self._takes(lean) <= ROOM * step:
                return lean
        return math.radians(self.branch_angle)

    def _takes(self, lean: float) -> float:
        """How much of an arm's side a branch takes with its rounds, at a lean."""
        half = lean / 2
        return self.branch_width / math.sin(lean) + self.notch_radius * (math.tan(half) + 1 / math.tan(half))

    @property
    def _rounds(self) -> float:
        """How much of an arm's side the rounds on both sides of a branch take."""
        half = self.lean / 2
        return self.notch_radius * (math.tan(half) + 1 / math.tan(half))

    @property
    def _root(self) -> float:
        """How much of an arm's side a branch takes."""
        return self.branch_width / math.sin(self.lean)

    @cached_property
    def plates(self) -> tuple[float, float]:
        """Where the corners of the plate in the middle are, from there; and how wide the plates at the ends are."""
        chance, half, step = self.chance(), self.arm_width / 2, math.pi / self.arms
        chance.random()
        core, side = (low + (high - low) * chance.random() if self.seed else 1.0 for low, high in PLATES)
        least_core = (half + self.notch_radius + self.tip_radius * math.tan(step)) / math.sin(step)
        least_side = self.arm_width + self.tip_radius + self.notch_radius
        core_reach, side_width = core * self.middle_plate / 2, side * self.side_plate
        return (
            core_reach if core_reach > least_core else half / math.sin(step),
            side_width if side_width > least_side else self.arm_width,
        )

    @cached_property
    def side(self) -> list[tuple[Point, bool]]:
        """The corners of an arm's left side from the tip inward, in its frame, and whether each is an outside one."""
        half, w, turn = self.arm_width / 2, self.branch_width, self.lean
        c, s = math.cos(turn), math.sin(turn)
        corners: list[tuple[Point, bool]] = [((self.diameter / 2, half), True)]
        plate = self.plates[1] / 2
        if plate > half + LIMIT_SLACK_MM:  # a rhomb with its end cut off
            tip = self.diameter / 2
            corners = [((tip, half), True), ((tip - plate, plate), True), ((tip - 2 * plate, half), False)]
        for at, reach in reversed(self.branches):
            up = w / 2 / s  # half of what the branch takes of the arm's side
            end = at + reach * c, half + reach * s
            corners += [
                ((at + up, half), False),
                ((end[0] + w / 2 * s, end[1] - w / 2 * c), True),
                ((end[0] - w / 2 * s, end[1] + w / 2 * c), True),
                ((at - up, half), False),
            ]
        if self._has_core:
            corners.append(((self.core_edge, half), False))
        return corners

    @property
    def _has_core(self) -> bool:
        return self.plates[0] > self.arm_width / 2 / math.sin(math.pi / self.arms) + LIMIT_SLACK_MM

    @property
    def core_edge(self) -> float:
        """How far from the middle the edges of the plate there are."""
        return self.plates[0] * math.cos(math.pi / self.arms)

    @cached_property
    def corners(self) -> list[Corner | Point]:
        """The corners of the whole edge, counter-clockwise."""
        made: list[Corner | Point] = []
        step = math.pi / self.arms
        core, _ = self.plates
        between = [(polar(core, step), self._has_core)]
        arm = [((x, -y), out) for (x, y), out in reversed(self.side)] + self.side + between
        for i in range(self.arms):
            turn = rotation(math.pi / 2 + 2 * i * step)
            for at, outside in arm:
                made.append(fillet(*turn.point(at), self.tip_radius if outside else self.notch_radius))
        return made

    @cached_property
    def figure(self) -> Loop:
        """The edge of the snowflake."""
        return polygon(self.corners)

    @property
    def cut_outs(self) -> tuple[Opening, ...]:
        """The hole in the middle."""
        return (Opening(circle(ORIGIN, self.middle), "hole in the middle", "middle"),) if self.middle else ()

    def figure_problems(self) -> Iterator[Problem]:
        """Yield where arms, branches and radii have no room."""
        low = [
            *self.at_most("tip_radius", min(self.arm_width, self.branch_width) / 2, "for arms and branches so narrow"),
            *self.under("middle", self.arm_width / math.sin(math.pi / self.arms), "to leave metal round it"),
        ]
        width = self.branch_width / math.sin(self.lean)  # along the arm's side
        outmost = self.branches[-1][0] + width / 2
        plate = self.plates[1] if self.plates[1] > self.arm_width + LIMIT_SLACK_MM else 0.0
        low += self.over("diameter", 2 * (outmost + plate), "for the last pair of branches to leave the arms")
        if self._has_core:
            low += self.over("first_branch", self.core_edge + width / 2, "to stand off the plate in the middle")
        if self.pairs > 1:
            least = self.first_branch + (self.pairs - 1) * width
            low += self.over("last_branch", least, "for so many pairs of branches beside each other")
        low += self._plate_problems()
        yield from low
        if low:
            return
        if any(self.outside_sector(at, reach) > -LIMIT_SLACK_MM for at, reach in self.branches):
            yield self.problem(
                "first_length", "makes branches meet; they must be shorter or narrower, or start further out."
            )
            return
        try:
            _ = self.figure
        except GeometryError:
            yield self.problem("pairs", "have no room on the arm, with their width and the radii.")

    def _plate_problems(self) -> Iterator[Problem]:
        """Yield a problem for each plate that is asked for and too small to be seen."""
        regular = self.changed(seed=0)
        if self.middle_plate and not regular._has_core:
            yield self.problem(
                "middle_plate", "must be more to stand out between the arms, or 0 for none.", {"middle_plate": "0"}
            )
        if self.side_plate and regular.plates[1] <= self.arm_width:
            message = "must be more to stand out from the arms, or 0 for none."
            yield self.problem("side_plate", message, {"side_plate": "0"})

    def outside_sector(self, at: float, reach: float) -> float:
        """How far a branch reaches beyond the middle between two arms, negative where it stays on its side of it.

        An arm's half that stays there meets no other: its branches are parallel and leave it one after the other.
        """
        step, turn, half = math.pi / self.arms, self.lean, self.arm_width / 2
        w, r = self.branch_width / 2, self.tip_radius
        along, across = reach - r, w - r
        end = at + along * math.cos(turn), half + along * math.sin(turn)
        off = end[1] * math.cos(step) - end[0] * math.sin(step)
        foot = half * math.cos(step) - (at - w / math.sin(turn)) * math.sin(step)
        return max(off + across * abs(math.cos(turn - step)) + r, foot)

    def figure_dimensions(self) -> Iterator[Dimension]:
        """Yield the lengths of the upper arm and of its branches, on the left."""
        up, half = rotation(math.pi / 2), self.arm_width / 2
        left = rotation(math.pi / 2 - 2 * math.pi / self.arms)
        yield Dimension("diameter", ORIGIN, left.point((self.diameter / 2, 0.0)), "diameter")
        x = self.diameter / 2 - self.tip_radius
        yield Dimension("arm_width", left.point((x, -half)), left.point((x, half)), "along")
        turn = self.lean
        c, s = math.cos(turn), math.sin(turn)
        for name, (at, reach) in zip(("first", "last"), (self.branches[0], self.branches[-1]), strict=True):
            if name == "last" and self.pairs == 1:
                continue
            yield Dimension(f"{name}_branch", ORIGIN, up.point((at, half)), "right")
            end = at + reach * c, half + reach * s
            yield Dimension(f"{name}_length", up.point((at, half)), up.point(end), "along")
        at, reach = self.branches[0]
        end, w = (at + reach * c, half + reach * s), self.branch_width / 2
        ends = (end[0] + w * s, end[1] - w * c), (end[0] - w * s, end[1] + w * c)
        yield Dimension("branch_width", up.point(ends[0]), up.point(ends[1]), "along")
        centre = self.diameter / 2 - self.tip_radius, half - self.tip_radius
        rim = centre[0] + self.tip_radius * math.sqrt(0.5), centre[1] + self.tip_radius * math.sqrt(0.5)
        yield Dimension("tip_radius", left.point(centre), left.point(rim), "radius")
        if r := self.notch_radius:
            lower, x = rotation(math.pi / 2 + 4 * math.pi / self.arms), at - w / s  # w is half the branch's width here
            into = x - r * math.tan(turn / 2), half + r
            ends = lower.point(into), lower.point(toward(into, (x, half), r))
            yield Dimension("notch_radius", *ends, "radius")
        if self._has_core and not self.seed:
            step = math.pi / self.arms
            corner = rotation(math.pi / 2).point(polar(self.middle_plate / 2, step))
            yield Dimension("middle_plate", ORIGIN, corner, "diameter")
        if self.side_plate > self.arm_width and not self.seed:
            x, half = self.diameter / 2 - self.side_plate / 2, self.side_plate / 2
            yield Dimension("side_plate", left.point((x, -half)), left.point((x, half)), "along")
        if self.middle:
            yield Dimension("middle", ORIGIN, polar(self.middle / 2, -math.pi / 4), "diameter")


TEMPLATE = Template(
    "silhouette-snowflake",
    "Snowflake",
    SilhouetteSnowflake,
    hung,
    summary="A snowflake: arms with pairs of branches, regular or one of thousands by number, to hang in a window.",
    cautions=CAUTIONS,
    sizes=("diameter",),
    words=(
        "winter", "christmas", "advent", "ornament", "crystal", "pendant", "window", "decoration", "wall art",
        "yard art", "xmas",
    ),
    presets=(
        Preset("Large, for a gable", "pairs=3 diameter=700 arm_width=30 branch_width=24 first_branch=150 "
               "last_branch=250 first_length=90 last_length=40 middle_plate=210 side_plate=60 middle=40 hole=11 eye=12 "
               "tip_radius=6 notch_radius=6"),
        Preset("Eight arms, two pairs", "arms=8 pairs=2 first_branch=70 first_length=24 middle_plate=110"),
        Preset("One of its own for the market stall", "seed=5 branch_width=6 tip_radius=2 notch_radius=2",
               inches="branch_width=3/16"),
    ),
)  # fmt: skip
