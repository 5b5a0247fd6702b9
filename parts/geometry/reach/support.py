"""The support function of loops, how far they reach in every direction: in closed form on true arcs.

    direction   an angle from the x axis; u is the unit vector that way
    support     in a direction, the greatest p . u of all points p of the loops
    extreme     what reaches furthest in a direction: a point, or an arc, whose support is c . u + r for
                its centre c and radius r
    envelope    the extremes of all directions, each from one angle to the next, once round

The envelope of two sets of loops is, in each direction, the further of their extremes. Two extremes change
places where D cos(angle - a) = k, with D and a from between their centres and k from their radii.
"""

import itertools
import math
from collections.abc import Iterable, Sequence
from typing import NamedTuple, TypeAlias

from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Point, Segment
from parts.geometry.view import flattened, hull, near_outline
from parts.tolerance import FLATTEN_MM

TURN = 2 * math.pi

# Above this many segments those that can't be on the convex hull are left out first.
_MANY_SEGMENTS = 60


class Extreme(NamedTuple):
    """A point (radius 0), or the circle that carries an arc."""

    x: float
    y: float
    radius: float = 0.0

    def support(self, angle: float) -> float:
        """Return its support function in a direction, mm: how far it reaches."""
        return self.x * math.cos(angle) + self.y * math.sin(angle) + self.radius


Envelope: TypeAlias = list[tuple[float, Extreme]]
"""Where each extreme takes over, ascending from 0; the last one holds up to a full turn."""


def envelope(loops: Iterable[Loop]) -> Envelope:
    """Return the envelope of some loops: their extremes in all directions."""
    parts = [_of_segment(segment) for segment in _outermost([s for loop in loops for s in loop.segments])]
    while len(parts) > 1:
        pairs = itertools.zip_longest(parts[::2], parts[1::2])
        parts = [_further(a, b) if b else a for a, b in pairs]
    return parts[0]


def extreme_at(of: Envelope, angle: float) -> Extreme:
    """Return what reaches furthest in a direction."""
    angle %= TURN
    low, high = 0, len(of)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if of[middle][0] <= angle else (low, middle)
    return of[low][1]


def crossings(a: Extreme, b: Extreme, more: float = 0.0) -> tuple[float, ...]:
    """Return the angles, 0 to a full turn, at which `a` reaches `more` mm further than `b`."""
    dx, dy, k = a.x - b.x, a.y - b.y, b.radius - a.radius + more
    apart = math.hypot(dx, dy)
    if apart == 0 or abs(k) > apart:
        return ()
    middle, half = math.atan2(dy, dx), math.acos(k / apart)
    return (middle - half) % TURN, (middle + half) % TURN


def _of_segment(segment: Segment) -> Envelope:
    ends = [(0.0, Extreme(*segment.start))], [(0.0, Extreme(*segment.end))]
    made = _further(*ends)
    if not isinstance(segment, Arc):
        return made
    circle = Extreme(*segment.centre, segment.radius)
    first, last = (_direction(segment.centre, end) for end in (segment.start, segment.end))
    if segment.bulge < 0:
        first, last = last, first
    starts = sorted({0.0, first, last, *(start for start, _ in made)})
    # an arc of no more sweep than rounding makes of it still covers its own middle
    middle = _direction(segment.centre, segment.at(0.5))
    spans = zip(starts, [*starts[1:], TURN], strict=True)
    covered = ((low, _within((low + high) / 2, first, last, middle)) for low, high in spans)
    return _tidy([(low, circle if on else extreme_at(made, low)) for low, on in covered])


def _within(angle: float, first: float, last: float, middle: float) -> bool:
    """Whether an angle lies from `first` on up to `last`, going through `middle`."""
    return (angle - first) % TURN < (last - first) % TURN or angle == middle


def _direction(centre: Point, p: Point) -> float:
    return math.atan2(p[1] - centre[1], p[0] - centre[0]) % TURN


def _further(a: Envelope, b: Envelope) -> Envelope:
    """The upper envelope of two, the further of both in each direction."""
    made: Envelope = []
    starts = sorted({start for start, _ in (*a, *b)})
    of_a, of_b = _walked(a, starts), _walked(b, starts)
    for low, high, one, other in zip(starts, [*starts[1:], TURN], of_a, of_b, strict=True):
        cuts = [low, *sorted(angle for angle in crossings(one, other) if low < angle < high), high]
        for start, end in itertools.pairwise(cuts):
            middle = (start + end) / 2
            made.append((start, one if one.support(middle) >= other.support(middle) else other))
    return _tidy(made)


def _walked(of: Envelope, starts: Sequence[float]) -> list[Extreme]:
    """What holds from each of the starts on, among which are all of its own."""
    held, found = iter(of), []
    following = next(held, None)
    extreme = of[0][1]
    for start in starts:
        while following and following[0] <= start:
            extreme, following = following[1], next(held, None)
        found.append(extreme)
    return found


def _tidy(made: Envelope) -> Envelope:
    """The envelope without starts at which nothing changes."""
    return [entry for i, entry in enumerate(made) if i == 0 or entry[1] != made[i - 1][1]]


def _outermost(segments: list[Segment]) -> list[Segment]:
    """The segments that may be on the convex hull, without those that can't reach furthest in any direction.

    A facet of an arc stays within FLATTEN_MM of it. Where both ends of a facet lie deeper than that inside the
    hull of all ends, so does the facet, and what it stands for.
    """
    if len(segments) <= _MANY_SEGMENTS:
        return segments
    points = [(n, p) for n, s in enumerate(segments) for p in (*flattened(s), s.end)]
    corners = hull([p for _, p in points])
    if len(corners) < 3:
        return segments
    near = near_outline((p for _, p in points), corners, 2 * FLATTEN_MM)
    kept = {n for (n, _), on in zip(points, near, strict=True) if on}
    return [segments[n] for n in sorted(kept)]
