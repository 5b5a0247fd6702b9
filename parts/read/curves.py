"""Curves -> lines and arcs that run on into each other, no point of a curve further off than CURVE_FIT_MM.

biarc   two arcs with a common tangent where they join, from one point and direction to another

A span of a curve is tried as one biarc between its ends, with the curve's own directions there; points all
along it are measured against the arcs, and where one is too far off the span is halved and each half tried.
No arc of a biarc may turn more than a quarter: a curve that stays so near to it, from its start to its end,
can't leave any of it out. All in mm.
"""

import math
from collections.abc import Iterator, Sequence

from parts.geometry import Arc, Line, Point, Segment, cross, distance
from parts.read.limits import Budget
from parts.read.pieces import Curve
from parts.tolerance import CURVE_FIT_MM, SAME_END_MM, SAME_POINT_MM, STRAIGHT_MM

# Points measured on each span tried; between two of them a curve strays at most a tenth further, which the
# tests' denser sampling holds.
_SAMPLES = 12
_WITHIN_MM = 0.85 * CURVE_FIT_MM
_MOST_HALVINGS = 22
_SPECK_MM = CURVE_FIT_MM / 2


def fitted(curve: Curve, budget: Budget) -> Iterator[Segment]:
    """Yield lines and arcs along a curve, each starting at the very point where the one before it ends.

    Raises:
        Unreadable: if there are too many.
    """
    at = curve.at(0.0)
    for span in range(curve.spans):
        for segment in _along(curve, span, span + 1.0, budget):
            if distance(at, segment.end) > SAME_END_MM:
                budget.segments()
                segment = _between(at, segment.end, segment)
                yield segment
                at = segment.end


def _between(start: Point, end: Point, like: Segment) -> Segment:
    """The segment between these ends, moved by less than SAME_END_MM where what lay before was left out."""
    return Line(start, end) if isinstance(like, Line) else Arc(start, end, like.bulge)


def _along(curve: Curve, first: float, last: float, budget: Budget) -> Iterator[Segment]:
    waiting = [(first, last, 0)]
    while waiting:
        a, b, halvings = waiting.pop()
        budget.time()
        tried = _biarc(curve, a, b)
        if tried and _is_near(curve, a, b, tried):
            yield from tried
        elif halvings == _MOST_HALVINGS or _is_speck(curve, a, b):
            p, q = curve.at(a), curve.at(b)
            if p != q:
                yield Line(p, q)
        else:
            middle = (a + b) / 2
            waiting += [(middle, b, halvings + 1), (a, middle, halvings + 1)]


def _is_near(curve: Curve, a: float, b: float, segments: Sequence[Segment]) -> bool:
    for i in range(1, _SAMPLES):
        p = curve.at(a + (b - a) * i / _SAMPLES)
        if min(distance(p, segment.nearest(p)) for segment in segments) > _WITHIN_MM:
            return False
    return True


def _is_speck(curve: Curve, a: float, b: float) -> bool:
    """Whether a stretch is so small that a line is as good: the tip of a cusp, or a curve of one point."""
    p = curve.at(a)
    if distance(p, curve.at(b)) > _SPECK_MM:
        return False
    return all(distance(p, curve.at(a + (b - a) * i / _SAMPLES)) <= _SPECK_MM for i in range(1, _SAMPLES))


def _biarc(curve: Curve, a: float, b: float) -> tuple[Segment, ...]:
    """Two arcs, lines where they bow by nothing; none where directions don't allow of them."""
    p, q = curve.at(a), curve.at(b)
    t, u = _unit(curve.direction(a, b)), _unit(curve.direction(b, a))
    chord = distance(p, q)
    if t is None or u is None or chord <= SAME_POINT_MM:
        return ()
    reach = _reach(p, q, t, u)
    if reach is None:
        return ()
    join = (p[0] + q[0] + reach * (t[0] - u[0])) / 2, (p[1] + q[1] + reach * (t[1] - u[1])) / 2
    back = -u[0], -u[1]
    first, second = _turn(p, join, t), -_turn(q, join, back)
    if max(abs(first), abs(second)) > math.pi / 4 + 1e-9:
        return ()
    return (*_arc(p, join, first), *_arc(join, q, second))


def _reach(p: Point, q: Point, t: Point, u: Point) -> float | None:
    """How far along both directions the corners of a biarc's control polygon lie, as far along either.

    |q - p - d (t + u)| = 2 d gives 2 (1 - t.u) d² + 2 v.(t + u) d - v.v = 0 with v = q - p.
    """
    vx, vy = q[0] - p[0], q[1] - p[1]
    along = vx * (t[0] + u[0]) + vy * (t[1] + u[1])
    square = 2 * (1 - t[0] * u[0] - t[1] * u[1])
    root = math.sqrt(along * along + square * (vx * vx + vy * vy))
    low = along + root  # the same root, written so that nothing is lost where t and u are nearly parallel
    return (vx * vx + vy * vy) / low if low > 0 else None


def _turn(start: Point, end: Point, heading: Point) -> float:
    """Half of what an arc from `start` in direction `heading` to `end` turns, left positive."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    return math.atan2(cross(*heading, dx, dy), heading[0] * dx + heading[1] * dy)


def _arc(start: Point, end: Point, half_sweep: float) -> tuple[Segment, ...]:
    if distance(start, end) <= SAME_POINT_MM:
        return ()
    bulge = math.tan(half_sweep / 2)
    if abs(bulge) * distance(start, end) / 2 <= STRAIGHT_MM:
        return (Line(start, end),)
    return (Arc(start, end, bulge),)


def _unit(v: Point) -> Point | None:
    length = math.hypot(*v)
    return (v[0] / length, v[1] / length) if length > 0 else None
