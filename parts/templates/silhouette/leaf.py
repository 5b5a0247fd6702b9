r"""Leaf: a drawn-out or plain tip, curved veins cut out, on a stem, on a ground stake, or as it is.

              ^ tip_radius
             / \
            / | \         length from the base of the blade to its tip
           / \|/ \        the midrib and the veins beside it are cut out, `bridge` of metal
          ( \ | / )       between them and toward the edge
     width \ \|/ / belly
            \_ _/
              |  stem_width
              |/  stem_length
"""

import math
from collections.abc import Iterator
from contextlib import suppress
from itertools import chain
from typing import Self

from parts.cached import cached_property
from parts.errors import GeometryError, Problem
from parts.geometry import Box, Circle, Loop, Point, circle, mirror, toward
from parts.profile import Dimension, Opening, Profile
from parts.spec import STOCK, Preset, Template, angle, choice, count, is_wordless, length, thickness
from parts.templates.silhouette.shared.leaf import Blade
from parts.templates.silhouette.shared.sized import Sized
from parts.templates.silhouette.shared.stem import bent_radius, stake, stem
from parts.templates.silhouette.shared.tapered import straight
from parts.templates.silhouette.shared.vein import Veining
from parts.units import format_angle

VEIN_CURVE = 1.5
"""Radius of the veins over the blade's width: they lean toward the tip without lying down along it (by eye)."""

LEAST_BEND = 1.0
"""Least bend of a stem in degrees: below it the stem is straight to the eye, its radius beyond any use."""

WIDEST_TURN = math.radians(120)
"""The most that the arcs at the base may turn where they run out into a stem: more would curl under."""


class SilhouetteLeaf(Sized):
    """The base of the blade is at the origin, its tip up the y axis, the stem or stake below."""

    blade_length: float = length("Length of the blade", default=260, minimum=60, maximum=2500)
    blade_width: float = length("Width of the blade", default=130, minimum=25, maximum=1200)
    belly: float = length("Widest place from the base", default=95, minimum=10, maximum=1500, moves="free")
    tip: str = choice(
        "Tip",
        default="drawn-out",
        choices=("drawn-out", "plain"),
        help="drawn-out: hollow toward the tip.",
        moves="care",
    )
    tip_radius: float = length(
        "Radius of the tip", default=3, minimum=1, maximum=300,
        help="A sharp tip melts round and cuts hands. The base has it too where there is no stem.", moves="free",
    )  # fmt: skip
    base: str = choice(
        "Base", default="stem", choices=("stem", "stake", "none"), group="Stem or stake",
        help="stem: curved, with a round end. stake: straight and pointed, for the ground.",
    )  # fmt: skip
    stem_width: float = length(
        "Width of stem or stake", default=9, minimum=3, maximum=150, group="Stem or stake", when=("base",), moves="care"
    )
    stem_length: float = length(
        "Length of stem or stake",
        default=70,
        minimum=5,
        maximum=1500,
        group="Stem or stake",
        when=("base",),
        moves="care",
    )
    stem_bend: float = angle(
        "Bend of the stem",
        default=32,
        minimum=0,
        maximum=60,
        group="Stem or stake",
        help="0 for a straight one.",
        when=("base", "stem"),
        moves="free",
    )
    point_length: float = length(
        "Length of the stake's point",
        default=35,
        minimum=2,
        maximum=500,
        group="Stem or stake",
        when=("base", "stake"),
        moves="free",
    )
    point_width: float = length(
        "Blunt end of the point", default=4, minimum=1, maximum=100, group="Stem or stake",
        help="A knife point melts, and injures.",
        when=("base", "stake"), moves="free",
    )  # fmt: skip
    midrib_width: float = length(
        "Midrib at its foot", default=7, minimum=0, maximum=100, group="Veins", help="0 for no midrib.", moves="free"
    )
    vein_pairs: int = count(
        "Pairs of veins",
        default=6,
        minimum=0,
        maximum=20,
        group="Veins",
        moves="care",
        help="Fewer where a size over all leaves no room for so many.",
    )
    vein_width: float = length(
        "Veins at the midrib", default=6, minimum=1, maximum=80, group="Veins", when=("vein_pairs",), moves="free"
    )
    vein_end: float = length(
        "Veins and midrib at their ends", default=3.5, minimum=1, maximum=80, group="Veins",
        help="As wide as at the midrib for veins of one width.",
        when=[("midrib_width",), ("vein_pairs",)], moves="free",
    )  # fmt: skip
    vein_angle: float = angle(
        "Angle of the veins to the midrib",
        default=52,
        minimum=30,
        maximum=80,
        group="Veins",
        when=("vein_pairs",),
        moves="free",
    )
    bridge: float = length(
        "Bridges", default=5, minimum=1, maximum=100, group="Veins",
        help="Metal left between the cut-outs, and between them and the edge.",
        when=[("midrib_width",), ("vein_pairs",)], moves="free",
    )  # fmt: skip
    hang: str = choice("Hanging hole", default="base", choices=("none", "base", "tip"), group="Hanging hole")
    hole: float = length(
        "Hanging hole's diameter", default=6, minimum=1, maximum=60, group="Hanging hole", when=("hang",), moves="care"
    )
    eye: float = length(
        "Metal around the hanging hole",
        default=5,
        minimum=1,
        maximum=100,
        group="Hanging hole",
        when=("hang",),
        moves="free",
    )
    thickness: float = thickness("Thickness", default=3, minimum=0.3, maximum=150, group=STOCK)

    @property
    def has_stem(self) -> bool:
        """Whether the blade runs out into a stem or a stake."""
        return self.base != "none"

    @cached_property
    def blade(self) -> Blade:
        """The blade's outline."""
        stem = self.stem_width if self.has_stem else 0.0
        return Blade(self.blade_length, self.blade_width, self.belly, self.tip_radius, self.tip == "drawn-out", stem)

    @property
    def hole_at(self) -> Point:
        """Centre of the hanging hole: on the axis, as near to the base or the tip as its eye lets it.

        Raises:
            GeometryError: if the eye has no room.
        """
        clear = self.hole / 2 + self.eye
        return 0.0, self.blade.lowest(clear) if self.hang == "base" else self.blade.highest(clear)

    @cached_property
    def midrib(self) -> tuple[Circle, Circle]:
        """The ends of the midrib, a bridge from the edge or from the hanging hole.

        Without one, its place as seen from the veins: half a bridge narrower than nothing, so that a
        bridge is left between the veins of both sides.

        Raises:
            GeometryError: if there is no room on the axis.
        """
        widths = (self.midrib_width, self.vein_end) if self.midrib_width else (-self.bridge, -self.bridge)
        foot, top = (self.bridge + max(width, 0.0) / 2 for width in widths)
        low, high = self.blade.lowest(foot), self.blade.highest(top)
        if self.hang == "base":
            low = max(low, self.hole_at[1] + self.hole / 2 + foot)
        elif self.hang == "tip":
            high = min(high, self.hole_at[1] - self.hole / 2 - top)
        return Circle((0.0, low), widths[0]), Circle((0.0, high), widths[1])

    @cached_property
    def veining(self) -> Veining:
        """Where veins have their places.

        Raises:
            GeometryError: as for `midrib`.
        """
        curve = VEIN_CURVE * self.blade_width
        slots = self.vein_width, self.vein_end
        return Veining(self.blade, self.midrib, slots, math.radians(self.vein_angle), curve, self.bridge)

    @property
    def whole(self) -> Box:
        """The box of blade and stem."""
        return _edge(self).box

    def at_scale(self, scale: float) -> Self:
        """Return the same so many times as large, with fewer veins where so many have no room."""
        made = super().at_scale(scale)
        with suppress(GeometryError, ArithmeticError, ValueError):
            while made.vein_pairs and not made.veining.room_for(made.vein_pairs):
                made = made.changed(vein_pairs=made.vein_pairs - 1)
        return made

    def own_problems(self) -> Iterator[Problem]:
        """Yield what of the outline has no room."""
        yield from (*self._blade_problems(), *self._stem_problems())

    def problems(self) -> Iterator[Problem]:
        """Yield what has no room: the outline first, then, where it is sound, what is cut out of it."""
        if self.is_sized:
            yield from self.size_problems()
            return
        outside = [*self.own_problems()]
        yield from outside
        if outside:
            return
        sound = True
        for problem in chain(self._hole_problems(), self._vein_problems()):  # one by one: veins take long
            sound = False
            yield problem
        yield from self._thin_places() if sound else ()

    def _blade_problems(self) -> Iterator[Problem]:
        if self.blade_length <= self.blade_width:
            yield from self.under("blade_width", self.blade_length, "for a blade of this length")
            return
        yield from self.under("belly", self.blade_length - self.blade_width / 2, "to leave half a width up to the tip")
        if self.has_stem:
            yield from self.under("stem_width", self.blade_width / 3, "for a blade of this width")
            straight_way = (self.blade_width - self.stem_width) / 2
            yield from self.over("belly", straight_way / math.tan(WIDEST_TURN / 2), "to run out into the stem")
        else:
            yield from self.over("belly", self.blade_width / 2, "to round the base")
        share = 6 if self.tip == "drawn-out" else 4
        yield from self.at_most("tip_radius", self.blade_width / share, f"for a {self.tip} tip")

    def _stem_problems(self) -> Iterator[Problem]:
        if self.base == "stem":
            yield from self.over("stem_length", self.stem_width, "to be longer than wide")
            if 0 < self.stem_bend < LEAST_BEND:
                yield self.problem(
                    "stem_bend", f"must be 0°, or {format_angle(LEAST_BEND)} and more: less can't be seen."
                )
        if self.base == "stake":
            yield from self.under("point_length", self.stem_length, "on a stake of this length")
            yield from self.at_most("point_width", self.stem_width, "on a stake of this width")

    def _hole_problems(self) -> Iterator[Problem]:
        if self.hang == "none":
            return
        in_stem = (self.stem_width - self.hole) / 2
        if self.hang == "base" and self.has_stem:
            yield from self.at_least("eye", in_stem, "as the stem alone leaves so much")
        yield from self.under("hole", self.blade_width / 2 - 2 * self.eye, "with its eye, in a blade of this width")

    def _vein_problems(self) -> Iterator[Problem]:
        ends: list[Problem] = []
        if self.midrib_width:
            ends += self.at_most("vein_end", self.midrib_width, "to be no wider than the midrib's foot")
        if self.vein_pairs:
            ends += self.at_most("vein_end", self.vein_width, "to be no wider than the veins at the midrib")
        yield from ends
        if ends or not (self.midrib_width or self.vein_pairs):
            return
        name = "midrib_width" if self.midrib_width else "bridge"
        try:
            foot, top = self.midrib
            short = top.centre[1] - foot.centre[1] <= 2 * max(foot.diameter, self.bridge)
        except GeometryError:
            short = True
        if short:
            yield self.problem(name, "leaves no room along the middle; midrib, bridges and hole must be smaller.")
        elif not self.veining.room_for(self.vein_pairs):
            yield self.problem("vein_pairs", "") if is_wordless() else self._too_many_veins()

    def _too_many_veins(self) -> Problem:
        most = max((n for n in range(1, self.vein_pairs) if self.veining.room_for(n)), default=0)
        if most:
            return self.problem("vein_pairs", f"must be at most {most} to keep the bridges.")
        return self.problem("vein_pairs", "must be 0, or veins and bridges narrower: not one pair has room.")

    def _thin_places(self) -> Iterator[Problem]:
        """Problems for cut-outs that come nearer than a bridge to each other or to the edge; the eye is its own."""
        profile = outline(self).seated()  # as the rules see it, so that the search is made once
        for neck in profile.necks(self.bridge):
            inner = profile.inside[max(neck.loop_a, neck.loop_b) - 1]
            edge = min(neck.loop_a, neck.loop_b) == 0
            if max(neck.loop_a, neck.loop_b) == 0 or (edge and inner.parameter == "hole"):
                continue
            between = f"{profile.name(neck.loop_a)} and {profile.name(neck.loop_b)}"
            left = self.say(neck.width, self.bridge)
            message = f"leaves {left} between {between}, less than the bridge of {self.said('bridge')}."
            yield self.problem(inner.parameter, message)


def outline(p: SilhouetteLeaf) -> Profile:
    """Draw the leaf counter-clockwise from the right of the base."""
    if p.is_sized:
        return p.sized_profile(outline(p.sized))
    inside: list[Opening] = []
    if p.midrib_width:
        inside.append(Opening(straight(*p.midrib), "midrib", "midrib_width"))
    if p.hang != "none":
        inside.append(Opening(circle(p.hole_at, p.hole), "hanging hole", "hole"))
    inside += (Opening(loop, "vein", "vein_pairs") for loop in vein_loops(p))
    return Profile((_edge(p),), tuple(inside), (), tuple(dimensions(p)))


def _edge(p: SilhouetteLeaf) -> Loop:
    below = stem(p) if p.base == "stem" else stake(p) if p.base == "stake" else []
    return Loop.through([*p.blade.vertices, *below])


def vein_loops(p: SilhouetteLeaf) -> Iterator[Loop]:
    """Yield the veins from the lowest up, right and left."""
    flip = mirror((0.0, 0.0), math.pi / 2)
    for vein in p.veining.veins(p.vein_pairs):
        if vein:
            loop = vein.loop(p.vein_width, p.vein_end)
            yield from (loop, flip.loop(loop))


def dimensions(p: SilhouetteLeaf) -> Iterator[Dimension]:
    """Yield where each length of the leaf can be measured."""
    half = p.blade_width / 2
    yield Dimension("blade_length", (0, 0), (0, p.blade_length), "right")
    yield Dimension("blade_width", (-half, p.belly), (half, p.belly), "above")
    yield Dimension("belly", (0, 0), (-half, p.belly), "left")
    yield Dimension("tip_radius", (0, p.blade_length - p.tip_radius), (0, p.blade_length), "radius")
    yield from _stem_dimensions(p)
    if p.hang != "none":
        (x, y), edge = p.hole_at, p.blade.edge_by(p.hole_at)
        yield Dimension("hole", (x, y), (x + p.hole / 2, y), "diameter")
        yield Dimension("eye", toward((x, y), edge, p.hole / 2), edge, "along")
    if p.midrib_width:
        (x, y), width = p.midrib[0]
        yield Dimension("midrib_width", (x, y), (x + width / 2, y), "diameter")
    if p.vein_pairs:
        yield from _vein_dimensions(p)
    elif p.midrib_width:
        top, width = p.midrib[1]
        above = (0.0, top[1] + width / 2 + p.bridge) if p.hang == "tip" else p.blade.edge_by(top)
        yield Dimension("vein_end", top, (top[0] + width / 2, top[1]), "diameter")
        yield Dimension("bridge", toward(top, above, width / 2), above, "along")


def _stem_dimensions(p: SilhouetteLeaf) -> Iterator[Dimension]:
    if not p.has_stem:
        return
    half, low = p.stem_width / 2, -p.stem_length
    bent = p.base == "stem" and p.stem_bend > 0
    x = bent_radius(p) * (1 - math.cos(math.radians(p.stem_bend))) if bent else 0.0
    yield Dimension("stem_width", (-half, 0), (half, 0), "below")
    yield Dimension("stem_length", (0, 0), (x, low), "left")
    if p.base == "stake":
        blunt = p.point_width / 2
        yield Dimension("point_length", (blunt, low), (half, low + p.point_length), "right")
        yield Dimension("point_width", (-blunt, low), (blunt, low), "below")


def _vein_dimensions(p: SilhouetteLeaf) -> Iterator[Dimension]:
    """Yield the widths of the lowest vein on the right, and the bridge from it to the midrib or its twin."""
    vein = p.veining.veins(p.vein_pairs)[0]
    if vein:
        (x, y), sine = vein.start, p.veining.flank[1]
        cosine = math.sqrt(1 - sine**2)
        near, far = p.vein_width / 2, p.vein_width / 2 + p.bridge
        yield Dimension("vein_width", vein.start, toward(vein.start, vein.centre, near), "diameter")
        yield Dimension("vein_end", vein.end, toward(vein.end, vein.centre, p.vein_end / 2), "diameter")
        ends = (x - near * cosine, y - near * sine), (x - far * cosine, y - far * sine)
        yield Dimension("bridge", *ends, "along")


TEMPLATE = Template(
    "silhouette-leaf",
    "Leaf",
    SilhouetteLeaf,
    outline,
    summary="An ornament or trail sign: drawn-out tip, curved veins cut out, a stem, a ground stake, a hanging hole.",
    cautions=(
        "Blunt and deburr the tip, the edges and the stake: what stands at the height of eyes or of children "
        "can injure.",
        "Outdoors the wind loads a sign: fasten it accordingly, and ask about local rules before one stands by a path.",
        "Before a stake is driven, make sure that no cable or pipe lies below.",
        "Water hangs at the lower edges and rusts them first: round them before painting.",
    ),
    words=(
        "ornament",
        "garden",
        "sign",
        "plant",
        "stake",
        "pendant",
        "tree",
        "botanical",
        "decoration",
        "wall art",
        "yard art",
    ),
    presets=(
        Preset("Pendant for a gate"),
        Preset("Trail marker on a stake", "base=stake stem_length=180 stem_width=16 hang=none"),
        Preset(
            "Large, for the workshop gable",
            "blade_length=600 blade_width=300 belly=220 vein_pairs=8 stem_length=160 stem_width=20 "
            "midrib_width=14 vein_width=12 vein_end=6 bridge=9 hole=9 eye=9",
        ),
    ),
)
