"""PDF of a set-up sheet: one page, to print or to read at the table.

From the top: what stops the part or is dangerous to lift, the numbers to set at the machine in large lettering, the
part with its cutting order, and all else in two columns. Lettering gets smaller until all has room, and the order
is told in fewer lines before any of the rest. The same part always gives the same bytes.
"""

import io
from collections.abc import Iterator, Sequence

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from parts.export import pdf_setup_picture as picture
from parts.export.about import facts, parameter_texts
from parts.export.pdf_ink import BOLD, FONT, canvas_on, letter, width_of
from parts.export.pdf_sheet import (
    FOOT,
    Columns,
    PaperSheet,
    TextRow,
    TitleCell,
    draw_column,
    draw_frame,
    flow,
    paper_for,
    wrapped,
)
from parts.export.setup_words import (
    Setting,
    glance,
    order_lines,
    order_notes,
    sections,
    settings,
    size_said,
    title,
    warnings,
)
from parts.finding import verdict
from parts.geometry import Box
from parts.record import VERSION
from parts.setup import SetUp

TRIES = (
    *((size, 16, tall) for tall in (78.0, 58.0) for size in (2.9, 2.7, 2.5)),
    *((size, most, tall) for most in (16, 10, 6) for tall in (58.0, 45.0) for size in (2.3, 2.1)),
    *((size, 6, 45.0) for size in (1.9, 1.8)),
)
"""Size of the lettering, lines of the order, and height of the picture at most, mm: the first with which all has room.
1.8 mm is the smallest lettering of ISO 3098-1."""
SETTING, GLANCE = 15.0, 11.5
"""Heights of the two strips of numbers at the top, mm."""
WARNING = 6.5
"""Height of a line of warning, mm."""
INNER, BETWEEN = 3.0, 5.0
"""From the frame to what stands in it, and from column to column, mm."""
WIDE = 1.9
"""A part so many times as wide as high has its picture over the whole width of the sheet."""


def write(of: SetUp) -> bytes:
    """Return the sheet as a PDF file."""
    record = of.record
    sheet = paper_for(record.paper, record.job.units).standing
    stream = io.BytesIO()
    canvas = canvas_on(stream, sheet.width, sheet.height)
    _describe(canvas, of)
    top = _top(of, sheet)
    shown, columns = _fitted(of, sheet, top)
    for number, page in enumerate(columns, start=1):
        canvas.scale(mm, mm)
        draw_frame(canvas, sheet, _title_block(of, f"{number} / {len(columns)}"))
        if number == 1:
            _head(canvas, of, sheet)
            picture.draw(canvas, of, shown)
        for box, rows in page:
            draw_column(canvas, box, rows)
        canvas.showPage()
    canvas.save()
    return stream.getvalue()


def _describe(canvas: Canvas, of: SetUp) -> None:
    """Put into the file what the part is and how to draw it again."""
    every = [*facts(of.record).items(), *parameter_texts(of.record).items()]
    canvas.setTitle(title(of))
    canvas.setSubject("; ".join(f"{name}={value}" for name, value in every))
    canvas.setCreator(f"Platewright {VERSION}")
    canvas.setAuthor("")
    canvas.setKeywords(f"set-up sheet, {of.record.template.slug}")


def _warned(of: SetUp, width: float) -> list[str]:
    """What has to be seen first, in lines."""
    return [line for said in warnings(of) for line in wrapped(said, width - 4, 3.5, BOLD)]


def _top(of: SetUp, sheet: PaperSheet) -> float:
    """Where what stands under the strips begins."""
    x0, _, x1, y1 = sheet.frame
    return y1 - WARNING * len(_warned(of, x1 - x0)) - SETTING - GLANCE - INNER


def _head(canvas: Canvas, of: SetUp, sheet: PaperSheet) -> None:
    """What warns, on black, and the two strips of numbers."""
    x0, _, x1, y = sheet.frame
    for line in _warned(of, x1 - x0):
        canvas.rect(x0, y - WARNING, x1 - x0, WARNING, stroke=0, fill=1)
        canvas.setFillGray(1)
        letter(canvas, (x0 + 2, y - WARNING + 2.0), line, 3.5, BOLD)
        canvas.setFillGray(0)
        y -= WARNING
    _strip(canvas, settings(of), (x0, y - SETTING, x1, y), 5.2)
    _strip(canvas, glance(of), (x0, y - SETTING - GLANCE, x1, y - SETTING), 3.6)


def _strip(canvas: Canvas, every: Sequence[Setting], box: Box, size: float) -> None:
    """Numbers side by side: the name over each, its kind under it."""
    x0, low, x1, high = box
    canvas.setLineWidth(0.35)
    canvas.line(x0, low, x1, low)
    widths = _shares(every, size, x1 - x0)
    x = x0
    for each, width in zip(every, widths, strict=True):
        if x > x0:
            canvas.setLineWidth(0.2)
            canvas.line(x, low, x, high)
        letter(canvas, (x + 1.6, high - 3.4), each.label, 2.4)
        fitting = min(size, size * (width - 2.6) / max(width_of(each.text, size, BOLD), 0.1))
        base = low + (4.4 if each.kind else 2.6)
        letter(canvas, (x + 1.6, base), each.text, fitting, BOLD)
        if each.kind:
            letter(canvas, (x + 1.6, low + 1.3), each.kind, 2.0)
        x += width


def _shares(every: Sequence[Setting], size: float, width: float) -> list[float]:
    """The width of each cell: what it needs, and an equal part of what is left."""
    needs = [max(width_of(each.text, size, BOLD), width_of(each.label, 2.4), 10.0) + 3.2 for each in every]
    spare = (width - sum(needs)) / len(needs)
    return [need + spare for need in needs] if spare >= 0 else [width * need / sum(needs) for need in needs]


def _fitted(of: SetUp, sheet: PaperSheet, top: float) -> tuple[Box, list[Columns]]:
    """Where the picture stands, and the columns of text: the largest lettering with which there is one page."""
    for size, most, tallest in TRIES:
        shown, columns = _frames(of, sheet, top, tallest)
        if filled := _filled(_blocks(of, columns, size, most), columns, order_last=not _is_wide(of)):
            return shown, [filled]
    size, most, tallest = TRIES[-1]
    shown, columns = _frames(of, sheet, top, tallest)
    _, y0, _, y1 = sheet.frame
    later = tuple((a, y0 + FOOT + INNER, b, y1 - INNER) for a, _, b, _ in columns)
    return shown, list(flow([row for block in _blocks(of, columns, size, most) for row in block], columns, later))


def _blocks(of: SetUp, columns: tuple[Box, Box], size: float, most: int) -> list[list[TextRow]]:
    """The order, and then the other sections, each as the lines of a column."""
    x0, _, x1, _ = columns[0]
    return [[*_order_rows(of, x1 - x0, size, most)], *_section_rows(of, x1 - x0, size)]


def _is_wide(of: SetUp) -> bool:
    return of.record.measures.width_mm > WIDE * of.record.measures.height_mm


def _frames(of: SetUp, sheet: PaperSheet, top: float, tallest: float) -> tuple[Box, tuple[Box, Box]]:
    """The picture's frame, and those of both columns: a wide one stands over both, any other over the left one."""
    x0, y0, x1, _ = sheet.frame
    left, right, low = x0 + INNER, x1 - INNER, y0 + FOOT + INNER
    half, is_wide = (right - left - BETWEEN) / 2, _is_wide(of)
    shown = (
        left,
        top - picture.height_in(of, right - left if is_wide else half, tallest),
        right if is_wide else left + half,
        top,
    )
    under = shown[1] - 1
    return shown, ((left, low, left + half, under), (right - half, low, right, under if is_wide else top))


def _filled(blocks: Sequence[list[TextRow]], columns: tuple[Box, Box], *, order_last: bool) -> Columns:
    """Both columns with the blocks in their order, each whole; nothing where they have no room.

    The order is the first block: at the head of the left column, or `order_last` of the right one, beside the picture.
    """
    order, *rest = blocks
    first, second = columns
    for count in range(len(rest), -1, -1):
        left, right = [*rest[:count]], [*rest[count:]]
        (right if order_last else left).insert(0, order)
        if all(_height(each) <= box[3] - box[1] for each, box in ((left, first), (right, second))):
            return [(box, [row for block in each for row in block]) for each, box in ((left, first), (right, second))]
    return []


def _height(blocks: Sequence[list[TextRow]]) -> float:
    return sum(row.height for block in blocks for row in block)


def _order_rows(of: SetUp, width: float, size: float, most: int) -> Iterator[TextRow]:
    """The cutting order: its numbers, and what is cut."""
    yield _heading("Cutting order", size)
    every = list(order_lines(of, most))
    indent = max(width_of(number, size, BOLD) for number, _ in every) + 2.0
    for number, said in every:
        lines = wrapped(said, width - indent, size)
        for i, line in enumerate(lines):
            begins = ((0.0, number),) if i == 0 else ()
            yield TextRow((*begins, (indent, line)), size, FONT, keep=i < len(lines) - 1)
    for note in order_notes(of):
        yield from _paragraph("", note, width, size)


def _section_rows(of: SetUp, width: float, size: float) -> Iterator[list[TextRow]]:
    """The other sections, a block of lines each."""
    for section in sections(of):
        lines = (row for name, said in section.lines for row in _paragraph(name, said, width, size))
        yield [_heading(section.title, size), *lines]


def _heading(text: str, size: float) -> TextRow:
    return TextRow(((0.0, text),), size + 0.6, BOLD, keep=True)


def _paragraph(name: str, said: str, width: float, size: float) -> Iterator[TextRow]:
    """A line that begins with its name, wrapped; what has none has a dash before it."""
    indent = 24.0 * size / 2.7 if name else 3.0
    lines = wrapped(said, width - indent, size)
    for i, line in enumerate(lines):
        begins = ((0.0, name or "\u2013"),) if i == 0 else ()
        yield TextRow((*begins, (indent, line)), size, keep=i < len(lines) - 1, pitch=1.35)


def _title_block(of: SetUp, number: str) -> list[list[TitleCell]]:
    record = of.record
    return [
        [
            TitleCell("Table", ""),
            TitleCell("Process", record.job.cut.title),
            TitleCell("Size", size_said(of), 1.2),
            TitleCell("Verdict", verdict(record.rows).line, 1.4),
            TitleCell("Units", "mm" if record.job.units == "mm" else "inches", 0.6),
        ],
        [
            TitleCell("Title", title(of), 2.6, 4.2, BOLD),
            TitleCell("Identification number", record.template.slug, 1.6),
            TitleCell("Sheet", number, 0.5),
        ],
        [
            TitleCell("Set up by", ""),
            TitleCell("Date", "", 0.8),
            TitleCell(f"Address that draws it again, Platewright {VERSION}", record.address, 3.2, 2.4),
        ],
    ]
