r"""Test frame: a rectangle with a large window and a datum hole in each corner, to compare both diagonals.

             size_x
     _______________________
    |o      D 480.833      o|  the datum holes stand `inset` from both edges of their corner,
    |    _______________    |  so that they make an exact rectangle;
    | Y |               |   |  D is how far apart they are on either diagonal
    | ^ |  corner_in    |   |  size_y
    | | |_______________|   |  width of the bars
    |o  ---> X   TEXT      o|
    |_______________________|

The marks stand in the middle of the bars, past the corners.
"""

import math
from collections.abc import Iterator

from parts.artwork import Label, arrow, characters, numeral_width, scribe_all, text_width
from parts.errors import Problem
from parts.geometry import Point, circles, fillet, polygon, round_clear_of
from parts.profile import Dimension, Opening, Profile, openings
from parts.spec import MeasuringPlace, Parameters, Preset, Template, flag, length, text
from parts.templates.shared.scribed_text import too_long
from parts.units import length_number

MARKS = "Scribed marks"

# In text heights: the arrow, the side of its head, the gap between two marks and between a mark and a hole.
ARROW, HEAD, GAP = 2.5, 0.4, 1.0


class SquareFrame(Parameters):
    """The datum corner is at the origin, X to the right, Y up."""

    size_x: float = length("Outside length along X", default=400, minimum=80, maximum=3000)
    size_y: float = length("Outside length along Y", default=400, minimum=80, maximum=3000)
    bar: float = length("Width of the bars", default=50, minimum=10, maximum=500, moves="care")
    corner_out: float = length(
        "Outside corner radius", default=5, minimum=0, maximum=200, group="Corners", moves="free"
    )
    corner_in: float = length(
        "Radius of the window's corners", default=10, minimum=0, maximum=500, group="Corners", moves="free"
    )
    hole: float = length("Datum hole diameter", default=10, minimum=1, maximum=60, group="Holes")
    inset: float = length(
        "Holes from the edges", default=25, minimum=2, maximum=400, group="Holes", help="Centres, from both edges."
    )
    text: str = text("Text", default="TABLE 1", characters=characters(), longest=24, group=MARKS)
    text_height: float = length("Text height", default=8, minimum=2, maximum=100, group=MARKS, moves="free")
    diagonal: bool = flag("Scribe the diagonal", default=True, group=MARKS, help="Hole to hole, as drawn.")

    @property
    def spans(self) -> Point:
        """How far apart the holes are along X and along Y."""
        return self.size_x - 2 * self.inset, self.size_y - 2 * self.inset

    @property
    def labels(self) -> list[Label]:
        """The letters of the axes, the text and the diagonal."""
        h, mid = self.text_height, self.bar / 2
        after = self.mark_start + (ARROW + GAP) * h
        wide = text_width("X", h)
        found = [Label("X", (after + wide / 2, mid), h), Label("Y", (mid, after + h / 2), h)]
        if self.text.strip():
            found.append(Label(self.text, (after + wide + GAP * h + text_width(self.text, h) / 2, mid), h))
        if self.diagonal:
            found.append(Label(self.diagonal_text, (self.size_x / 2, self.size_y - mid), h))
        return found

    @property
    def diagonal_text(self) -> str:
        """How far apart the holes are on a diagonal, as it is scribed."""
        return f"D {length_number(math.hypot(*self.spans), self.units)}"

    @property
    def mark_start(self) -> float:
        """How far from the datum edges the arrows begin: past the corner, so that those of X and Y are apart."""
        return self.bar + GAP * self.text_height

    def problems(self) -> Iterator[Problem]:
        """Yield what has no room; the marks only where the frame itself is sound."""
        frame = [*self._frame_problems()]
        yield from frame
        if not frame:
            yield from self._mark_problems()

    def _frame_problems(self) -> Iterator[Problem]:
        shorter, r = min(self.size_x, self.size_y), self.hole / 2
        yield from self.under("bar", shorter / 2, "to leave a window")
        yield from self.under("hole", self.bar, "on the bars")
        yield from self.over("inset", r, "to keep the holes inside the edges")
        yield from self.under("inset", self.bar - r, "to keep the holes on the bars")
        if self.bar < shorter / 2:
            yield from self.at_most("corner_in", shorter / 2 - self.bar, "in the window")
        yield from self.at_most("corner_out", self.bar, "for the bars to keep their width")
        if self.inset > r:
            clear = round_clear_of((self.inset, self.inset), r, (0.0, 0.0))
            yield from self.under("corner_out", clear, "to clear the holes")

    def _mark_problems(self) -> Iterator[Problem]:
        room_x, room_y = self.size_x - 2 * self.bar, self.size_y - 2 * self.bar
        limits = [self.bar / 2]
        along = ARROW + 3 * GAP + text_width("X", 1)
        limits += [room_x / along, room_y / (ARROW + 3 * GAP + 1)]
        if self.diagonal:
            longest = text_width("D 0", 1) - text_width("0", 1) + numeral_width(math.hypot(*self.spans))
            limits.append(room_x / (longest + 2 * GAP))
        if min(limits) < (self.specs()["text_height"].minimum or 0.0):
            yield self.problem("bar", "leaves no room for the scribed marks.")
            return
        high = [*self.at_most("text_height", min(limits), "for the marks to have room")]
        yield from high
        if self.text.strip() and not high:
            room = room_x - (along + GAP) * self.text_height
            if text_width(self.text, self.text_height) > room:
                highest = room_x / (along + GAP + text_width(self.text, 1))
                yield too_long(self, self.text, "text_height", "the bar", (room, highest))


def outline(p: SquareFrame) -> Profile:
    """Draw the frame counter-clockwise from the datum corner."""
    x, y, w, i = p.size_x, p.size_y, p.bar, p.inset
    edge = polygon(fillet(*at, p.corner_out) for at in ((0.0, 0.0), (x, 0.0), (x, y), (0.0, y)))
    window = polygon(fillet(*at, p.corner_in) for at in ((w, w), (x - w, w), (x - w, y - w), (w, y - w)))
    centres = ((i, i), (x - i, i), (x - i, y - i), (i, y - i))
    inside = (Opening(window, "window", "bar"), *openings(circles(centres, p.hole), "datum hole", "hole"))
    start, end, mid = p.mark_start, p.mark_start + ARROW * p.text_height, w / 2
    arrows = (*arrow((start, mid), (end, mid), HEAD * p.text_height),)
    arrows += (*arrow((mid, start), (mid, end), HEAD * p.text_height),)
    return Profile((edge,), inside, (*arrows, *scribe_all(p.labels)), tuple(dimensions(p)))


def dimensions(p: SquareFrame) -> Iterator[Dimension]:
    """Yield where each length of the frame can be measured."""
    x, y, w, i, half = p.size_x, p.size_y, p.bar, p.inset, math.sqrt(0.5)
    yield Dimension("size_x", (0, 0), (x, 0), "below")
    yield Dimension("size_y", (0, 0), (0, y), "left")
    yield Dimension("bar", (x - w, y / 2), (x, y / 2), "above")
    if p.corner_out:
        c = x - p.corner_out, p.corner_out
        yield Dimension("corner_out", c, (c[0] + half * p.corner_out, c[1] - half * p.corner_out), "radius")
    if p.corner_in:
        c = x - w - p.corner_in, w + p.corner_in
        yield Dimension("corner_in", c, (c[0] + half * p.corner_in, c[1] - half * p.corner_in), "radius")
    yield Dimension("hole", (x - i, y - i), (x - i + half * p.hole / 2, y - i + half * p.hole / 2), "diameter")
    yield Dimension("inset", (0, i), (i, i), "below")
    left, low, _, high = p.labels[1].box
    yield Dimension("text_height", (left, low), (left, high), "left")


def readings(p: SquareFrame) -> Iterator[MeasuringPlace]:
    """Yield both lengths along each axis, both diagonals, an outside length, a hole, and the gap when flipped over.

    Then, for what only one of these tells, another place each: the other side, the window's width, a second hole, the
    gap along the other edge.
    """
    x, y, i, w = p.size_x, p.size_y, p.inset, p.bar
    low_left, low_right, up_right, up_left = (i, i), (x - i, i), (x - i, y - i), (i, y - i)
    yield MeasuringPlace("centres", low_left, low_right)
    yield MeasuringPlace("centres", up_left, up_right, far=True)
    yield MeasuringPlace("centres", low_left, up_left)
    yield MeasuringPlace("centres", low_right, up_right, far=True)
    yield MeasuringPlace("centres", low_left, up_right)
    yield MeasuringPlace("centres", low_right, up_left)
    yield MeasuringPlace("outside", (0.0, y / 2), (x, y / 2))
    yield MeasuringPlace("hole", (x - i - p.hole / 2, i), (x - i + p.hole / 2, i))
    yield MeasuringPlace("reversal", (0.0, p.corner_out), (0.0, y - p.corner_out))
    yield MeasuringPlace("outside", (x / 2, 0.0), (x / 2, y))
    yield MeasuringPlace("inside", (w, y / 2), (x - w, y / 2), far=True)
    yield MeasuringPlace("hole", (i - p.hole / 2, y - i), (i + p.hole / 2, y - i))
    yield MeasuringPlace("reversal", (p.corner_out, 0.0), (x - p.corner_out, 0.0))


TEMPLATE = Template(
    "square-frame",
    "Test frame for diagonals",
    SquareFrame,
    outline,
    summary="A hollow frame with a datum hole in each corner: equal diagonals prove that the table's axes are square.",
    cautions=(
        "Let the frame cool and deburr it before you handle or measure it: cut edges are sharp and stay hot.",
        "Measure with the machine stopped; move a gantry or its stops only with the drives locked out.",
    ),
    words=("calibration", "squareness", "diagonal", "datum", "gauge", "true", "hollow", "test"),
    readings=readings,
    presets=(
        Preset("Half a sheet", "size_x=1000 size_y=1000 bar=70 inset=35 text_height=15 text=HALF-SHEET"),
        Preset("Small, from an off-cut", "size_x=220 size_y=180 bar=36 inset=18 text_height=6 text=T1"),
        Preset("3-4-5 between the holes", "size_x=450 size_y=350 text=3-4-5 thickness=4"),
    ),
)
