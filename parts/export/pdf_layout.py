"""A layout as PDF: each sheet drawn to scale with the numbers of its parts, and labels to stick on them."""

import io
from collections.abc import Iterator, Sequence

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from parts.export.layout_sheet import CUT_ORDER, LaidPart, LayoutSheet, label_lines
from parts.export.pdf_ink import BOLD, FONT, canvas_on, letter, trace, width_of
from parts.export.pdf_sheet import paper_for
from parts.record import VERSION

_EDGE, _LINE, _TITLE = 12.0, 4.2, 5.0
_GREY, _METAL = 0.35, (0.88, 0.91, 0.94)
_LABELS_ACROSS, _LABELS_DOWN = 3, 8
"""Of labels on a page: the usual sheet of 24 (from memory)."""


def write(sheets: Sequence[LayoutSheet], title: str) -> bytes:
    """Return the overview: a page or more a sheet, then the labels of all parts."""
    chosen = paper_for(sheets[0].paper, sheets[0].units)
    paper = chosen.short, chosen.long
    stream = io.BytesIO()
    canvas = canvas_on(stream, *paper)
    canvas.setTitle(title)
    canvas.setCreator(f"Platewright {VERSION}")
    for sheet in sheets:
        _page(canvas, sheet, paper)
    _labels(canvas, sheets, paper)
    canvas.save()
    return stream.getvalue()


def _begin(canvas: Canvas, paper: tuple[float, float]) -> float:
    canvas.scale(mm, mm)
    return paper[1] - _EDGE


def _page(canvas: Canvas, sheet: LayoutSheet, paper: tuple[float, float]) -> None:
    """One sheet: what it is, the drawing with its longer side up the page, the list of its parts."""
    top = _begin(canvas, paper) - _TITLE
    letter(canvas, (_EDGE, top), f"Sheet {sheet.number} of {sheet.of}", _TITLE, BOLD)
    for line in (*sheet.said, *_wrapped(CUT_ORDER, paper[0] - 2 * _EDGE)):
        top -= _LINE
        letter(canvas, (_EDGE, top), line, 3.0)
    top -= _LINE
    lines = [f"{part.number}  {part.name}, row {part.row}" for part in sheet.parts]
    listed = min(-(-len(lines) // 3), 14)
    foot = _EDGE + listed * _LINE + 3
    _drawn(canvas, sheet, (_EDGE, foot, paper[0] - _EDGE, top))
    for i, line in enumerate(lines):
        page, place = divmod(i, 3 * listed) if i >= 3 * listed else (0, i)
        if page:
            break
        column, row = divmod(place, listed)
        width = (paper[0] - 2 * _EDGE) / 3
        at = _EDGE + column * width, _EDGE + (listed - 1 - row) * _LINE
        letter(canvas, at, _fitting(line, 2.8, width - 2), 2.8)
    rest = len(lines) - 3 * listed
    if rest > 0:
        letter(canvas, (_EDGE, _EDGE - _LINE), f"and {rest} more, on their labels", 2.8)
    canvas.showPage()


def _drawn(canvas: Canvas, sheet: LayoutSheet, box: tuple[float, float, float, float]) -> None:
    """The sheet as large as goes into a box, turned a quarter where that is larger."""
    x0, y0, x1, y1 = box
    upright = (sheet.height > sheet.width) == (y1 - y0 > x1 - x0)
    across, up = (sheet.width, sheet.height) if upright else (sheet.height, sheet.width)
    scale = min((x1 - x0) / across, (y1 - y0) / up)
    canvas.saveState()
    canvas.translate((x0 + x1 - across * scale) / 2, y1 - up * scale)
    canvas.scale(scale, scale)
    if not upright:
        canvas.translate(sheet.height, 0)
        canvas.rotate(90)
    canvas.setLineWidth(0.3 / scale)
    edge = canvas.beginPath()
    for ring in sheet.edge:
        edge.moveTo(*ring[0])
        for corner in ring[1:]:
            edge.lineTo(*corner)
        edge.close()
    canvas.drawPath(edge)
    canvas.setLineWidth(0.15 / scale)
    for part in sheet.parts:
        _outlined(canvas, part)
    canvas.setFillGray(0)
    for part in sheet.parts:
        _numbered(canvas, part, scale, turned=not upright)
    canvas.restoreState()


def _outlined(canvas: Canvas, part: LaidPart) -> None:
    path = canvas.beginPath()
    for loop in part.profile.boundary:
        trace(path, loop.segments)
        path.close()
    canvas.setFillColorRGB(*_METAL)
    canvas.drawPath(path, stroke=1, fill=1, fillMode=0)


def _numbered(canvas: Canvas, part: LaidPart, scale: float, *, turned: bool) -> None:
    """The number in its part, upright on the page; small rather than over an edge, but never too small to read."""
    size = min(max(part.room * 0.9, 1.6 / scale), 4.0 / scale)
    text = str(part.number)
    canvas.saveState()
    canvas.translate(*part.at)
    if turned:
        canvas.rotate(-90)
    canvas.setFont(BOLD, size)
    canvas.drawCentredString(0, -size * 0.35, text)
    canvas.restoreState()


def _labels(canvas: Canvas, sheets: Sequence[LayoutSheet], paper: tuple[float, float]) -> None:
    """Every part's label, in a grid with hairlines to cut along."""
    every = [(sheet, part) for sheet in sheets for part in sheet.parts]
    width, height = (paper[0] - 2 * _EDGE) / _LABELS_ACROSS, (paper[1] - 2 * _EDGE) / _LABELS_DOWN
    on_page = _LABELS_ACROSS * _LABELS_DOWN
    for start in range(0, len(every), on_page):
        _begin(canvas, paper)
        canvas.setLineWidth(0.1)
        for i, (sheet, part) in enumerate(every[start : start + on_page]):
            row, column = divmod(i, _LABELS_ACROSS)
            x, y = _EDGE + column * width, paper[1] - _EDGE - (row + 1) * height
            canvas.setStrokeGray(_GREY + 0.3)
            canvas.rect(x, y, width, height)
            canvas.setStrokeGray(0)
            for j, line in enumerate(label_lines(sheet, part)):
                size, font = (4.0, BOLD) if j == 0 else (2.8, FONT)
                letter(canvas, (x + 3, y + height - 8 - 5.5 * j), _fitting(line, size, width - 6, font), size, font)
        canvas.showPage()


def _fitting(text: str, size: float, width: float, font: str = FONT) -> str:
    """A text, cut short where it is longer than there is room."""
    if width_of(text, size, font) <= width:
        return text
    while text and width_of(f"{text}...", size, font) > width:
        text = text[:-1]
    return f"{text}..."


def _wrapped(text: str, width: float) -> Iterator[str]:
    line = ""
    for word in text.split():
        longer = f"{line} {word}".strip()
        if width_of(longer, 3.0) > width:
            yield line
            longer = word
        line = longer
    yield line
