"""A disc tangent to a loop in two places at once, where it comes to rest as it rolls along in the void.

Loops have the material on their left, so the disc is on their right. Its centre is where two offset curves of the
boundary meet, r to the right of lines and arcs and around corners that point into the void: closed forms, tried from
a corner outwards until a disc is found that touches both and has no boundary inside.
"""

import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from parts.geometry.intersect import circle_crossings, line_crossings
from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Box, Line, Point, Segment, cross, distance
from parts.tolerance import PARALLEL_RAD, SAME_NECK_MM, SAME_POINT_MM

_FURTHEST = 64
"""Segments of the boundary tried to either side of a corner; beyond them the place is a slot, not a corner."""


class Contact(NamedTuple):
    """What a disc may touch: segment k of the loop, or the corner at its start, which points into the void.

    It is `steps` segments from the seed; `offset` is the curve of the centres of the discs that touch it,
    a whole line or circle, None if there is none. `box` is around it.
    """

    k: int
    steps: int
    on: Segment | Point
    offset: Segment | None
    box: Box

    def point(self, centre: Point) -> Point:
        """Where a disc with this centre touches it."""
        return self.on.nearest(centre) if isinstance(self.on, Line | Arc) else self.on


class Resting(NamedTuple):
    """A disc that touches two places of a loop, and the stretch of boundary between them, which it can't touch."""

    before: Contact
    after: Contact
    centre: Point
    stretch: tuple[Segment, ...]


def resting(loop: Loop, seed: int, radius: float, around: Callable[[int], Sequence[Segment]]) -> Resting | None:
    """Return where a disc of `radius` mm comes to rest about the segment `seed` of a loop, or the corner at its start.

    `around` gives the segments of all loops within reach of one of these segments. None where it finds no rest.
    """
    segments, sharp = loop.segments, -loop.turns[seed] > PARALLEL_RAD
    back = _contacts(loop, seed - 1, -1, radius)
    on = _contacts(loop, seed if sharp else seed + 1, 1, radius)
    reach = 2 * (radius + SAME_NECK_MM)
    for a, b in _outwards(back, on):
        if a.steps + b.steps > len(segments) - 2 or _apart(a.box, b.box, reach):
            continue
        for centre in _centres(a, b, radius):
            if not _lies_between(a, b, centre):
                continue
            stretch = _stretch(segments, a, b, centre)
            if stretch and _is_free(centre, radius, stretch, around(a.k)):
                return Resting(a, b, centre, stretch)
    return None


def _contacts(loop: Loop, start: int, step: int, radius: float) -> Iterator[Contact]:
    """Yield what a disc may touch from segment `start` on, forward or back, at most once round."""
    segments, turns = loop.segments, loop.turns
    count = len(segments)
    for n in range(min(count, _FURTHEST)):
        k = (start + n * step) % count
        corner = k if step > 0 else (k + 1) % count
        if turns[corner] > PARALLEL_RAD:
            x, y = at = segments[corner].start
            yield Contact(corner, n, at, _circle(at, radius), (x, y, x, y))
        yield Contact(k, n, segments[k], _offset(segments[k], radius), segments[k].box)


def _apart(a: Box, b: Box, reach: float) -> bool:
    """Whether boxes are further apart than a disc reaches across: told before anything is solved."""
    return a[0] > b[2] + reach or b[0] > a[2] + reach or a[1] > b[3] + reach or b[1] > a[3] + reach


def _offset(segment: Segment, radius: float) -> Segment | None:
    if isinstance(segment, Line):
        (ux, uy), (ax, ay), (bx, by) = segment.heading, segment.start, segment.end
        return Line((ax + radius * uy, ay - radius * ux), (bx + radius * uy, by - radius * ux))
    wide = segment.radius + math.copysign(radius, segment.bulge)
    return _circle(segment.centre, wide) if wide > SAME_POINT_MM else None


def _circle(centre: Point, radius: float) -> Arc:
    (x, y) = centre
    return Arc((x + radius, y), (x - radius, y), 1.0)


def _outwards(back: Iterator[Contact], on: Iterator[Contact]) -> Iterator[tuple[Contact, Contact]]:
    """Yield every pair of one from each, the first ones of both first."""
    behind: list[Contact] = []
    ahead: list[Contact] = []
    for a, b in itertools.zip_longest(back, on):
        if a is not None:
            yield from ((a, other) for other in ahead)
            behind.append(a)
        if b is not None:
            yield from ((other, b) for other in behind)
            ahead.append(b)


def _centres(a: Contact, b: Contact, radius: float) -> list[Point]:
    """Centres of the discs tangent to both: the intersections of their offset curves."""
    first, second = a.offset, b.offset
    if first is None or second is None:
        return []
    if isinstance(second, Line):
        if isinstance(first, Line):
            return _crossing(first, second)
        met = line_crossings(first, second.start, second.heading)
    else:
        met = circle_crossings(first, second.centre, second.radius)
    return [c for c in met if _touches(a, c, radius) and _touches(b, c, radius)]


def _crossing(a: Line, b: Line) -> list[Point]:
    """The intersection of two lines, if any: a disc there touches the segments that they are the offsets of."""
    (px, py), (qx, qy) = a.start, b.start
    ux, uy, vx, vy = a.end[0] - px, a.end[1] - py, b.end[0] - qx, b.end[1] - qy
    across = cross(ux, uy, vx, vy)
    if abs(across) <= PARALLEL_RAD * a.length * b.length:
        return []
    s, t = cross(qx - px, qy - py, vx, vy) / across, cross(qx - px, qy - py, ux, uy) / across
    on_a = -SAME_NECK_MM <= s * a.length <= a.length + SAME_NECK_MM
    on_b = -SAME_NECK_MM <= t * b.length <= b.length + SAME_NECK_MM
    return [(px + s * ux, py + s * uy)] if on_a and on_b else []


def _lies_between(a: Contact, b: Contact, centre: Point) -> bool:
    """Whether the way from a to b goes round behind the disc to the right, by half a turn at most."""
    (ax, ay), (bx, by) = a.point(centre), b.point(centre)
    return cross(ax - centre[0], ay - centre[1], bx - centre[0], by - centre[1]) <= SAME_NECK_MM


def _touches(contact: Contact, centre: Point, radius: float) -> bool:
    return abs(distance(centre, contact.point(centre)) - radius) <= SAME_NECK_MM


def _stretch(segments: Sequence[Segment], a: Contact, b: Contact, centre: Point) -> tuple[Segment, ...]:
    """The boundary from the contact a to the contact b; empty where they are one place."""
    count = len(segments)
    p, q = a.point(centre), b.point(centre)
    if distance(p, q) <= SAME_NECK_MM:
        return ()
    last = (b.k - 1) % count if isinstance(b.on, tuple) else b.k
    pieces = [segments[(a.k + n) % count] for n in range((last - a.k) % count + 1)]
    pieces[0] = _from(pieces[0], p) or pieces[0]
    if distance(pieces[-1].end, q) > SAME_NECK_MM:
        pieces[-1] = _until(pieces[-1], q) or pieces[-1]
    return tuple(pieces)


def _from(segment: Segment, p: Point) -> Segment | None:
    """The rest of a segment from a point of it."""
    if distance(p, segment.end) <= SAME_NECK_MM or distance(p, segment.start) <= SAME_NECK_MM:
        return None
    if isinstance(segment, Line):
        return Line(p, segment.end)
    return Arc(p, segment.end, math.tan((1 - segment.fraction_of(p)) * segment.sweep / 4))


def _until(segment: Segment, p: Point) -> Segment | None:
    turned = _from(segment.reversed(), p)
    return None if turned is None else turned.reversed()


def _is_free(centre: Point, radius: float, stretch: Sequence[Segment], around: Sequence[Segment]) -> bool:
    """Whether the disc has no boundary inside."""
    return all(
        distance(centre, segment.nearest(centre)) >= radius - SAME_NECK_MM
        for segment in itertools.chain(stretch, around)
    )
