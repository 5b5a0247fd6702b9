"""The hole table: where round holes are, counted from the lower left corner, when they are too many to dimension each.

A number stands beside each hole on the drawing, in the first quarter round it that no lettering takes and no line
crosses; where there is none, in the one that fewest lines cross.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from parts.drawing import Drawing, Group, Path, Text
from parts.export.about import cut_size
from parts.geometry import Box, Point, Segment
from parts.profile import Drill
from parts.record import Record

FEW, MANY = 6, 60
"""Round holes up to which each is read off the dimensions, and from over which a table is no help."""
_QUARTERS = ((1, 1), (-1, 1), (-1, -1), (1, -1))
_NEAR_MM = 1e-6
_SIZE = 0.62
# Of the lettering of dimensions.
_OFF = (0.25, 0.8)
# How far a number stands off its hole, as shares of its size: as near as is legible, and a little further.
_STEP = 0.2
# Of its size: how closely lines are looked at.


@dataclass(frozen=True, slots=True)
class HoleRow:
    """A round hole: its number, its centre from the lower left corner, and its diameter, mm."""

    number: int
    at: Point
    diameter: float
    is_drilled: bool


def hole_rows(record: Record) -> tuple[HoleRow, ...]:
    """Return the round holes of a part row by row from the bottom; none where they are few, or too many."""
    x0, y0, _, _ = record.profile.box
    found = [
        (opening.loop.circle.centre, opening.loop.circle.diameter, False)
        for opening in record.profile.inside
        if opening.loop.circle
    ]
    found += [(m.at, cut_size(m), True) for m in record.profile.marks if isinstance(m, Drill)]
    if not FEW < len(found) <= MANY:
        return ()
    placed = sorted(((x - x0, y - y0), d, drilled) for (x, y), d, drilled in found)
    placed.sort(key=lambda each: (round(each[0][1] / _NEAR_MM), each[0][0]))
    return tuple(HoleRow(k, *each) for k, each in enumerate(placed, start=1))


def numbered(record: Record, drawing: Drawing) -> Drawing:
    """Return the drawing with a number at each hole of the table."""
    rows = hole_rows(record)
    if not rows:
        return drawing
    return replace(drawing, groups=(*drawing.groups, Group("centres", tuple(_numbers(record, drawing, rows)))))


def _numbers(record: Record, drawing: Drawing, rows: Sequence[HoleRow]) -> Iterator[Text]:
    taken = [text.box for group in drawing.groups if not group.spare for text in group.texts]
    size = _SIZE * drawing.text_size
    (ox, oy), (left, low) = drawing.origin, record.box[:2]
    x0, y0, _, _ = record.profile.box
    holes = [
        (ox + (row.at[0] + x0 - left) * drawing.scale, oy + (row.at[1] + y0 - low) * drawing.scale, row) for row in rows
    ]
    rings = [_square(x, y, row.diameter / 2 * drawing.scale) for x, y, row in holes]
    items = [item for group in drawing.groups if not group.spare for item in group.items]
    lines = [segment for item in items if isinstance(item, Path) for segment in item.segments]
    for x, y, row in holes:
        ways = [(off, quarter) for off in _OFF for quarter in _QUARTERS]
        choices = [_beside((x, y), row, drawing.scale, size, *way) for way in ways]
        text = min(choices, key=lambda each: _in_the_way(each, (*taken, *rings), lines))  # the first of the best
        taken.append(text.box)
        yield text


def _in_the_way(text: Text, boxes: Sequence[Box], lines: Sequence[Segment]) -> tuple[bool, int]:
    """Whether lettering or a hole is where a text would stand, and how many lines cross it."""
    box = text.box
    return any(_meet(box, each) for each in boxes), sum(_crosses(line, box, _STEP * text.size) for line in lines)


def _crosses(line: Segment, box: Box, step: float) -> bool:
    if not _meet((line.box[0] - step, line.box[1] - step, line.box[2] + step, line.box[3] + step), box):
        return False
    count = math.ceil(line.length / step) or 1
    return any(
        box[0] <= x <= box[2] and box[1] <= y <= box[3] for x, y in (line.at(i / count) for i in range(count + 1))
    )


def _beside(at: Point, row: HoleRow, scale: float, size: float, share: float, quarter: tuple[int, int]) -> Text:
    """The number in a quarter round its hole, clear of its edge and of the cross through it."""
    right, up = quarter
    off = row.diameter / 2 * scale * math.sqrt(0.5) + share * size
    x, y = at[0] + right * off, at[1] + up * off - (0.7 * size if up < 0 else 0.0)
    return Text((x, y), str(row.number), size, "start" if right > 0 else "end")


def _square(x: float, y: float, half: float) -> Box:
    inner = 0.7 * half
    return x - inner, y - inner, x + inner, y + inner


def _meet(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
