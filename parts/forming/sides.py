"""What lies beside each bend of a flat, square to its line: the next bend that runs along it, or the edge.

A bend whose angle the drawing doesn't tell is taken as square; where it doesn't tell the radius or K, those of the
brake stand in. Lengths are mm.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from parts.forming.allowance import Fold
from parts.forming.brake import Brake
from parts.geometry import Line, Loop, Point, cross, meeting_points
from parts.geometry.search import BoxIndex, Vicinity
from parts.profile import Bend, Profile
from parts.tolerance import PARALLEL_RAD, SAME_POINT_MM

LOOKED_AT = (0.25, 0.5, 0.75)
"""Where along a bend it is looked to its sides: a notch at one of these doesn't hide what lies beyond."""
FIRST_REACH_MM = 50.0
"""How far it is looked first, about a flange; it only saves time."""


@dataclass(frozen=True, slots=True)
class Side:
    """What a bend has on one side: how far off the next bend is, and which; or the edge, where `bend` is None."""

    off: float
    bend: int | None = None


def folded(bend: Bend, thickness: float, brake: Brake) -> Fold:
    """Return how a bend is bent in sheet of this thickness on this brake."""
    radius = bend.radius or brake.inside_radius(thickness)
    return Fold(bend.angle or math.pi / 2, radius, thickness, bend.k or brake.neutral(thickness, radius).k, bend.up)


def sides(profile: Profile, bends: Sequence[Bend]) -> tuple[tuple[Side | None, Side | None], ...]:
    """Return what lies left and right of each bend line; None where nothing is met.

    Several rules ask for it: it is found once.
    """
    return _sides(profile.boundary[: len(profile.outside)], tuple(bends))


@lru_cache(maxsize=8)
def _sides(outside: tuple[Loop, ...], bends: tuple[Bend, ...]) -> tuple[tuple[Side | None, Side | None], ...]:
    edges, lines = Vicinity(outside), BoxIndex([bend.line.box for bend in bends])
    x0, y0, x1, y1 = Profile(outside).box
    far = math.hypot(x1 - x0, y1 - y0) + 1.0
    seen = _Seen(edges, lines, bends)
    return tuple((_side(seen, i, far), _side(seen, i, -far)) for i in range(len(bends)))


class _Seen(NamedTuple):
    """What a ray may meet: the outside edges, and the bends with an index of their lines."""

    edges: Vicinity
    lines: BoxIndex
    bends: Sequence[Bend]


def _side(seen: _Seen, index: int, reach: float) -> Side | None:
    """The nearest bend of those met from three places of a line, else the furthest edge."""
    line = seen.bends[index].line
    found: list[Side] = []
    ux, uy = line.heading
    for fraction in LOOKED_AT:
        x, y = line.at(fraction)
        found += _first(seen, index, (x, y), (-uy, ux), reach)
    others = [side for side in found if side.bend is not None]
    return min(others, key=lambda side: side.off) if others else max(found, key=lambda side: side.off, default=None)


def _first(seen: _Seen, index: int, start: Point, way: Point, far: float) -> Iterator[Side]:
    """Yield what a ray from a bend meets first; it grows until it does, so that few bends and edges are looked at."""
    (x, y), (ux, uy), reach = start, way, math.copysign(FIRST_REACH_MM, far)
    while True:
        reach = math.copysign(min(abs(reach), abs(far)), far)
        if met := _met(seen, index, Line(start, (x + reach * ux, y + reach * uy))):
            yield min(met, key=lambda side: side.off)
            return
        if reach == far:
            return
        reach *= 4


def _met(seen: _Seen, index: int, ray: Line) -> list[Side]:
    """All that a ray from a bend meets."""
    near = seen.edges.near(ray.box, SAME_POINT_MM)
    met = [Side(off) for _, edge in near for off in _offs(ray, meeting_points(ray, edge))]
    own = seen.bends[index].line.heading
    for other in seen.lines.near(ray.box, SAME_POINT_MM):
        line = seen.bends[other].line
        if other != index and abs(cross(*own, *line.heading)) <= PARALLEL_RAD:
            met += [Side(off, other) for off in _offs(ray, meeting_points(ray, line))]
    return met


def _offs(ray: Line, points: Sequence[Point]) -> Iterator[float]:
    for p in points:
        off = math.dist(ray.start, p)
        if off > SAME_POINT_MM:
            yield off
