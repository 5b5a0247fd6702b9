"""Lines: what a file draws, and what a part would have in such a file, on each layer in the part's own frame, mm."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from parts.errors import GeometryError, Unreadable
from parts.export import DRILL, INSIDE, OUTSIDE, drawing_extent, drawing_layers
from parts.geometry import Arc, Circle, Line, Point, Segment, circle
from parts.profile import Drill
from parts.read import AsDrawn, as_drawn
from parts.record import Record

_OF_MARKS = {"bend": "BEND", "scribe": "SCRIBE", "drill": DRILL}


@dataclass(frozen=True, slots=True)
class Lines:
    """Lines, arcs and points, each with its layer, and the kinds of what else stands there."""

    lines: tuple[tuple[str, Segment], ...]
    points: tuple[tuple[str, Point], ...] = ()
    unread: tuple[str, ...] = ()


def lines_of(record: Record, kind: str) -> Lines:
    """Return what a part has in a file of a kind: `dxf`, `svg` or `json`."""
    lines: list[tuple[str, Segment]] = []
    points: list[tuple[str, Point]] = []
    circled = kind == "dxf" and record.drill_circles
    for layer, shapes in drawing_layers(record.profile, record.job.cut.square_side, drill_circles=circled).items():
        for shape in shapes:
            if isinstance(shape, Drill):  # the cross of an SVG is read as a point too
                points.append((layer, shape.at))
            else:
                segments = circle(*_of(shape)).segments if isinstance(shape, Circle) else shape.segments
                lines += [(layer, segment) for segment in segments]
    return Lines(tuple(lines), tuple(points))


def _of(shape: Circle) -> tuple[Point, float]:
    return shape.centre, shape.diameter


def lines_in(data: bytes, name: str, kind: str, record: Record, content: Mapping[str, Any]) -> Lines:
    """Return what a file draws; `record` is of the part that it says it is of.

    Raises:
        Unreadable: its drawing is broken, hostile or too large.
    """
    if kind == "json":
        return _of_json(content, name)
    drawn = as_drawn(data, name, record.units)
    return _of_svg(drawn, record) if kind == "svg" else Lines(drawn.lines, drawn.points, drawn.unread)


def _of_svg(drawn: AsDrawn, record: Record) -> Lines:
    """What an SVG draws, put where the part has it: its upper left corner is that of all that is drawn."""
    x0, _, _, y1 = drawing_extent(record.profile)

    def place(point: Point) -> Point:
        x, y = drawn.own.point(point)
        return x0 + x, y1 - y

    lines = ((layer, _placed(segment, place(segment.start), place(segment.end))) for layer, segment in drawn.lines)
    return Lines(tuple(lines), tuple((layer, place(at)) for layer, at in drawn.points), drawn.unread)


def _placed(segment: Segment, start: Point, end: Point) -> Segment:
    return Line(start, end) if isinstance(segment, Line) else Arc(start, end, segment.bulge)


def _of_json(content: Mapping[str, Any], name: str) -> Lines:
    try:
        lines = [
            (OUTSIDE if loop["side"] == "outside" else INSIDE, _segment(each))
            for loop in content["loops"]
            for each in loop["segments"]
        ]
        points = []
        for mark in content["marks"]:
            layer = _OF_MARKS[mark["kind"]]
            if layer == DRILL:
                points.append((layer, _point(mark["at"])))
            else:
                lines += [(layer, _segment(each)) for each in mark.get("segments") or [{**mark, "kind": "line"}]]
    except (KeyError, TypeError, ValueError, ArithmeticError, AttributeError, GeometryError) as error:
        raise Unreadable(f"{name} is damaged: its loops or marks aren't as they were written.") from error
    return Lines(tuple(lines), tuple(points))


def _segment(each: Mapping[str, Any]) -> Segment:
    start, end = _point(each["start"]), _point(each["end"])
    if each["kind"] == "line":
        return Line(start, end)
    sweep = float(each["sweep_deg"])
    if not 0 < abs(sweep) < 360:
        raise ValueError("no arc")
    return Arc(start, end, math.tan(math.radians(sweep) / 4))


def _point(at: Sequence[Any]) -> Point:
    x, y = (float(each) for each in at)
    if not (math.isfinite(x) and math.isfinite(y)):
        raise ValueError("no place")
    return x, y
