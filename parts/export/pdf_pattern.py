"""PDF of a pattern in true size, over as many sheets of the shop's paper as it takes, to be taped together.

Every sheet has a bar of 100 mm and one of 4 in, to measure before it is trusted; its place in the grid; and marks where
it lies over the sheets beside it. Sheets that show nothing of the part are left out, and so shown in the grid. The same
part always gives the same bytes.
"""

import io
import math
from collections.abc import Iterator
from itertools import pairwise

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from parts.errors import Problem, Refused
from parts.export.layers import BEND, DRILL, SCRIBE, Shape, extent, layers
from parts.export.pdf_describe import describe
from parts.export.pdf_ink import BOLD, FONT, canvas_on, letter, trace, width_of
from parts.export.pdf_sheet import paper_for
from parts.export.tiles import FOOT, MARGIN, OVERLAP, Tile, Tiling, tiled
from parts.geometry import Box, Circle, Line, Point, Segment, circle
from parts.profile import Drill
from parts.record import Record
from parts.units import MM_PER_IN

MOST_SHEETS = 200
"""Sheets that anybody tapes together."""
BARS = ((100.0, "100 mm"), (4 * MM_PER_IN, "4 in"))
"""Lengths to measure on the print, and what they are called."""
_LINE, _FINE, _BAR = 0.3, 0.13, 0.25
_CROSS, _JOIN = 6.0, 3.5
_DASHES = {BEND: [8.0, 2.0, 1.0, 2.0], SCRIBE: [3.0, 1.5]}
_GREY = 0.55
_STEP = math.pi / 8
_BODY, _NAME = 2.6, 7.0


def write(record: Record) -> bytes:
    """Return the pattern as a PDF file.

    Raises:
        Refused: it takes more sheets than anybody tapes together.
    """
    paper = paper_for(record.paper, record.job.units)
    tiling = tiled(extent(record.profile), paper.long, paper.short)
    drawn = layers(record.profile, record.job.cut.square_side)
    shapes = [(layer, shape) for layer, each in drawn.items() for shape in each]
    boxes = [_boxes(shape) for _, shape in shapes]
    shown = {tile: [k for k, box in enumerate(boxes) if _meet(box, tile.field)] for tile in tiling.tiles}
    used = [tile for tile, there in shown.items() if there]
    if len(used) > MOST_SHEETS:
        why = f"takes {len(used)} sheets in true size, more than {MOST_SHEETS}: take a larger paper."
        raise Refused((Problem("paper", record.paper, why),))
    stream = io.BytesIO()
    canvas = canvas_on(stream, tiling.width, tiling.height)
    describe(canvas, record, "pattern in true size")
    for tile in used:
        canvas.scale(mm, mm)
        _pattern(canvas, tile, [shapes[k] for k in shown[tile]], record)
        _joins(canvas, tiling, tile)
        _foot(canvas, tiling, tile, used, record)
        canvas.showPage()
    canvas.save()
    return stream.getvalue()


def _pattern(canvas: Canvas, tile: Tile, shapes: list[tuple[str, Shape]], record: Record) -> None:
    """What the sheet shows of the part, its field clipped."""
    x0, y0, x1, y1 = tile.field
    canvas.saveState()
    frame = canvas.beginPath()
    frame.rect(MARGIN, MARGIN + FOOT, x1 - x0, y1 - y0)
    canvas.clipPath(frame, stroke=0, fill=0)
    canvas.translate(MARGIN - x0, MARGIN + FOOT - y0)
    canvas.setLineJoin(1)
    for layer, shape in shapes:
        canvas.setLineWidth(_LINE if layer not in _DASHES else _FINE)
        canvas.setDash(_DASHES.get(layer, []))
        _outline(canvas, layer, shape)
        canvas.setDash([])
        _centre(canvas, shape, record)
    canvas.restoreState()


def _outline(canvas: Canvas, layer: str, shape: Shape) -> None:
    segments = _segments(shape)
    if not segments or (layer == DRILL and isinstance(shape, Drill)):
        return
    path = canvas.beginPath()
    trace(path, segments)
    if isinstance(shape, Circle) or (not isinstance(shape, Drill) and shape.closed):
        path.close()
    canvas.drawPath(path)


def _centre(canvas: Canvas, shape: Shape, record: Record) -> None:
    """The cross to punch through at the centre of a hole, and its diameter beside it."""
    if not isinstance(shape, Circle | Drill):
        return
    (x, y), diameter = _centre_of(shape)
    half = max(min(_CROSS / 2, diameter * 0.35), 1.0)
    canvas.setLineWidth(_FINE)
    canvas.line(x - half, y, x + half, y)
    canvas.line(x, y - half, x, y + half)
    text = f"{'drill ' if isinstance(shape, Drill) else ''}\u00d8{record.lettered(diameter)}"
    letter(canvas, (x + diameter / 2 + 1, y + 1), text, _BODY)


def _joins(canvas: Canvas, tiling: Tiling, tile: Tile) -> None:
    """The field's edge in grey, where the sheets beside it begin, and a mark at each join."""
    x0, y0, x1, y1 = tile.field
    dx, dy = MARGIN - x0, MARGIN + FOOT - y0
    canvas.saveState()
    canvas.setStrokeGray(_GREY)
    canvas.setFillGray(_GREY)
    canvas.setLineWidth(_FINE)
    canvas.rect(MARGIN, MARGIN + FOOT, x1 - x0, y1 - y0)
    canvas.setDash([1.0, 1.0])
    for x in _inner(tile.column > 0, tile.column < tiling.columns - 1, x0, x1):
        canvas.line(x + dx, y0 + dy, x + dx, y1 + dy)
    for y in _inner(tile.row < tiling.rows - 1, tile.row > 0, y0, y1):
        canvas.line(x0 + dx, y + dy, x1 + dx, y + dy)
    canvas.setDash([])
    for x, y in tiling.joins(tile):
        _join(canvas, (x + dx, y + dy))
    for name, (x, y) in tiling.beside(tile):
        letter(canvas, (x + dx - width_of(name, _BODY) / 2, y + dy - _BODY / 3), name, _BODY)
    canvas.restoreState()


def _inner(before: bool, after: bool, low: float, high: float) -> Iterator[float]:
    """Where the fields of the sheets beside it end."""
    if before:
        yield low + OVERLAP
    if after:
        yield high - OVERLAP


def _join(canvas: Canvas, at: Point) -> None:
    """A ring with a cross through it."""
    x, y = at
    canvas.circle(x, y, _JOIN / 2)
    canvas.line(x - _JOIN, y, x + _JOIN, y)
    canvas.line(x, y - _JOIN, x, y + _JOIN)


def _foot(canvas: Canvas, tiling: Tiling, tile: Tile, used: list[Tile], record: Record) -> None:
    """The strip below the field: the bars, what to do with them, which sheet it is, and the grid."""
    low = MARGIN
    for i, (length, name) in enumerate(BARS):
        _bar(canvas, (MARGIN, low + 9.5 - 6.5 * i), length, name)
    right = tiling.width - MARGIN
    left = _grid(canvas, tiling, tile, used, right)
    name_at = left - width_of(tile.name, _NAME, BOLD) - 3
    letter(canvas, (name_at, low + 4), tile.name, _NAME, BOLD)
    x = MARGIN + BARS[1][0] + 13
    room = name_at - 2 - x
    said = (
        record.template.title,
        f"Sheet {used.index(tile) + 1} of {len(used)}, true size.",
        "Print at 100 %; measure the bars.",
        record.address,
    )
    for i, line in enumerate(said):
        font = BOLD if i == 0 else FONT
        letter(canvas, (x, low + 11.6 - 3.7 * i), _cut(line, room, font), _BODY, font)


def _bar(canvas: Canvas, at: Point, length: float, name: str) -> None:
    """A bar that is measured from end line to end line."""
    (x, y), tall = at, 3.2
    canvas.setLineWidth(_BAR)
    canvas.line(x, y, x + length, y)
    for end in (x, x + length):
        canvas.line(end, y, end, y + tall)
    parts = 10 if name.endswith("mm") else 4
    for k in range(1, parts):
        canvas.line(x + length * k / parts, y, x + length * k / parts, y + tall / 2)
    letter(canvas, (x + length + 1.5, y + 0.4), name, _BODY)


def _grid(canvas: Canvas, tiling: Tiling, tile: Tile, used: list[Tile], right: float) -> float:
    """The sheets as they lie, this one black, those left out crossed; returns where it begins."""
    side = min(14.0 / tiling.rows, 24.0 / tiling.columns, 7.0)
    tall = side if tiling.height > tiling.width else side * 0.7
    wide = side * 0.7 if tiling.height > tiling.width else side
    left, top = right - tiling.columns * wide, MARGIN + tiling.rows * tall
    canvas.setLineWidth(_FINE)
    for each in tiling.tiles:
        x, y = left + each.column * wide, top - (each.row + 1) * tall
        canvas.rect(x, y, wide, tall, stroke=1, fill=1 if each == tile else 0)
        if each not in used:
            canvas.line(x, y, x + wide, y + tall)
    return left


def _cut(text: str, room: float, font: str) -> str:
    """A text as far as there is room for it."""
    if width_of(text, _BODY, font) <= room:
        return text
    while text and width_of(f"{text}...", _BODY, font) > room:
        text = text[:-1]
    return f"{text}..." if text else ""


def _segments(shape: Shape) -> tuple[Segment, ...]:
    if isinstance(shape, Drill):
        return ()
    return circle(shape.centre, shape.diameter).segments if isinstance(shape, Circle) else shape.segments


def _centre_of(shape: Circle | Drill) -> tuple[Point, float]:
    return (shape.centre if isinstance(shape, Circle) else shape.at), shape.diameter


def _boxes(shape: Shape) -> tuple[Box, ...]:
    """Boxes that hold a shape's line, those of an arc an eighth of a half turn each, so that they hold little else."""
    if isinstance(shape, Drill):
        (x, y), r = shape.at, shape.diameter / 2
        return ((x - r, y - r, x + r, y + r),)
    return tuple(box for segment in _segments(shape) for box in _boxes_along(segment))


def _boxes_along(segment: Segment) -> Iterator[Box]:
    if isinstance(segment, Line):
        yield segment.box
        return
    count = math.ceil(abs(segment.sweep) / _STEP)
    bow = segment.radius * (1 - math.cos(segment.sweep / count / 2))
    points = [segment.at(k / count) for k in range(count + 1)]
    for (ax, ay), (bx, by) in pairwise(points):
        yield min(ax, bx) - bow, min(ay, by) - bow, max(ax, bx) + bow, max(ay, by) + bow


def _meet(boxes: tuple[Box, ...], field: Box) -> bool:
    return any(b[0] <= field[2] and field[0] <= b[2] and b[1] <= field[3] and field[1] <= b[3] for b in boxes)
