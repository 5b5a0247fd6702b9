r"""Sunburst: a disc with long and short rays in turn, a ring of curved slots in the disc, a hole for a mirror or clock.

           |  tip_radius
       \   |   /
        \ .-. /      diameter over the long rays, short_diameter over the short ones
     ---.'.-.'.---   disc_diameter; ray_width where a ray leaves the disc, rounded by fillet_radius
        '.'-'.'      ring: curved slots, slot_width wide, parted by ties
        / '-' \      middle: a round opening
       /   |   \
"""

import math
from collections.abc import Iterator

from parts.cached import cached_property
from parts.errors import Problem
from parts.geometry import Circle, Loop, Point, Vertex, circle, rotation, toward
from parts.geometry.figure import Pin, polar, tangent
from parts.profile import Dimension, Opening
from parts.spec import Preset, Template, count, length
from parts.templates.silhouette.shared.hanging import CAUTIONS, Hung, hung, seed
from parts.templates.silhouette.shared.tapered import arc_vertex, curved
from parts.tolerance import LIMIT_SLACK_MM

ORIGIN = (0.0, 0.0)


class SilhouetteSunburst(Hung):
    """The middle is at the origin, a long ray straight up."""

    rays: int = count("Rays", default=16, minimum=4, maximum=48, group="Outline", moves="care")
    diameter: float = length("Diameter of the circle round the long rays", default=360, minimum=50, maximum=2500)
    short_diameter: float = length(
        "Diameter of the circle round the short rays", default=280, minimum=40, maximum=2500, moves="free"
    )
    disc_diameter: float = length("Diameter of the disc", default=170, minimum=20, maximum=2000, moves="free")
    ray_width: float = length("Rays at the disc", default=20, minimum=3, maximum=300, moves="free")
    tip_radius: float = length("Radius of the tips", default=2, minimum=1, maximum=100, moves="free")
    fillet_radius: float = length("Radius between ray and disc", default=3, minimum=0, maximum=100, moves="free")
    seed: int = seed()
    ties: int = count(
        "Slots in the ring",
        default=6,
        minimum=0,
        maximum=24,
        group="Ring",
        help="0 for no ring, else 3+.",
        moves="care",
    )
    ring: float = length(
        "Diameter of the ring's middle",
        default=132,
        minimum=8,
        maximum=1900,
        group="Ring",
        when=("ties",),
        moves="free",
    )
    slot_width: float = length(
        "Width of the ring's slots", default=7, minimum=1, maximum=200, group="Ring", when=("ties",), moves="free"
    )
    tie: float = length(
        "Metal between the slots", default=9, minimum=1, maximum=300, group="Ring", when=("ties",), moves="free"
    )
    middle: float = length(
        "Opening in the middle", default=0, minimum=0, maximum=1800, group="Ring",
        help="For a mirror, a clock or a lamp; diameter, 0 for none.", moves="free",
    )  # fmt: skip

    @cached_property
    def reaches(self) -> tuple[float, ...]:
        """Reach of each ray, counter-clockwise from the upper one: long and short in turn, or by chance between."""
        full, short, chance = self.diameter / 2, self.short_diameter / 2, self.chance()
        if self.seed:
            return full, short, *(short + (full - short) * chance.random() for _ in range(self.rays - 2))
        return tuple(short if i % 2 else full for i in range(self.rays))

    def side(self, reach: float) -> tuple[list[Vertex], Point]:
        """The left side of a ray along x, from its tip's arc to the disc, and the centre of its round into the disc.

        That centre is the radius outside the flank, and outside the disc: the inward of two such places along a
        parallel to the flank is further than the disc's far side, so it is the outward one.
        """
        t, r, disc = self.tip_radius, self.fillet_radius, self.disc_diameter / 2
        flank = tangent(Pin((reach - t, 0.0), t), Pin((disc, self.ray_width / 2), 0.0))
        ux, uy = flank.heading
        sx, sy = flank.start[0] + r * uy, flank.start[1] - r * ux
        along = -(sx * ux + sy * uy)
        k = along - math.sqrt(max((disc + r) ** 2 - (sx**2 + sy**2 - along**2), 0.0))
        centre = sx + k * ux, sy + k * uy
        foot = centre[0] - r * uy, centre[1] + r * ux
        share = disc / (disc + r)
        on_disc = centre[0] * share, centre[1] * share
        into = arc_vertex(foot, on_disc, centre, -1) if r else (*foot, 0.0)
        return [(*flank.start, 0.0), into, (*on_disc, 0.0)], centre

    @cached_property
    def figure(self) -> Loop:
        """The edge of disc and rays."""
        pitch, vertices = 2 * math.pi / self.rays, list[Vertex]()
        sides = {reach: self.side(reach)[0] for reach in set(self.reaches)}
        for i, reach in enumerate(self.reaches):
            (start, into, end), turn = sides[reach], rotation(math.pi / 2 + i * pitch)
            following = sides[self.reaches[(i + 1) % self.rays]][2]
            to_next = pitch - math.atan2(end[1], end[0]) - math.atan2(following[1], following[0])
            tip = 2 * math.atan2(start[1], start[0] - reach + self.tip_radius)
            half: list[Vertex] = [
                (end[0], -end[1], into[2]), (into[0], -into[1], 0.0), (start[0], -start[1], math.tan(tip / 4)),
                start, into, (end[0], end[1], math.tan(to_next / 4)),
            ]  # fmt: skip
            vertices += ((*turn.point((x, y)), bulge) for x, y, bulge in half[1 if into[:2] == end[:2] else 0 :])
        return Loop.through(vertices)

    @cached_property
    def slot_ends(self) -> list[tuple[Point, Point]]:
        """Centres of the ends of each slot of the ring, right one first."""
        if not self.ties:
            return []
        radius, pitch = self.ring / 2, 2 * math.pi / self.ties
        half = pitch / 2 - math.asin((self.tie + self.slot_width) / self.ring)
        middles = [math.pi / 2 + i * pitch for i in range(self.ties)]
        return [(polar(radius, a - half), polar(radius, a + half)) for a in middles]

    @cached_property
    def cut_outs(self) -> tuple[Opening, ...]:
        """The ring's slots and the opening in the middle."""
        ends, made = self.slot_ends, []
        for p, q in ends:
            loop = curved(Circle(p, self.slot_width), Circle(q, self.slot_width), self.ring / 2)
            made.append(Opening(loop, "slot", "slot_width"))
        if self.middle:
            made.append(Opening(circle(ORIGIN, self.middle), "opening in the middle", "middle"))
        return tuple(made)

    def figure_problems(self) -> Iterator[Problem]:
        """Yield where rays have no room on the disc, or the ring none in it."""
        yield from self.at_most("short_diameter", self.diameter, "to be no longer than the long rays")
        yield from self.at_most("tip_radius", self.ray_width / 2, "for rays that don't widen")
        room = self.short_diameter - 2 * self.tip_radius - self.ray_width
        rays = [*self.at_most("disc_diameter", room, "for the short rays to stand out")]
        half_gap = math.pi / self.rays
        if not rays:
            rays += self.under("ray_width", self.disc_diameter * math.sin(half_gap), "for so many rays")
        yield from rays
        if not rays and self.tip_radius <= self.ray_width / 2 and self.short_diameter <= self.diameter:
            reaches = self.diameter / 2, self.short_diameter / 2
            sides = [self.side(reach) for reach in reaches]
            if any(math.atan2(y, x) > half_gap - LIMIT_SLACK_MM for _, (x, y) in sides):
                yield self.tight("fillet_radius", "between the rays")
            elif any(side[0][0] < side[1][0] for side, _ in sides):
                yield self.problem("fillet_radius", "is more than the flanks of the rays are long; it must be smaller.")
        yield from self._ring_problems()

    def _ring_problems(self) -> Iterator[Problem]:
        if self.ties:
            if self.ties < 3:
                yield self.problem("ties", "must be 0, or 3 and more: fewer don't hold the middle.")
                return
            beyond = [*self.under("ring", self.disc_diameter, "to lie in the disc")]
            yield from beyond or self.under("slot_width", self.disc_diameter - self.ring, "to leave a rim round it")
            least = (self.tie + self.slot_width) / math.sin(math.pi / self.ties)
            yield from self.over("ring", least + self.slot_width, "for so many slots and ties")
            yield from self.under("middle", self.ring - self.slot_width, "inside the ring")
        yield from self.under("middle", self.disc_diameter, "inside the disc")

    def figure_dimensions(self) -> Iterator[Dimension]:
        """Yield the lengths of disc and rays, then of the ring."""
        pitch, disc = 2 * math.pi / self.rays, self.disc_diameter / 2
        yield Dimension("diameter", ORIGIN, polar(self.diameter / 2, math.pi / 2), "diameter")
        second, last = rotation(math.pi / 2 + pitch), rotation(math.pi / 2 - pitch)
        yield Dimension("short_diameter", ORIGIN, second.point((self.short_diameter / 2, 0.0)), "diameter")
        _, (cx, cy) = self.side(self.reaches[-1])
        yield Dimension("disc_diameter", ORIGIN, polar(disc, math.pi / 2 - 2.5 * pitch), "diameter")
        half, tip = self.ray_width / 2, self.reaches[-1] - self.tip_radius
        yield Dimension("ray_width", second.point((disc, half)), second.point((disc, -half)), "along")
        yield Dimension("tip_radius", last.point((tip, 0.0)), last.point((self.reaches[-1], 0.0)), "radius")
        if r := self.fillet_radius:
            share = disc / (disc + r)
            ends = (cx, -cy), (cx * share, -cy * share)
            yield Dimension("fillet_radius", last.point(ends[0]), last.point(ends[1]), "radius")
        if self.middle:
            yield Dimension("middle", ORIGIN, polar(self.middle / 2, -math.pi / 4), "diameter")
        if self.ties:
            yield from self._ring_dimensions()

    def _ring_dimensions(self) -> Iterator[Dimension]:
        (start, _), (_, before) = self.slot_ends[0], self.slot_ends[-1]
        grown, half = 1 + self.slot_width / self.ring, self.slot_width / 2
        yield Dimension("ring", ORIGIN, polar(self.ring / 2, math.pi * 5 / 4), "diameter")
        yield Dimension("slot_width", start, (start[0] * grown, start[1] * grown), "diameter")
        yield Dimension("tie", toward(before, start, half), toward(start, before, half), "along")


TEMPLATE = Template(
    "silhouette-sunburst",
    "Sunburst",
    SilhouetteSunburst,
    hung,
    summary="A sun for a wall: long and short rays round a disc, a ring of slots, an opening for a mirror or a clock.",
    cautions=CAUTIONS,
    sizes=("diameter",),
    words=("sun", "rays", "ornament", "mirror frame", "clock", "wall art", "garden", "dial", "decoration", "yard art"),
    presets=(
        Preset("Mirror frame for the common room", "diameter=700 short_diameter=560 disc_diameter=360 rays=28 "
               "ray_width=24 ring=322 slot_width=10 tie=14 ties=8 middle=250 hang=lug hole=9 eye=9 blend_radius=10"),
        Preset("Sun on a stake for the herb bed", "rays=14 diameter=220 short_diameter=170 disc_diameter=110 "
               "ray_width=14 ties=0 hang=none foot=stake foot_width=16"),
        Preset("Clock face, twelve hours", "rays=12 disc_diameter=200 ring=160 ties=12 middle=11 ray_width=22"),
        Preset("Uneven rays by chance", "seed=7 rays=30 short_diameter=230 ray_width=11 ties=5"),
    ),
)  # fmt: skip
