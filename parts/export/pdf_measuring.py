"""PDF of a measuring sheet: the drawing with its letters, and a box for each letter to write the reading in.

What has no room beside the drawing stands on further sheets; no box is smaller than a pencil's hand.
The same piece always gives the same bytes.
"""

import io
import math
from collections.abc import Iterator, Sequence

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from parts.drawing import lay_out_to_standard
from parts.export.pdf import scale_text
from parts.export.pdf_ink import BOLD, FONT, ink, letter, width_of
from parts.export.pdf_sheet import LYING, Cell, draw_frame, wrapped
from parts.geometry.segment import Box
from parts.record import VERSION, Record
from parts.spec.places import MeasuringPlace
from parts.units.lengths import Units, format_length

TEXT, BODY = 3.5, 2.6
BOX = 8.0
"""Height of a box to write in, mm: a pencil's hand."""
HEAD = 6.0
"""Height of the heading above the boxes."""
WHAT = {
    "centres": "between centres",
    "outside": "over outside faces",
    "inside": "between inside faces",
    "hole": "across the hole",
    "reversal": "gap when flipped",
}
FIRST = "Let the piece cool and deburr it before you measure."
LAST = "Write down the instrument, or how well you know each reading."
OF_KINDS = {
    "centres": "Hole centres: measure over both far edges and between both near edges; the centres are half of their "
    "sum apart.",
    "crosses": "Crosses: tape from scribed line to scribed line, straight and evenly tight.",
    "inside": "Slots: between the straight sides, not at the round ends.",
    "hole": "Holes: across X, and again across Y where they look oval; write the mean.",
    "reversal": "Flip: the edge along X on a straightedge, scribe along the other edge, turn the piece over about that "
    "edge, scribe again so that the lines meet at the corner, or where its rounding ends. The gap counts as more than "
    "0 where each line leans away from the piece it was drawn along.",
}
"""How each kind of reading is taken, where a piece has it."""


def notes(places: Sequence[MeasuringPlace]) -> tuple[str, ...]:
    """Return how these places are measured, a sentence or two each."""
    kinds = {"crosses" if place.cross else place.kind for place in places}
    return (FIRST, *(said for kind, said in OF_KINDS.items() if kind in kinds), LAST)


def what(place: MeasuringPlace) -> str:
    """Return what is measured at a place and which way, in words."""
    said = "from cross to cross" if place.cross else WHAT[place.kind]
    return said if place.kind in ("hole", "reversal") else f"{said}, {way(place)}"


def drawn(place: MeasuringPlace, units: Units) -> str:
    """Return how long a place is drawn, or how far from where the lines meet its gap is read."""
    length = format_length(place.nominal, units)
    return f"read at {length}" if place.kind == "reversal" else f"drawn {length}"


def way(place: MeasuringPlace) -> str:
    """Return a direction as it is said: X, Y, or degrees from X toward Y."""
    degrees = round(math.degrees(place.direction), 3)
    return {0.0: "X", 90.0: "Y"}.get(degrees, f"{degrees:g}\u00b0")


def write(record: Record, places: Sequence[MeasuringPlace]) -> bytes:
    """Return the sheet as a PDF file."""
    x0, y0, x1, y1 = LYING.drawing
    drawing = lay_out_to_standard(record, x1 - x0, y1 - y0, TEXT)
    stream = io.BytesIO()
    canvas = Canvas(stream, pagesize=(LYING.width * mm, LYING.height * mm), invariant=1, pageCompression=1)
    canvas.setTitle(f"Measuring sheet: {record.template.title}")
    canvas.setCreator(f"Platewright {VERSION}")
    canvas.setAuthor("")
    canvas.setSubject("; ".join(f"{place.letter} {place.kind} {place.nominal:.4f} mm" for place in places))
    title = _title_block(record, scale_text(drawing.scale))
    waiting = list(places)
    for number, columns in enumerate(_columns(places)):
        canvas.scale(mm, mm)
        draw_frame(canvas, LYING, title)
        if number == 0:
            ink(canvas, drawing, (x0, (y0 + y1 - drawing.height) / 2))
        for box, rows in columns:
            _boxes(canvas, record.units, waiting[:rows], box)
            waiting = waiting[rows:]
        if number == 0:
            _notes(canvas, places)
        canvas.showPage()
    canvas.save()
    return stream.getvalue()


def _columns(places: Sequence[MeasuringPlace]) -> Iterator[list[tuple[Box, int]]]:
    """Yield for each sheet its columns and how many boxes go into each; on the first the notes stand below them."""
    waiting, columns, taken = len(places), LYING.beside(0.0), HEAD + _notes_height(places)
    while waiting:
        sheet = []
        for box in columns:
            count = min(waiting, int((box[3] - box[1] - taken) // BOX))
            sheet.append((box, count))
            waiting -= count
        yield [(box, count) for box, count in sheet if count]
        columns, taken = LYING.columns, HEAD


def _boxes(canvas: Canvas, units: Units, places: Sequence[MeasuringPlace], column: Box) -> None:
    """A row for each place: its letter, what it is with its nominal length, and the box."""
    x0, _, x1, y = column
    letter(canvas, (x0, y - 3.2), "Measured", 3.2, BOLD)
    y -= HEAD
    canvas.setLineWidth(0.25)
    for place in places:
        middle = y - BOX / 2
        letter(canvas, (x0, middle - 1.2), place.letter, 3.5, BOLD)
        letter(canvas, (x0 + 7, middle + 0.6), what(place), BODY)
        letter(canvas, (x0 + 7, middle - 2.6), drawn(place, units), BODY)
        canvas.rect(x1 - 32, y - BOX + 0.6, 26, BOX - 1.2)
        letter(canvas, (x1 - width_of(units, BODY), middle - 1.0), units, BODY, FONT)
        y -= BOX


def _note_lines(places: Sequence[MeasuringPlace]) -> list[list[str]]:
    ((x0, _, x1, _),) = LYING.beside(0.0)
    return [wrapped(note, x1 - x0, BODY) for note in notes(places)]


def _notes_height(places: Sequence[MeasuringPlace]) -> float:
    return sum(1.4 * BODY * len(lines) + 0.8 for lines in _note_lines(places)) + 2.0


def _notes(canvas: Canvas, places: Sequence[MeasuringPlace]) -> None:
    """How to measure, at the foot of the column beside the drawing."""
    ((x0, low, _, _),) = LYING.beside(0.0)
    y = low + _notes_height(places) - 2.0
    for lines in _note_lines(places):
        for line in lines:
            letter(canvas, (x0, y - BODY), line, BODY)
            y -= 1.4 * BODY
        y -= 0.8


def _title_block(record: Record, scale: str) -> list[list[Cell]]:
    return [
        [
            Cell("Table", ""),
            Cell("Material", record.material_title),
            Cell("Thickness", record.job.say(record.job.cut.thickness_mm)),
            Cell("Kerf set", ""),
            Cell("Instruments", "", 1.5),
        ],
        [
            Cell("Title", f"Measuring sheet: {record.template.title}", 2.6, 4.2, BOLD),
            Cell("Identification number", record.template.slug, 1.5),
            Cell("Scale", scale, 0.8, 4.2, BOLD),
            Cell("Units", "mm" if record.units == "mm" else "inches", 0.8),
        ],
        [
            Cell("Measured by", ""),
            Cell("Date", "", 0.8),
            Cell("Temperature", "", 0.8),
            Cell(f"Address that draws the piece again, Platewright {VERSION}", record.address, 3.2, 2.4),
        ],
    ]
