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
from collections.abc import Iterator

from parts.cached import cached_property
from parts.errors import GeometryError, Problem
from parts.geometry import Corner, Loop, Point, circle, fillet, polygon, rotation, toward
from parts.geometry.figure import polar
from parts.profile import Dimension, Opening, Profile
from parts.spec import Preset, Template, angle, count, length
from parts.templates.silhouette.shared.hanging import CAUTIONS, Hung, hang_choice, hung, seed
from parts.tolerance import LIMIT_SLACK_MM

ORIGIN = (0.0, 0.0)
SHORTER = 0.42
"""Of a variant: how much shorter the pairs between first and last may be, as a share of their length."""


class SilhouetteSnowflake(Hung):
    """The middle is at the origin, one arm straight up; an arm's own frame has it along x."""

    arms: int = count("Arms", default=6, minimum=4, maximum=8, group="Outline", moves="care")
    diameter: float = length("Diameter over the arms", default=260, minimum=60, maximum=2500)
    arm_width: float = length("Width of the arms", default=14, minimum=4, maximum=200, moves="free")
    tip_radius: float = length("Radius at the ends' corners", default=3, minimum=0.5, maximum=100, moves="free")
    notch_radius: float = length("Radius in the corners", default=3, minimum=0, maximum=100, moves="free")
    pairs: int = count("Pairs of branches on an arm", default=3, minimum=1, maximum=6, group="Branches", moves="care")
    branch_width: float = length(
        "Width of the branches", default=11, minimum=3, maximum=200, group="Branches", moves="free"
    )
    branch_angle: float = angle(
        "Branches to the arm", default=60, minimum=35, maximum=85, group="Branches", moves="free"
    )
    first_branch: float = length(
        "First pair from the middle", default=56, minimum=5, maximum=1200, group="Branches", moves="free"
    )
    last_branch: float = length(
        "Last pair from the middle",
        default=104,
        minimum=6,
        maximum=1240,
        group="Branches",
        when=("pairs", "2"),
        moves="free",
    )
    first_length: float = length(
        "Branches of the first pair", default=26, minimum=3, maximum=800, group="Branches", moves="free"
    )
    last_length: float = length(
        "Branches of the last pair",
        default=20,
        minimum=3,
        maximum=800,
        group="Branches",
        when=("pairs", "2"),
        moves="free",
    )
    middle: float = length("Hole in the middle", default=16, minimum=0, maximum=800, group="Outline", moves="free")
    seed: int = seed()
    hang: str = hang_choice("lug")

    @cached_property
    def branches(self) -> tuple[tuple[float, float], ...]:
        """Where the middle of each branch leaves the arm's side, and how long it is beyond the arm's side."""
        chance, made = self.chance(), []
        for i in range(self.pairs):
            share = i / (self.pairs - 1) if self.pairs > 1 else 0.0
            reach = self.first_length + share * (self.last_length - self.first_length)
            reach *= 1 - SHORTER * chance.random() if self.seed and 0 < share < 1 else 1.0
            made.append((self.first_branch + share * (self.last_branch - self.first_branch), reach))
        return tuple(made)

    @cached_property
    def side(self) -> list[tuple[Point, bool]]:
        """The corners of an arm's left side from the tip inward, in its frame, and whether each is an outside one."""
        half, w, turn = self.arm_width / 2, self.branch_width, math.radians(self.branch_angle)
        c, s = math.cos(turn), math.sin(turn)
        corners = [((self.diameter / 2, half), True)]
        for at, reach in reversed(self.branches):
            up = w / 2 / s  # half of what the branch takes of the arm's side
            end = at + reach * c, half + reach * s
            corners += [
                ((at + up, half), False),
                ((end[0] + w / 2 * s, end[1] - w / 2 * c), True),
                ((end[0] - w / 2 * s, end[1] + w / 2 * c), True),
                ((at - up, half), False),
            ]
        return corners

    @cached_property
    def corners(self) -> list[Corner | Point]:
        """The corners of the whole edge, counter-clockwise."""
        made: list[Corner | Point] = []
        step = math.pi / self.arms
        between = polar(self.arm_width / 2 / math.sin(step), step)
        arm = [((x, -y), out) for (x, y), out in reversed(self.side)] + self.side + [(between, False)]
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
        width = self.branch_width / math.sin(math.radians(self.branch_angle))  # along the arm's side
        outmost = self.branches[-1][0] + width / 2
        low += self.over("diameter", 2 * outmost, "for the last pair of branches to leave the arms")
        if self.pairs > 1:
            least = self.first_branch + (self.pairs - 1) * width
            low += self.over("last_branch", least, "for so many pairs of branches beside each other")
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

    def outside_sector(self, at: float, reach: float) -> float:
        """How far a branch reaches beyond the middle between two arms, negative where it stays on its side of it.

        An arm's half that stays there meets no other: its branches are parallel and leave it one after the other.
        """
        step, turn, half = math.pi / self.arms, math.radians(self.branch_angle), self.arm_width / 2
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
        turn = math.radians(self.branch_angle)
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
        if self.middle:
            yield Dimension("middle", ORIGIN, polar(self.middle / 2, -math.pi / 4), "diameter")


def outline(p: SilhouetteSnowflake) -> Profile:
    """Draw the snowflake and what holds it."""
    return hung(p)


TEMPLATE = Template(
    "silhouette-snowflake",
    "Snowflake",
    SilhouetteSnowflake,
    outline,
    summary="A snowflake: arms with pairs of branches, regular or one of thousands by number, to hang in a window.",
    cautions=CAUTIONS,
    sizes=("diameter",),
    words=(
        "winter", "christmas", "advent", "ornament", "crystal", "pendant", "window", "decoration", "wall art",
        "yard art", "xmas",
    ),
    presets=(
        Preset("Large, for the workshop gable", "diameter=700 arm_width=30 branch_width=24 first_branch=150 "
               "last_branch=270 first_length=70 last_length=50 middle=40 hole=11 eye=12 tip_radius=6 notch_radius=6"),
        Preset("Eight arms, two pairs", "arms=8 pairs=2 first_branch=66 first_length=20"),
        Preset("One of its own for the market stall", "seed=5 pairs=5 branch_width=6 tip_radius=2 notch_radius=2",
               inches="branch_width=3/16"),
    ),
)  # fmt: skip
