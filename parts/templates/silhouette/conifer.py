r"""Conifer: tiers of drooping boughs on a trunk, every tip and every notch an arc, round baubles cut out.

            /\        tip_radius
           /  \
          /_  _\      each tier stands out beyond the notch below it by `undercut`,
          /    \      and its tips hang `droop` lower
         / o    \
        /__    __\    width over the lowest tips, height over all
          /  o \
         /______\
            ||        trunk_width, trunk_height
"""

import math
from collections.abc import Iterator
from itertools import pairwise

from parts.cached import cached_property
from parts.errors import GeometryError, Problem
from parts.geometry import Loop, Point, circles
from parts.geometry.figure import Pin, belt, is_beside, tangent
from parts.profile import Dimension, Opening, openings
from parts.spec import Preset, Template, count, length
from parts.templates.silhouette.shared.hanging import CAUTIONS, Hung, hung, seed
from parts.templates.silhouette.shared.kissing import bow
from parts.tolerance import LIMIT_SLACK_MM

SHORTER, HIGHER = 0.22, 0.2
"""Of a variant: how much shorter and how much higher a bough may be, as shares of its reach and of a tier."""

SWEEP, BELLY, HEM = 0.36, 0.28, 0.12
"""How far a bough's upper edge hollows, its lower one bellies out, and the hem of the lowest one hollows: half of what
the arc turns, in radians (by eye)."""

NECK, FLARE = 0.62, 0.2
"""How wide the trunk is under the boughs, of its foot; half of what its hollow side turns, in radians (by eye)."""

LEAST_BOW = 0.01
"""Half of the turn in radians below which an edge is straight."""

UPRIGHT, MOST_TURN = 0.7, math.radians(172)
"""How much of a flank's lean from upright its hollow may take up: the notch above stays the innermost place; how far
the edge may turn round a tip."""

TAPER = 0.8
"""How much less far than the lowest tips those of a tier that began at the top would reach (by eye)."""

LEAST_RIM_MM = 3.0
"""The least of metal round a bauble; what the process needs beyond that its rules say."""


class SilhouetteConifer(Hung):
    """The trunk stands on the x axis, its middle on the y axis."""

    height: float = length("Height of the tree", default=320, minimum=50, maximum=2500)
    width: float = length("Width over the lowest tips", default=200, minimum=30, maximum=2000)
    tiers: int = count("Tiers", default=4, minimum=1, maximum=12, group="Outline", moves="care")
    undercut: float = length(
        "Tips beyond the notch below", default=22, minimum=2, maximum=500, when=("tiers", "2"), moves="free"
    )
    droop: float = length("Tips below the notch", default=4, minimum=0, maximum=300, moves="free")
    tip_radius: float = length("Radius of the tips", default=3, minimum=1, maximum=100, moves="free")
    notch_radius: float = length("Radius in the notches", default=3, minimum=0, maximum=100, moves="free")
    trunk_width: float = length(
        "Width of the trunk at its foot", default=40, minimum=4, maximum=500, group="Trunk", moves="free"
    )
    trunk_height: float = length(
        "Trunk below the lowest tips", default=36, minimum=2, maximum=1000, group="Trunk", moves="free"
    )
    seed: int = seed()
    bauble: float = length(
        "Baubles' diameter",
        default=12,
        minimum=0,
        maximum=300,
        group="Baubles",
        help="0 for none; one a tier.",
        moves="free",
    )
    aside: float = length(
        "Baubles from the middle", default=12, minimum=0, maximum=500, group="Baubles", when=("bauble",), moves="free"
    )

    @property
    def pitch(self) -> float:
        """Height of a tier."""
        return (self.height - self.trunk_height) / self.tiers

    @cached_property
    def tips(self) -> tuple[tuple[Point, ...], tuple[Point, ...]]:
        """How far out and how high the tips are, from the lowest, on the right and on the left."""
        chance, sides = self.chance(), []
        for _ in range(2):
            side = [(self.width / 2, self.trunk_height)]
            for i in range(1, self.tiers):
                out, up = self.width / 2 * (1 - TAPER * i / self.tiers), self.trunk_height + i * self.pitch
                if self.seed:
                    out *= 1 - SHORTER * chance.random()
                    up += HIGHER * self.pitch * chance.random()
                side.append((out, up))
            sides.append(tuple(side))
        return sides[0], sides[1]

    def side(self, tips: tuple[Point, ...]) -> list[Pin]:
        """Return the pins of a side from the trunk up to below the top, as if it were the right one."""
        t, r = self.tip_radius, self.notch_radius
        pins = [Pin((NECK * self.trunk_width / 2 + r, tips[0][1] + self.droop), -r)]
        for i, (out, up) in enumerate(tips):
            if i:
                pins.append(Pin((out - self.undercut + r, up + self.droop), -r))
            pins.append(Pin((out - t, up), t))
        return pins

    def boughs(self, tips: tuple[Point, ...]) -> list[Pin]:
        """Return the pins of a side up to the top, with those that bow its edges.

        Raises:
            GeometryError: if two overlap.
        """
        pins = [*self.side(tips), Pin((0.0, self.height - self.tip_radius), self.tip_radius)]
        ways = [math.atan2(*reversed(tangent(*pair).heading)) for pair in pairwise(pins)]
        made, below = [pins[0]], -HEM
        for i, (first, last) in enumerate(pairwise(pins)):
            if i % 2:  # from a tip up to the next notch
                room = min(UPRIGHT * (ways[i] - math.pi / 2), MOST_TURN - (ways[i] - ways[i - 1]) + below)
                half, below = -min(SWEEP, max(room, 0.0)), BELLY
            else:
                half = below
            made += [bow(first, last, half), last] if abs(half) > LEAST_BOW else [last]
        return made

    @cached_property
    def figure(self) -> Loop:
        """The edge of the tree.

        Raises:
            GeometryError: if tips and notches overlap.
        """
        (*right, top), (*left, _) = (self.boughs(tips) for tips in self.tips)
        half = self.trunk_width / 2
        foot = Pin((half, 0.0), 0.0)
        right, left = ([bow(foot, side[0], -FLARE), *side] for side in (right, left))
        mirrored = [Pin((-x, y), r) for (x, y), r in reversed(left)]
        return belt([Pin((-half, 0.0), 0.0), foot, *right, top, *mirrored])

    @property
    def bauble_centres(self) -> tuple[Point, ...]:
        """Centres of the baubles, one a tier right and left in turn, none in the top one where there are more."""
        tiers = range(max(self.tiers - 1, 1))
        return tuple((self.aside * (-1) ** i, self.trunk_height + self.droop + (i + 0.45) * self.pitch) for i in tiers)

    @cached_property
    def cut_outs(self) -> tuple[Opening, ...]:
        """The baubles."""
        return openings(circles(self.bauble_centres, self.bauble), "bauble", "bauble") if self.bauble else ()

    def figure_problems(self) -> Iterator[Problem]:
        """Yield where trunk, tips and notches have no room, then where the baubles have none."""
        low = [*self.under("trunk_height", self.height * 0.9, "on a tree of this height")]
        low += self.under("trunk_width", self.width - 4 * self.tip_radius - 2 * self.notch_radius, "below the tips")
        low += self.under("droop", self.pitch, "to stay within a tier")
        low += self.over("trunk_height", self.tip_radius, "for the lowest tips to clear the ground")
        yield from low
        if low:
            return
        narrow: list[Problem] = []
        if self.tiers > 1:
            innermost = min(out for side in self.tips for out, _ in side[1:])
            narrow += self.under("undercut", innermost, "for the tree to hang together")
            narrow += self.over("undercut", 2 * self.tip_radius + self.notch_radius, "for tips to stand out")
        yield from narrow
        if narrow:
            return
        try:
            edge = self.figure
        except GeometryError:
            yield self.tight("tiers", "with these radii, undercut and droop")
            return
        if self.bauble:
            least = self.bauble / 2 + LEAST_RIM_MM - LIMIT_SLACK_MM
            centres = self.bauble_centres
            if any(not edge.contains(at) or is_beside(edge, at, least) for at in centres):
                yield self.tight("bauble", "in every tier")
            elif len(centres) > 1 and 2 * least > math.hypot(2 * self.aside, self.pitch):
                yield self.problem("bauble", "must be less to part one bauble from the next.")

    def figure_dimensions(self) -> Iterator[Dimension]:
        """Yield the lengths of the tree, on its right side those of its boughs."""
        (right, left), half = self.tips, self.trunk_width / 2
        t, r = self.tip_radius, self.notch_radius
        yield Dimension("height", (half, 0), (0, self.height), "left")
        yield Dimension("width", (-left[0][0], left[0][1]), right[0], "below")
        yield Dimension("trunk_width", (-half, 0), (half, 0), "below")
        yield Dimension("trunk_height", (half, 0), right[0], "right")
        out, up = right[-1]
        notch = (out - self.undercut, up + self.droop) if self.tiers > 1 else (NECK * half, up + self.droop)
        if self.tiers > 1:
            yield Dimension("undercut", notch, right[-1], "above")
        if self.droop:
            yield Dimension("droop", right[-1], notch, "right")
        yield Dimension("tip_radius", (0, self.height - t), (0, self.height), "radius")
        if r:
            yield Dimension("notch_radius", (notch[0] + r, notch[1]), notch, "radius")
        if self.bauble:
            (x, y), *_ = self.bauble_centres
            yield Dimension("bauble", (x, y), (x + self.bauble / 2, y), "diameter")
            yield Dimension("aside", (0, y), (x, y), "below")


TEMPLATE = Template(
    "silhouette-conifer",
    "Conifer",
    SilhouetteConifer,
    hung,
    summary="A fir tree in tiers of drooping boughs, regular or grown by chance, with baubles, on a tab or a stake.",
    cautions=CAUTIONS,
    words=(
        "fir", "pine", "spruce", "tree", "christmas", "forest", "garden", "ornament", "trail sign", "decoration",
        "wall art", "yard art", "xmas", "advent",
    ),
    presets=(
        Preset("Trail sign for the pine loop", "height=500 width=280 tiers=5 trunk_height=60 bauble=0 "
               "undercut=30 droop=10 hang=two apart=20 thickness=4", inches="hole=5/16"),
        Preset("Table ornament on a tab", "height=140 width=90 tiers=3 undercut=13 droop=3 tip_radius=2 notch_radius=2 "
               "trunk_width=18 trunk_height=14 bauble=8 aside=6 foot=tab foot_width=10 foot_length=12 "
               "blend_radius=1 hang=none", inches="blend_radius=1/16"),
        Preset("Grown by chance, on a stake", "seed=11 tiers=6 height=420 width=240 undercut=24 droop=6 "
               "bauble=0 foot=stake hang=none"),
    ),
)  # fmt: skip
