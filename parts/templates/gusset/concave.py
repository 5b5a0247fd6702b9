r"""Concave gusset: two square legs, the long edge hollowed to a radius between their ends.

    leg_b |\
          | \         radius: tangent to the toes where it just equals leg less toe
          |  `.       corner_radius rounds the toes into the hollow
          | O  `-._   the lightening hole is centred where a circle has most room
    snipe /________| toe
            leg_a
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Loop, Point, Vertex, cross, distance
from parts.profile import Dimension, Profile
from parts.spec import Preset, Template, length
from parts.templates.gusset.shared.leg_holes import LEG_HOLES, LegHoles
from parts.templates.gusset.shared.lightening import Lightened
from parts.tolerance import LIMIT_SLACK_MM


class GussetConcave(Lightened, LegHoles):
    """The root is at the origin, leg A along x and leg B along y."""

    leading = ("leg_a", "leg_b", "radius", "toe", "snipe", "corner_radius", *LEG_HOLES)

    leg_a: float = length("Leg along the base", default=120, minimum=25, maximum=1500)
    leg_b: float = length("Leg up the post", default=120, minimum=25, maximum=1500)
    radius: float = length(
        "Radius of the hollow edge", default=130, minimum=10, maximum=10000,
        help="The smaller, the deeper; leg less toe is a quarter circle.", moves="care",
    )  # fmt: skip
    toe: float = length("Blunt end of each leg", default=12, minimum=2, maximum=200, moves="free")
    snipe: float = length(
        "Snipe at the root",
        default=15,
        minimum=0,
        maximum=200,
        help="Clears the weld: its leg plus a little.",
        moves="free",
    )
    corner_radius: float = length(
        "Corner radius at the toes", default=4, minimum=0, maximum=100, group="Corners", moves="free"
    )

    @property
    def run(self) -> Point:
        """From the foot of the hollow edge to its head, without signs."""
        return self.leg_a - self.toe, self.leg_b - self.toe

    @property
    def least_radius(self) -> float:
        """Radius at which the hollow edge leaves one toe parallel to its leg: smaller, and it dips below the toe.

        The chord c makes an angle with that leg whose sine is the shorter run over c, and the tangent makes one
        with the chord whose sine is c / 2R.
        """
        across, up = self.run
        return (across**2 + up**2) / (2 * min(across, up))

    @property
    def centre(self) -> Point:
        """Centre of the hollow edge: off the middle of its chord, away from the root."""
        across, up = self.run
        chord = math.hypot(across, up)
        off = math.sqrt(max(self.radius**2 - chord**2 / 4, 0.0)) / chord
        return self.toe + across / 2 + off * up, self.toe + up / 2 + off * across

    def inscribed(self, x: float, y: float) -> float:
        """Return the radius of the circle that touches both axes and a hollow edge centred at (x, y) from outside.

        With its centre at (r, r) it is R + r from (x, y): a square equation in r.
        """
        half, ends = x + y + self.radius, x**2 + y**2 - self.radius**2
        return ends / (half + math.sqrt(half**2 - ends))

    @property
    def largest_round(self) -> float:
        """Largest corner radius that both toes have room for: there they are fully round."""
        x, y = self.centre
        return min(self.inscribed(self.leg_a - x, y), self.inscribed(self.leg_b - y, x))

    @property
    def roomiest(self) -> Point:
        """Centre of the largest circle between both legs and the hollow edge (ignoring the snipe)."""
        c = self.inscribed(*self.centre)
        return c, c

    def toe_end(self, leg: float, centre: Point) -> tuple[Point, Point, Point]:
        """Return where the rounding of a toe leaves its end, its centre, and where it joins the hollow edge.

        For the leg along x with its end at x = `leg`; for the other one x and y change places.
        """
        (x, y), r, hollow = centre, self.corner_radius, self.radius
        at = leg - r, y - math.sqrt((hollow + r) ** 2 - (leg - r - x) ** 2)
        share = hollow / (hollow + r)
        return (leg, at[1]), at, (x + share * (at[0] - x), y + share * (at[1] - y))

    @property
    def toes(self) -> tuple[tuple[Point, Point, Point], tuple[Point, Point, Point]]:
        """Both toe ends as `toe_end` gives them."""
        x, y = self.centre
        end, at, joins = self.toe_end(self.leg_b, (y, x))
        return self.toe_end(self.leg_a, (x, y)), (end[::-1], at[::-1], joins[::-1])

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where toe and snipe meet, the hollow dips below a toe, or the toes aren't left room."""
        shorter = min(self.leg_a, self.leg_b)
        clash = [
            *self.under("toe", shorter, "on the shorter leg"),
            *self.under("snipe", shorter - self.corner_radius, "beside the toe on the shorter leg"),
        ]
        clash = clash or [*self.at_least("radius", self.least_radius, "to keep the hollow from dipping below a toe")]
        clash = clash or [*self.at_most("corner_radius", self.largest_round, "at a toe")]
        yield from clash
        if not clash:
            (x, y), ((_, _, foot), (_, _, head)) = self.centre, self.toes
            if cross(foot[0] - x, foot[1] - y, head[0] - x, head[1] - y) >= -LIMIT_SLACK_MM:
                yield self.problem("corner_radius", "must be smaller, or nothing is left of the hollow edge.")
            elif self.snipe >= self.throat - LIMIT_SLACK_MM:
                yield from self.under("snipe", self.throat, "to stay clear of the hollow edge")
            yield from self._hole_problems()

    def _hole_problems(self) -> Iterator[Problem]:
        """Yield a problem where a bolt hole or the lightening hole leaves the gusset, or they meet."""
        rooms = self.hole_room(self.leg_a, self.centre), self.hole_room(self.leg_b, self.centre[::-1])
        yield from self.leg_hole_problems(self.snipe, rooms)
        (c, _), (on_a, on_b) = self.roomiest, self.leg_centres
        room = min(c, (2 * c - self.snipe) * math.sqrt(0.5), min(self.leg_a, self.leg_b) - c)
        yield from self.lightening_problems((c, c), room, (*on_a, *on_b), self.hole_size)

    def hole_room(self, leg: float, centre: Point) -> float:
        """Return how far from the root a bolt hole may stand along a leg: a radius from its end and from the hollow.

        For the leg along x; for the other one x and y of the centre change places.
        """
        half, away = self.hole_size / 2, centre[1] - self.back_mark
        if away <= 0:  # the hollow's centre is no lower than the other leg's end
            return 0.0
        clear = self.radius + half
        return min(leg - half, centre[0] - math.sqrt(max(clear**2 - away**2, 0.0)))

    @property
    def throat(self) -> float:
        """Snipe that would just touch the hollow edge: its line x + y = s is R from the centre."""
        x, y = self.centre
        return x + y - self.radius * math.sqrt(2)


def outline(p: GussetConcave) -> Profile:
    """Draw the gusset counter-clockwise from the root."""
    inside = (*p.leg_openings(), *p.lightening_opening(p.roomiest))
    return Profile((edge(p),), inside, dimensions=tuple(dimensions(p)))


def edge(p: GussetConcave) -> Loop:
    """Return the outline: a quarter turn at each foot, an arc into the hollow and one out of it."""
    a, b, r, quarter = p.leg_a, p.leg_b, p.corner_radius, math.tan(math.pi / 8)
    (end_a, at_a, foot), (end_b, at_b, head) = p.toes
    root: list[Vertex] = [(0, p.snipe, 0), (p.snipe, 0, 0)] if p.snipe else [(0, 0, 0)]
    return Loop.through(
        [
            *root,
            *[(a - r, 0.0, quarter), (a, r, 0.0)],
            *[
                (*end_a, bulge(end_a, at_a, foot)),
                (*foot, -bulge(foot, p.centre, head)),
                (*head, bulge(head, at_b, end_b)),
            ],
            *[(*end_b, 0.0), (r, b, quarter), (0.0, b - r, 0.0)],
        ]
    )


def bulge(start: Point, centre: Point, end: Point) -> float:
    """Return the bulge, without its sign, of the shorter arc about a centre; 0 where the ends are the centre."""
    radius = distance(start, centre)
    return math.tan(math.asin(min(distance(start, end) / (2 * radius), 1.0)) / 2) if radius else 0.0


def dimensions(p: GussetConcave) -> Iterator[Dimension]:
    """Yield where each length of the gusset can be measured."""
    (_, _, foot), (_, _, head) = p.toes
    (x, y), r = p.centre, p.corner_radius
    yield Dimension("leg_a", (0, 0), (p.leg_a, 0), "below")
    yield Dimension("leg_b", (0, 0), (0, p.leg_b), "left")
    middle = (foot[0] + head[0]) / 2 - x, (foot[1] + head[1]) / 2 - y
    out = p.radius / math.hypot(*middle)
    yield Dimension("radius", (x, y), (x + out * middle[0], y + out * middle[1]), "radius")
    yield Dimension("toe", (p.leg_a, 0), (p.leg_a, p.toe), "right")
    if p.snipe:
        yield Dimension("snipe", (0, 0), (p.snipe, 0), "below")
    if r:
        foot_of = p.leg_a - r, r
        yield Dimension("corner_radius", foot_of, (foot_of[0] + r * math.sqrt(0.5), r - r * math.sqrt(0.5)), "radius")
    yield from p.leg_holes_measured()
    yield from p.lightening_measured(p.roomiest)


TEMPLATE = Template(
    "gusset-concave",
    "Concave gusset",
    GussetConcave,
    outline,
    summary="Stiffens a corner with a hollow long edge: softer to look at, its ends run out gently along both members.",
    cautions=(
        "A gusset in a structure or a vehicle carries load: have its size, welds and bolts settled by a "
        "qualified engineer under the local code.",
    ),
    words=("hollow", "radius", "curved", "corner", "brace", "swept", "knee", "frame"),
    presets=(
        Preset("Garden bench, back to seat rail", "leg_a=80 leg_b=110 radius=160 toe=8 snipe=10 thickness=4"),
        Preset(
            "Trailer, headboard post to rail",
            "leg_a=200 leg_b=200 radius=185 toe=15 snipe=20 lightening=40",
            inches="radius=8",
        ),
        Preset("Sign frame, bolted", "leg_a=150 leg_b=150 radius=180 holes_a=2 holes_b=2 bolt=M8 pitch=50 thickness=5"),
    ),
)
