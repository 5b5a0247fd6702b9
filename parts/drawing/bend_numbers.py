"""The number of each bend beside its line, as in the bend table, with which way and how far it turns."""

import math
from collections.abc import Iterator

from parts.drawing.frame import Frame
from parts.drawing.primitives import Group, Text
from parts.drawing.room import Occupancy, inside_of
from parts.geometry import Line
from parts.profile import Bend
from parts.tolerance import PARALLEL_RAD
from parts.units import format_angle

PLACES = (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9)
"""Where along a line the lettering may stand, the best first."""
BEYOND = (0.8, 2.0, 3.2, 4.4)
"""How far beyond an end of its line a number may stand, in sizes of lettering."""

LATER = 0.4
"""What each way further down the list costs, in ink covered; the number alone is only for where nothing else fits."""
OFF = (0.4, -1.2)
"""How far from its line the foot of the lettering stands, left of it or right, in sizes of lettering."""


def place(frame: Frame, room: Occupancy) -> tuple[Group, ...]:
    """Return the lettering of every bend that is told, having taken its room; where there is none, it is left out.

    On a page none stands across the line of another bend, as far as that can be.
    """
    found: list[Text] = []
    lines = [_straight(frame, bend) for bend in frame.subject.bends] if room.apart else []
    for number, bend in enumerate(frame.subject.bends, start=1):
        if not bend.angle:
            continue
        ways = list(_ways(frame, number, bend))
        free = [(i, way) for i, way in enumerate(ways) if room.free(way.outline)]
        if free:
            whole, beyond = free[0][1].text, len(ways) - 2 * len(BEYOND) if room.apart else len(ways)
            ranked = sorted(
                free,
                key=lambda each: (
                    each[1].text != whole, each[0] >= beyond, room.cover(each[1].outline) + LATER * each[0],
                ),
            )  # fmt: skip
            others = lines[: number - 1] + lines[number:]
            clear = (way for _, way in ranked if not any(inside_of(line, way.outline) for line in others))
            best = next(clear, ranked[0][1])
            found.append(best)
            room.claim(best.outline)
    return (Group("bends", tuple(found)),) if found else ()


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
