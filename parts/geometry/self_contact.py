"""How a closed chain meets itself at a point: crossing, only touching, or running back over itself."""

import math
from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import Literal, NamedTuple, TypeAlias

from parts.geometry.segment import Arc, Line, Point, Segment, distance
from parts.tolerance import SAME_POINT_MM

SelfContact: TypeAlias = Literal["crosses", "touches", "runs back over"]

_SAME_WAY = 1e-6
"""Directions in radians closer than this are one: over 10 mm they part by 10 nm."""


class _Pass(NamedTuple):
    """The chain going through a point: the directions in which it came and goes, both seen from the point."""

    came: float
    goes: float
    straight: bool


def self_contact(chain: Sequence[Segment], at: Point) -> SelfContact:
    """Return how a closed chain meets itself at a point of it, by the directions in which it passes there."""
    found: set[SelfContact] = {_between(a, b) for a, b in combinations(_passes(chain, at), 2)}
    if "crosses" in found:
        return "crosses"
    return "runs back over" if "runs back over" in found else "touches"


def _passes(chain: Sequence[Segment], at: Point) -> Iterator[_Pass]:
    for i, segment in enumerate(chain):
        if distance(segment.nearest(at), at) > SAME_POINT_MM or distance(segment.start, at) <= SAME_POINT_MM:
            continue  # a start is passed with the segment before it
        after = chain[(i + 1) % len(chain)] if distance(segment.end, at) <= SAME_POINT_MM else segment
        came, goes = _heading(segment, at), _heading(after, at)
        straight = isinstance(segment, Line) and isinstance(after, Line)
        yield _Pass(math.atan2(-came[1], -came[0]), math.atan2(goes[1], goes[0]), straight)


def _heading(segment: Segment, at: Point) -> Point:
    return segment.heading_at(at) if isinstance(segment, Arc) else segment.heading


def _between(a: _Pass, b: _Pass) -> SelfContact:
    """Whether b goes from one side of a to the other."""
    wide = (a.goes - a.came) % (2 * math.pi)
    turned = [(way - a.came) % (2 * math.pi) for way in (b.came, b.goes)]
    if any(_is_near(turn, other) for turn in turned for other in (0.0, wide, 2 * math.pi)):
        return "runs back over" if a.straight and b.straight else "touches"
    return "crosses" if (turned[0] < wide) != (turned[1] < wide) else "touches"


def _is_near(a: float, b: float) -> bool:
    return abs(a - b) <= _SAME_WAY
