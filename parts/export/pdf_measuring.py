"""PDF of a measuring sheet: the drawing with its letters, and a box for each letter to write the reading in.

What has no room beside the drawing stands on further sheets; no box is smaller than a pencil's hand.
The same piece always gives the same bytes.
"""

import io
from collections.abc import Iterator, Sequence

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from parts.drawing import lay_out_to_standard
from parts.export.measuring_words import SheetRow
from parts.export.pdf_ink import BOLD, FONT, canvas_on, ink, letter, width_of
from parts.export.pdf_sheet import PaperSheet, TitleCell, draw_frame, paper_for, scale_text, wrapped
from parts.geometry import Box
from parts.record import VERSION, Record

TEXT, BODY = 3.5, 2.6
BOX = 7.6
"""Height of a box to write in, mm: a pencil's hand."""
HEAD = 6.0
"""Height of the heading above the boxes."""


def write(
    record: Record, title: str, rows: Sequence[SheetRow], notes: Sequence[str], told: Sequence[str], subject: str
) -> bytes:
    """Return the sheet as a PDF file.

    Args:
        record: the piece, its drawing lettered.
        title: what the sheet is called.
        rows: what is measured, a box each.
        notes: how it is measured.
        told: what else there are boxes for in the title block: in its first row, the last one of the last.
        subject: of the file's own properties.
    """
    sheet = paper_for(record.paper, record.units).lying
    x0, y0, x1, y1 = sheet.drawing
    drawing = lay_out_to_standard(record, x1 - x0, y1 - y0, TEXT)
    stream = io.BytesIO()
    canvas = canvas_on(stream, sheet.width, sheet.height)
    canvas.setTitle(title)
    canvas.setCreator(f"Platewright {VERSION}")
    canvas.setAuthor("")
    canvas.setSubject(subject)
    block = _title_block(record, title, scale_text(drawing.scale), told)
    waiting = list(rows)
    for number, columns in enumerate(_columns(sheet, rows, notes)):
        canvas.scale(mm, mm)
        draw_frame(canvas, sheet, block)
        if number == 0:
            ink(canvas, drawing, (x0, (y0 + y1 - drawing.height) / 2))
        for box, count in columns:
            _boxes(canvas, waiting[:count], box)
            waiting = waiting[count:]
        if number == 0:
            _notes(canvas, sheet, notes)
        canvas.showPage()
    canvas.save()
    return stream.getvalue()


def _columns(sheet: PaperSheet, rows: Sequence[SheetRow], notes: Sequence[str]) -> Iterator[list[tuple[Box, int]]]:
    """Yield for each sheet its columns and how many boxes go into each; on the first the notes stand below them."""
    waiting, columns, taken = len(rows), sheet.beside(0.0), HEAD + _notes_height(sheet, notes)
    while waiting:
        filled = []
        for box in columns:
            count = min(waiting, int((box[3] - box[1] - taken) // BOX))
            filled.append((box, count))
            waiting -= count
        yield [(box, count) for box, count in filled if count]
        columns, taken = sheet.columns, HEAD


def _boxes(canvas: Canvas, rows: Sequence[SheetRow], column: Box) -> None:
    """A row for each place: its letter, what it is with its nominal length, and the box."""
    x0, _, x1, y = column
    letter(canvas, (x0, y - 3.2), "Measured", 3.2, BOLD)
    y -= HEAD
    canvas.setLineWidth(0.25)
    for row in rows:
        middle = y - BOX / 2
        letter(canvas, (x0, middle - 1.2), row.letter, 3.5, BOLD)
        letter(canvas, (x0 + 7, middle + 0.6), row.what, BODY)
        letter(canvas, (x0 + 7, middle - 2.6), row.drawn, BODY)
        canvas.rect(x1 - 32, y - BOX + 0.6, 26, BOX - 1.2)
        letter(canvas, (x1 - width_of(row.unit, BODY), middle - 1.0), row.unit, BODY, FONT)
        y -= BOX


def _note_lines(sheet: PaperSheet, notes: Sequence[str]) -> list[list[str]]:
    ((x0, _, x1, _),) = sheet.beside(0.0)
    return [wrapped(note, x1 - x0, BODY) for note in notes]


def _notes_height(sheet: PaperSheet, notes: Sequence[str]) -> float:
    return sum(1.4 * BODY * len(lines) + 0.8 for lines in _note_lines(sheet, notes)) + 2.0


def _notes(canvas: Canvas, sheet: PaperSheet, notes: Sequence[str]) -> None:
    """How to measure, at the foot of the column beside the drawing."""
    ((x0, low, _, _),) = sheet.beside(0.0)
    y = low + _notes_height(sheet, notes) - 2.0
    for lines in _note_lines(sheet, notes):
        for line in lines:
            letter(canvas, (x0, y - BODY), line, BODY)
            y -= 1.4 * BODY
        y -= 0.8


def _title_block(record: Record, title: str, scale: str, told: Sequence[str]) -> list[list[TitleCell]]:
    return [
        [
            TitleCell(told[0], ""),
            TitleCell("Material", record.material_title),
            TitleCell("Thickness", record.job.say(record.job.cut.thickness_mm)),
            TitleCell(told[1], ""),
            TitleCell(told[2], "", 1.5),
        ],
        [
            TitleCell("Title", title, 2.6, 4.2, BOLD),
            TitleCell("Identification number", record.template.slug, 1.5),
            TitleCell("Scale", scale, 0.8, 4.2, BOLD),
            TitleCell("Units", "mm" if record.units == "mm" else "inches", 0.8),
        ],
        [
            TitleCell("Measured by", ""),
            TitleCell("Date", "", 0.8),
            TitleCell(told[3], "", 0.8),
            TitleCell(f"Address that draws the piece again, Platewright {VERSION}", record.address, 3.2, 2.4),
        ],
    ]
