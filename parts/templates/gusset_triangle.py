r"""Triangular gusset: two square legs, blunt toes, the root sniped to clear the weld.

    leg_b |\        corner_radius rounds the four toe corners
          | \       holes stand in a row along each leg, back_mark from its edge
          |o \      the lightening hole is centred where a circle has most room
          | O \
    snipe /_o__| toe
           leg_a
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry.draft import Corner, circle, circles, fillet, largest_fillet, polygon
from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Point
from parts.parameter import BY_DIAMETER, bolt, bolt_mm, count, fit, hole_diameter, length
from parts.profile import Dimension, Opening, Profile, openings
from parts.template import Parameters, Preset, Template


class GussetTriangle(Parameters):
    """The root is at the origin, leg A along x and leg B along y."""

    leg_a: float = length("Leg along the base", default=100, minimum=25, maximum=1500)
    leg_b: float = length("Leg up the post", default=100, minimum=25, maximum=1500)
    toe: float = length("Blunt end of each leg", default=12, minimum=0, maximum=200)
    snipe: float = length(
        "Snipe at the root", default=15, minimum=0, maximum=200,
        help="Clears the weld: its leg plus a little.",
    )  # fmt: skip
    corner_radius: float = length("Corner radius at the toes", default=3, minimum=0, maximum=100, group="Corners")
    holes_a: int = count("Holes along leg A", default=0, minimum=0, maximum=12)
    holes_b: int = count("Holes along leg B", default=0, minimum=0, maximum=12)
    bolt: str = bolt("Bolt", default="M10", diameter="hole", when=[("holes_a",), ("holes_b",)])
    fit: str = fit(of=("bolt",))
    hole: float = length(
        "Hole diameter",
        default=11,
        minimum=1,
        maximum=100,
        group="Holes",
        help="Where the bolt is by-diameter.",
    )
    first_hole: float = length(
        "First hole from the root",
        default=35,
        minimum=2,
        maximum=1500,
        group="Holes",
        when=[("holes_a",), ("holes_b",)],
    )
    pitch: float = length(
        "Hole spacing", default=35, minimum=2, maximum=1500, group="Holes", when=[("holes_a", "2"), ("holes_b", "2")]
    )
    back_mark: float = length(
        "Hole centres from the leg's edge",
        default=20,
        minimum=2,
        maximum=500,
        group="Holes",
        when=[("holes_a",), ("holes_b",)],
    )
    lightening: float = length(
        "Lightening hole", default=0, minimum=0, maximum=800, group="Holes", help="Diameter; 0 for none."
    )

    @property
    def hole_size(self) -> float:
        """Diameter of the bolt holes."""
        return hole_diameter(self.bolt, self.fit, self.hole)

    @property
    def corners(self) -> list[Corner | Point]:
        """The outline counter-clockwise from the foot of the snipe; the toe corners are the rounded ones."""
        a, b, r = self.leg_a, self.leg_b, self.corner_radius
        root: list[Point] = [(0.0, self.snipe), (self.snipe, 0.0)] if self.snipe else [(0.0, 0.0)]
        toe_a = [fillet(a, 0, r), fillet(a, self.toe, r)] if self.toe else [fillet(a, 0, r)]
        toe_b = [fillet(self.toe, b, r), fillet(0, b, r)] if self.toe else [fillet(0, b, r)]
        return [*root, *toe_a, *toe_b]

    @property
    def roomiest(self) -> Point:
        """Centre of the largest circle between both legs and the long edge (ignoring the snipe).

        At (c, c) the distance to the long edge, n . (P - (c, c)) for its unit normal n, is c too.
        """
        a, b, toe = self.leg_a, self.leg_b, self.toe
        long_edge = math.hypot(a - toe, b - toe)
        nx, ny = (b - toe) / long_edge, (a - toe) / long_edge
        c = (nx * a + ny * toe) / (1 + nx + ny)
        return c, c

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where toe and snipe meet on a leg, or the radius has no room at the toes."""
        shorter = min(self.leg_a, self.leg_b)
        clash = [
            *self.under("toe", shorter, "on the shorter leg"),
            *self.under("snipe", shorter - self.toe, "beside the toe on the shorter leg"),
        ]
        yield from clash
        if not clash:
            yield from self.at_most("corner_radius", largest_fillet(self.corners), "to fit the toes")


def outline(p: GussetTriangle) -> Profile:
    """Draw the gusset counter-clockwise from the root."""
    along_a = [(p.first_hole + i * p.pitch, p.back_mark) for i in range(p.holes_a)]
    along_b = [(p.back_mark, p.first_hole + i * p.pitch) for i in range(p.holes_b)]
    inside = (
        *openings(circles(along_a, p.hole_size), "hole in leg A", "holes_a", bolt_mm(p.bolt)),
        *openings(circles(along_b, p.hole_size), "hole in leg B", "holes_b", bolt_mm(p.bolt)),
    )
    if p.lightening:
        inside += (Opening(circle(p.roomiest, p.lightening), "lightening hole", "lightening"),)
    edge = polygon(p.corners)
    return Profile(outside=(edge,), inside=inside, dimensions=tuple(dimensions(p, edge)))


def dimensions(p: GussetTriangle, edge: Loop) -> Iterator[Dimension]:
    """Yield where each length of the gusset can be measured."""
    yield Dimension("leg_a", (0, 0), (p.leg_a, 0), "below")
    yield Dimension("leg_b", (0, 0), (0, p.leg_b), "left")
    if p.toe:
        yield Dimension("toe", (p.leg_a, 0), (p.leg_a, p.toe), "right")
    if p.snipe:
        yield Dimension("snipe", (0, 0), (p.snipe, 0), "below")
    for arc in [segment for segment in edge.segments if isinstance(segment, Arc)][:1]:
        yield Dimension("corner_radius", arc.centre, arc.at(0.5), "radius")
    if p.holes_a or p.holes_b:
        yield from hole_dimensions(p)
    if p.lightening:
        (x, y), r = p.roomiest, p.lightening / 2
        yield Dimension("lightening", (x, y), (x + r, y), "diameter")


def hole_dimensions(p: GussetTriangle) -> Iterator[Dimension]:
    """Yield those of the hole rows, on leg A where it has what is measured, else on leg B."""
    first, mark, second = p.first_hole, p.back_mark, p.first_hole + p.pitch
    at = (first, mark) if p.holes_a else (mark, first)
    if p.holes_a:
        yield Dimension("first_hole", (0, mark), at, "below")
        yield Dimension("back_mark", (first, 0), at, "right")
    else:
        yield Dimension("first_hole", (mark, 0), at, "left")
        yield Dimension("back_mark", (0, first), at, "above")
    if p.holes_a > 1:
        yield Dimension("pitch", (first, mark), (second, mark), "below")
    elif p.holes_b > 1:
        yield Dimension("pitch", (mark, first), (mark, second), "left")
    if p.bolt == BY_DIAMETER:
        yield Dimension("hole", at, (at[0] + p.hole / 2, at[1]), "diameter")


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
        Preset("Trailer, drawbar to frame", "leg_a=150 leg_b=110 thickness=1/4in snipe=18 toe=15"),
        Preset(
            "Trail sign post, bolted both ways",
            "leg_a=120 leg_b=120 holes_a=2 holes_b=2 bolt=M8 first_hole=45 pitch=40",
        ),
    ),
)
