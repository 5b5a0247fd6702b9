"""Sizes that step up from left to right on a plate, their numbers scribed below: parameters that such gauges share.

The marks stand in a strip along the lower edge: the arrows of X and Y at its left end, a line of text, and above it the
numbers, each under its own size.
"""

import itertools
from collections.abc import Iterator

from parts.artwork import Label, arrow, characters, numeral_width, scribe_all, text_width
from parts.errors import Problem
from parts.geometry import Corner, Point, fillet
from parts.profile import Dimension, Scribe
from parts.spec import MeasuringPlace, Parameters, count, flag, length, text
from parts.units import length_number

MARKS = "Scribed marks"

GAP = 0.75
"""What is left free around a line of marks, in text heights."""
SHAFT, HEAD, LETTER_GAP = 1.7, 0.4, 0.4
"""Of the arrows, in text heights: their length, the side of their heads, and from tip to letter."""
BESIDE = 0.9
"""How far the upright arrow stands from the left edge, in text heights: half its letter and a margin."""
BELOW = 0.45
"""How far the arrows begin below the middle of the text, in text heights: the upright one then ends on the strip."""
OFF_CORNER = 0.3
"""And of the corner's radius: the marks there stay inside its arc."""


class Stepped(Parameters):
    """A template's parameters with sizes in steps, the metal between them and the strip for their numbers."""

    smallest: float = length("Smallest size", default=9, minimum=1, maximum=200, group="Sizes")
    step: float = length("Step from one to the next", default=1, minimum=0.05, maximum=50, group="Sizes")
    steps: int = count("Steps, how many", default=8, minimum=2, maximum=24, group="Sizes")
    web: float = length(
        "Metal between the openings",
        default=16,
        minimum=3,
        maximum=200,
        help="And beside the outer ones.",
        moves="free",
    )
    strip: float = length(
        "Strip for the marks", default=30, minimum=3, maximum=300, help="Along the lower edge.", moves="free"
    )
    corner_radius: float = length("Corner radius", default=4, minimum=0, maximum=100, moves="free")
    text: str = text("Text", default="AIR 6 MM", inches="AIR 1/4 IN", characters=characters(), longest=32, group=MARKS)
    text_height: float = length("Text height", default=5, minimum=2, maximum=50, group=MARKS, moves="free")
    axes: bool = flag("Arrows X and Y", default=True, group=MARKS, help="Which way the table's axes ran.", moves="free")

    @property
    def sizes(self) -> list[float]:
        """Every size, from the smallest."""
        return [self.smallest + i * self.step for i in range(self.steps)]

    @property
    def middles(self) -> list[float]:
        """How far from the left edge the middle of each is."""
        ends = itertools.accumulate(size + self.web for size in self.sizes)
        return [end - size / 2 for end, size in zip(ends, self.sizes, strict=True)]

    @property
    def width(self) -> float:
        """Length of the plate over all."""
        return self.middles[-1] + self.sizes[-1] / 2 + self.web

    @property
    def base(self) -> list[Corner]:
        """The lower corners, left and right."""
        return [fillet(0, 0, self.corner_radius), fillet(self.width, 0, self.corner_radius)]

    @property
    def rows(self) -> tuple[float, float]:
        """How high the middles of both lines are, the text's and the numbers'; twice that of the numbers alone."""
        if self.lines == 1:
            return self.strip / 2, self.strip / 2
        upper = (self.strip + (1 + GAP) * self.text_height) / 2
        return upper - (1 + GAP) * self.text_height, upper

    @property
    def lines(self) -> int:
        """How many lines of marks the strip has."""
        return 2 if self.text.strip() or self.axes else 1

    @property
    def origin(self) -> Point:
        """Where the two arrows begin."""
        h = self.text_height
        return OFF_CORNER * self.corner_radius + BESIDE * h, self.rows[0] - BELOW * h

    @property
    def title_start(self) -> float:
        """How far from the left edge there is room for the text."""
        if not self.axes:
            return self.web
        return self.origin[0] + (SHAFT + LETTER_GAP + text_width("X", 1) + GAP) * self.text_height

    @property
    def labels(self) -> list[Label]:
        """The text, the numbers, and the letters of the arrows."""
        h, (low, high) = self.text_height, self.rows
        found = []
        if self.text.strip():
            found.append(Label(self.text, ((self.title_start + self.width - self.web) / 2, low), h))
        numbers = zip(self.sizes, self.middles, strict=True)
        found += [Label(length_number(size, self.units), (x, high), h) for size, x in numbers]
        if self.axes:
            (x, y), out = self.origin, (SHAFT + LETTER_GAP) * h
            found.append(Label("X", (x + out + text_width("X", h) / 2, y), h))
            found.append(Label("Y", (x, y + out + h / 2), h))
        return found

    @property
    def marks(self) -> tuple[Scribe, ...]:
        """All that is scribed."""
        if not self.axes:
            return scribe_all(self.labels)
        (x, y), h = self.origin, self.text_height
        arrows = (*arrow((x, y), (x + SHAFT * h, y), HEAD * h), *arrow((x, y), (x, y + SHAFT * h), HEAD * h))
        return (*arrows, *scribe_all(self.labels))

    def strip_problems(self) -> Iterator[Problem]:
        """Yield what of the strip, its marks and the corners has no room."""
        yield from self._height(self.strip / (self.lines * (1 + GAP) + GAP), "strip", "on the strip")
        each = [(size + self.web) / (numeral_width(size) + GAP) for size in self.sizes]
        yield from self._height(min(each), "web", "between the numbers")
        wide = text_width(self.text, 1) if self.text.strip() else 0.0
        room, before = self.width - 2 * self.web, 0.0
        if self.axes:
            corner = OFF_CORNER * self.corner_radius
            beside = (self.web + self.smallest / 2 - corner) / (
                BESIDE + text_width("Y", 1) / 2 + GAP + numeral_width(self.smallest) / 2
            )
            yield from self._height(beside, "axes", "beside the first number")
            room = self.width - self.web - corner
            before = BESIDE + SHAFT + LETTER_GAP + text_width("X", 1) + GAP
        if wide or before:
            yield from self._height(room / (before + wide), "text", "for the text along the plate")
        yield from self.at_most("corner_radius", min(self.web, self.strip) / 2, "beside the marks")

    def _height(self, limit: float, at_fault: str, why: str) -> Iterator[Problem]:
        """A problem with the text height, or with what leaves no room for any height."""
        if limit < (self.specs()["text_height"].minimum or 0.0):
            yield self.problem(at_fault, f"leaves no room for marks {why}, however small.")
        else:
            yield from self.at_most("text_height", limit, why)

    def strip_dimensions(self) -> Iterator[Dimension]:
        """Yield where the lengths of the strip and of the steps can be measured, the sizes apart."""
        last = self.labels[-3 if self.axes else -1]
        r, x, y = self.corner_radius, *last.box[2:]
        right = self.middles[-1] + self.sizes[-1] / 2
        yield Dimension("strip", (0, 0), (0, self.strip), "left")
        yield Dimension("web", (right, self.strip), (self.width, self.strip), "below")
        yield Dimension("text_height", (x, y - self.text_height), (x, y), "right")
        if r:
            yield Dimension("corner_radius", (r, r), (r - r * 0.5**0.5, r - r * 0.5**0.5), "radius")

    @property
    def over_all(self) -> MeasuringPlace:
        """Where the plate is measured over its length, at the middle of the strip."""
        return self.over_all_at(self.strip / 2)

    def over_all_at(self, up: float) -> MeasuringPlace:
        """Return where the plate is measured over its length, so far up, clear of its corners."""
        return MeasuringPlace("outside", (0.0, up), (self.width, up))
