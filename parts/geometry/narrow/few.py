"""The broad phase of the search for necks where the segments are few: which pairs of them may hold one.

Of a part as it should be none does. So the places where a pair could have a chord that is locally shortest, those that
`parts.geometry.narrow.chords` and `runs` look at in arrays, are tried here one by one on single segments, with a
margin far beyond rounding: only a pair with a place that passes is worth the arrays.
"""

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from parts.geometry.loop import Loop
from parts.geometry.search.boxes import near_pairs
from parts.geometry.segment import Arc, Line, Point, Segment, distance
from parts.tolerance import PARALLEL_RAD, SAME_POINT_MM

# Radians, and sines and cosines: what is further from parallel, or from square, is so beyond all rounding.
_NEARLY = 1e-6
# The cosine of an angle that is square in spite of all rounding.
_SQUARE = PARALLEL_RAD / 10
# What is further apart than this is so beyond all rounding, with no centre further away than _FAR_MM.
_NEARLY_MM = 1e-6
_FAR_MM = 1e5
# The direction between points that are nearer is lost in rounding.
_NO_WAY_MM = 1e-3
# What is nearer than this is one point, rounding or not.
_HAIR_MM = SAME_POINT_MM / 10


def few_facing_pairs(loops: Sequence[Loop], limit: float) -> Iterator[tuple[int, int]]:
    """Yield the pairs of segments (i < j) that may have a neck under `limit` mm between them, of a few segments.

    Those are left out that don't come near each other, lines that meet at a corner, segments of which no two
    headings are opposite, and those between which no place may be one. The region is on the left of every loop.
    """
    sides = [side for loop in loops for side in _sides(loop)]
    for i, j in near_pairs([side.segment.box for side in sides], limit):
        a, b = sides[i], sides[j]
        if abs((a.middle - b.middle) % (2 * math.pi) - math.pi) > a.half + b.half + _NEARLY:
            continue
        if a.hole is b.hole is not None or _meet_at_corner(a.segment, b.segment) or not _may_hold(a, b, limit):
            continue
        yield i, j


class _Side(NamedTuple):
    """A segment, and the headings that a chord may stand square on along it: the middle one, and how far from it.

    A corner at an end that points into the region adds those it turns through; no neck ends at another one. `hole` is
    the loop where that is a full circle with the region around it; `before` and `after` are the segments beside it,
    `turn_in` and `turn_out` the turns from and to those.
    """

    segment: Segment
    middle: float
    half: float
    hole: Loop | None
    before: Segment
    after: Segment
    turn_in: float
    turn_out: float

    @property
    def is_corner(self) -> bool:
        """Whether its start is a corner that points into the region, but for rounding."""
        return self.turn_in < -PARALLEL_RAD / 2

    def may_leave(self, p: Point, ux: float, uy: float, width: float) -> bool:
        """Tell whether a chord of some width that leaves a point of it this way may be locally shortest there."""
        segment = self.segment
        at_start, at_end = distance(p, segment.start), distance(p, segment.end)
        if min(at_start, at_end) > _NEARLY_MM:
            return _may_stand(segment, p, ux, uy, width)
        if min(at_start, at_end) > _HAIR_MM:
            return True
        before, after, turn = self.before, segment, self.turn_in
        if at_end < at_start:
            before, after, turn = segment, self.after, self.turn_out
        if turn > _NEARLY:
            return False
        (ax, ay), (bx, by) = before.heading_at_end, after.heading_at_start
        if turn > -1 and bx * uy - by * ux <= 0:
            return False
        return all(
            slope >= -_NEARLY and (slope > _SQUARE or width * branch.curvature <= 1 + _NEARLY)
            for branch, slope in ((before, ux * ax + uy * ay), (after, -ux * bx - uy * by))
        )


def _sides(loop: Loop) -> Iterator[_Side]:
    turns, segments = loop.turns, loop.segments
    hole = loop if loop.circle and not loop.counter_clockwise else None
    for k, segment in enumerate(segments):
        after = k + 1 if k + 1 < len(segments) else 0
        x, y = segment.heading_at_start
        turn_in, turn_out = turns[k], turns[after]
        high, low = -turn_in if turn_in < 0 else 0.0, turn_out if turn_out < 0 else 0.0
        if isinstance(segment, Arc):
            sweep = segment.sweep
            low, high = min(0.0, sweep + low), max(high, sweep)
        middle = math.atan2(y, x) + (low + high) / 2
        yield _Side(segment, middle, (high - low) / 2, hole, segments[k - 1], segments[after], turn_in, turn_out)


def _meet_at_corner(a: Segment, b: Segment) -> bool:
    """Whether two are lines that meet at a corner: any chord between them gets shorter toward it."""
    return isinstance(a, Line) and isinstance(b, Line) and (a.end == b.start or b.end == a.start)


def _may_hold(a: _Side, b: _Side, limit: float) -> bool:
    """Whether a neck may lie between two sides."""
    one, other = a.segment, b.segment
    return (
        _is_untold(one, other)
        or _may_run(one, other, limit)
        or any(_may_be_shortest(a, p, b, q, limit) for p, q in _places(a, b))
    )


def _is_untold(a: Segment, b: Segment) -> bool:
    """Whether rounding may decide between two: a centre is far away, or near the other's centre or start."""
    if isinstance(a, Arc) and (a.radius > _FAR_MM or distance(a.centre, b.start) < _NO_WAY_MM):
        return True
    if isinstance(b, Arc) and (b.radius > _FAR_MM or distance(b.centre, a.start) < _NO_WAY_MM):
        return True
    return isinstance(a, Arc) and isinstance(b, Arc) and _HAIR_MM < distance(a.centre, b.centre) < _NO_WAY_MM


def _may_run(a: Segment, b: Segment, limit: float) -> bool:
    """Whether two may be parallel lines or concentric arcs that face each other."""
    if isinstance(a, Line) and isinstance(b, Line):
        (ux, uy), (vx, vy) = a.heading, b.heading
        if abs(ux * vy - uy * vx) > _NEARLY or ux * vx + uy * vy > 0:
            return False
        (ax, ay), (bx, by) = a.start, b.start
        width = ux * (by - ay) - uy * (bx - ax)
        overlap = min(a.fraction_of(b.start), 1.0) - max(a.fraction_of(b.end), 0.0)
        return _HAIR_MM < width < limit and overlap * a.length > _HAIR_MM
    if not (isinstance(a, Arc) and isinstance(b, Arc)) or distance(a.centre, b.centre) > _NEARLY_MM:
        return False
    inner, outer = (a, b) if a.bulge < b.bulge else (b, a)
    return inner.bulge < 0 < outer.bulge and _HAIR_MM < outer.radius - inner.radius < limit


def _may_be_shortest(a: _Side, p: Point, b: _Side, q: Point, limit: float) -> bool:
    """Whether no small move of one end of a chord may make it shorter."""
    wx, wy = q[0] - p[0], q[1] - p[1]
    width = math.hypot(wx, wy)
    if width >= limit or width <= _HAIR_MM:
        return False
    if width < _NO_WAY_MM:
        return True
    ux, uy = wx / width, wy / width
    return a.may_leave(p, ux, uy, width) and b.may_leave(q, -ux, -uy, width)


def _may_stand(segment: Segment, p: Point, ux: float, uy: float, width: float) -> bool:
    """Whether a chord that leaves a point within a segment may be square on it, and not longest there."""
    x, y = segment.heading_at(p) if isinstance(segment, Arc) else segment.heading
    return abs(x * ux + y * uy) <= 2 * _NEARLY and x * uy - y * ux > 0 and width * segment.curvature <= 1 + _NEARLY


def _places(a: _Side, b: _Side) -> Iterator[tuple[Point, Point]]:
    """Yield where chords between two sides may be locally shortest: square on both, or at a corner of one."""
    one, other = a.segment, b.segment
    if isinstance(one, Arc) and isinstance(other, Arc):
        yield from _between_arcs(one, other)
    elif isinstance(other, Arc):
        yield from _from_line(one, other)
    elif isinstance(one, Arc):
        yield from ((p, q) for q, p in _from_line(other, one))
    joint = one.start, other.start
    across = [(one.start, q) for q in _nearest(other, one.start)] if a.is_corner else []
    yield from across
    if b.is_corner:
        back = [(p, other.start) for p in _nearest(one, other.start)]
        yield from (chord for chord in back if chord != joint or not a.is_corner)
    if a.is_corner and b.is_corner and joint not in across:
        yield joint


def _between_arcs(a: Arc, b: Arc) -> Iterator[tuple[Point, Point]]:
    """The chords along the line through both centres."""
    (ax, ay), (bx, by) = a.centre, b.centre
    apart = math.hypot(bx - ax, by - ay)
    if apart > _HAIR_MM:
        ux, uy = (bx - ax) / apart, (by - ay) / apart
        ends_a, ends_b = (
            [p for r in (-arc.radius, arc.radius) if _may_cover(arc, p := (x + r * ux, y + r * uy))]
            for arc, x, y in ((a, ax, ay), (b, bx, by))
        )
        yield from ((p, q) for p in ends_a for q in ends_b)


def _from_line(line: Segment, arc: Arc) -> Iterator[tuple[Point, Point]]:
    """The chords square on a line through the centre of an arc, the end on the line first."""
    (ax, ay), (ux, uy), (cx, cy), r = line.start, line.heading_at_start, arc.centre, arc.radius
    along = ux * (cx - ax) + uy * (cy - ay)
    if -_NEARLY_MM <= along <= line.length + _NEARLY_MM:
        foot = ax + along * ux, ay + along * uy
        yield from ((foot, q) for off in (-r, r) if _may_cover(arc, q := (cx - off * uy, cy + off * ux)))


def _nearest(segment: Segment, p: Point) -> Sequence[Point]:
    """The points of a segment of which one is nearest to another point, which isn't its centre."""
    if isinstance(segment, Line):
        return (segment.nearest(p),)
    (cx, cy), k = segment.centre, segment.radius / distance(segment.centre, p)
    foot = cx + (p[0] - cx) * k, cy + (p[1] - cy) * k
    if _may_cover(segment, foot, -_NEARLY_MM):
        return (foot,)
    nearer = distance(segment.start, p) - distance(segment.end, p)
    ends = (segment.start,) * (nearer < _NEARLY_MM) + (segment.end,) * (nearer > -_NEARLY_MM)
    return (foot, *ends) if _may_cover(segment, foot) else ends


def _may_cover(arc: Arc, p: Point, margin: float = _NEARLY_MM) -> bool:
    """Whether a point of the full circle may be on the arc, as `Arc.covers`; with a margin below 0, whether it must."""
    (ax, ay), (bx, by) = arc.start, arc.end
    wx, wy, px, py = bx - ax, by - ay, p[0] - ax, p[1] - ay
    slack = margin * arc.chord
    left = wx * py - wy * px
    if (left if arc.bulge > 0 else -left) > slack:
        return False
    return abs(arc.bulge) > 1 or -slack <= wx * px + wy * py <= arc.chord * arc.chord + slack
