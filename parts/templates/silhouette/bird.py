r"""Bird: a perching songbird drawn in tangent arcs, with a blunt beak, an eye and the lines of its wing cut out.

            _.--.._
beak     .-'       `-._
length  / o            `-._          tip_radius
    .--'     .   .         `-.________.
    `--.     (   (      )  )          |  tail_width
       |      `.  `----'  /     .-----'
depth   `.      `-------'   _.-'
          `-.           _.-'    lines of the wing, a bridge between
             `""-----""'
 overall, from beak to tail
"""

import math
from collections.abc import Iterator

from parts.artwork import Knot, closed, notch, tip
from parts.cached import cached_property
from parts.errors import Problem
from parts.geometry import Loop, Point, circle
from parts.geometry.figure import polar
from parts.profile import Dimension, Opening, Profile
from parts.spec import Preset, Template, count, length
from parts.templates.silhouette.shared.hanging import CAUTIONS, Hung, hung
from parts.templates.silhouette.shared.tapered import arc_vertex

CROWN, EYE, SHOULDER = (0.155, 0.75), (0.1, 0.83, 0.8), (0.3, 0.6, 0.61)
"""How far back crown, eye, and the centre of the wing's rounded front are, as shares of length and beak; how high eye
and centre, as a share of the depth. By eye."""
FRONT, REAR, ROUND = 0.38, 0.78, 245.0
"""Radii of the lowest line at the wing's front and toward its tip as shares of the wing's size; where, in degrees, the
one goes over into the other. By eye."""
LINE, SHORTER = (188.0, 302.0), (9.0, 5.0)
"""From where to where the longest line runs, in degrees, and by how much each next one is shorter at either end."""
TAIL = 0.34
"""Height of the tail's lower corner as a share of the depth. By eye."""


class SilhouetteBird(Hung):
    """The beak's tip is at x = 0, the belly on the x axis; it looks to the left."""

    overall: float = length("Length from beak to tail", default=300, minimum=50, maximum=2500)
    depth: float = length("Depth from crown to belly", default=150, minimum=20, maximum=1500, moves="care")
    beak: float = length("Length of the beak", default=26, minimum=3, maximum=400, moves="free")
    tail_width: float = length("Width of the tail", default=26, minimum=3, maximum=400, moves="free")
    tip_radius: float = length("Radius of beak and tail", default=3, minimum=0.8, maximum=100, moves="free")
    eye_diameter: float = length(
        "Eye", default=11, minimum=0, maximum=200, group="Cut out", help="0 for none.", moves="free"
    )
    lines: int = count("Lines of the wing", default=3, minimum=0, maximum=5, group="Cut out", moves="care")
    line_width: float = length(
        "Width of the lines", default=6, minimum=1, maximum=100, group="Cut out", when=("lines",), moves="free"
    )
    bridge: float = length(
        "Bridge between the lines", default=9, minimum=1, maximum=200, group="Cut out", when=("lines",), moves="free"
    )

    @property
    def foot_x(self) -> float:
        """Under the belly."""
        return 0.38 * self.overall

    @cached_property
    def knots(self) -> list[Knot]:
        """The curve round the bird, counter-clockwise from its crown: beak, breast, belly, tail, back.

        Places and headings are shares and degrees drawn by eye; the tips' arcs touch the lines that length and
        width of the tail set.
        """
        x, h, r, low = self.overall, self.depth, self.tip_radius, TAIL * self.depth
        return [
            Knot((self.crown, h), math.pi),
            *notch((self.beak, 0.8 * h), r, 242, 200),
            *tip((r, 0.72 * h), r, 200, 345),
            *notch((1.04 * self.beak, 0.665 * h), r, 345, 256),
            Knot((self.beak + 0.003 * x, 0.44 * h), math.radians(274)),
            Knot((0.37 * x, 0.0), math.radians(0)),
            Knot((0.62 * x, 0.19 * h), math.radians(32)),
            *tip((x - r, low + r), r, 0, 90),
            *tip((x - r, low + self.tail_width - r), r, 90, 180),
            Knot((0.52 * x, 0.74 * h), math.radians(150)),
        ]

    @cached_property
    def figure(self) -> Loop:
        """The edge of the bird.

        Raises:
            GeometryError: if the curve can't be drawn.
        """
        return Loop.through(closed(self.knots))

    @property
    def crown(self) -> float:
        """Where the head is highest."""
        return CROWN[0] * self.overall + CROWN[1] * self.beak

    @property
    def eye_at(self) -> Point:
        """Centre of the eye."""
        return EYE[0] * self.overall + EYE[1] * self.beak, EYE[2] * self.depth

    @property
    def shoulder(self) -> Point:
        """Centre of the wing's front."""
        return SHOULDER[0] * self.overall + SHOULDER[1] * self.beak, SHOULDER[2] * self.depth

    @property
    def wing(self) -> float:
        """The wing's size: of the depth, but of no deeper bird than half as deep as long."""
        return min(self.depth, self.overall / 2)

    def line_radius(self, k: int) -> float:
        """Radius of the middle of a line at the wing's front, the lowest being 0."""
        return FRONT * self.wing - k * (self.line_width + self.bridge)

    @cached_property
    def cut_outs(self) -> tuple[Opening, ...]:
        """The eye, and the lines of the wing."""
        made = [Opening(circle(self.eye_at, self.eye_diameter), "eye", "eye_diameter")] if self.eye_diameter else []
        return *made, *(Opening(self._line(k), "line", "line_width") for k in range(self.lines))

    def _line(self, k: int) -> Loop:
        """A strip along two arcs that touch: round the wing's front, then flatter toward its tip."""
        front, r, w = self.shoulder, self.line_radius(k), self.line_width / 2
        flatter = (REAR - FRONT) * self.wing
        first, turn, last = (math.radians(a) for a in (LINE[0] + k * SHORTER[0], ROUND, LINE[1] - k * SHORTER[1]))
        rear = _beyond(front, -flatter, turn)
        over, under = (
            [_beyond(front, r + s, first), _beyond(front, r + s, turn), _beyond(rear, r + flatter + s, last)]
            for s in (w, -w)
        )
        return Loop.through([
            arc_vertex(over[0], over[1], front, 1), arc_vertex(over[1], over[2], rear, 1), (*over[2], 1.0),
            arc_vertex(under[2], under[1], rear, -1), arc_vertex(under[1], under[0], front, -1), (*under[0], 1.0),
        ])  # fmt: skip

    def figure_problems(self) -> Iterator[Problem]:
        """Yield what a bird can't have, then what has no room in it."""
        x, h = self.overall, self.depth
        found = [
            *self.at_most("depth", 0.62 * x, "for a bird of this length"),
            *self.over("depth", 0.36 * x, "for a bird of this length"),
        ]
        if not found:
            found += self.at_most("beak", 0.14 * x, "for a bird of this length")
            found += self.over("beak", 0.04 * x, "to stand out from the head")
            found += self.at_most("tail_width", 0.26 * h, "for a body of this depth")
        if not found:
            least = min(self.tail_width / 4, self.beak / 4, h / 36)
            found += self.at_most("tip_radius", least, "for beak and tail of this size")
        yield from found
        if found:
            return
        if not self.is_sound:
            yield self.problem("tip_radius", "can't be drawn with beak and tail of these sizes; it must be smaller.")
            return
        yield from self._cut_out_problems()

    def _cut_out_problems(self) -> Iterator[Problem]:
        yield from self.at_most("eye_diameter", 0.12 * self.depth, "in a head of this size")
        if self.lines:
            yield from self.at_most("line_width", 0.07 * self.wing, "in a wing of this size")
        if self.lines > 1:
            room = (FRONT - 0.06) * self.wing / (self.lines - 1) - self.line_width
            yield from self.at_most("bridge", room, "between so many lines in a wing of this size")

    def figure_dimensions(self) -> Iterator[Dimension]:
        """Yield the lengths of the bird."""
        x, h, r, low = self.overall, self.depth, self.tip_radius, TAIL * self.depth
        yield Dimension("overall", (0, 0.72 * h), (x, low + r), "below")
        yield Dimension("depth", (0.37 * x, 0), (self.crown, h), "left")
        yield Dimension("beak", (0, 0.72 * h), (self.beak, 0.8 * h), "above")
        yield Dimension("tail_width", (x - r, low), (x - r, low + self.tail_width), "right")
        yield Dimension("tip_radius", (r, 0.72 * h), (0, 0.72 * h), "radius")
        if self.eye_diameter:
            a, b = self.eye_at
            yield Dimension("eye_diameter", (a, b), (a, b + self.eye_diameter / 2), "diameter")
        if self.lines:
            at, turn, w = self.shoulder, math.radians(ROUND), self.line_width
            inner = self.line_radius(self.lines - 1) - w / 2
            edges = [_beyond(at, reach, turn) for reach in (inner, inner + w, inner + w + self.bridge)]
            yield Dimension("line_width", edges[0], edges[1], "along")
            if self.lines > 1:
                yield Dimension("bridge", edges[1], edges[2], "along")


def _beyond(centre: Point, reach: float, direction: float) -> Point:
    x, y = polar(reach, direction)
    return centre[0] + x, centre[1] + y


def outline(p: SilhouetteBird) -> Profile:
    """Draw the bird, what is cut out of it and what holds it."""
    return hung(p)


TEMPLATE = Template(
    "silhouette-bird",
    "Bird",
    SilhouetteBird,
    outline,
    summary="A perching songbird in smooth curves, a blunt beak, eye and wing lines cut out; hung or on a stake.",
    cautions=CAUTIONS,
    words=(
        "ornament", "garden", "songbird", "animal", "fence", "bench", "trail sign", "pendant", "feeder", "robin",
        "decoration", "wall art", "yard art",
    ),
    presets=(
        Preset("Garden bed, on a stake", "overall=240 depth=124 beak=20 tail_width=20 tip_radius=2.5 eye_diameter=9 "
               "bridge=8 hang=none foot=stake foot_length=260"),
        Preset("Pendant for the market stall", "overall=130 depth=66 beak=11 tail_width=12 tip_radius=1.5 "
               "eye_diameter=5 lines=0 hole=4 eye=3 thickness=2"),
        Preset("Large, on a tab for the bird walk's trail sign", "overall=640 depth=320 beak=54 tail_width=60 "
               "tip_radius=6 eye_diameter=24 lines=4 line_width=12 bridge=18 hang=none foot=tab foot_width=70 "
               "foot_length=60 blend_radius=12 thickness=4"),
    ),
)  # fmt: skip
