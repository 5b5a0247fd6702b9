r"""Radius gauge: a plate with four sizes, each as a rounded corner and as a half-round notch, numbered.

     ____   ____
    / R10 \_/ R8\     radius_1 at the lower left and in the lower edge, then counter-clockwise:
    |   R8  O    |    radius_2 lower right and right edge, and so on
    >  R10  R6  <     size_x by size_y; a hole to hang it by
    |    R5      |    each number stands beside its corner, and beside its notch
    \_R5_/ \_R6_/

A corner is tried in an inside radius, a notch on an outside one.
"""

import math
from collections.abc import Iterator

from parts.artwork import Label, numeral_width, scribe_all, text_width
from parts.errors import Problem
from parts.geometry import Loop, Point, Vertex, circle, rotation
from parts.profile import Dimension, Opening, Profile
from parts.spec import Parameters, Preset, Template, length
from parts.units import length_number

RADII = ("radius_1", "radius_2", "radius_3", "radius_4")
QUARTER = math.tan(math.pi / 8)
GAP = 0.75
"""What is left free around a number, in text heights."""


class GaugeRadius(Parameters):
    """The lower left corner of the rectangle is at the origin."""

    size_x: float = length("Length along X", default=120, minimum=20, maximum=800)
    size_y: float = length("Length along Y", default=120, minimum=20, maximum=800)
    radius_1: float = length("Radius, lower left", default=6, minimum=1, maximum=100, group="Radii")
    radius_2: float = length("Radius, lower right", default=8, minimum=1, maximum=100, group="Radii")
    radius_3: float = length("Radius, upper right", default=10, minimum=1, maximum=100, group="Radii")
    radius_4: float = length("Radius, upper left", default=12, minimum=1, maximum=100, group="Radii")
    hole: float = length(
        "Hole to hang it by",
        default=12,
        minimum=0,
        maximum=100,
        group="Holes",
        help="In the middle; 0 for none.",
        moves="care",
    )
    text_height: float = length("Text height", default=5, minimum=2, maximum=50, group="Scribed marks", moves="free")

    @property
    def radii(self) -> tuple[float, ...]:
        """The radii, counter-clockwise from the lower left."""
        return self.radius_1, self.radius_2, self.radius_3, self.radius_4

    @property
    def corners(self) -> tuple[Point, ...]:
        """The corners of the rectangle, counter-clockwise from the origin."""
        return (0.0, 0.0), (self.size_x, 0.0), (self.size_x, self.size_y), (0.0, self.size_y)

    @property
    def middle(self) -> Point:
        """The middle of the plate."""
        return self.size_x / 2, self.size_y / 2

    @property
    def reach(self) -> tuple[float, float]:
        """How far the largest radius with its number reaches along X and along Y, with a gap on both sides."""
        wide = max(text_width("R0", 1) - text_width("0", 1) + numeral_width(r) for r in self.radii)
        return max(self.radii) + (wide + 2 * GAP) * self.text_height, max(self.radii) + (1 + 2 * GAP) * self.text_height

    @property
    def labels(self) -> list[Label]:
        """The numbers: those of the corners, then those of the notches."""
        h, x, y = self.text_height, self.size_x, self.size_y
        texts = [f"R{length_number(r, self.units)}" for r in self.radii]
        found = []
        for text, r, (cx, cy) in zip(texts, self.radii, self.corners, strict=True):
            a, b = (1 if cx == 0 else -1), (1 if cy == 0 else -1)
            found.append(
                Label(text, (cx + a * (r + GAP * h + text_width(text, h) / 2), cy + b * (r + GAP * h + h / 2)), h)
            )
        middles = ((x / 2, 0.0, 0, 1), (x, y / 2, -1, 0), (x / 2, y, 0, -1), (0.0, y / 2, 1, 0))
        for text, r, (mx, my, a, b) in zip(texts, self.radii, middles, strict=True):
            out_x, out_y = r + GAP * h + text_width(text, h) / 2, r + GAP * h + h / 2
            found.append(Label(text, (mx + a * out_x, my + b * out_y), h))
        return found

    def problems(self) -> Iterator[Problem]:
        """Yield what has no room: two corners with their numbers and what stands in the middle, along each side."""
        sides = [*self._side_problems()]
        yield from sides
        if self.hole and not sides:
            (across, up), x, y = self.reach, self.size_x / 2, self.size_y / 2
            yield from self.at_most("hole", 2 * min(x - across, y - up), "between the numbers of the notches")

    def _side_problems(self) -> Iterator[Problem]:
        largest, (across, up), h = max(self.radii), self.reach, self.text_height
        name, limits = RADII[self.radii.index(largest)], []
        for size, reach, axis in ((self.size_x, across, "X"), (self.size_y, up, "Y")):
            yield from self.under(name, size / 4, f"for two corners and a notch along {axis}")
            # Between two corners with their numbers stands a notch, or the number of one; each in heights of the text.
            wide, room = (reach - largest) / h, size / 2 - largest
            limits.append(min((room - largest) / wide, room / (1.5 * wide)))
        if largest < min(self.size_x, self.size_y) / 4:
            yield from self.at_most("text_height", min(limits), "for the numbers between corners and notches")


def outline(p: GaugeRadius) -> Profile:
    """Draw the plate counter-clockwise from its lower left corner: a corner, then the notch in the side after it."""
    path: list[Vertex] = []
    sides = (p.size_x, p.size_y, p.size_x, p.size_y)
    for i, (r, side, (x, y)) in enumerate(zip(p.radii, sides, p.corners, strict=True)):
        turn = rotation(i * math.pi / 2)
        for along, inward, bulge in (
            (0.0, r, QUARTER),
            (r, 0.0, 0.0),
            (side / 2 - r, 0.0, -1.0),
            (side / 2 + r, 0.0, 0.0),
        ):
            dx, dy = turn.point((along, inward))
            path.append((x + dx, y + dy, bulge))
    hole = (Opening(circle(p.middle, p.hole), "hole", "hole"),) if p.hole else ()
    return Profile((Loop.through(path),), hole, scribe_all(p.labels), tuple(dimensions(p)))


def dimensions(p: GaugeRadius) -> Iterator[Dimension]:
    """Yield where each length of the gauge can be measured."""
    yield Dimension("size_x", (0, 0), (p.size_x, 0), "below")
    yield Dimension("size_y", (0, 0), (0, p.size_y), "left")
    for name, r, (x, y) in zip(RADII, p.radii, p.corners, strict=True):
        a, b, out = (1 if x == 0 else -1), (1 if y == 0 else -1), r * math.sqrt(0.5)
        cx, cy = x + a * r, y + b * r
        yield Dimension(name, (cx, cy), (cx - a * out, cy - b * out), "radius")
    if p.hole:
        x, y = p.middle
        yield Dimension("hole", (x, y), (x + p.hole / 2, y), "diameter")
    _, low, right, high = p.labels[1].box
    yield Dimension("text_height", (right, low), (right, high), "right")


TEMPLATE = Template(
    "gauge-radius",
    "Radius gauge",
    GaugeRadius,
    outline,
    summary="Four radii on one plate, each as a rounded corner and as a half-round notch, numbered.",
    cautions=("Let the gauge cool and deburr it before you try it on a part: cut edges are sharp.",),
    words=("radius", "fillet", "round", "corner", "profile", "gauge", "template"),
    presets=(
        Preset(
            "Garden bench, rounded seat ends",
            "radius_1=15 radius_2=20 radius_3=25 radius_4=30 size_x=190 size_y=190",
            inches="text_height=5/32",
        ),
        Preset(
            "Trail signs, small corners",
            "radius_1=4 radius_2=5 radius_3=6 radius_4=8 thickness=3 size_x=100 size_y=100 text_height=4",
        ),
        Preset(
            "Trailer, inch radii",
            "radius_2=3/8in radius_3=1/2in radius_4=5/8in size_x=6in size_y=6in units=in",
        ),
    ),
)
