r"""Handrail bracket: an arm from a wall or a post out and up to a rail, its end hollowed to the rail's tube or flat.

          (  rail  )
           \______/
            |    |       out: from the wall to the middle of the rail
       _____|    |       up: from the foot of the arm to the middle of the rail, or to its flat end
      | .        |       root: how high the arm is where it is welded on
      |__________/
      out

Cut upright and welded to a wall plate or a post by its left edge; the rail stands on its end and is welded there.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Loop, Point, arched, fillet, polygon
from parts.profile import Dimension, Profile
from parts.spec import Parameters, Preset, Template, length


class BracketHandrail(Parameters):
    """The foot of the root is at the origin, the wall along the y axis."""

    out: float = length("Wall to the middle of the rail", default=80, minimum=15, maximum=500)
    up: float = length("Foot of the arm to the middle of the rail", default=90, minimum=15, maximum=600)
    rail: float = length(
        "Rail, outside diameter of its tube", default=42.4, inches="1.66", minimum=0, maximum=200,
        help="0: a flat end, for a flat bar or a wooden rail.",
    )  # fmt: skip
    rail_gap: float = length("Fit-up gap at the rail", default=0.5, minimum=0, maximum=5, when=("rail",))
    root: float = length("Root, height at the wall", default=35, minimum=5, maximum=400)
    end: float = length("Upright under the rail, width", default=30, minimum=5, maximum=200, moves="care")
    inner_radius: float = length("Radius inside the elbow", default=20, minimum=0, maximum=300, moves="free")
    outer_radius: float = length("Radius outside the elbow", default=35, minimum=0, maximum=400, moves="free")

    @property
    def hollow(self) -> float:
        """Radius of the hollow, mm; 0 for a flat end."""
        return self.rail / 2 + self.rail_gap if self.rail else 0.0

    @property
    def shoulder(self) -> float:
        """How high the ends of the hollow are above the foot, mm."""
        return self.up - math.sqrt(max(self.hollow**2 - (self.end / 2) ** 2, 0.0))

    @property
    def sides(self) -> tuple[float, float]:
        """How far the sides of the upright are from the wall, mm."""
        return self.out - self.end / 2, self.out + self.end / 2

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the upright doesn't clear the wall or hold the rail, or a radius has no room."""
        clash = [*self.under("end", 2 * self.out, "to clear the wall")]
        if self.rail:
            clash += self.under("end", 2 * self.hollow, "to hold this rail")
        clash += self.over("up", self.root + self.hollow, "for the rail to stand above the arm")
        yield from clash
        if clash:
            return
        (left, right), high = self.sides, self.shoulder
        yield from self.at_most("inner_radius", min(left, high - self.root), "inside the elbow")
        yield from self.at_most("outer_radius", min(right, high), "outside the elbow")
        yield from self._thin_problems()

    def _thin_problems(self) -> Iterator[Problem]:
        """Where both radii meet: the inner one's middle is up and left of the outer one's."""
        left, right = self.sides
        q, r = self.inner_radius, self.outer_radius
        inner, outer = (left - q, self.root + q), (right - r, r)
        dx, dy = outer[0] - inner[0], outer[1] - inner[1]
        if dx < 0 and dy > 0 and math.hypot(dx, dy) + r <= q:
            yield self.tight("outer_radius", "outside the radius inside the elbow")


def outline(p: BracketHandrail) -> Profile:
    """Draw the arm."""
    return Profile((edge(p),), (), dimensions=tuple(dimensions(p)))


def edge(p: BracketHandrail) -> Loop:
    """Return the edge counter-clockwise from the foot of the root."""
    (left, right), high = p.sides, p.shoulder
    start, finish = (right, high), (left, high)
    plain = polygon(
        [(0, 0), fillet(right, 0, p.outer_radius), start, finish, fillet(left, p.root, p.inner_radius), (0, p.root)]
    )
    if not p.rail:
        return plain
    half = math.asin(p.end / 2 / p.hollow)
    return arched(plain, start, finish, -math.tan(half / 2))


def dimensions(p: BracketHandrail) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    (left, right), middle = p.sides, (p.out, p.up)
    yield Dimension("out", (0, p.root), middle, "above")
    yield Dimension("up", (right, 0), middle, "right")
    yield Dimension("root", (0, 0), (0, p.root), "left")
    yield Dimension("end", (left, p.shoulder), (right, p.shoulder), "above")
    if p.rail:
        yield Dimension("rail", middle, (p.out, p.up - p.rail / 2), "diameter")
        if p.rail_gap:
            yield Dimension("rail_gap", (p.out, p.up - p.hollow), (p.out, p.up - p.rail / 2), "right")
    for name, r, (x, y), turn in (
        ("inner_radius", p.inner_radius, (left - p.inner_radius, p.root + p.inner_radius), 1),
        ("outer_radius", p.outer_radius, (right - p.outer_radius, p.outer_radius), 1),
    ):
        if r:
            yield from _radius(name, r, (x, y), turn)


def _radius(name: str, r: float, centre: Point, turn: int) -> Iterator[Dimension]:
    out = r * math.sqrt(0.5)
    yield Dimension(name, centre, (centre[0] + turn * out, centre[1] - out), "radius")


TEMPLATE = Template(
    "bracket-handrail",
    "Handrail bracket",
    BracketHandrail,
    outline,
    summary="An arm from a wall or post out and up to a handrail, hollowed to its tube or flat.",
    cautions=(
        "People fall on a rail that gives: height, reach, spacing, load and fixing of handrails and guards are settled "
        "by the local building code and whoever is licensed for it.",
        "Leave room for a hand round the rail, and no edge or end that catches a sleeve.",
    ),
    sizes=("rail",),
    words=("handrail", "hand rail", "rail", "stair", "banister", "balustrade", "guard", "grab rail", "arm", "saddle"),
    presets=(
        Preset("Tube of 42.4 to a wall", "thickness=8", is_metric=True),
        Preset(
            "Tube of 48.3 to the side of a post",
            "rail=48.3 out=70 up=75 root=30 thickness=10 inner_radius=12",
            is_metric=True,
        ),
        Preset(
            "Pipe of 1-1/4 in, 1.66 outside",
            "rail=1.66in out=3in up=3-1/2in root=1-1/2in end=1-1/4in thickness=3/8in "
            "inner_radius=1/2in outer_radius=1-1/4in",
        ),
        Preset("Flat bar or wooden rail", "rail=0 out=75 up=70 end=40 thickness=8"),
    ),
)
