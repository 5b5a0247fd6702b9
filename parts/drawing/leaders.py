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
from parts.geometry import Arc, Line, Point, Segment, distance
from parts.tolerance import TANGENT_MM as SAME_ARC_MM

REACHES = (1.5, 2.2, 3.0, 4.0, 5.5, 7.5, 10.0, 14.0, 20.0, 30.0)
"""Lengths of leaders to try, in sizes of lettering."""

ALONG = (0.5, 0.25, 0.75, 0.1, 0.9)
"""Where along an arc its leader may point, as shares of its length."""

ACROSS, UNDER_LETTERING, GROWTH = 0.8, 2.5, 2.0
"""What a leader costs by the ink it runs over and by the ink under its lettering, in sizes of lettering; and by each mm
that it makes the drawing grow, which leaves the part smaller."""

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

    Where the part has the arc, it may be pointed at anywhere along it, and nowhere else.
    """
    c, r = frame.point(centre), distance(centre, on_arc) * frame.scale
    arcs = list(_arcs(frame, centre, distance(centre, on_arc)))
    through = [arc for arc in arcs if arc.covers(on_arc)]
    tips = [on_arc] if through or not arcs else []
    tips += [arc.at(part) for arc in through or arcs for part in ALONG]
    sights = []
    for p in map(frame.point, tips):
        ux, uy = (p[0] - c[0]) / r, (p[1] - c[1]) / r
        sights += [Sight(p, (ux, uy)), Sight(p, (-ux, -uy), r)]
    return tuple(sights)


def _arcs(frame: Frame, centre: Point, radius: float) -> Iterator[Arc]:
    """The arcs of the part about a centre with a radius."""
    for segment in (s for loop in frame.profile.boundary for s in loop.segments):
        if is_about(segment, centre, radius):
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
    return _sights(frame, centre, diameter, _AIMS)


def diameter_of_arcs(frame: Frame, centre: Point, diameter: float) -> tuple[Sight, ...]:
    """Return the sights of the diameter of a circle that the part has only arcs of: at those, from all round."""
    arcs = list(_arcs(frame, centre, diameter / 2))
    (x, y), r = centre, diameter / 2
    aims = [aim for aim in _AIMS if any(a.covers((x + r * math.cos(aim), y + r * math.sin(aim))) for a in arcs)]
    if not aims:
        middles = [arc.at(0.5) for arc in arcs]
        aims = [math.atan2(p[1] - y, p[0] - x) for p in middles]
    return _sights(frame, centre, diameter, aims or _AIMS)


def _sights(frame: Frame, centre: Point, diameter: float, aims: Iterable[float]) -> tuple[Sight, ...]:
    (x, y), r = frame.point(centre), diameter / 2 * frame.scale
    units = [(math.cos(aim), math.sin(aim)) for aim in aims]
    return tuple(Sight((x + r * ux, y + r * uy), (ux, uy)) for ux, uy in units)


def place(frame: Frame, room: Room, sights: Sequence[Sight], text: str) -> Leader:
    """Return the leader that costs least, having taken its room."""
    best, least = None, math.inf
    for reach in REACHES:
        if reach * frame.sizes.text > least:
            break
        for leader in _leaders(frame, sights, text, reach):
            cost = _cost(frame, room, leader, least)
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


def _cost(frame: Frame, room: Room, leader: Leader, most: float) -> float:
    """What a leader costs, in mm of paper: its length, what it covers, how it makes the drawing grow.

    Infinite where that is over `most`, which is told without looking at all of it.
    """
    slant, _ = leader.lines
    size = frame.sizes.text
    ux, uy = leader.sight.away
    cost = slant.length + (4 * size if uy < 0 and abs(ux) < STEEP else 0.0)  # it would run up along its lettering
    if cost >= most:
        return math.inf
    taken = leader.text.outline_with(frame.sizes.gap / 2)
    if not room.free(taken):
        return math.inf
    cost += UNDER_LETTERING * size * room.cover(taken) + GROWTH * room.growth(box_of(taken))
    if cost < most:
        cost += ACROSS * size * room.along(Line(slant.at(min(1, size / slant.length)), slant.end))
    if cost < most:
        cost += 8 * size * room.crossed(slant)
    middle = leader.text.outline[0][0] + leader.text.width / 2, leader.text.at[1]
    if cost < most and frame.solid(middle):
        cost += 3 * size
    return cost if cost < most else math.inf
