r"""Flat L bracket: two legs in one plate, bolt holes on the centre line of each.

      width_b
       ___
      | o |        corner_radius rounds the ends, heel_radius the heel
leg_b | o |        the inside corner has a radius, or a relief for a square edge
      |   |______
      |     o  o | width_a
      |__________|
         leg_a
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry.draft import Corner, circles, fillet, polygon, relief
from parts.geometry.segment import Point
from parts.parameter import bolt, choice, count, fit, hole_diameter, length
from parts.profile import Dimension, Profile, openings
from parts.template import Parameters, Template


class BracketFlatL(Parameters):
    """The heel is at the origin, leg A along x and leg B along y."""

    leg_a: float = length("Leg A, outside", default=120, minimum=20, maximum=2000)
    leg_b: float = length("Leg B, outside", default=120, minimum=20, maximum=2000)
    width_a: float = length("Width of leg A", default=40, minimum=10, maximum=500)
    width_b: float = length("Width of leg B", default=40, minimum=10, maximum=500)
    corner_radius: float = length("Radius at the ends", default=6, minimum=0, maximum=250, group="Corners")
    heel_radius: float = length("Radius at the heel", default=6, minimum=0, maximum=500, group="Corners")
    inside: str = choice(
        "Inside corner", default="radius", choices=("radius", "relief"), group="Corners",
        help="relief: opened so that a square edge seats.",
    )  # fmt: skip
    inside_radius: float = length("Its radius", default=6, minimum=0, maximum=250, group="Corners")
    fit: str = fit()
    holes_a: int = count("Holes in leg A", default=2, minimum=0, maximum=20, group="Holes in leg A")
    bolt_a: str = bolt("Bolt", default="M10", group="Holes in leg A")
    hole_a: float = length("Hole diameter", default=11, minimum=1, maximum=200, group="Holes in leg A")
    first_a: float = length("First hole from the end", default=20, minimum=1, maximum=2000, group="Holes in leg A")
    pitch_a: float = length("Spacing", default=40, minimum=1, maximum=2000, group="Holes in leg A")
    holes_b: int = count("Holes in leg B", default=2, minimum=0, maximum=20, group="Holes in leg B")
    bolt_b: str = bolt("Bolt", default="M10", group="Holes in leg B")
    hole_b: float = length("Hole diameter", default=11, minimum=1, maximum=200, group="Holes in leg B")
    first_b: float = length("First hole from the end", default=20, minimum=1, maximum=2000, group="Holes in leg B")
    pitch_b: float = length("Spacing", default=40, minimum=1, maximum=2000, group="Holes in leg B")

    @property
    def holes_along_a(self) -> list[Point]:
        """Centres in leg A, from its end toward the heel."""
        return [(self.leg_a - self.first_a - i * self.pitch_a, self.width_a / 2) for i in range(self.holes_a)]

    @property
    def holes_along_b(self) -> list[Point]:
        """Centres in leg B, from its end toward the heel."""
        return [(self.width_b / 2, self.leg_b - self.first_b - i * self.pitch_b) for i in range(self.holes_b)]

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the legs leave no corner, or radii meet on an edge."""
        clash = [
            *self.under("width_a", self.leg_b, "so that leg B stands out"),
            *self.under("width_b", self.leg_a, "so that leg A stands out"),
        ]
        yield from clash
        if clash:
            return
        r = self.corner_radius
        yield from self.at_most("corner_radius", min(self.width_a, self.width_b) / 2, "on the narrower end")
        shorter = min(self.leg_a, self.leg_b)
        yield from self.at_most("heel_radius", shorter - r, "beside the radius at the end")
        setback = math.sqrt(2) if self.inside == "relief" else 1.0
        inner = min(self.leg_a - self.width_b, self.leg_b - self.width_a)
        yield from self.at_most("inside_radius", (inner - r) / setback, "beside the radius at the end")


def outline(p: BracketFlatL) -> Profile:
    """Draw the bracket counter-clockwise from the heel."""
    a, b, r = p.leg_a, p.leg_b, p.corner_radius
    treat = relief if p.inside == "relief" else fillet
    corners: list[Corner | Point] = [
        fillet(0, 0, p.heel_radius),
        fillet(a, 0, r),
        fillet(a, p.width_a, r),
        treat(p.width_b, p.width_a, p.inside_radius),
        fillet(p.width_b, b, r),
        fillet(0, b, r),
    ]
    size_a, size_b = hole_diameter(p.bolt_a, p.fit, p.hole_a), hole_diameter(p.bolt_b, p.fit, p.hole_b)
    inside = (
        *openings(circles(p.holes_along_a, size_a), "hole in leg A", "holes_a"),
        *openings(circles(p.holes_along_b, size_b), "hole in leg B", "holes_b"),
    )
    return Profile(outside=(polygon(corners),), inside=inside, dimensions=tuple(dimensions(p)))


def dimensions(p: BracketFlatL) -> Iterator[Dimension]:
    """Yield where each length of the bracket can be measured."""
    a, b = p.leg_a, p.leg_b
    yield Dimension("leg_a", (0, 0), (a, 0), "below")
    yield Dimension("leg_b", (0, 0), (0, b), "left")
    yield Dimension("width_a", (a, 0), (a, p.width_a), "right")
    yield Dimension("width_b", (0, b), (p.width_b, b), "above")
    half = math.sqrt(0.5)
    for name, centre, r, out in (
        ("corner_radius", (a - p.corner_radius, p.width_a - p.corner_radius), p.corner_radius, 1),
        ("heel_radius", (p.heel_radius, p.heel_radius), p.heel_radius, -1),
    ):
        if r:
            yield Dimension(name, centre, (centre[0] + out * r * half, centre[1] + out * r * half), "radius")
    if p.inside_radius:
        r = p.inside_radius
        away = r if p.inside == "radius" else r * half
        x, y = p.width_b + away, p.width_a + away
        yield Dimension("inside_radius", (x, y), (x - r * half, y - r * half), "radius")
    yield from _hole_dimensions(p)


def _hole_dimensions(p: BracketFlatL) -> Iterator[Dimension]:
    if p.holes_along_a:
        x, y = p.holes_along_a[0]
        yield Dimension("first_a", (x, y), (p.leg_a, y), "below")
    if p.holes_a > 1:
        yield Dimension("pitch_a", p.holes_along_a[1], p.holes_along_a[0], "below")
    if p.holes_along_b:
        x, y = p.holes_along_b[0]
        yield Dimension("first_b", (x, y), (x, p.leg_b), "left")
    if p.holes_b > 1:
        yield Dimension("pitch_b", p.holes_along_b[1], p.holes_along_b[0], "left")


TEMPLATE = Template(
    "bracket-flat-l",
    "Flat L bracket",
    BracketFlatL,
    outline,
    summary="Ties a corner flat: two legs with bolt holes on their centre lines, radius or relief inside.",
    cautions=(
        "A bracket that carries load is for a qualified person to size under the local code; edge distances here "
        "are minimums of detailing, not strength.",
    ),
    words=("corner", "angle", "tie", "plate", "mending", "bench"),
)
