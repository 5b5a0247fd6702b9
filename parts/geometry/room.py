"""Room: the largest circle in an opening, and where there is room beside a piece.

The largest circle touches the boundary in three places, or in two straight across. A search over cells finds about
where it is (`parts.geometry.inscribed`); then it grows: of the circles that touch two or three of the nearest
segments, with each taken as straight, the largest that fits is the next try, until it grows no more.
Where two places of an opening have equal room but for twice FLATTEN_MM, either may be found, so the radius is
off by no more than that; otherwise only by rounding.
"""

import itertools
import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from parts.geometry.corner import turn_between
from parts.geometry.inscribed import inscribed
from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Line, Point, Segment, cross, distance
from parts.geometry.segments import Segments
from parts.geometry.view import centres, polygon, roomiest
from parts.tolerance import FLATTEN_MM, JET_SLACK_MM, LIMIT_SLACK_MM, PARALLEL_RAD, SAME_POINT_MM

_MOST_NEAR = 8
"""Segments taken into a step: three settle a circle, the others are for those that touch it at the same time."""

_MOST_STEPS = 60

_MANY_SEGMENTS = 64
"""Above this many segments the flattened view finds the place quicker than the search over cells (tests/bench)."""

_LOOKED_OVER = 16
"""Of more segments than this, looking at each from a place costs more than to shrink the flattened view."""

_TRIED = 6
"""Places tried before the search: nearly every opening that is large enough shows it at one of them."""

_ROUND_END = 0.9
"""The bulge of an arc that may be the round end of a slot, which the largest circle often fills."""


class EmptyCircle(NamedTuple):
    """A circle with no boundary inside: centre, and radius in mm."""

    centre: Point
    radius: float


def room_in(opening: Loop, islands: Sequence[Loop] = (), enough: float = math.inf) -> EmptyCircle | None:
    """Return the largest circle in an opening, or the first found with a radius of `enough`.

    None where the loops cross, so that there is no inside to speak of.
    """
    if opening.circle is not None and not islands:
        return EmptyCircle(opening.circle.centre, opening.circle.diameter / 2)
    segments = [segment for loop in (opening, *islands) for segment in loop.segments]
    x0, y0, x1, y1 = opening.box
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    at_middle = _clearance(segments, middle)
    most = min(x1 - x0, y1 - y0) / 2
    if at_middle >= most - LIMIT_SLACK_MM and _is_inside(opening, islands, middle):
        return EmptyCircle(middle, at_middle)  # as in a slot, a rectangle and whatever is the same all round
    if seen := _seen(opening, islands, segments, enough):
        return seen
    return _searched(opening, tuple(islands), enough)


@lru_cache(maxsize=256)
def _searched(opening: Loop, islands: tuple[Loop, ...], enough: float) -> EmptyCircle | None:
    """What `room_in` returns where no circle of `enough` is seen; kept, since a redraw asks for the same."""
    segments = [segment for loop in (opening, *islands) for segment in loop.segments]
    start = _about(opening, islands, segments, enough)
    if start is None:
        return None
    if (within := _clearance(segments, start)) >= enough - LIMIT_SLACK_MM:
        return EmptyCircle(start, within)
    room = _grown(segments, start)
    centred = _seen(opening, islands, segments, room.radius)  # in a passage of one width, not just anywhere along it
    return EmptyCircle(centred.centre, room.radius) if centred else room


def has_room(opening: Loop, radius: float) -> bool:
    """Tell whether a circle of a radius fits in an opening; in one that crosses itself any does."""
    if opening.circle is not None:
        return opening.circle.diameter / 2 >= radius - LIMIT_SLACK_MM
    if holds(opening, radius):
        return True
    if _is_too_small(opening, radius):
        return False
    room = room_in(opening, (), radius)
    return room is None or room.radius >= radius - LIMIT_SLACK_MM


def lacks_room(opening: Loop, radius: float) -> bool:
    """Tell whether no circle of a radius fits in an opening, quickest where that is so."""
    is_round_or_small = opening.circle is not None or len(opening.segments) <= _LOOKED_OVER
    return (not is_round_or_small and _is_too_small(opening, radius)) or not has_room(opening, radius)


@lru_cache(maxsize=256)
def _is_too_small(opening: Loop, radius: float) -> bool:
    """Whether something that bounds all circles in an opening says that none of a radius fits."""
    x0, y0, x1, y1 = opening.box
    shape = polygon(opening)
    if not shape.is_valid:
        return False
    most = min((x1 - x0) / 2, (y1 - y0) / 2, math.sqrt(opening.area / math.pi))
    if most < radius - JET_SLACK_MM:
        return True
    box = centres(shape, radius)
    if box is None or len(opening.segments) > _MANY_SEGMENTS:
        return box is None
    return inscribed(Segments.of(opening.segments), box, radius, radius).most < radius - JET_SLACK_MM


def _about(opening: Loop, islands: Sequence[Loop], segments: Sequence[Segment], enough: float) -> Point | None:
    """About where the largest circle has its centre, or one of a radius of `enough`; None where loops cross."""
    shape = polygon(opening, islands)
    if not shape.is_valid:
        return None
    if len(segments) > _MANY_SEGMENTS:
        return roomiest(shape)
    likely = _likeliest(opening, islands, segments)
    box = (likely and centres(shape, likely.radius)) or opening.box
    first = [likely.centre] if likely else []
    return inscribed(Segments.of(segments), box, enough=enough, likely=first).centre


def _likeliest(opening: Loop, islands: Sequence[Loop], segments: Sequence[Segment]) -> EmptyCircle | None:
    """The largest circle in the middle of an opening or of an arc of nearly half a turn or more, if one is inside."""
    x0, y0, x1, y1 = opening.box
    ends = (s.centre for s in segments if isinstance(s, Arc) and abs(s.bulge) >= _ROUND_END)
    middles = (p for p in (((x0 + x1) / 2, (y0 + y1) / 2), *ends) if _is_inside(opening, islands, p))
    return max((EmptyCircle(p, _clearance(segments, p)) for p in middles), key=lambda c: c.radius, default=None)


def holds(opening: Loop, radius: float) -> bool:
    """Tell whether a circle is seen to fit in an opening; where none is seen there may yet be one."""
    return _seen(opening, (), opening.segments, radius) is not None


def _seen(opening: Loop, islands: Sequence[Loop], segments: Sequence[Segment], enough: float) -> EmptyCircle | None:
    """A circle of the radius or more at one of the places where most openings have room."""
    x0, y0, x1, y1 = opening.box
    for p in itertools.chain([((x0 + x1) / 2, (y0 + y1) / 2)], _beside_the_longest(opening, enough)):
        if (within := _clearance(segments, p)) >= enough - LIMIT_SLACK_MM and _is_inside(opening, islands, p):
            return EmptyCircle(p, within)
    return None


def _beside_the_longest(opening: Loop, away: float) -> Iterator[Point]:
    """Yield points inside, beside the middles of the longest segments."""
    if math.isfinite(away):
        inward = 1 if opening.counter_clockwise else -1
        for segment in sorted(opening.segments, key=lambda segment: -segment.length)[:_TRIED]:
            yield _right(segment, segment.at(0.5), -inward * away)


def _is_inside(opening: Loop, islands: Sequence[Loop], p: Point) -> bool:
    return opening.contains(p) and not any(island.contains(p) for island in islands)


def _clearance(segments: Sequence[Segment], p: Point) -> float:
    return min(distance(segment.nearest(p), p) for segment in segments)


def _grown(segments: Sequence[Segment], start: Point) -> EmptyCircle:
    """The circle that the one about `start` grows into."""
    within = _clearance(segments, start)
    reach = 2 * (within + 4 * FLATTEN_MM)  # no nearest segment is further from any step's centre
    nearby = [segment for segment in segments if distance(segment.nearest(start), start) <= reach]
    room = EmptyCircle(start, within)
    for _ in range(_MOST_STEPS):
        inside = (p for p in _steps(nearby, room) if distance(p, room.centre) < room.radius)  # in the circle, so within
        better = max((EmptyCircle(p, _clearance(nearby, p)) for p in inside), key=lambda r: r.radius, default=room)
        if better.radius <= room.radius + SAME_POINT_MM / 1000:  # a hundred times the rounding of 100 mm
            break
        room = better
    return EmptyCircle(room.centre, _clearance(segments, room.centre))


def _steps(segments: Sequence[Segment], room: EmptyCircle) -> Iterator[Point]:
    """Yield where the centre might go: to the circles of twos and threes, whole way, half and a quarter."""
    (x, y), _ = room
    nearest = sorted(segments, key=lambda segment: distance(segment.nearest(room.centre), room.centre))[:_MOST_NEAR]
    sides = [side for segment in nearest if (side := _side(segment, room.centre))]
    moves = [move for a, b in itertools.combinations(sides, 2) for move in _between(a, b)]
    moves += [move for three in itertools.combinations(sides, 3) if (move := _among(*three))]
    for dx, dy in moves:
        for part in (1.0, 0.5, 0.25):
            yield x + part * dx, y + part * dy
    yield from (segment.centre for segment in nearest if isinstance(segment, Arc))  # it may fill a round end
    for a, b in itertools.combinations(nearest, 2):
        yield from _on_the_chord(a, b, room.centre)


class _Side(NamedTuple):
    """A segment as seen from a centre: how far it is, and the unit vector from it to the centre."""

    away: float
    x: float
    y: float


def _side(segment: Segment, centre: Point) -> _Side | None:
    foot = segment.nearest(centre)
    away = distance(foot, centre)
    if away <= SAME_POINT_MM:
        return None
    return _Side(away, (centre[0] - foot[0]) / away, (centre[1] - foot[1]) / away)


def _between(a: _Side, b: _Side) -> Iterator[Point]:
    """The move to midway between two sides straight across from each other."""
    if a.x * b.x + a.y * b.y < 0:
        half = (b.away - a.away) / 2
        yield half * a.x, half * a.y


def _among(a: _Side, b: _Side, c: _Side) -> Point | None:
    """The move that makes the centre as far from each of three straight sides."""
    ux, uy, vx, vy = b.x - a.x, b.y - a.y, c.x - a.x, c.y - a.y
    s, t, determinant = a.away - b.away, a.away - c.away, cross(ux, uy, vx, vy)
    if abs(determinant) <= PARALLEL_RAD:
        return None
    move = (s * vy - t * uy) / determinant, (ux * t - vx * s) / determinant
    return move if math.hypot(*move) <= a.away else None


def _on_the_chord(a: Segment, b: Segment, centre: Point) -> Iterator[Point]:
    """The middle between two segments on the line through both centres, or through one and square to a line.

    A circle that only touches an arc and another segment is largest there.
    """
    if isinstance(b, Arc) and not isinstance(a, Arc):
        a, b = b, a
    if not isinstance(a, Arc):
        return
    if isinstance(b, Line):
        way = -b.heading[1], b.heading[0]
    else:
        apart = distance(a.centre, b.centre)
        if apart <= SAME_POINT_MM:
            return
        way = (b.centre[0] - a.centre[0]) / apart, (b.centre[1] - a.centre[1]) / apart
    along = (centre[0] - a.centre[0]) * way[0] + (centre[1] - a.centre[1]) * way[1]
    x, y = a.centre[0] + along * way[0], a.centre[1] + along * way[1]
    one, other = _side(a, (x, y)), _side(b, (x, y))
    if one and other:
        yield from ((x + dx, y + dy) for dx, dy in _between(one, other))


def beside(loop: Loop, away: float) -> Iterator[tuple[int, Segment]]:
    """Yield the paths at `away` mm from a loop on its right, each with the index of the segment it runs along.

    Around a corner that points to the right the path is an arc; inside an arc tighter than `away` there is none.
    """
    for k, segment in enumerate(loop.segments):
        before = loop.segments[k - 1]
        if (turn := turn_between(before, segment)) > PARALLEL_RAD:
            yield k, Arc(_right(before, segment.start, away), _right(segment, segment.start, away), math.tan(turn / 4))
        start, end = _right(segment, segment.start, away), _right(segment, segment.end, away)
        if isinstance(segment, Line):
            yield k, Line(start, end)
        elif segment.bulge > 0 or segment.radius > away + SAME_POINT_MM:
            yield k, Arc(start, end, segment.bulge)


def _right(segment: Segment, p: Point, away: float) -> Point:
    (ux, uy) = segment.heading_at(p) if isinstance(segment, Arc) else segment.heading
    return p[0] + away * uy, p[1] - away * ux
