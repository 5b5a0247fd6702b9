r"""Bearing mount: a plate for a flange bearing on two or four bolts, or for a pillow block.

     ____________          ___
    |o          o|      _-'   '-_       shape: rectangle, or lozenge for two bolts
    |  O  __  O  |    /    ___    \     bolts: 2 in a row through the bore, or 4; spacing_x, spacing_y
    |    (__)    |    | O (___) O |     bore: clears the shaft or the housing's spigot; 0 for a pillow block
    |  O      O  |    \_         _/     slide: the bearing's bolts and the bore become slots along x
    |o__________o|      '-_____-'
        width

Sizes are those of the bearing in hand: its own drawing comes first.
"""

import math
from collections.abc import Iterator, Mapping
from typing import ClassVar

from parts.errors import Problem
from parts.geometry import Loop, Point, grid, rectangle, row, slot
from parts.geometry.figure import hole, level_slot
from parts.profile import Dimension, Profile, openings
from parts.spec import BY_DIAMETER, Preset, Template, When, bolt, bolt_mm, choice, fit, hole_diameter, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.templates.shared.hole_making import hole_kind, where_worked
from parts.templates.shared.lettered import Lettered

_BEARING = "Bearing"
_APART = "to keep metal between the holes"


class PlateBearing(BoltHoles, Lettered):
    """The middle of the plate, and of the shaft, is at the origin; two bolts stand in a row along x."""

    hole_groups: ClassVar[Mapping[str, tuple[str, str]]] = {
        "bearing_bolt": ("bearing_hole_kind", "bearing"),
        "bolt": ("hole_kind", ""),
    }
    optional: ClassVar[tuple[str, ...]] = ("bearing_hole_kind",)
    shared_when: ClassVar[Mapping[str, When]] = where_worked("hole_kind", "bearing_hole_kind")

    shape: str = choice("Shape", default="rectangle", choices=("rectangle", "lozenge"))
    width: float = length("Width", default=180, minimum=20, maximum=1500)
    height: float = length(
        "Height", default=180, minimum=20, maximum=1500, help="Of a lozenge: diameter of its round middle."
    )
    corner_radius: float = length(
        "Corner radius", default=10, minimum=0, maximum=500, help="Of a lozenge: of its two ends.", moves="free"
    )
    bore: float = length(
        "Bore", default=50, minimum=0, maximum=1000, group=_BEARING,
        help="Clears the shaft, or takes the housing's spigot; 0 for a pillow block.",
    )  # fmt: skip
    bolts: str = choice("Bearing bolts", default="4", choices=("2", "4"), group=_BEARING)
    spacing_x: float = length("Bearing bolts apart", default=90, minimum=8, maximum=1400, group=_BEARING)
    spacing_y: float = length(
        "Bearing bolts apart, upright", default=90, minimum=8, maximum=1400, group=_BEARING, when=("bolts", "4")
    )
    bearing_bolt: str = bolt("Bearing bolt", default="M12", diameter="bearing_hole", group=_BEARING)
    bearing_hole: float = length(
        "Bearing bolt hole", default=13.5, inches="9/16", minimum=2, maximum=80, group=_BEARING,
        help="Where the bearing bolt is by diameter.",
    )  # fmt: skip
    slide: float = length(
        "Slide along x", default=0, minimum=0, maximum=300, group=_BEARING, help="To tighten a chain or belt; 0: fixed."
    )
    mounts: str = choice(
        "Mounting holes",
        default="corners",
        choices=("corners", "none"),
        group="Holes",
        help="None: the plate is welded.",
    )
    inset: float = length(
        "Mounting holes in from the edges",
        default=20,
        minimum=3,
        maximum=500,
        group="Holes",
        when=("mounts", "corners"),
    )
    bolt: str = bolt("Mounting bolt", default="M12", diameter="hole", when=("mounts", "corners"))
    fit: str = fit(of=("bearing_bolt", "bolt"))
    bearing_hole_kind: str = hole_kind("bearing_bolt", "Bearing holes are made")

    @property
    def bearing_size(self) -> float:
        """Diameter of the bearing's bolt holes, or width of their slots."""
        return hole_diameter(self.bearing_bolt, self.fit, self.bearing_hole)

    @property
    def bearing_centres(self) -> tuple[Point, ...]:
        """Centres of the bearing's bolts, from the lower left one."""
        x, y = self.spacing_x / 2, self.spacing_y / 2
        return row((-x, 0), (x, 0), 2) if self.bolts == "2" else grid((-x, -y), (2 * x, 2 * y), 2, 2)

    @property
    def mount_centres(self) -> tuple[Point, ...]:
        """Centres of the mounting holes, from the lower left one."""
        if self.mounts == "none":
            return ()
        x, y = self.width / 2 - self.inset, self.height / 2 - self.inset
        return grid((-x, -y), (2 * x, 2 * y), 2, 2)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the shape can't be, holes meet or leave the plate."""
        yield from self._lozenge_problems() if self.shape == "lozenge" else self._rectangle_problems()
        wide = self.bearing_size
        yield from self.under("bore", min(self.height, self.width - self.slide), "inside the plate")
        yield from self.under("spacing_x", self.width - wide - self.slide, "for the bolts to stay inside the sides")
        if self.bolts == "4":
            yield from self.under("spacing_y", self.height - wide, "for the bolts to stay inside top and foot")
            yield from self.over("spacing_y", wide, _APART)
            yield from self.over("spacing_x", wide + self.slide, _APART)
            apart = math.hypot(max(self.spacing_x / 2 - self.slide, 0), self.spacing_y / 2)
            yield from self.under("bore", 2 * apart - wide, "for the bolts to clear it") if self.bore else ()
        else:
            # each slot, and the bore's, reaches half the slide nearer
            apart = self.bore + wide + (2 if self.bore else 1) * self.slide
            yield from self.over("spacing_x", apart, "for the bolts to clear the bore" if self.bore else _APART)
        if self._mounts_in_the_way():
            yield self.tight("inset", "outside the bearing's bolts")

    def _mounts_in_the_way(self) -> bool:
        """Whether a mounting hole meets the bore or one of the bearing's."""
        bore = [((0.0, 0.0), self.bore)] if self.bore else []
        bearing = [*bore, *((at, self.bearing_size) for at in self.bearing_centres)]
        slots = [level_slot(at, wide + self.slide, wide) for at, wide in bearing]
        return any(each.gap(hole(at, self.hole_size)) <= 0 for each in slots for at in self.mount_centres)

    def _rectangle_problems(self) -> Iterator[Problem]:
        shorter = min(self.width, self.height)
        yield from self.at_most("corner_radius", shorter / 2, "on the shorter side")
        if self.mounts == "corners":
            yield from self.over("inset", self.hole_size / 2, "for the holes to stay inside the edge")
            yield from self.under("inset", (shorter - self.hole_size) / 2, _APART)
            yield from self.rounding_problems((self.inset, self.inset))

    def _lozenge_problems(self) -> Iterator[Problem]:
        if self.bolts == "4":
            yield self.problem("bolts", "must be 2 on a lozenge.")
        if self.mounts == "corners":
            yield self.problem("mounts", "must be none on a lozenge: it has no corners.")
        yield from self.under("height", self.width, "for a lozenge with two ends")
        yield from self.over("corner_radius", self.bearing_size / 2, "for metal around the bolts of a lozenge")
        yield from self.under("corner_radius", self.height / 2, "for a lozenge with a wider middle")


def lozenge(width: float, height: float, radius: float) -> Loop:
    """Return the hull of a circle `height` across and, either side, one of `radius` at the ends of `width`.

    Needs width > height > 2 radius. A tangent to two circles is square to the radii to it, which slant from the
    x axis by the angle whose cosine is the difference of the radii over the distance of the centres.
    """
    middle, c = height / 2, width / 2 - radius
    cos = (middle - radius) / c
    sin = math.sqrt(1 - cos**2)
    end, top = math.acos(cos), math.pi / 2 - math.acos(cos)
    tip, waist = (c + radius * cos, radius * sin), (middle * cos, middle * sin)
    return Loop.through(
        [
            (tip[0], -tip[1], math.tan(end / 2)), (*tip, 0.0),
            (*waist, math.tan(top / 2)), (-waist[0], waist[1], 0.0),
            (-tip[0], tip[1], math.tan(end / 2)), (-tip[0], -tip[1], 0.0),
            (-waist[0], -waist[1], math.tan(top / 2)), (waist[0], -waist[1], 0.0),
        ]
    )  # fmt: skip


def outline(p: PlateBearing) -> Profile:
    """Draw the plate: the bore first, then the bearing's bolts, then the mounting holes."""

    def sliding(at: Point, width: float) -> Loop:
        return slot(at, width + p.slide, width)

    bolts = tuple(sliding(at, p.bearing_size) for at in p.bearing_centres)
    inside = (
        *openings([sliding((0, 0), p.bore)] if p.bore else [], "bore", "bore"),
        *openings(bolts, "bearing hole", "spacing_x", bolt_mm(p.bearing_bolt)),
        *p.holes_at(p.mount_centres, "mounting hole", "inset"),
    )
    if p.shape == "lozenge":
        plate = lozenge(p.width, p.height, p.corner_radius)
    else:
        plate = rectangle((-p.width / 2, -p.height / 2), p.width, p.height, p.corner_radius)
    return Profile((plate,), inside, dimensions=tuple(dimensions(p)))


def dimensions(p: PlateBearing) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    x, y, r, hand = p.width / 2, p.height / 2, p.corner_radius, math.sqrt(0.5)
    foot = 0.0 if p.shape == "lozenge" else -y
    yield Dimension("width", (-x, foot), (x, foot), "below")
    yield Dimension(
        "height", (0.0 if p.shape == "lozenge" else -x, -y), (0.0 if p.shape == "lozenge" else -x, y), "left"
    )
    if r and p.shape == "lozenge":
        yield Dimension("corner_radius", (x - r, 0), (x, 0), "radius")
    elif r:
        yield Dimension("corner_radius", (x - r, y - r), (x - r + r * hand, y - r + r * hand), "radius")
    yield from bearing_dimensions(p)
    for at in p.mount_centres[:1]:
        yield Dimension("inset", (-x, at[1]), at, "below")
        yield from p.hole_measured(at)


def bearing_dimensions(p: PlateBearing) -> Iterator[Dimension]:
    """Yield those of the bore and the bearing's bolts: diameters at the right end of the slide."""
    shift, hand = p.slide / 2, math.sqrt(0.5)
    if p.bore:
        out = p.bore / 2 * hand
        yield Dimension("bore", (shift, 0), (shift + out, out), "diameter")
    *_, left, right = p.bearing_centres
    yield Dimension("spacing_x", left, right, "above")
    if p.bolts == "4":
        yield Dimension("spacing_y", p.bearing_centres[1], right, "right")
    if p.slide or p.bearing_bolt == BY_DIAMETER:
        end, out = (right[0] + shift, right[1]), p.bearing_size / 2
        yield Dimension(p.hole_from("bearing_bolt"), end, (end[0] + out, end[1]), "diameter")
    if p.slide:
        yield Dimension("slide", (left[0] - shift, left[1]), (left[0] + shift, left[1]), "below")


TEMPLATE = Template(
    "plate-bearing",
    "Bearing mount",
    PlateBearing,
    outline,
    summary="For a flange bearing on two or four bolts or a pillow block: bore, slots to tighten a chain, a lozenge.",
    cautions=(
        "What turns needs a guard: shafts and their ends catch clothes and hair. See the local rules for machinery.",
        "What carries people or loads overhead, its bearings, plates and bolts, is a qualified engineer's to settle.",
    ),
    words=("bearing", "pillow block", "plummer", "flange bearing", "shaft", "axle", "housing", "lozenge", "chain"),
    presets=(
        Preset(
            "Bench grinder shaft, 25 mm, two bolts, welded",
            "shape=lozenge bolts=2 mounts=none width=145 height=90 corner_radius=22 bore=40 spacing_x=99 "
            "bearing_bolt=M10",
            is_metric=True,
        ),
        Preset(
            "Pillow block on the trailer's winch shaft",
            "bolts=2 bore=0 spacing_x=140 width=250 height=100 thickness=8",
        ),
        Preset(
            "Chain tightener at the bending bench",
            "width=220 height=150 spacing_x=90.5 spacing_y=70 slide=25 bore=40 bearing_bolt=M10 thickness=8 inset=22",
        ),
        Preset(
            "Gate roller, 20 mm shaft, four bolts",
            "width=140 height=140 bore=35 spacing_x=64 spacing_y=64 bearing_bolt=M10 inset=16 bolt=M8 thickness=5",
            is_metric=True,
        ),
    ),
)
