r"""Fillet weld gauge: a leaf whose corners are each cut back to one leg size, to be set into the joint over the weld.

     ______________
    / 10        8 \    leg_1 at the lower left, then counter-clockwise: how far each corner is cut back
    |      _       |   along both edges; the cut bows in by `bow`, so that a slightly convex weld has room
    |     (_)      |   hole to hang it by, in the middle
    |  5        6  |   size_x by size_y
    \______________/

A weld of the size fills the corner; the leaf rocks on a larger one, and light shows over a smaller one.
"""

import math
from collections.abc import Iterator

from parts.artwork import Label, numeral_width, scribe_all
from parts.errors import Problem
from parts.geometry import Loop, Point, Vertex, circle
from parts.profile import Dimension, Opening, Profile
from parts.spec import Parameters, Preset, Template, length
from parts.units import length_number

LEGS = ("leg_1", "leg_2", "leg_3", "leg_4")
GAP = 0.75
"""What is left free around a number, in text heights."""


class GaugeFillet(Parameters):
    """The lower left corner, before it is cut back, is at the origin."""

    size_x: float = length("Length along X", default=70, minimum=15, maximum=400)
    size_y: float = length("Length along Y", default=60, minimum=15, maximum=400)
    leg_1: float = length("Leg size, lower left", default=5, minimum=1, maximum=60, group="Leg sizes")
    leg_2: float = length("Leg size, lower right", default=6, minimum=1, maximum=60, group="Leg sizes")
    leg_3: float = length("Leg size, upper right", default=8, minimum=1, maximum=60, group="Leg sizes")
    leg_4: float = length("Leg size, upper left", default=10, minimum=1, maximum=60, group="Leg sizes")
    bow: float = length(
        "Bow of the cuts", default=0, minimum=0, maximum=6, group="Leg sizes",
        help="How far the middle of a cut lies behind the straight line between the toes.",
    )  # fmt: skip
    hole: float = length("Hole to hang it by", default=12, minimum=1, maximum=60, group="Holes", moves="care")
    text_height: float = length("Text height", default=5, minimum=2, maximum=50, group="Scribed marks", moves="free")

    @property
    def legs(self) -> tuple[float, ...]:
        """The leg sizes, counter-clockwise from the lower left."""
        return self.leg_1, self.leg_2, self.leg_3, self.leg_4

    @property
    def corners(self) -> tuple[tuple[Point, Point], ...]:
        """Each corner, and which way the leaf lies from it along x and along y."""
        x, y = self.size_x, self.size_y
        return ((0, 0), (1, 1)), ((x, 0), (-1, 1)), ((x, y), (-1, -1)), ((0, y), (1, -1))

    @property
    def labels(self) -> list[Label]:
        """The number of each leg size, beyond the square that its corner is cut from."""
        h, found = self.text_height, []
        for leg, ((x, y), (a, b)) in zip(self.legs, self.corners, strict=True):
            number = Label(length_number(leg, self.units), (0.0, 0.0), h)
            out = leg + GAP * h
            found.append(Label(number.text, (x + a * (out + number.width / 2), y + b * (out + h / 2)), h))
        return found

    def problems(self) -> Iterator[Problem]:
        """Yield what has no room: first the corners, then the numbers in the quarters between hole and corners."""
        h, short = self.text_height, min(self.size_x, self.size_y)
        corners: list[Problem] = []
        for name, leg in zip(LEGS, self.legs, strict=True):
            corners += self.under(name, short / 2, "to leave metal between two corners")
            # Bowed to a quarter circle, the cut would meet the edges square: it bows by leg (1 - sqrt 1/2) then.
            most = leg * (1 - math.sqrt(0.5))
            if self.bow > most and not corners:
                corners += self.at_most("bow", most, f"for a leg of {self.say(leg)}")
        yield from corners
        most = min((self.size_x / 2 - leg) / (numeral_width(leg) + 1.5 * GAP) for leg in self.legs)
        up = max(leg + (1 + 1.5 * GAP) * h for leg in self.legs)
        wide = [*self.at_most("text_height", most, "for two numbers along X")] if not corners else []
        yield from wide
        if not corners and not wide:
            # The numbers stand outside the hole's band, above and below it.
            yield from self.under("hole", self.size_y - 2 * up, "between the numbers above and below it")
            yield from self.under("hole", self.size_x / 2, "on the leaf")


def outline(p: GaugeFillet) -> Profile:
    """Draw the leaf counter-clockwise from its lower left corner."""
    path: list[Vertex] = []
    for i, (leg, ((x, y), (a, b))) in enumerate(zip(p.legs, p.corners, strict=True)):
        upright, level = (x, y + b * leg), (x + a * leg, y)
        start, end = (upright, level) if i % 2 == 0 else (level, upright)
        path += [(*start, -2 * p.bow / (math.sqrt(2) * leg)), (*end, 0.0)]
    hole = Opening(circle((p.size_x / 2, p.size_y / 2), p.hole), "hole", "hole")
    return Profile((Loop.through(path),), (hole,), scribe_all(p.labels), tuple(dimensions(p)))


def dimensions(p: GaugeFillet) -> Iterator[Dimension]:
    """Yield where each length of the leaf can be measured."""
    x, y = p.size_x, p.size_y
    yield Dimension("size_x", (0, 0), (x, 0), "below")
    yield Dimension("size_y", (0, 0), (0, y), "left")
    for name, leg, (at, (a, _)) in zip(LEGS, p.legs, p.corners, strict=True):
        yield Dimension(name, at, (at[0] + a * leg, at[1]), "above" if at[1] else "below")
    if p.bow:
        half, back = p.leg_3 / 2, p.bow * math.sqrt(0.5)
        middle = x - half, y - half
        yield Dimension("bow", middle, (middle[0] - back, middle[1] - back), "along")
    c, out = (x / 2, y / 2), p.hole / 2 * math.sqrt(0.5)
    yield Dimension("hole", c, (c[0] + out, c[1] + out), "diameter")
    left, low, _, high = p.labels[0].box
    yield Dimension("text_height", (left, low), (left, high), "left")


TEMPLATE = Template(
    "gauge-fillet",
    "Fillet weld gauge",
    GaugeFillet,
    outline,
    summary="A leaf with a leg size at each corner, numbered, to check fillet welds against at the bench.",
    cautions=(
        "A cut leaf sorts welds at the bench; a weld that carries load is inspected with a certified gauge, by a "
        "qualified inspector under the local code.",
        "Let the weld and the leaf cool before you handle them.",
    ),
    words=("weld", "leg", "throat", "inspection", "size", "gauge", "leaf"),
    presets=(
        Preset("AISC 360 Table J2.4 least legs, mm", "leg_1=3 leg_2=5 leg_3=6 leg_4=8 thickness=3", is_metric=True),
        Preset(
            "AISC 360 Table J2.4 least legs, in",
            "leg_1=1/8in leg_2=3/16in leg_3=1/4in leg_4=5/16in thickness=1/8in units=in",
        ),
        Preset("Trailer drawbar, convex welds", "leg_1=8 leg_2=10 leg_3=12 leg_4=14 size_x=90 size_y=80 bow=1.5"),
    ),
)
