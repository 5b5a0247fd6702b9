"""The small picture of a set-up sheet: the part with the number of each step at its loop, and where the clamp is."""

from collections.abc import Iterator

from reportlab.pdfgen.canvas import Canvas

from parts.drawing import Drawing, Group, Item, Path, Text
from parts.export.pdf_ink import BOLD, ink, letter, width_of
from parts.geometry import Box, Line, Point, distance
from parts.profile import Bend, Drill, Mark
from parts.setup import SetUp, Step, grouped

NUMBER = 2.8
"""Size of the numbers, mm of paper."""
SMALLEST = 1.8
"""What a number may shrink to in its opening, mm (ISO 3098-1)."""
MARGIN = 4.5
"""Room around the part for the numbers that stand outside it."""
MOST = 60
"""Steps beyond which only the first of those of one size has its number: more would cover the part."""
CLAMP = "clamp"


def scale_in(of: SetUp, width: float, height: float) -> float:
    """Return the largest scale at which the part has room in so much paper."""
    x0, y0, x1, y1 = of.record.profile.box
    return min((width - 2 * MARGIN) / (x1 - x0), (height - 2 * MARGIN) / (y1 - y0))


def height_in(of: SetUp, width: float, most: float) -> float:
    """Return how high the picture is in so much width, at most."""
    _, y0, _, y1 = of.record.profile.box
    return scale_in(of, width, most) * (y1 - y0) + 2 * MARGIN


def draw(canvas: Canvas, of: SetUp, box: Box) -> None:
    """Draw the picture in the middle of a box on the sheet."""
    left, low, right, high = box
    scale = scale_in(of, right - left, high - low)
    x0, y0, x1, y1 = of.record.profile.box
    at = (left + right - scale * (x0 + x1)) / 2, (low + high - scale * (y0 + y1)) / 2
    size = NUMBER / scale
    shown = Group("part", tuple(_part(of)))
    canvas.saveState()
    canvas.translate(*at)
    canvas.scale(scale, scale)
    ink(canvas, Drawing(x1 - x0, y1 - y0, scale, (0.0, 0.0), size, (shown,)), (0.0, 0.0))
    canvas.restoreState()
    for step in _numbered(of):
        number = _number(of, step, size)
        _write(canvas, number, (at[0] + scale * number.at[0], at[1] + scale * number.at[1]), scale * number.size)
    corner = at[0] + scale * x0, at[1] + scale * y0
    letter(canvas, (corner[0] - width_of(CLAMP, 2.0) / 2, corner[1] - 3.6), CLAMP, 2.0)


def _write(canvas: Canvas, number: Text, at: Point, size: float) -> None:
    """Write a number from or about a place on the sheet, the lines under it left out."""
    wide = width_of(number.text, size, BOLD)
    left = at[0] - {"start": 0.0, "middle": 0.5, "end": 1.0}[number.anchor] * wide
    canvas.setFillGray(1)
    canvas.rect(left - 0.25, at[1] - 0.2, wide + 0.5, 0.72 * size + 0.4, stroke=0, fill=1)
    canvas.setFillGray(0)
    letter(canvas, (left, at[1]), number.text, size, BOLD)


def _part(of: SetUp) -> Iterator[Item]:
    """The loops and the marks, in the part's own coordinates."""
    profile = of.record.profile
    for i, loop in enumerate(profile.boundary):
        yield Path("cut-outside" if i < len(profile.outside) else "cut-inside", loop.segments, closed=True)
    reach = min(of.record.measures.width_mm, of.record.measures.height_mm) / 40
    for mark in profile.marks:
        yield from _mark(mark, reach)


def _mark(mark: Mark, reach: float) -> Iterator[Item]:
    if isinstance(mark, Bend):
        yield Path("bend", (mark.line,))
    elif isinstance(mark, Drill):
        x, y = mark.at
        yield Path("scribe", (Line((x - reach, y), (x + reach, y)),))
        yield Path("scribe", (Line((x, y - reach), (x, y + reach)),))
    else:
        yield Path("scribe", mark.path)


def _numbered(of: SetUp) -> list[Step]:
    """The steps that have their number in the picture."""
    return list(of.steps) if len(of.steps) <= MOST else [group[0] for group in grouped(of.steps)][:MOST]


def _number(of: SetUp, step: Step, size: float) -> Text:
    """The number of a step: in its opening where it has room there, else beside it, toward the middle of the part."""
    text = str(step.number)
    x, y = step.at
    if step.side == "outside":
        return _of_outside(of, step, text, size)
    within = min(size, step.height / 1.3, step.width / (0.62 * len(text) + 0.6))
    if within >= SMALLEST / NUMBER * size:
        return Text((x, y - 0.36 * within), text, within)
    x0, y0, x1, y1 = of.record.profile.box
    is_right, is_high = x > (x0 + x1) / 2, y > (y0 + y1) / 2
    aside, up = step.width / 2 + 0.15 * size, -step.height / 2 - 0.6 * size if is_high else step.height / 2 - 0.1 * size
    return Text((x - aside if is_right else x + aside, y + up), text, size, "end" if is_right else "start")


def _of_outside(of: SetUp, step: Step, text: str, size: float) -> Text:
    """Beyond the corner farthest from the clamp; of several pieces in the middle of each."""
    if len(of.record.profile.outside) > 1:
        x, y = step.at
        return Text((x, y - 0.36 * size), text, size)
    x0, y0, _, _ = of.record.profile.box
    corners = [segment.start for segment in of.record.profile.boundary[step.loop].segments]
    x, y = max(corners, key=lambda corner: distance(corner, (x0, y0)))
    return Text((x + 0.35 * size, y + 0.1 * size), text, size, "start")
