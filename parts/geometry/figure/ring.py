"""A ring about a hole, set on the tip of a figure that is narrower than the ring: on true lines and arcs.

The disc that rounds the corner between the two is rolled down along the ring, from beside it to below it, until it
touches the figure; what lies between becomes metal. So every joint is tangent. Loops run counter-clockwise. Lengths
are mm.
"""

import math
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from parts.geometry.draft import Vertex, toward
from parts.geometry.figure.attach import part_of, path
from parts.geometry.figure.touch import may_reach
from parts.geometry.intersect import circle_crossings, circles_meet
from parts.geometry.loop import Loop
from parts.geometry.segment import Line, Point, Segment, distance
from parts.tolerance import SAME_POINT_MM, TANGENT_MM


class RestingDisc(NamedTuple):
    """A disc at rest between ring and figure: by how much it has rolled down, where it is, and what it touches."""

    turn: float
    centre: Point
    segment: int
    at: Point


class Ring(NamedTuple):
    """A ring of `radius` about `centre`, and the rounds of `blend` to its right and left."""

    centre: Point
    radius: float
    blend: float
    right: RestingDisc
    left: RestingDisc

    @property
    def neck(self) -> float:
        """Width of the metal between the rounds, where it is least."""
        return self.right.centre[0] - self.left.centre[0] - 2 * self.blend


def ring_on(loop: Loop, centre: Point, radius: float, blend: float) -> Ring | None:
    """Return how a ring stands on a figure that reaches nowhere above its centre beside it.

    None where a disc rolls round below the ring without touching the figure.
    """
    reach = radius + 2 * blend
    near = [(i, s) for i, s in enumerate(loop.segments) if all(may_reach(s, k, centre[k], reach) for k in (1, 0))]
    rests = [*_rests(near, centre, radius + blend, blend)]
    right, left = (min(_beside(rests, centre, side), default=None) for side in (1, -1))
    return Ring(centre, radius, blend, right, left) if right and left else None


def _rests(
    near: Iterable[tuple[int, Segment]], centre: Point, reach: float, blend: float
) -> Iterator[tuple[Point, int, Point]]:
    """Yield where the disc's centre is as it touches the figure, `reach` from the ring's; which segment, and where."""
    for i, segment in near:
        for p in _crossings(segment, centre, reach, blend):
            at = segment.nearest(p)
            if abs(distance(at, p) - blend) <= TANGENT_MM:
                yield p, i, at


def _beside(rests: Iterable[tuple[Point, int, Point]], centre: Point, side: int) -> Iterator[RestingDisc]:
    """Yield those that are reached as the disc rolls from one side of the ring down to its lowest point."""
    for (px, py), i, at in rests:
        beside, below = side * (px - centre[0]), centre[1] - py
        if beside > SAME_POINT_MM and below >= -SAME_POINT_MM:
            yield RestingDisc(math.atan2(below, beside), (px, py), i, at)


def _crossings(segment: Segment, centre: Point, reach: float, blend: float) -> Iterator[Point]:
    """Yield where a disc's centre may be, `reach` from the ring's and `blend` outside a segment or off its start."""
    if blend and distance(segment.start, centre) > SAME_POINT_MM:
        yield from circles_meet(segment.start, blend, centre, reach)
    if isinstance(segment, Line):
        (ux, uy), (ax, ay), (bx, by) = segment.heading, segment.start, segment.end
        off = Line((ax + blend * uy, ay - blend * ux), (bx + blend * uy, by - blend * ux))
        yield from circle_crossings(off, centre, reach)
        return
    wide = segment.radius + math.copysign(blend, segment.bulge)
    if wide > SAME_POINT_MM:
        yield from circles_meet(segment.centre, wide, centre, reach)


def ringed(loop: Loop, ring: Ring) -> Loop:
    """Return the figure with the ring, without its edge between the two rounds."""
    right, left = ring.right, ring.left
    first, last, n = loop.segments[right.segment], loop.segments[left.segment], len(loop.segments)
    seats = [toward(ring.centre, side.centre, ring.radius) for side in (right, left)]
    new: list[Vertex] = [
        (*first.start, part_of(first, 0.0, first.fraction_of(right.at))),
        (*right.at, _bulge(right, seats[0])),
        (*seats[0], math.tan((math.pi + right.turn + left.turn) / 4)),
        (*seats[1], _bulge(left, seats[1])),
        (*left.at, part_of(last, last.fraction_of(left.at), 1.0)),
        (*last.end, 0.0),
    ]
    between = (left.segment + 1 + k for k in range((right.segment - left.segment - 1) % n))
    return Loop((*path(new), *(loop.segments[k % n] for k in between)))


def _bulge(side: RestingDisc, seat: Point) -> float:
    """Bulge of the round between its two contacts, an inside corner."""
    radius, half = distance(side.centre, seat), distance(side.at, seat) / 2
    if radius <= SAME_POINT_MM:
        return 0.0
    return -math.tan(math.asin(min(half / radius, 1.0)) / 2)
