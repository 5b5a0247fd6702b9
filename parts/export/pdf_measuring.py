"""PDF of a measuring sheet: the drawing with its letters, and a box beside each letter to write the reading in.

The same piece always gives the same bytes.
"""

import io
import math
from collections.abc import Sequence

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from parts.drawing import lay_out_to_standard
from parts.export.pdf import scale_text
from parts.export.pdf_ink import BOLD, FONT, ink, letter, width_of
from parts.export.pdf_sheet import LYING, Cell, draw_frame, wrapped
from parts.measuring import MeasuringPlace
from parts.record import VERSION, Record
from parts.units import format_length

TEXT, BODY = 3.5, 2.6
BOX = 8.0
"""Height of a box to write in, mm: a pencil's hand."""
WHAT = {
    "centres": "between hole centres",
    "outside": "over outside faces",
    "inside": "between inside faces",
    "hole": "across the hole",
    "reversal": "gap, flipped over",
}
NOTES = (
    "Let the piece cool and deburr it before you measure.",
    "Hole centres: measure over both far edges and between both near edges; the centres are half of their sum apart.",
    "Write down the instrument, or how well you know each reading.",
)


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
    canvas.scale(mm, mm)
    draw_frame(canvas, LYING, _title_block(record, scale_text(drawing.scale)))
    ink(canvas, drawing, (x0, (y0 + y1 - drawing.height) / 2))
    _boxes(canvas, record, places)
    canvas.showPage()
    canvas.save()
    return stream.getvalue()


def _boxes(canvas: Canvas, record: Record, places: Sequence[MeasuringPlace]) -> None:
    """A row for each place: its letter, what it is with its nominal length, and the box; then how to measure."""
    ((x0, low, x1, y),) = LYING.beside
    letter(canvas, (x0, y - 3.2), "Measured", 3.2, BOLD)
    y -= 6.0
    height = min(BOX, (y - low - 26) / len(places))
    canvas.setLineWidth(0.25)
    for place in places:
        middle = y - height / 2
        letter(canvas, (x0, middle - 1.2), place.letter, 3.5, BOLD)
        said = f"{WHAT[place.kind]}, {way(place)}" if place.kind != "hole" else WHAT["hole"]
        letter(canvas, (x0 + 7, middle + 0.6), said, BODY)
        letter(canvas, (x0 + 7, middle - 2.6), f"drawn {format_length(place.nominal, record.units)}", BODY)
        canvas.rect(x1 - 32, y - height + 0.6, 26, height - 1.2)
        letter(canvas, (x1 - width_of(record.units, BODY), middle - 1.0), record.units, BODY, FONT)
        y -= height
    y -= 3
    for note in NOTES:
        for line in wrapped(note, x1 - x0, BODY):
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
