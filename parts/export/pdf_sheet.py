"""The sheet a drawing stands on: its frame, its title block, and its columns of text.

Lengths are mm from the sheet's lower left. The frame keeps 20 mm on the filing edge and 10 mm elsewhere
(ISO 5457); the title block has the fields of ISO 7200, those for names and dates left to write in.
"""

from bisect import bisect_right
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from reportlab.pdfgen.canvas import Canvas

from parts.drawing import NumberedMark
from parts.export.pdf_ink import BOLD, FONT, ink_mark, letter, width_of, width_of_words
from parts.geometry import Box
from parts.shop import BY_UNITS
from parts.tolerance import LIMIT_SLACK_MM
from parts.units import Units

FILING, EDGE = 20.0, 10.0
FOOT = 33.0
"""Height of the title block."""
ROW = FOOT / 3
COLUMN_GAP = 5.0
LEAST_COLUMN = 25.0
"""Height of a column of text below a drawing, under which it isn't worth starting one."""
LABEL, SMALLEST = 2.1, 1.6
"""Sizes of lettering: of the labels in the title block, and what a value may shrink to."""


@dataclass(frozen=True, slots=True)
class PaperSheet:
    """A sheet of paper, lying or standing; `column` is the width of its columns of text.

    On a `whole` one the drawing has the whole width, at the top, and the columns stand below it.
    """

    width: float
    height: float
    column: float
    whole: bool = False

    @property
    def frame(self) -> Box:
        """The rectangle within the frame."""
        return FILING, EDGE, self.width - EDGE, self.height - EDGE

    @property
    def drawing(self) -> Box:
        """Where the drawing stands: above the title block, left of the column of text unless it has the whole width."""
        x0, y0, x1, y1 = self.frame
        return x0 + 3, y0 + FOOT + 3, x1 - (3 if self.whole else self.column + COLUMN_GAP), y1 - 3

    def foot_of(self, drawn: float, *, raised: bool = False) -> float:
        """Return where the foot of a drawing so high stands: in the middle, or at the top with columns below it."""
        _, y0, _, y1 = self.drawing
        below = raised or (self.whole and self.beside(drawn))
        return y1 - drawn if below else (y0 + y1 - drawn) / 2

    def beside(self, drawn: float) -> tuple[Box, ...]:
        """Return the column beside a drawing so high, or the columns below it where they are worth starting."""
        if self.whole:
            return self._under(drawn)
        _, y0, x1, y1 = self.frame
        return ((x1 - self.column - 2, y0 + FOOT + 3, x1 - 2, y1 - 3),)

    def below(self, drawn: float) -> tuple[Box, ...]:
        """Return the columns that have room below a drawing so high, besides those beside it."""
        return () if self.whole else self._under(drawn)

    def _under(self, drawn: float) -> tuple[Box, ...]:
        x0, low, x1, top = self.drawing
        top -= drawn + COLUMN_GAP
        return tuple(self._across(x0, low, x1, top)) if top - low >= LEAST_COLUMN else ()

    @property
    def columns(self) -> tuple[Box, ...]:
        """The columns of a sheet without a drawing."""
        x0, y0, x1, y1 = self.frame
        return tuple(self._across(x0 + 3, y0 + FOOT + 3, x1 - 1, y1 - 3))

    def _across(self, x0: float, low: float, x1: float, top: float) -> Iterator[Box]:
        """As many columns as there is room for, from the left."""
        step = self.column + COLUMN_GAP
        for i in range(int((x1 - x0 + COLUMN_GAP + LIMIT_SLACK_MM) // step)):
            yield x0 + i * step, low, x0 + i * step + self.column, top


_SIZES: Mapping[str, tuple[float, float]] = {
    "A4": (297.0, 210.0), "A3": (420.0, 297.0), "letter": (279.4, 215.9), "tabloid": (431.8, 279.4),
}  # fmt: skip
"""Long and short side, mm: ISO 216, and ANSI/ASME Y14.1, sizes A and B (8.5 x 11 in, 11 x 17 in)."""
_BESIDE_STANDING, _BESIDE = 66.0, 80.0
"""Width of the column beside a drawing, on a narrow standing sheet and at most on others."""
_NARROWEST = 72.0
"""Width under which columns across a whole sheet aren't made so that one more finds room."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A size of paper by its sides, mm, and the sheets that a drawing may stand on."""

    long: float
    short: float

    @property
    def lying(self) -> PaperSheet:
        """The sheet lying, a column of text beside the drawing."""
        return PaperSheet(self.long, self.short, min(_BESIDE, _column_across(self.long)))

    @property
    def standing(self) -> PaperSheet:
        """The same standing."""
        widest = _BESIDE_STANDING if self.short < _NARROW else _BESIDE
        return PaperSheet(self.short, self.long, min(widest, _column_across(self.short)))

    @property
    def whole(self) -> tuple[PaperSheet, ...]:
        """Both with the drawing over the whole width."""
        return (
            PaperSheet(self.long, self.short, _column_across(self.long), whole=True),
            PaperSheet(self.short, self.long, _column_across(self.short), whole=True),
        )


_NARROW = 250.0
"""Width of a standing sheet under which its column of text is narrower."""


def _column_across(width: float) -> float:
    """The width of columns that fill a sheet so wide from margin to margin, as many as there is room for."""
    inner = width - FILING - EDGE - 6
    count = int((inner + COLUMN_GAP) // (_NARROWEST + COLUMN_GAP))
    return (inner - (count - 1) * COLUMN_GAP) / count


def paper_for(chosen: str, units: Units) -> Paper:
    """Return the paper of a choice; left to the units it is A4 for mm and letter for inches."""
    by_units = "letter" if units == "in" else "A4"
    return Paper(*_SIZES[by_units if chosen == BY_UNITS else chosen])


@dataclass(frozen=True, slots=True)
class TitleCell:
    """A field of the title block; `share` is how much of its row it takes.

    `drawn` draws something at the right of the field, in a box that it is handed, and returns how wide that is.
    """

    label: str
    value: str
    share: float = 1.0
    size: float = 3.2
    font: str = FONT
    drawn: Callable[[Canvas, Box], float] | None = None


@dataclass(frozen=True, slots=True)
class TextRow:
    """One line of a column: texts at their distances from its left; `keep` holds the next line by it."""

    texts: tuple[tuple[float, str], ...]
    size: float = 2.6
    font: str = FONT
    keep: bool = False
    mark: NumberedMark | None = None
    ruled: bool = False
    pitch: float = 1.4

    @property
    def height(self) -> float:
        """How much of the column it takes."""
        return self.size * (1.75 if self.font == BOLD else self.pitch)


Columns: TypeAlias = list[tuple[Box, list[TextRow]]]
"""The columns of one sheet with the lines in them."""


def code_box(sheet: PaperSheet) -> Box:
    """Return the square at the right of the title block's last two rows, for a code."""
    _, y0, x1, _ = sheet.frame
    return x1 - 2 * ROW, y0, x1, y0 + 2 * ROW


def draw_frame(
    canvas: Canvas, sheet: PaperSheet, rows: Sequence[Sequence[TitleCell]], *, with_code: bool = False
) -> None:
    """Draw the frame and the title block, its rows from the top; beside the last two a square stays free for a code."""
    x0, y0, x1, y1 = sheet.frame
    right = code_box(sheet)[0] if with_code else x1
    canvas.setLineWidth(0.5)
    canvas.rect(x0, y0, x1 - x0, y1 - y0)
    for i, row in enumerate(rows):
        low = y0 + FOOT - (i + 1) * ROW
        canvas.setLineWidth(0.5 if i == 0 else 0.25)
        canvas.line(x0, low + ROW, right if i == 2 else x1, low + ROW)
        canvas.setLineWidth(0.25)
        end = right if i else x1
        unit, x = (end - x0) / sum(cell.share for cell in row), x0
        for cell in row:
            if x > x0:
                canvas.line(x, low, x, low + ROW)
            _draw_cell(canvas, cell, (x, low, x + cell.share * unit, low + ROW))
            x += cell.share * unit
        if x < x1 - LIMIT_SLACK_MM:
            canvas.line(x, low, x, low + ROW)


def _draw_cell(canvas: Canvas, cell: TitleCell, box: Box) -> None:
    x0, y0, x1, y1 = box
    letter(canvas, (x0 + 1.2, y1 - LABEL - 0.9), cell.label, LABEL)
    taken = cell.drawn(canvas, ((x0 + x1) / 2, y0 + 0.8, x1 - 0.8, y1 - 0.8)) if cell.drawn else 0.0
    room, size = x1 - x0 - 2.4 - taken, cell.size
    while size > SMALLEST and len(wrapped(cell.value, room, size, cell.font)) * 1.15 * size > ROW - LABEL - 2.2:
        size *= 0.95
    lines = wrapped(cell.value, room, size, cell.font)
    for i, line in enumerate(lines):
        letter(canvas, (x0 + 1.2, y0 + 1.4 + (len(lines) - 1 - i) * 1.15 * size), line, size, cell.font)


def flow(rows: Sequence[TextRow], first: Sequence[Box], later: Sequence[Box]) -> Iterator[Columns]:
    """Yield for each sheet its columns with the lines in them; the first sheet's columns differ."""
    waiting, columns = list(rows), first
    while True:
        sheet: Columns = []
        for box in columns:
            count = _count_for(waiting, box[3] - box[1])
            sheet.append((box, waiting[:count]))
            waiting = waiting[count:]
        yield sheet
        if not waiting:
            return
        columns = later


def _count_for(rows: Sequence[TextRow], height: float) -> int:
    """How many lines go into a column, none kept from the one it belongs to."""
    count = 0
    while count < len(rows) and height >= rows[count].height:
        height -= rows[count].height
        count += 1
    whole = count
    while count < len(rows) and count > 1 and rows[count - 1].keep:
        count -= 1
    return count if count > 1 else max(whole, 1)


def draw_column(canvas: Canvas, box: Box, rows: Sequence[TextRow]) -> None:
    """Draw lines of text from the top of a column."""
    y = box[3]
    for row in rows:
        y -= row.height
        for x, text in row.texts:
            letter(canvas, (box[0] + x, y + 0.3 * row.size), text, row.size, row.font)
        if row.mark:
            at = box[0] + row.mark.at[0], y + 0.6 * row.size
            ink_mark(canvas, NumberedMark(at, row.mark.severity, row.mark.number, row.mark.size))
        if row.ruled:
            canvas.setLineWidth(0.15)
            canvas.line(box[0], y, box[2], y)


def scale_text(scale: float) -> str:
    """Return a scale as drawings state it: 1:2.5, 2:1."""
    return f"{scale:g}:1" if scale >= 1 else f"1:{round(1 / scale, 6):g}"


def wrapped(text: str, width: float, size: float, font: str = FONT) -> list[str]:
    """Return a text as lines no longer than `width` mm; a word that is longer is broken."""
    lines: list[str] = []
    line: list[str] = []
    for word in text.split():
        for piece in _broken(word, width, size, font):
            if line and width_of_words((*line, piece), size, font) > width:
                lines.append(" ".join(line))
                line = []
            line.append(piece)
    return [*lines, " ".join(line)] if line else lines


def _broken(word: str, width: float, size: float, font: str) -> Iterator[str]:
    while width_of(word, size, font) > width:
        lengths = range(1, len(word) + 1)
        count = max(1, bisect_right(lengths, width, key=lambda n: width_of(word[:n], size, font)))
        yield word[:count]
        word = word[count:]
    if word:
        yield word
