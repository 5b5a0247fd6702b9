"""Differences: where what a file draws isn't what its values draw, looked for both ways.

added    a line, arc or point of the file that isn't on the part's drawing, on its layer
missing  one of the part's drawing that isn't in the file

Each is looked at along its length: the distance is to the nearest of the other side on the same layer, exactly, from
points of it that are no further apart than a share of it. What is there twice, or has a gap, shows in the length.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from parts.geometry import Box, Line, Point, Segment, distance
from parts.geometry.search import BoxIndex
from parts.reopen.lines import Lines
from parts.reopen.whole import AS_DRAWN, Whole, wholes

SAME_MM = 0.01
"""As near as the files of other programs keep a coordinate, and nearer than any table cuts."""
MOST_TOLD = 40
_SAMPLES = 8

What = Literal["added", "missing"]


@dataclass(frozen=True, slots=True)
class Difference:
    """One line, arc or point that is in the file alone or on the drawing alone, and how far it is from the other, mm.

    `at` is where it is furthest off; `off_mm` is infinite where the other side has nothing on that layer. `segment` is
    None of a point.
    """

    what: What
    layer: str
    at: Point
    off_mm: float
    segment: Segment | None = None


@dataclass(frozen=True, slots=True)
class Compared:
    """How a file differs: every difference found, by how much lengths differ on layers, what else is there.

    `elsewhere` is whether all is where it should be, on other layers or none.
    `whole` is how the file has the whole: larger, moved, turned or mirrored; as drawn where it isn't that alone.
    """

    differences: tuple[Difference, ...]
    lengths: tuple[tuple[str, float], ...] = ()
    unread: tuple[str, ...] = ()
    whole: Whole = AS_DRAWN
    elsewhere: bool = False

    @property
    def is_edited(self) -> bool:
        """Whether anything differs."""
        return bool(self.differences or self.lengths or self.unread)


def compared(there: Lines, wanted: Lines) -> Compared:
    """Return how what a file draws differs from what it should."""
    found = (*_absent(there, wanted, "added"), *_absent(wanted, there, "missing"))
    lengths = () if found else tuple(_lengths(there, wanted))
    elsewhere = bool(found) and _alike(_unlayered(there), _unlayered(wanted))
    tried = wholes(there, wanted, SAME_MM) if found and not elsewhere else iter(())
    whole = next((each for each in tried if _alike(there, each.of(wanted))), AS_DRAWN)
    return Compared(found, lengths, there.unread, whole, elsewhere)


def _alike(there: Lines, wanted: Lines) -> bool:
    """Whether nothing differs, but for what is there twice."""
    return not (any(_absent(there, wanted, "added")) or any(_absent(wanted, there, "missing")))


def _unlayered(lines: Lines) -> Lines:
    return Lines(tuple(("", segment) for _, segment in lines.lines), tuple(("", at) for _, at in lines.points))


def _absent(those: Lines, others: Lines, what: What) -> Iterator[Difference]:
    """Yield what of `those` isn't among the others."""
    for layer in dict.fromkeys(name for name, _ in (*those.lines, *those.points)):
        beside = [segment for name, segment in others.lines if name == layer]
        known = {key for segment in beside for key in _keys(segment)}
        index = BoxIndex([segment.box for segment in beside])
        for segment in (each for name, each in those.lines if name == layer):
            if _key(segment) in known:
                continue
            at, off = max(((p, _off(p, beside, index)) for p in _samples(segment)), key=lambda each: each[1])
            if off > SAME_MM:
                yield Difference(what, layer, at, off, segment)
        near = [at for name, at in others.points if name == layer]
        for point in (each for name, each in those.points if name == layer):
            off = min((distance(point, each) for each in near), default=math.inf)
            if off > SAME_MM:
                yield Difference(what, layer, point, off)


def _samples(segment: Segment) -> Iterator[Point]:
    yield from (segment.at(i / _SAMPLES) for i in range(_SAMPLES + 1))


def _off(p: Point, beside: Sequence[Segment], index: BoxIndex) -> float:
    """How far a point is from the nearest of these; 0 where that is as good as nothing."""
    box: Box = (*p, *p)
    if any(distance(p, beside[i].nearest(p)) <= SAME_MM for i in index.near(box, SAME_MM)):
        return 0.0
    return min((distance(p, segment.nearest(p)) for segment in beside), default=math.inf)


def _key(segment: Segment) -> tuple[float, ...]:
    bulge = 0.0 if isinstance(segment, Line) else segment.bulge
    return tuple(round(value, 6) + 0.0 for value in (*segment.start, *segment.end, bulge))


def _keys(segment: Segment) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Of a segment run through either way."""
    return _key(segment), _key(segment.reversed())


def _lengths(there: Lines, wanted: Lines) -> Iterator[tuple[str, float]]:
    """Yield by how much longer, mm, the lines on a layer are than they should be."""
    for layer in dict.fromkeys(name for name, _ in (*wanted.lines, *there.lines)):
        has, should = (math.fsum(s.length for name, s in each.lines if name == layer) for each in (there, wanted))
        count = sum(name == layer for name, _ in wanted.lines)
        if abs(has - should) > SAME_MM * (1 + count):
            yield layer, has - should
    for layer in dict.fromkeys(name for name, _ in (*wanted.points, *there.points)):
        has, should = (sum(name == layer for name, _ in each.points) for each in (there, wanted))
        if has != should:
            yield layer, float(has - should)
