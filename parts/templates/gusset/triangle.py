r"""Triangular gusset: two legs, square or at any angle, blunt toes, the root sniped to clear the weld.

    leg_b |\        corner_radius rounds the four toe corners
          | \       holes stand in a row along each leg, back_mark from its edge
          |o \      the lightening hole is centred where a circle has most room
          | O \
    snipe /_o__| toe
           leg_a

`corner` is the angle between the legs. A toe is square to its leg.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Arc, Corner, Loop, Point, fillet, largest_fillet, polygon
from parts.profile import Dimension, Profile
from parts.spec import Preset, Template, angle, length
from parts.templates.gusset.shared.leg_holes import LEG_HOLES, LegHoles
from parts.templates.gusset.shared.lightening import Lightened


class GussetTriangle(Lightened, LegHoles):
    """The root is at the origin, leg A along x and leg B up from it by `corner`."""

    leading = ("leg_a", "leg_b", "corner", "toe", "snipe", "corner_radius", *LEG_HOLES)

    leg_a: float = length("Leg along the base", default=100, minimum=25, maximum=1500)
    leg_b: float = length("Leg up the post", default=100, minimum=25, maximum=1500)
    corner: float = angle("Angle between the legs", default=90, minimum=30, maximum=150, help="90 is square.")
    toe: float = length("Blunt end of each leg", default=12, minimum=0, maximum=200, moves="free")
    snipe: float = length(
        "Snipe at the root", default=15, minimum=0, maximum=200,
        help="Clears the weld: its leg plus a little.", moves="free",
    )  # fmt: skip
    corner_radius: float = length(
        "Corner radius at the toes", default=3, minimum=0, maximum=100, group="Corners", moves="free"
    )
    first_hole: float = length(
        "First hole from the root",
        default=35,
        minimum=2,
        maximum=1500,
        group="Holes",
        when=[("holes_a",), ("holes_b",)],
        moves="care",
    )
    pitch: float = length(
        "Hole spacing", default=35, minimum=2, maximum=1500, group="Holes", when=[("holes_a", "2"), ("holes_b", "2")]
    )

    @property
    def leg_b_way(self) -> Point:
        """The unit vector along leg B."""
        turn = math.radians(self.corner)
        return (0.0, 1.0) if self.corner == 90 else (math.cos(turn), math.sin(turn))

    @property
    def corners(self) -> list[Corner | Point]:
        """The outline counter-clockwise from the foot of the snipe; the toe corners are the rounded ones."""
        a, b, r, on_b = self.leg_a, self.leg_b, self.corner_radius, self.on_leg_b
        root: list[Point] = [on_b(self.snipe, 0), (self.snipe, 0.0)] if self.snipe else [(0.0, 0.0)]
        toe_a = [fillet(a, 0, r), fillet(a, self.toe, r)] if self.toe else [fillet(a, 0, r)]
        toe_b = [fillet(*on_b(b, self.toe), r), fillet(*on_b(b, 0), r)] if self.toe else [fillet(*on_b(b, 0), r)]
        return [*root, *toe_a, *toe_b]

    @property
    def roomiest(self) -> Point:
        """Centre of the largest circle between both legs and the long edge (ignoring the snipe and the toes' ends).

        With its radius r it is at (r cot h, r), h half the angle between the legs. Its distance to the long edge from
        P in direction D, which is D x (centre - P) over the length of D, is r too.
        """
        (px, py), (qx, qy) = (self.leg_a, self.toe), self.on_leg_b(self.leg_b, self.toe)
        dx, dy, (cos, sin) = qx - px, qy - py, self.half_corner
        r = (dy * px - dx * py) / (math.hypot(dx, dy) - dx + dy * cos / sin)
        return r * cos / sin, r

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where toe and snipe meet on a leg, or the radius has no room at the toes."""
        shorter, (cos, sin) = min(self.leg_a, self.leg_b), self.half_corner
        clash = [
            *self.under("toe", shorter * sin / cos, "on the shorter leg"),
            *self.under("snipe", shorter - self.toe, "beside the toe on the shorter leg"),
        ]
        c, s = self.leg_b_way
        if self.toe and c > 0 and not clash:
            longer = "leg_a" if self.leg_a > self.leg_b else "leg_b"
            clash = [*self.at_most(longer, (shorter - self.toe * s) / c, "beside so short a leg at this angle")]
        yield from clash
        if clash:
            return
        yield from self.at_most("corner_radius", largest_fillet(self.corners), "to fit the toes")
        yield from self.leg_hole_problems(self.snipe, self.hole_rooms)
        on_a, on_b = self.leg_centres
        yield from self.lightening_problems(self.roomiest, self.lightening_room, (*on_a, *on_b), self.hole_size)

    @property
    def hole_rooms(self) -> tuple[float, float]:
        """How far from the root a bolt hole may stand along leg A, and along leg B."""
        return self.room_below(self.leg_a, self.leg_b, self.toe), self.room_below(self.leg_b, self.leg_a, self.toe)

    @property
    def lightening_room(self) -> float:
        """From the middle of the lightening hole to the nearest edge, the snipe among them."""
        (x, r), (cos, sin) = self.roomiest, self.half_corner
        ends = min(self.leg_a, self.leg_b) - x if self.toe else math.inf
        return min(r, r / sin - self.snipe * cos, ends)


def outline(p: GussetTriangle) -> Profile:
    """Draw the gusset counter-clockwise from the root."""
    inside = (*p.leg_openings(), *p.lightening_opening(p.roomiest))
    edge = polygon(p.corners)
    return Profile(outside=(edge,), inside=inside, dimensions=tuple(dimensions(p, edge)))


def dimensions(p: GussetTriangle, edge: Loop) -> Iterator[Dimension]:
    """Yield where each length of the gusset can be measured."""
    yield Dimension("leg_a", (0, 0), (p.leg_a, 0), "below")
    yield Dimension("leg_b", (0, 0), p.on_leg_b(p.leg_b, 0), "left" if p.legs_are_square else "along")
    if p.toe:
        yield Dimension("toe", (p.leg_a, 0), (p.leg_a, p.toe), "right")
    if p.snipe:
        yield Dimension("snipe", (0, 0), (p.snipe, 0), "below")
    for arc in [segment for segment in edge.segments if isinstance(segment, Arc)][:1]:
        yield Dimension("corner_radius", arc.centre, arc.at(0.5), "radius")
    yield from p.leg_holes_measured()
    yield from p.lightening_measured(p.roomiest)


TEMPLATE = Template(
    "gusset-triangle",
    "Triangular gusset",
    GussetTriangle,
    outline,
    summary="Stiffens a corner: blunt toes, the root sniped to clear the weld, hole rows and a lightening hole.",
    cautions=(
        "A gusset in a structure or a vehicle carries load: have its size, welds and bolts settled by a "
        "qualified engineer under the local code.",
    ),
    words=("corner", "brace", "stiffener", "web", "knee", "triangle"),
    presets=(
        Preset("Garden bench, foot to seat rail", "leg_a=60 leg_b=60 toe=8 snipe=10 thickness=4"),
        Preset("Shelter roof, rafter to tie, 35 degrees", "leg_a=180 leg_b=180 corner=35 snipe=25 thickness=5"),
        Preset("Trailer, drawbar to frame", "leg_a=150 leg_b=110 thickness=1/4in snipe=18 toe=15"),
        Preset(
            "Trail sign post, bolted both ways",
            "leg_a=120 leg_b=120 holes_a=2 holes_b=2 bolt=M8 first_hole=45 pitch=40",
            inches="bolt=3/8",
        ),
    ),
)
