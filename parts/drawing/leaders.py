"""Leaders: radius and diameter dimensions, and call-outs of holes, each put where it covers least.

leader  a line from an arrowhead on the part to a shelf
shelf   the level end of a leader that the lettering stands on
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TypeGuard

from parts.drawing.frame import Frame
from parts.drawing.primitives import Anchor, Arrow, Group, Path, Text, box_of
from parts.drawing.room import Room
from parts.geometry.segment import Arc, Line, Point, Segment, distance
from parts.tolerance import TANGENT_MM as SAME_ARC_MM

REACHES = (1.5, 2.2, 3.0, 4.0, 5.5, 7.5, 10.0, 14.0, 20.0, 30.0)
"""Lengths of leaders to try, in sizes of lettering."""

STEEP = 0.45
"""Level part of a unit vector below which a leader that comes from below touches its own lettering."""

_AIMS = tuple(math.radians(a) for a in (45, 135, 315, 225, 30, 60, 120, 150, 210, 240, 300, 330))


@dataclass(frozen=True, slots=True)
class Sight:
    """Where a leader may run: from `tip` along the unit vector `away`, at least `least` long."""

    tip: Point
    away: Point
    least: float = 0.0


@dataclass(frozen=True, slots=True)
class Leader:
    """One way to draw a leader."""

    sight: Sight
    elbow: Point
    text: Text

    @property
    def lines(self) -> tuple[Line, Line]:
        """The slanting line and the shelf."""
        way = 1 if self.text.anchor == "start" else -1
        end = self.elbow[0] + way * self.text.width, self.elbow[1]
        return Line(self.sight.tip, self.elbow), Line(self.elbow, end)

    def group(self, parameter: str, frame: Frame) -> Group:
        """Return it as a dimension."""
        ux, uy = self.sight.away
        arrow = Arrow(self.sight.tip, (-ux, -uy), frame.sizes.arrow)
        return Group("dimension", (Path("dimension", self.lines), arrow, self.text), parameter)


def radius(frame: Frame, centre: Point, on_arc: Point) -> tuple[Sight, ...]:
    """Return the sights of a radius: from outside towards the centre, or through the centre.

    Where the part has the arc, it may be pointed at anywhere along it.
    """
    c, r = frame.point(centre), distance(centre, on_arc) * frame.scale
    tips = [on_arc, *(arc.at(part) for arc in _arcs(frame, centre, on_arc) for part in (0.5, 0.25, 0.75))]
    sights = []
    for p in map(frame.point, tips):
        ux, uy = (p[0] - c[0]) / r, (p[1] - c[1]) / r
        sights += [Sight(p, (ux, uy)), Sight(p, (-ux, -uy), r)]
    return tuple(sights)


def _arcs(frame: Frame, centre: Point, on_arc: Point) -> Iterator[Arc]:
    """The arc of the part about this centre that goes through this point, if there is one."""
    for segment in (s for loop in frame.profile.boundary for s in loop.segments):
        if is_about(segment, centre, distance(centre, on_arc)) and segment.covers(on_arc):
            yield segment


def is_about(segment: Segment, centre: Point, radius: float) -> TypeGuard[Arc]:
    """Tell whether a segment is an arc about a centre with a radius, as drawn by a template."""
    return (
        isinstance(segment, Arc)
        and abs(segment.radius - radius) <= SAME_ARC_MM
        and distance(segment.centre, centre) <= SAME_ARC_MM
    )


def diameter(frame: Frame, centre: Point, diameter: float) -> tuple[Sight, ...]:
    """Return the sights of a circle's diameter: from all round towards the centre."""
    (x, y), r = frame.point(centre), diameter / 2 * frame.scale
    aims = [(math.cos(aim), math.sin(aim)) for aim in _AIMS]
    return tuple(Sight((x + r * ux, y + r * uy), (ux, uy)) for ux, uy in aims)


def place(frame: Frame, room: Room, sights: Sequence[Sight], text: str) -> Leader:
    """Return the leader that costs least, having taken its room."""
    best, least = None, math.inf
    for reach in REACHES:
        if reach * frame.sizes.text > least:
            break
        for leader in _leaders(frame, sights, text, reach):
            cost = _cost(frame, room, leader)
            if cost < least or best is None:
                best, least = leader, cost
    assert best is not None  # noqa: S101 - there is always a sight
    room.claim(best.text.outline)
    room.draw(best.lines, 1.0)
    return best


def _leaders(frame: Frame, sights: Iterable[Sight], text: str, reach: float) -> Iterator[Leader]:
    size, gap = frame.sizes.text, frame.sizes.gap
    for sight in sights:
        length = sight.least + reach * size
        (ux, uy), (x, y) = sight.away, sight.tip
        elbow = x + ux * length, y + uy * length
        anchor: Anchor = "start" if ux >= 0 else "end"
        yield Leader(sight, elbow, Text((elbow[0], elbow[1] + gap), text, size, anchor))


def _cost(frame: Frame, room: Room, leader: Leader) -> float:
    """What a leader costs, in mm of paper: its length, what it covers, how it makes the drawing grow."""
    room_taken = leader.text.outline_with(frame.sizes.gap / 2)
    if not room.free(room_taken):
        return math.inf
    slant, _ = leader.lines
    size = frame.sizes.text
    ux, uy = leader.sight.away
    middle = leader.text.outline[0][0] + leader.text.width / 2, leader.text.at[1]
    return (
        slant.length
        + 1.5 * size * room.cover(room_taken)
        + 0.5 * size * room.along(Line(slant.at(min(1, size / slant.length)), slant.end))
        + 8 * size * room.crossed(slant)
        + room.growth(box_of(room_taken))
        + (3 * size if frame.solid(middle) else 0.0)
        + (4 * size if uy < 0 and abs(ux) < STEEP else 0.0)  # it would run up along its lettering
    )
