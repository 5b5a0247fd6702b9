r"""Flanged corner brace: a triangular gusset, its long edge bent into a flange; the drawing is the flat.

    leg_b |\  /
          | \/ `.        flange: bent up along the chain line, measured on the bent part from its outside
          |  \.  `.      ends: how far in from the toes along the long edge it stops
          |    \.  /     a relief slot at each end lets it bend without tearing the web
          |      \/\
    snipe /_________| toe
            leg_a

The long edge runs from toe to toe where the outside of the flange is on the bent part.
"""

import math
from collections.abc import Iterator

from parts.cached import cached_property
from parts.errors import Problem
from parts.forming import Fold
from parts.geometry import Corner, Line, Loop, Point, arched, fillet, largest_fillet, polygon
from parts.profile import Bend, Dimension, Profile
from parts.spec import Preset, Template, angle, length
from parts.templates.gusset.shared.leg_holes import LEG_HOLES, LegHoles
from parts.templates.shared.bent import BRAKE_CAUTION, Bent


class GussetFlangeBrace(Bent, LegHoles):
    """The root is at the origin, leg A along x and leg B along y."""

    leading = (
        *("leg_a", "leg_b", "toe", "snipe", "flange", "bend", "ends", "relief", "bend_radius", "k"),
        *("corner_radius", *LEG_HOLES),
    )

    leg_a: float = length("Leg along the base", default=180, minimum=30, maximum=1500)
    leg_b: float = length("Leg up the post", default=180, minimum=30, maximum=1500)
    toe: float = length("Blunt end of each leg", default=20, minimum=2, maximum=200, moves="free")
    snipe: float = length(
        "Snipe at the root",
        default=15,
        minimum=0,
        maximum=200,
        help="Clears the weld: its leg plus a little.",
        moves="free",
    )
    flange: float = length("Flange, outside", default=40, minimum=5, maximum=500)
    bend: float = angle(
        "Bend angle", default=90, minimum=5, maximum=135, group="Bending", help="Turned through; 90 is square."
    )
    ends: float = length(
        "Flange in from the toes",
        default=30,
        minimum=2,
        maximum=700,
        group="Bending",
        help="Along the long edge.",
        moves="free",
    )
    relief: float = length(
        "Relief slot, width", default=6, minimum=0.5, maximum=50, group="Bending",
        help="The thickness or more; it ends round, just past the bend.", moves="free",
    )  # fmt: skip
    corner_radius: float = length("Corner radius", default=5, minimum=0, maximum=100, group="Corners", moves="free")

    @property
    def run(self) -> float:
        """Length of the long edge."""
        return math.hypot(self.leg_a - self.toe, self.leg_b - self.toe)

    @cached_property
    def folded(self) -> Fold:
        """The bend."""
        return self.fold(self.bend)

    @property
    def reach(self) -> float:
        """How far the flat of the flange reaches past the long edge."""
        return self.flange - self.folded.deduction

    @property
    def slot_depth(self) -> float:
        """How deep a relief goes in from the long edge: its round end begins where the bend does."""
        return self.folded.setback + self.relief / 2

    def at(self, along: float, out: float) -> Point:
        """Return the point so far along the long edge from the foot, and so far out from it."""
        c, s = (self.toe - self.leg_a) / self.run, (self.leg_b - self.toe) / self.run
        return self.leg_a + c * along + s * out, self.toe + s * along - c * out

    def slot(self, along: float) -> tuple[Point, Point]:
        """Return where the round end of a relief begins and ends, between `along` and a width further."""
        return self.at(along, -self.folded.setback), self.at(along + self.relief, -self.folded.setback)

    @cached_property
    def slots(self) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
        """The ends of both reliefs, from the foot of the long edge."""
        return self.slot(self.ends - self.relief), self.slot(self.run - self.ends)

    @property
    def corners(self) -> list[Corner | Point]:
        """The outline counter-clockwise from the root, the reliefs' round ends as chords."""
        a, b, r, last = self.leg_a, self.leg_b, self.corner_radius, self.run - self.ends
        root: list[Corner | Point] = [(0.0, self.snipe), (self.snipe, 0.0)] if self.snipe else [(0.0, 0.0)]
        foot, head = self.slots
        return [
            *[*root, fillet(a, 0, r), fillet(a, self.toe, r)],
            *[self.at(self.ends - self.relief, 0), *foot],
            *[fillet(*self.at(self.ends, self.reach), r), fillet(*self.at(last, self.reach), r)],
            *[*head, self.at(last + self.relief, 0)],
            *[fillet(self.toe, b, r), fillet(0, b, r)],
        ]

    @property
    def bent_size(self) -> tuple[float, float, float]:
        """The web lies flat; a flange bent by less than square leans out past the legs, by more in over the web."""
        c, s = (self.toe - self.leg_a) / self.run, (self.leg_b - self.toe) / self.run
        level, rise = math.cos(self.folded.angle), math.sin(self.folded.angle)
        r, t, last = self.corner_radius, self.thickness, self.run - self.ends
        tip = (self.flange - r) * level  # from the mould line to the centres of the flange's rounded corners, in plan
        inner = tip - t * rise
        round_x, round_y = r * math.hypot(c, s * level), r * math.hypot(s, c * level)
        x_high = max(self.leg_a, self.leg_a + c * (self.ends + r) + s * tip + round_x)
        x_low = min(0.0, self.leg_a + c * (last - r) + s * inner - round_x)
        y_high = max(self.leg_b, self.toe + s * (last - r) - c * tip + round_y)
        y_low = min(0.0, self.toe + s * (self.ends + r) - c * inner - round_y)
        return x_high - x_low, y_high - y_low, max(t, self.flange * rise + max(t * level, 0.0))

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where toe and snipe meet, the bend takes the flange, or a relief leaves the web."""
        shorter = min(self.leg_a, self.leg_b)
        clash = [
            *self.under("toe", shorter, "on the shorter leg"),
            *self.under("snipe", shorter, "on the shorter leg"),
            *self.over("flange", self.folded.setback, "beyond the bend"),
        ]
        clash = clash or [
            *self.over("ends", self.relief, "for the relief to start past the toe"),
            *self.under("ends", self.run / 2, "to leave a flange between them"),
        ]
        clash = clash or list(self._relief_problems())
        yield from clash
        if not clash:
            room = min(largest_fillet(self.corners), self.flange - self.folded.setback)
            yield from self.at_most("corner_radius", room, "to fit toes and flange")
            on_a, on_b = ((self.leg_a, self.leg_b), (self.leg_b, self.leg_a))
            rooms = self.room_below(*on_a, self.toe), self.room_below(*on_b, self.toe)
            yield from self.leg_hole_problems(self.snipe, rooms)

    def _relief_problems(self) -> Iterator[Problem]:
        """Yield a problem unless the round ends of the reliefs lie inside the web."""
        (foot, _), (_, head) = self.slots
        middles = [((p[0] + q[0]) / 2, (p[1] + q[1]) / 2) for p, q in self.slots]
        r = self.relief / 2
        within = min(*foot, *head) > 0 and all(
            min(at) > r and sum(at) > self.snipe + r * math.sqrt(2) for at in middles
        )
        if not within:
            yield self.problem("ends", "must be more, or the bend smaller, for the reliefs to stay inside the web.")


def outline(p: GussetFlangeBrace) -> Profile:
    """Draw the flat with its bend line, reliefs and holes."""
    fold = p.folded
    level = fold.allowance / 2 - fold.setback
    line = Line(p.at(p.ends, level), p.at(p.run - p.ends, level))
    marks = (Bend(line, fold.angle, fold.radius, fold.up, fold.k),)
    return Profile((edge(p),), p.leg_openings(), marks, tuple(dimensions(p)))


def edge(p: GussetFlangeBrace) -> Loop:
    """Return the outline with the reliefs' ends round."""
    loop = polygon(p.corners)
    for start, end in p.slots:
        loop = arched(loop, start, end, -1.0)
    return loop


def dimensions(p: GussetFlangeBrace) -> Iterator[Dimension]:
    """Yield where each length can be measured: the flange as bent, from its edge to the mould line."""
    yield Dimension("leg_a", (0, 0), (p.leg_a, 0), "below")
    yield Dimension("leg_b", (0, 0), (0, p.leg_b), "left")
    yield Dimension("toe", (p.leg_a, 0), (p.leg_a, p.toe), "right")
    if p.snipe:
        yield Dimension("snipe", (0, 0), (p.snipe, 0), "below")
    last = p.run - p.ends
    upper = p.ends + (last - p.ends) * 2 / 3  # clear of what is lettered in the middle of the bend
    yield Dimension("flange", p.at(upper, p.reach - p.flange), p.at(upper, p.reach), "along")
    yield Dimension("ends", p.at(last, 0), p.at(p.run, 0), "along")
    yield Dimension("relief", p.at(p.ends - p.relief, 0), p.at(p.ends, 0), "along")
    if r := p.corner_radius:
        centre, out = (p.leg_a - r, r), r * math.sqrt(0.5)
        yield Dimension("corner_radius", centre, (centre[0] + out, r - out), "radius")
    yield from p.leg_holes_measured()


TEMPLATE = Template(
    "gusset-flange-brace",
    "Flanged corner brace",
    GussetFlangeBrace,
    outline,
    summary="A triangular brace whose long edge is bent into a flange, so that thin plate doesn't buckle along it.",
    cautions=(
        "A brace in a structure or a vehicle carries load: have its size, welds and bolts settled by a "
        "qualified engineer under the local code.",
        BRAKE_CAUTION,
    ),
    words=("bent", "folded", "stiffened edge", "lip", "knee", "gusset", "corner", "flange"),
    presets=(
        Preset("Garden bench, seat brace", "leg_a=110 leg_b=110 toe=12 flange=20 thickness=3 ends=18 relief=4"),
        Preset(
            "Trailer headboard, bolted",
            "leg_a=220 leg_b=260 holes_a=2 holes_b=2 bolt=M12 back_mark=25 first_hole=60 pitch=60",
        ),
        Preset(
            "Table leg, 10 ga",
            "leg_a=6in leg_b=8in thickness=10ga flange=1in toe=3/4in ends=1in relief=3/16in snipe=3/8in "
            "corner_radius=3/16in",
        ),
    ),
)
