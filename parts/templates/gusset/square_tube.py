r"""Seat gusset for square tube: a straight foot, and a notch on top that the tube sits in, flat or on its corner.

         lip  tube + 2 gap  lip            seat = flat: a notch as wide as the tube and a gap each side
         ____              ____            seat = corner: a square V, the tube turned on its corner
        /    |            |    \
       /     |   depth    |     \          relief: round reliefs in the inside corners, so that the
      /     (______________)     \         tube's edges seat; 0 for none
 toe |    o                  o    |  below: from the foot to the bottom of the seat
     |____________________________|
                  foot

Outside sizes of square hollow sections are those of ASTM A500 (inch) and EN 10219 (metric).
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Arc, Corner, Loop, Point, fillet, largest_fillet, polygon, relief
from parts.profile import Dimension, Profile
from parts.spec import Preset, Template, choice, length
from parts.templates.gusset.shared.foot_holes import FOOT_HOLES, FootHoles

_FLAT, _CORNER = "flat", "corner"


class GussetSquareTube(FootHoles):
    """The middle of the foot is at the origin, the middle of the seat above it."""

    leading = ("tube", "gap", "seat", "depth", "relief", "below", "foot", "lip", "toe", "corner_radius", *FOOT_HOLES)

    tube: float = length("Tube, outside", default=50, minimum=8, maximum=600)
    gap: float = length(
        "Fit-up gap",
        default=0.5,
        minimum=0,
        maximum=10,
        help="At each side of a flat seat; 0 to 1 mm is usual.",
        when=("seat", _FLAT),
    )
    seat: str = choice("Seat", default=_FLAT, choices=(_FLAT, _CORNER), help="How the tube lies in it.")
    depth: float = length("Depth of the seat", default=25, minimum=3, maximum=600, help="Plumb.")
    relief: float = length(
        "Corner relief, radius",
        default=3,
        minimum=0,
        maximum=50,
        group="Corners",
        help="0: sharp inside corners.",
        moves="free",
    )
    below: float = length("Foot to the bottom of the seat", default=50, minimum=5, maximum=2000)
    lip: float = length(
        "Lip beside the seat", default=15, minimum=2, maximum=300, help="Flat, at each side.", moves="care"
    )
    corner_radius: float = length("Outside corner radius", default=4, minimum=0, maximum=200, group="Corners")

    @property
    def top(self) -> float:
        """How high the lips are."""
        return self.below + self.depth

    @property
    def half(self) -> float:
        """Half the width of the seat between the lips; the flanks of a corner seat rise at 45 degrees."""
        return self.tube / 2 + self.gap if self.seat == _FLAT else self.depth

    @property
    def reach(self) -> float:
        """How far a relief reaches past a flat seat's side: its centre is r / sqrt 2 inside of it."""
        return self.relief * (1 - math.sqrt(0.5)) if self.seat == _FLAT else 0.0

    @property
    def corners(self) -> list[Corner | Point]:
        """The outline counter-clockwise from the left end of the foot; the filleted corners are the outside ones."""
        out, over, r = self.foot / 2, self.half + self.lip, self.corner_radius
        bottom = (self.half, -self.half) if self.seat == _FLAT else (0.0,)
        seat: list[Corner | Point] = [relief(x, self.below, self.relief) for x in bottom]
        seat = [
            fillet(over, self.top, r),
            (self.half, self.top),
            *seat,
            (-self.half, self.top),
            fillet(-over, self.top, r),
        ]
        if self.toe:
            seat = [fillet(out, self.toe, r), *seat, fillet(-out, self.toe, r)]
        return [fillet(-out, 0, r), fillet(out, 0, r), *seat]

    @property
    def outside(self) -> list[Corner | Point]:
        """The corners as they bound the radius of the outside ones: the reliefs left sharp."""
        return [at if not isinstance(at, Corner) or at.kind == "fillet" else at.at for at in self.corners]

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the seat is too deep for the tube, a relief too large, or a side meets the seat."""
        if self.seat == _FLAT:
            clash = [
                *self.at_most("relief", min(self.half, self.depth) * math.sqrt(0.5), "in the corners of the seat"),
                *self.over("foot", 2 * (self.half + self.reach), "to be wider than the seat"),
                *self.over("lip", self.reach, "to be wider than the relief reaches"),
                *self.under("relief", self.below / (1 - math.sqrt(0.5)), "for metal under the seat"),
            ]
        else:
            half_diagonal = self.tube * math.sqrt(0.5)
            clash = [
                *self.at_most("depth", half_diagonal, "where the tube is widest"),
                *self.at_most("relief", self.depth, "on the flanks of the seat"),
                *self.over("foot", 2 * self.relief, "to be wider than the relief"),
            ]
        clash = clash or list(self.under("toe", self.top, "to stay below the lips"))
        yield from clash
        if clash:
            return
        yield from self.at_most("corner_radius", largest_fillet(self.outside), "to fit between the corners")
        if self.holes:
            yield from self.under("back_mark", self.top - self.hole_size / 2, "to stay inside the gusset")
        yield from self.foot_hole_problems((self.half + self.lip, self.top))


def outline(p: GussetSquareTube) -> Profile:
    """Draw the gusset with its seat and holes."""
    edge = polygon(p.corners)
    return Profile((edge,), p.holes_at(p.centres, "hole in the foot", "holes"), dimensions=tuple(dimensions(p, edge)))


def dimensions(p: GussetSquareTube, edge: Loop) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    half, out = p.half, p.foot / 2
    yield Dimension("foot", (-out, 0), (out, 0), "below")
    yield Dimension("below", (-out, 0), (-half if p.seat == _FLAT else 0.0, p.below), "left")
    yield Dimension("depth", (half if p.seat == _FLAT else 0.0, p.below), (half + p.lip, p.top), "right")
    if p.seat == _FLAT:
        yield Dimension("tube", (-p.tube / 2, p.top), (p.tube / 2, p.top), "above")
        if p.gap:
            yield Dimension("gap", (p.tube / 2, p.top), (half, p.top), "above")
    yield Dimension("lip", (half, p.top), (half + p.lip, p.top), "above")
    if p.toe:
        yield Dimension("toe", (out, 0), (out, p.toe), "right")
    for arc in [segment for segment in edge.segments if isinstance(segment, Arc) and segment.bulge > 0][:1]:
        yield Dimension("corner_radius", arc.centre, arc.at(0.5), "radius")
    if p.relief:
        aside = p.relief * math.sqrt(0.5)
        corner, out_of = ((half, p.below), (-aside, aside)) if p.seat == _FLAT else ((0.0, p.below), (0.0, p.relief))
        yield Dimension("relief", (corner[0] + out_of[0], corner[1] + out_of[1]), corner, "radius")
    yield from p.foot_holes_measured()


TEMPLATE = Template(
    "gusset-square-tube",
    "Seat gusset for square tube",
    GussetSquareTube,
    outline,
    summary="A foot with a notch for a square tube, flat or on its corner, its inside corners relieved to let it seat.",
    cautions=(
        "A seat that carries a load wants its size and welds settled by a qualified engineer under the local code.",
        "A closed tube heated by welding or hot zinc can burst: drill a vent first.",
    ),
    sizes=("tube",),
    words=(
        "saddle",
        "notch",
        "cradle",
        "hollow section",
        "box section",
        "shs",
        "rhs",
        "rectangular tube",
        "hss",
        "tube",
        "support",
    ),
    presets=(
        Preset(
            "40 mm square (EN 10219), bench rail",
            "tube=40 depth=20 below=35 foot=90 lip=10 toe=10 thickness=4",
            is_metric=True,
        ),
        Preset(
            "80 mm square (EN 10219), table beam",
            "tube=80 gap=0.75 depth=40 below=60 foot=180 thickness=8 toe=20",
            is_metric=True,
        ),
        Preset(
            "2 in square (ASTM A500), sign post",
            "tube=2in depth=1in below=2in foot=5in holes=2 bolt=3/8 first=1in back_mark=7/8in lip=5/8in toe=5/8in "
            "corner_radius=3/16in relief=1/8in gap=1/64in",
        ),
        Preset(
            "50 mm square (EN 10219) on its corner, trailer gate",
            "seat=corner depth=22 foot=100 lip=12 below=40",
            is_metric=True,
        ),
    ),
)
