"""SVG: the loops and marks of a part at true size, ready to be imported by a machine.

One unit is 1 mm. SVG's y runs down, so y is turned over in the numbers themselves, not by a transform that
an importer may overlook. Arcs and circles are exact. There is nothing but geometry: no text, no style.
"""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from html import escape
from typing import NamedTuple

from parts.export.about import facts, parameter_texts, plain
from parts.export.layers import BEND, DRILL, INSIDE, OUTSIDE, SCRIBE, LayerPath, Shape, extent, layers
from parts.geometry import Circle, Line, Point, Segment
from parts.profile import Drill
from parts.record import Record
from parts.units import joined_unit

_CROSS_MM = 2.0  # arm to arm of the cross at a drill centre; a circle there would be cut


class _Stroke(NamedTuple):
    """How a layer's lines look; importers tell operations apart by colour."""

    colour: str
    dashes: str = ""


_STROKES: Mapping[str, _Stroke] = {
    SCRIBE: _Stroke("#008000"),
    BEND: _Stroke("#ff00ff", "8 3 1 3"),
    DRILL: _Stroke("#0000ff"),
    INSIDE: _Stroke("#ff0000"),
    OUTSIDE: _Stroke("#000000"),
}
_STROKE_MM = "0.2"


def write(record: Record) -> str:
    """Return the part as SVG text at true size."""
    x0, y0, x1, y1 = extent(record.profile)
    sheet = _Sheet(x0, y1)
    width, height = _number(x1 - x0), _number(y1 - y0)
    wide, high = joined_unit(width, "mm"), joined_unit(height, "mm")
    drawn = layers(record.profile, record.job.cut.square_side)
    groups = "".join(_group(layer, shapes, sheet) for layer, shapes in drawn.items())
    title = record.template.title
    if record.compensation is not None:
        title += f", {record.compensation.sentence}"
    about = json.dumps({**facts(record), "parameters": parameter_texts(record)})
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="{wide}" height="{high}" '
        f'viewBox="0 0 {width} {height}">\n'
        f"<title>{escape(title, quote=False)}</title>\n"
        f"<metadata>{escape(about, quote=False)}</metadata>\n"
        f"{groups}</svg>\n"
    )


@dataclass(frozen=True, slots=True)
class _Sheet:
    """Where the part's upper left corner is; x runs right from it and y down."""

    left: float
    top: float

    def at(self, point: Point) -> str:
        """Return the coordinates of a point on the sheet."""
        return f"{_number(point[0] - self.left)} {_number(self.top - point[1])}"


def _group(layer: str, shapes: tuple[Shape, ...], sheet: _Sheet) -> str:
    stroke = _STROKES[layer]
    dashes = f' stroke-dasharray="{stroke.dashes}"' if stroke.dashes else ""
    drawn = "".join(f"{_drawn(shape, sheet)}\n" for shape in shapes)
    return f'<g id="{layer}" fill="none" stroke="{stroke.colour}" stroke-width="{_STROKE_MM}"{dashes}>\n{drawn}</g>\n'


def _drawn(shape: Shape, sheet: _Sheet) -> str:
    if isinstance(shape, Circle):
        x, y = sheet.at(shape.centre).split()
        return f'<circle cx="{x}" cy="{y}" r="{_number(shape.diameter / 2)}"/>'
    steps = _cross(shape, sheet) if isinstance(shape, Drill) else _steps(shape, sheet)
    return f'<path d="{" ".join(steps)}"/>'


def _steps(path: LayerPath, sheet: _Sheet) -> Iterator[str]:
    """Yield a path's commands; Z draws a closing line itself, and joins the ends properly after an arc."""
    *before, last = path.segments
    yield f"M {sheet.at(path.segments[0].start)}"
    for segment in before:
        yield _step(segment, sheet)
    if not (path.closed and isinstance(last, Line)):
        yield _step(last, sheet)
    if path.closed:
        yield "Z"


def _step(segment: Segment, sheet: _Sheet) -> str:
    end = sheet.at(segment.end)
    if isinstance(segment, Line):
        return f"L {end}"
    radius, large, clockwise = _number(segment.radius), abs(segment.bulge) > 1, segment.bulge < 0
    return f"A {radius} {radius} 0 {int(large)} {int(clockwise)} {end}"


def _cross(mark: Drill, sheet: _Sheet) -> Iterator[str]:
    (x, y), arm = mark.at, _CROSS_MM / 2
    yield f"M {sheet.at((x - arm, y))} L {sheet.at((x + arm, y))}"
    yield f"M {sheet.at((x, y - arm))} L {sheet.at((x, y + arm))}"


def _number(value: float) -> str:
    return plain(value).removesuffix(".0")
