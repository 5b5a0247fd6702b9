r"""Protractor plate: a half disc on a straight base, a line scribed every few degrees, and a pivot hole at its centre.

            90
         ..-|--.          radius, to the arc; the lines end `edge_gap` short of it
      .'    |    '.       tick: length of the lines that carry a number, the others are half as long
    180---  o  ----0      pivot hole, on the base line from 0 to 180
    |     TEXT      |     base, below that line
    |_______________|

A number stands across its own line and is read from outside the arc.
"""

import math
from collections.abc import Iterator

from parts.artwork import Label, characters, scribe_all, text_width
from parts.errors import Problem
from parts.geometry import Line, Loop, Point, Vertex, circle
from parts.profile import Dimension, Opening, Profile, Scribe
from parts.spec import Parameters, Preset, Template, choice, length, text
from parts.templates.shared.scribed_text import too_long
from parts.units import format_angle

MARKS = "Scribed marks"
GAP = 0.75
"""What is left free around a number, in text heights."""
FILLET = math.tan(math.pi / 8)
"""The bulge of a quarter turn."""


class GaugeProtractor(Parameters):
    """The pivot is at the origin, 0 degrees to the right, 90 up."""

    radius: float = length("Protractor, radius", default=150, minimum=30, maximum=1500)
    base: float = length("Base below the centre", default=30, minimum=5, maximum=500)
    corner_radius: float = length("Corner radius of the base", default=5, minimum=0, maximum=200, moves="free")
    pivot: float = length("Pivot hole diameter", default=10, minimum=1, maximum=100, group="Holes")
    every: str = choice(
        "A line every", default="5", choices=("1", "2.5", "5", "10", "15"), group=MARKS, help="Degrees."
    )
    numbered: str = choice(
        "A number every", default="15", choices=("10", "15", "30", "45"), group=MARKS, help="Degrees."
    )
    tick: float = length("Length of a numbered line", default=14, minimum=1, maximum=500, group=MARKS, moves="free")
    edge_gap: float = length("Lines from the edge", default=4, minimum=1, maximum=100, group=MARKS, moves="free")
    text: str = text("Text", default="FERNHOLLOW", characters=characters(), longest=24, group=MARKS)
    text_height: float = length("Text height", default=7, minimum=2, maximum=100, group=MARKS, moves="free")

    @property
    def angles(self) -> list[float]:
        """Every angle with a line, in degrees."""
        step = float(self.every)
        return [i * step for i in range(round(180 / step) + 1)]

    @property
    def numbers(self) -> list[int]:
        """Every angle with a number, in degrees."""
        step = int(self.numbered)
        return [i * step for i in range(180 // step + 1)]

    @property
    def line_end(self) -> float:
        """How far from the pivot the lines end."""
        return self.radius - self.edge_gap

    @property
    def ring(self) -> float:
        """How far from the pivot the middles of the numbers are."""
        return self.line_end - self.tick - (GAP + 0.5) * self.text_height

    @property
    def labels(self) -> list[Label]:
        """The numbers, each across its own line, and the text in the base."""
        h = self.text_height
        found = [Label(str(a), polar(self.ring, a), h, math.radians(a - 90)) for a in self.numbers]
        return found + ([Label(self.text, (0.0, self.text_middle), h)] if self.text.strip() else [])

    @property
    def below(self) -> float:
        """How far below the centre line the numbers 0 and 180, which stand across it, and the pivot reach."""
        return max(text_width("180", self.text_height) / 2, self.pivot / 2)

    @property
    def text_middle(self) -> float:
        """Height of the text's middle: halfway between the base and what stands on the centre line."""
        return -(self.base + self.below) / 2

    def problems(self) -> Iterator[Problem]:
        """Yield what has no room."""
        yield from self.under("pivot", 2 * min(self.base, self.radius), "inside the base")
        yield from self.at_most("corner_radius", min(self.base, self.radius) / 2, "to fit the base")
        yield from self.under("edge_gap", self.radius / 4, "on this radius")
        if int(self.numbered) % float(self.every):
            yield self.problem(
                "numbered", f"must be a multiple of the {format_angle(float(self.every))} between lines."
            )
        yield from self._number_problems()

    def _number_problems(self) -> Iterator[Problem]:
        """The numbers lie inside the lines, around the pivot, clear of their neighbours and of the base's edge.

        A number w wide and h high on the ring has its inner corners at R - h/2; two are apart where the
        half width and half a gap there take less than half the angle between them.
        """
        h, wide = self.text_height, text_width("180", 1)
        inner = (wide + GAP) / 2 / math.tan(math.radians(int(self.numbered)) / 2)
        round_pivot = self.pivot / 2 / h + GAP
        needed = (max(inner, round_pivot) + 1 + GAP) * h
        yield from self.under("tick", self.line_end - needed, "for the numbers to have room inside the lines")
        yield from self.under("text_height", self.base / (wide / 2 + GAP), "for 0 and 180 to stand on the base")
        if self.text.strip():
            low = self.pivot / 2
            most = min(self.base / (wide / 2 + 1 + 2 * GAP), (self.base - low) / (1 + 2 * GAP))
            yield from self.at_most("text_height", most, "for the text in the base")
            room = 2 * (self.radius - self.corner_radius)
            if text_width(self.text, h) > room - 2 * GAP * h:
                highest = room / (text_width(self.text, 1) + 2 * GAP)
                yield too_long(self, self.text, "text_height", "the base", (room - 2 * GAP * h, highest))


def polar(radius: float, degrees: float) -> Point:
    """Return the point at a distance and an angle from the pivot."""
    return radius * math.cos(math.radians(degrees)), radius * math.sin(math.radians(degrees))


def outline(p: GaugeProtractor) -> Profile:
    """Draw the plate counter-clockwise from the lower left corner."""
    r, b, c = p.radius, p.base, p.corner_radius
    path: list[Vertex] = [(-r, c - b, FILLET), (c - r, -b, 0.0), (r - c, -b, FILLET), (r, c - b, 0.0)]
    path += [(r, 0.0, FILLET), (0.0, r, FILLET), (-r, 0.0, 0.0)]
    pivot = Opening(circle((0.0, 0.0), p.pivot), "pivot hole", "pivot")
    marks = (*ticks(p), *scribe_all(p.labels))
    return Profile((Loop.through(path),), (pivot,), marks, tuple(dimensions(p)))


def ticks(p: GaugeProtractor) -> Iterator[Scribe]:
    """Yield the lines from 0 to 180 degrees; those without a number are half as long."""
    for a in p.angles:
        long = a % int(p.numbered) == 0
        yield Scribe((Line(polar(p.line_end - p.tick * (1.0 if long else 0.5), a), polar(p.line_end, a)),))


def dimensions(p: GaugeProtractor) -> Iterator[Dimension]:
    """Yield where each length of the protractor can be measured."""
    r, b, half = p.radius, p.base, math.sqrt(0.5)
    yield Dimension("radius", (0, 0), (0, r), "right")
    yield Dimension("base", (-r, -b), (-r, 0), "left")
    if c := p.corner_radius:
        yield Dimension("corner_radius", (r - c, c - b), (r - c + half * c, c - b - half * c), "radius")
    yield Dimension("pivot", (0, 0), (p.pivot / 2, 0), "diameter")
    yield Dimension("tick", (p.line_end - p.tick, 0), (p.line_end, 0), "below")
    yield Dimension("edge_gap", (p.line_end, 0), (r, 0), "below")
    # The number 90 stands upright.
    low, high = p.ring - p.text_height / 2, p.ring + p.text_height / 2
    yield Dimension("text_height", (-p.text_height, low), (-p.text_height, high), "left")


TEMPLATE = Template(
    "gauge-protractor",
    "Protractor plate",
    GaugeProtractor,
    outline,
    summary="A half disc with a line every few degrees, numbers and a pivot hole, to set and to check angles.",
    cautions=(
        "Let the plate cool and deburr it before you handle it: cut edges are sharp and stay hot.",
        "A scribed line is good for setting out; prove an angle that matters on a certified instrument.",
    ),
    sizes=("radius",),
    words=("angle", "degrees", "bevel", "mitre", "gauge", "setting", "half disc", "goniometer"),
    presets=(
        Preset("Trail signs, post angles by 10", "radius=120 every=10 numbered=30 thickness=3 text=SIGNS"),
        Preset(
            "Garden bench, every degree",
            "radius=300 every=1 numbered=10 base=45 tick=20 text_height=9 text=BENCHES",
        ),
        Preset("Trailer drawbar, mitres by 15", "radius=200 every=15 pivot=13 base=40 text=DRAWBAR text_height=9"),
    ),
)
