r"""Test bend: strips of one known flat length, to bend once and measure, for the brake's own K-factor and radius.

     ______________________________
    | |         '         |        |
    | |   A 1   '   TEXT  | B 1    |   width; bend_line from end A, where short lines are scribed at both edges
    |_|_________'_________|________|
     ______________________________
    | |         '         |        |   each strip `gap` from the one before, with its number
     mark, a line scribed so far from each end

Each strip is measured flat, bent on the line, and measured again: both legs, and the angle between them.
"""

import math
from collections.abc import Iterator

from parts.artwork import Label, characters, scribe_all, text_width
from parts.errors import Problem
from parts.geometry import Line, rectangle
from parts.profile import Bend, Dimension, Mark, Profile, Scribe
from parts.spec import BendStrips, Parameters, Preset, Template, angle, count, length, text
from parts.templates.shared.bent import BRAKE_CAUTION
from parts.templates.shared.scribed_text import too_long

MARKS = "Scribed marks"
CLEAR = 0.75
"""What is left free around a text, in text heights."""
ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth")


class GaugeTestBend(Parameters):
    """The lower left corner of the first strip is at the origin; end A is on the left."""

    flat: float = length(
        "Flat length", default=150, minimum=40, maximum=1000, help="Each strip's; measure it too.",
        moves="care",
    )  # fmt: skip
    width: float = length("Width", default=50, minimum=10, maximum=500, moves="care")
    bend_line: float = length(
        "Bend line from end A", default=65, minimum=10, maximum=900,
        help="Out of the middle, so that the legs can be told apart.",
        moves="free",
    )  # fmt: skip
    bend: float = angle(
        "Bend angle", default=90, minimum=10, maximum=150, group="Bending", help="Turned through; 90 is best."
    )
    strips: int = count("Strips", default=2, minimum=1, maximum=len(ORDINALS), help="Two or three show the scatter.")
    gap: float = length("Between the strips", default=12, minimum=1, maximum=200, moves="free")
    mark: float = length("Lines from the ends", default=8, minimum=2, maximum=200, group=MARKS, moves="free")
    tick: float = length("Edge lines, length", default=8, minimum=2, maximum=200, group=MARKS, moves="free")
    text: str = text("Text", default="FERNHOLLOW", characters=characters(), longest=24, group=MARKS)
    text_height: float = length("Text height", default=4, minimum=2, maximum=50, group=MARKS, moves="free")

    @property
    def floors(self) -> list[float]:
        """How high the lower edge of each strip is."""
        return [i * (self.width + self.gap) for i in range(self.strips)]

    @property
    def labels(self) -> list[Label]:
        """Of each strip the letter of each end with its number, and on leg B the text."""
        return [label for i, low in enumerate(self.floors, start=1) for label in self._labels(i, low)]

    def _labels(self, number: int, low: float) -> Iterator[Label]:
        h, middle = self.text_height, low + self.width / 2
        yield Label(f"A {number}", ((self.mark + self.bend_line) / 2, middle), h)
        said = self._said(number)  # off the bend line, beside which the drawing numbers it
        yield Label(said, (self.flat - self.mark - CLEAR * h - text_width(said, h) / 2, middle), h)

    def _said(self, number: int) -> str:
        return f"{self.text} B {number}" if self.text.strip() else f"B {number}"

    def problems(self) -> Iterator[Problem]:
        """Yield what has no room: the bend line between the ends, the lines on the legs, the text between both."""
        clash = [*self.under("bend_line", self.flat, "on the strip")]
        if not clash:
            clash = [*self.under("mark", min(self.bend_line, self.flat - self.bend_line), "short of the bend line")]
        yield from clash
        yield from self.under("tick", self.width / 2, "for the lines at both edges to part")
        yield from self.at_most("text_height", self.width / (1 + 2 * CLEAR), "across the strip")
        if clash:
            return
        for said, room, where in self._rooms:
            if text_width(said, self.text_height) > room - 2 * CLEAR * self.text_height:
                highest = room / (text_width(said, 1) + 2 * CLEAR)
                room_for_text = room - 2 * CLEAR * self.text_height
                yield too_long(self, said, "text_height", where, (room_for_text, highest))

    @property
    def _rooms(self) -> Iterator[tuple[str, float, str]]:
        """Each leg's longest text, the length there is for it, and what it stands on."""
        yield f"A {self.strips}", self.bend_line - self.mark, "leg A"
        yield self._said(self.strips), self.flat - self.bend_line - self.mark, "leg B"


def outline(p: GaugeTestBend) -> Profile:
    """Draw the strips from the lowest one up."""
    strips = tuple(rectangle((0, low), p.flat, p.width) for low in p.floors)
    names = tuple(f"{ORDINALS[i]} strip" for i in range(p.strips)) if p.strips > 1 else ()
    marks: tuple[Mark, ...] = (*bends(p), *lines(p), *scribe_all(p.labels))
    return Profile(strips, (), marks, tuple(dimensions(p)), names)


def bends(p: GaugeTestBend) -> Iterator[Bend]:
    """Yield the bend line of each strip; radius and K, which it is to tell, are the brake's until then."""
    for low in p.floors:
        yield Bend(Line((p.bend_line, low), (p.bend_line, low + p.width)), math.radians(p.bend))


def lines(p: GaugeTestBend) -> Iterator[Scribe]:
    """Yield the lines scribed on each strip: short ones at the edges where it is bent, whole ones off the ends."""
    for low in p.floors:
        top, x = low + p.width, p.bend_line
        yield Scribe((Line((x, low), (x, low + p.tick)),))
        yield Scribe((Line((x, top - p.tick), (x, top)),))
        for off in (p.mark, p.flat - p.mark):
            yield Scribe((Line((off, low), (off, top)),))


def dimensions(p: GaugeTestBend) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    top = p.floors[-1] + p.width
    yield Dimension("bend_line", (0, 0), (p.bend_line, 0), "below")
    yield Dimension("flat", (0, 0), (p.flat, 0), "below")
    yield Dimension("width", (0, 0), (0, p.width), "left")
    if p.strips > 1:
        yield Dimension("gap", (0, p.width), (0, p.width + p.gap), "left")
    yield Dimension("mark", (p.flat - p.mark, top), (p.flat, top), "above")
    yield Dimension("tick", (p.bend_line, top - p.tick), (p.bend_line, top), "right")
    x, y, _, high = p.labels[0].box
    yield Dimension("text_height", (x, y), (x, high), "left")


def strips(p: GaugeTestBend) -> BendStrips:
    """Return what a measuring sheet asks of the strips."""
    return BendStrips(p.strips, p.flat, p.bend_line, math.radians(p.bend), p.width, tuple(p.floors))


TEMPLATE = Template(
    "gauge-test-bend",
    "Test bend",
    GaugeTestBend,
    outline,
    summary="Strips of known length to bend once and measure: they tell your brake's own K-factor, inside radius and "
    "bend deduction.",
    cautions=(
        BRAKE_CAUTION,
        "Wear eye protection: a strip whips up as it bends, and a small or brittle piece may fly.",
        "Deburr the strips before you bend and measure them: cut edges are sharp.",
    ),
    bend_test=strips,
    words=(
        "k-factor",
        "bend deduction",
        "bend allowance",
        "press brake",
        "v opening",
        "coupon",
        "strip",
        "calibration",
    ),
    presets=(
        Preset("Fernhollow brake, 3 mm over 24", "thickness=3 text=3-V24 strips=3", is_metric=True),
        Preset(
            "Thin sheet, 1.5 mm over 12",
            "flat=100 bend_line=42 thickness=1.5 width=30 text=1.5-V12 text_height=3",
            is_metric=True,
        ),
        Preset(
            "Trailer plate, 1/4 in over 2 in",
            "flat=8in bend_line=3-1/2in units=in text=V-2-IN strips=1",
        ),
    ),
)
