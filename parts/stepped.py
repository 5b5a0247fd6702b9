"""Sizes that step up from left to right on a plate, their numbers scribed below: parameters that such gauges share.

The marks stand in a strip along the lower edge: a line of text, and above it the numbers, each under its own size.
"""

import itertools
from collections.abc import Iterator

from parts.artwork.label import Label, numeral, numeral_width
from parts.artwork.lettering import CHARACTERS, text_width
from parts.errors import Problem
from parts.geometry.draft import Corner, fillet
from parts.parameter import count, length, text
from parts.profile import Dimension
from parts.template import Parameters

MARKS = "Scribed marks"

GAP = 0.75
"""What is left free around a line of marks, in text heights."""


class Stepped(Parameters):
    """A template's parameters with sizes in steps, the metal between them and the strip for their numbers."""

    smallest: float = length("Smallest size", default=9, minimum=1, maximum=200, group="Sizes")
    step: float = length("Step", default=1, minimum=0.05, maximum=50, group="Sizes", help="From one to the next.")
    steps: int = count("How many", default=8, minimum=2, maximum=24, group="Sizes")
    web: float = length("Metal between them", default=14, minimum=3, maximum=200, help="And beside the outer ones.")
    strip: float = length("Strip for the marks", default=30, minimum=3, maximum=300, help="Along the lower edge.")
    corner_radius: float = length("Corner radius", default=4, minimum=0, maximum=100)
    text: str = text("Text", default="AIR 6 MM", characters=CHARACTERS, longest=32, group=MARKS)
    text_height: float = length("Text height", default=5, minimum=2, maximum=50, group=MARKS)

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
    def labels(self) -> list[Label]:
        """The text and the numbers."""
        h, titled = self.text_height, bool(self.text.strip())
        row = (self.strip + (1 + GAP) * h) / 2 if titled else self.strip / 2
        title = [Label(self.text, (self.width / 2, row - (1 + GAP) * h), h)] if titled else []
        numbers = zip(self.sizes, self.middles, strict=True)
        return title + [Label(numeral(size, self.units), (x, row), h) for size, x in numbers]

    def strip_problems(self) -> Iterator[Problem]:
        """Yield what of the strip, its marks and the corners has no room."""
        lines = 2 if self.text.strip() else 1
        yield from self._height(self.strip / (lines * (1 + GAP) + GAP), "strip", "on the strip")
        each = [(size + self.web) / (numeral_width(size) + GAP) for size in self.sizes]
        yield from self._height(min(each), "web", "between the numbers")
        if lines == 2:
            room = (self.width - 2 * self.web) / text_width(self.text, 1)
            yield from self._height(room, "text", "for the text along the plate")
        yield from self.at_most("corner_radius", min(self.web, self.strip) / 2, "beside the marks")

    def _height(self, limit: float, at_fault: str, why: str) -> Iterator[Problem]:
        """A problem with the text height, or with what leaves no room for any height."""
        if limit < (self.specs()["text_height"].minimum or 0.0):
            yield self.problem(at_fault, f"leaves no room for marks {why}, however small.")
        else:
            yield from self.at_most("text_height", limit, why)

    def strip_dimensions(self) -> Iterator[Dimension]:
        """Yield where the lengths of the strip and of the steps can be measured, the sizes apart."""
        r, x, y = self.corner_radius, *self.labels[-1].box[2:]
        right = self.middles[-1] + self.sizes[-1] / 2
        yield Dimension("strip", (0, 0), (0, self.strip), "left")
        yield Dimension("web", (right, self.strip), (self.width, self.strip), "below")
        yield Dimension("text_height", (x, y - self.text_height), (x, y), "right")
        if r:
            yield Dimension("corner_radius", (r, r), (r - r * 0.5**0.5, r - r * 0.5**0.5), "radius")
