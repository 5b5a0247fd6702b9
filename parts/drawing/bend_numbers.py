"""The number of each bend beside its line, as in the bend table, with which way and how far it turns."""

import math
from collections.abc import Iterator, Sequence
from itertools import groupby

from parts.drawing.frame import Frame, Subject
from parts.drawing.primitives import Group, Text
from parts.drawing.room import Occupancy, inside_of
from parts.geometry import Line, Segment
from parts.geometry.search import pairs_between
from parts.profile import Bend
from parts.tolerance import PARALLEL_RAD
from parts.units import format_angle

PLACES = (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9)
"""Where along a line the lettering may stand, the best first."""
BEYOND = (0.8, 2.0, 3.2, 4.4)
"""How far beyond an end of its line a number may stand, in sizes of lettering."""

REACH = 8.0
"""Within so many sizes of lettering of its line all of a bend's lettering stands."""
LATER = 0.4
"""What each way further down the list costs, in ink covered; the number alone is only for where nothing else fits."""
OFF = (0.4, -1.2)
"""How far from its line the foot of the lettering stands, left of it or right, in sizes of lettering."""


def place(frame: Frame, room: Occupancy) -> tuple[Group, ...]:
    """Return the lettering of every bend that is told, having taken its room; where there is none, it is left out.

    None stands on an outline, and on a page none across the line of another bend, as far as that can be.
    """
    found: list[Text] = []
    lines = [_straight(frame, bend) for bend in frame.subject.bends] if room.apart else []
    edges = [
        Line(s.start, s.end) for s in frame.segments(_edges(frame.subject, REACH * frame.sizes.text / frame.scale))
    ]
    for number, bend in enumerate(frame.subject.bends, start=1):
        if not bend.angle:
            continue
        if best := _best(room, list(_ways(frame, number, bend)), lines[: number - 1] + lines[number:] + edges):
            found.append(best)
            room.claim(best.outline)
    return (Group("bends", tuple(found)),) if found else ()


def _best(room: Occupancy, ways: Sequence[Text], others: Sequence[Line]) -> Text | None:
    """The best of the ways that are free, clear of other lines if any is; none where none is free.

    The whole lettering comes before the number alone, and on a page what stands along the line before what stands past
    its end; of those alike in that what covers least ink, and the earlier way.
    """
    beyond = len(ways) - 2 * len(BEYOND) if room.apart else len(ways)
    first: Text | None = None
    for _, alike in groupby(enumerate(ways), key=lambda each: (each[1].text, each[0] >= beyond)):
        free = [(i, way) for i, way in alike if room.free(way.outline)]
        ranked = sorted(free, key=lambda each: room.cover(each[1].outline) + LATER * each[0])
        first = first or next((way for _, way in ranked), None)
        for _, way in ranked:
            if not any(inside_of(line, way.outline) for line in others):
                return way
    return first


def _edges(subject: Subject, reach: float) -> list[Segment]:
    """What the lettering of bends stays off: the segments of the outline within `reach` of a bend line's box."""
    boxes = [bend.line.box for bend in subject.bends if bend.angle]
    every = [segment for loop in subject.profile.boundary for segment in loop.segments] if boxes else []
    return [every[i] for i in sorted({i for _, i in pairs_between(boxes, [s.box for s in every], reach)})]


def _straight(frame: Frame, bend: Bend) -> Line:
    segment = frame.segment(bend.line)
    return Line(segment.start, segment.end)


def _ways(frame: Frame, number: int, bend: Bend) -> Iterator[Text]:
    """Yield how the lettering may stand: along the line, readable from below or the right, or alone at an end."""
    line, size = _straight(frame, bend), frame.sizes.text
    angle = math.atan2(line.end[1] - line.start[1], line.end[0] - line.start[0])
    if not -math.pi / 2 + PARALLEL_RAD < angle <= math.pi / 2 + PARALLEL_RAD:
        angle += math.pi
    whole = f"{number} {'up' if bend.up else 'down'} {format_angle(math.degrees(bend.angle), 4)}"
    for text in (whole, str(number)):
        for share in PLACES:
            for off in (each * size for each in OFF):
                x, y = line.at(share)
                stands = Text((x - off * math.sin(angle), y + off * math.cos(angle)), text, size, "middle", angle)
                if stands.width / 2 <= line.length * min(share, 1 - share):
                    yield stands
    ux, uy = line.heading
    for off in BEYOND:
        for (x, y), way in ((line.end, off), (line.start, -off)):
            yield Text((x + way * size * ux, y + way * size * uy - 0.35 * size), str(number), size)
