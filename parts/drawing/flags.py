"""Flags: the numbered marks of findings, each on a leader from its place to free paper nearby."""

import math
from collections.abc import Iterator, Sequence

from parts.drawing.frame import Frame
from parts.drawing.primitives import Dot, Group, Item, Mark, Path, Polygon
from parts.drawing.room import Room
from parts.finding import Finding
from parts.geometry.segment import Box, Line, Point

SHARE = 0.2
"""Share of the paper that the marks may fill; more of them are drawn smaller."""


def mark_size(count: int, text: float, paper: Box) -> float:
    """Return how large each of `count` marks is drawn."""
    area = (paper[2] - paper[0]) * (paper[3] - paper[1])
    return min(1.9 * text, math.sqrt(SHARE * area / max(count, 1)))


def place(frame: Frame, room: Room, findings: Sequence[Finding], paper: Box) -> tuple[Group, ...]:
    """Return a flag for each finding, numbered from 1, having taken their room.

    Where no free paper is left, marks stand in rows beneath `paper`.
    """
    size = mark_size(len(findings), frame.sizes.text, paper)
    for finding in findings:
        (x, y), r = frame.point(finding.at), size / 4
        room.draw((Line((x - r, y), (x + r, y)),), 3.0)
    spare = _rows(paper, size)
    groups = []
    for number, finding in enumerate(findings, start=1):
        place = frame.point(finding.at)
        at = _nearest(frame, room, place, size, paper) or next(spare)
        mark = Mark(at, finding.severity, number, size)
        room.claim(_square(at, size))
        leader = Line(place, at)
        short = Line(place, leader.at(max(0.0, 1 - size / 2 / leader.length)))
        room.draw((short,), 1.0)
        items: tuple[Item, ...] = (Path("leader", (short,)), Dot(place, frame.sizes.text / 5), mark)
        groups.append(Group("finding", items, str(number)))
    return tuple(groups)


def _nearest(frame: Frame, room: Room, place: Point, size: float, paper: Box) -> Point | None:
    """The free place for a mark that costs least, looked for in rings around what it points at."""
    best, least = None, math.inf
    for ring, radius in enumerate(_radii(size, paper)):
        if radius > least:
            break
        count = max(12, math.floor(2 * math.pi * radius / (0.8 * size)))
        for i in range(count):
            angle = 2 * math.pi * (i + 0.5 * (ring % 2)) / count + math.pi / 4
            at = place[0] + radius * math.cos(angle), place[1] + radius * math.sin(angle)
            cost = radius + _cost(frame, room, Line(place, at), size, paper)
            if cost < least:
                best, least = at, cost
    return best


def _radii(size: float, paper: Box) -> Iterator[float]:
    radius, furthest = 1.3 * size, math.hypot(paper[2] - paper[0], paper[3] - paper[1])
    while radius < furthest:
        yield radius
        radius += 0.6 * size


def _cost(frame: Frame, room: Room, leader: Line, size: float, paper: Box) -> float:
    """What a mark at the leader's end costs beyond its distance; infinite where it has no room."""
    (x, y), half = leader.end, size / 2
    if not (paper[0] + half <= x <= paper[2] - half and paper[1] + half <= y <= paper[3] - half):
        return math.inf
    square = _square(leader.end, size)
    if not room.free(square):
        return math.inf
    return (
        0.8 * size * room.cover(square)
        + size * room.crossed(leader)
        + 0.3 * size * room.along(leader)
        + (0.7 * size if frame.solid(leader.end) else 0.0)
    )


def _square(at: Point, size: float) -> Polygon:
    (x, y), r = at, 0.56 * size
    return ((x - r, y - r), (x + r, y - r), (x + r, y + r), (x - r, y + r))


def _rows(paper: Box, size: float) -> Iterator[Point]:
    """Places in rows beneath the paper, from the left."""
    step, row = 1.15 * size, 1
    while True:
        x = paper[0] + step / 2
        while x <= paper[2] - step / 2:
            yield x, paper[1] - (row - 0.5) * step
            x += step
        row += 1
