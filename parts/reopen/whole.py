"""Whole: what was done to a part as a whole, if that alone was done: larger, moved, turned or mirrored.

Where it is larger or moved, the boxes round both tell it. Where it is turned or mirrored, a feature far from the middle
does: it stands where one like it stood, as far from the middle. Each is a guess, to be tried on every line.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

from parts.geometry import Arc, Box, Line, Motion, Point, Segment, distance, rotation
from parts.reopen.lines import Lines

_NOTHING = 1e-6  # of a size, mm or radians: what differs by less is moved, scaled or turned by nothing
_SCALED = 1e-4  # of two ratios, width and height, that are one
_MOST_TURNS = 48
_STILL = Motion()


@dataclass(frozen=True, slots=True)
class Whole:
    """How a file has a part: `scaled` times as large, or mirrored in the x axis, then turned, then moved.

    `turned` is in radians to the left, over -pi to pi; `moved` in mm, of what is neither scaled, turned nor mirrored.
    """

    scaled: float = 1.0
    moved: Point = (0.0, 0.0)
    turned: float = 0.0
    mirrored: bool = False
    motion: Motion = _STILL

    def of(self, lines: Lines) -> Lines:
        """Return lines as the file would have them."""
        return Lines(
            tuple((layer, self.motion.segment(_larger(segment, self.scaled))) for layer, segment in lines.lines),
            tuple((layer, self.motion.point(_times(at, self.scaled))) for layer, at in lines.points),
        )


AS_DRAWN = Whole()


def wholes(there: Lines, wanted: Lines, near_mm: float) -> Iterator[Whole]:
    """Yield what may have been done to the whole, the least first.

    Args:
        there: what a file draws.
        wanted: what it should.
        near_mm: lengths that differ by no more are one.
    """
    yield from _by_boxes(there, wanted, near_mm)
    turns = islice(_turns(there, wanted, near_mm), _MOST_TURNS)
    yield from sorted(turns, key=lambda each: (each.mirrored, round(abs(each.turned), 6)))


def _by_boxes(there: Lines, wanted: Lines, near_mm: float) -> Iterator[Whole]:
    """Yield how many times as large it is, or by how much it is moved, where one box tells it of the other."""
    has, should = _box(there), _box(wanted)
    if has is None or should is None:
        return
    ratios = [(has[i + 2] - has[i]) / size for i in (0, 1) if (size := should[i + 2] - should[i]) > near_mm]
    scale = ratios[0] if ratios else 0.0
    if not scale > 0 or any(abs(each / scale - 1) > _SCALED for each in ratios):
        return
    shift = (has[0] - scale * should[0], has[1] - scale * should[1])
    larger = abs(scale - 1) > _NOTHING
    yield Whole(scale if larger else 1.0, (0.0, 0.0) if larger else shift, motion=Motion(shift))


def _turns(there: Lines, wanted: Lines, near_mm: float) -> Iterator[Whole]:
    """Yield the turns, with a reflection or none, that take a feature of what is wanted to one like it in the file."""
    features, others = list(_features(wanted)), list(_features(there))
    if not features or not others:
        return
    here, middle = _middle(wanted), _middle(there)
    layer, size, at = max(features, key=lambda each: (round(distance(each[2], here), 6), each[1]))
    far = distance(at, here)
    if far <= near_mm:
        return
    own = math.atan2(at[1] - here[1], at[0] - here[0])
    for name, other, place in others:
        if name == layer and abs(other - size) <= near_mm and abs(distance(place, middle) - far) <= near_mm:
            angle = math.atan2(place[1] - middle[1], place[0] - middle[0])
            yield _turned(angle - own, here, middle, mirrored=False)
            yield _turned(angle + own, here, middle, mirrored=True)


def _turned(angle: float, here: Point, middle: Point, *, mirrored: bool) -> Whole:
    """The whole turned by an angle, so that the middle comes to where the file has it; quarter turns are exact."""
    turn = math.remainder(angle, 2 * math.pi)
    quarter = round(turn / (math.pi / 2)) * (math.pi / 2)
    turn = quarter if abs(turn - quarter) <= _NOTHING else turn
    plain = rotation(turn)
    x, y = Motion((0.0, 0.0), plain.cos, plain.sin, mirrored).point(here)
    motion = Motion((middle[0] - x, middle[1] - y), plain.cos, plain.sin, mirrored)
    return Whole(turned=turn, mirrored=mirrored, motion=motion)


def _features(lines: Lines) -> Iterator[tuple[str, float, Point]]:
    """Yield the layer, size and place of each feature: a line by its middle, an arc by its centre, a point."""
    for layer, segment in lines.lines:
        yield layer, segment.length, segment.at(0.5) if isinstance(segment, Line) else segment.centre
    for layer, at in lines.points:
        yield layer, 0.0, at


def _middle(lines: Lines) -> Point:
    """The centroid of all lines and arcs, else of the points: the same place of the part however it lies."""
    weighed = [(segment.length, _centroid(segment)) for _, segment in lines.lines]
    weighed = weighed or [(1.0, at) for _, at in lines.points]
    total = math.fsum(weight for weight, _ in weighed) or 1.0
    x, y = (math.fsum(weight * at[axis] for weight, at in weighed) / total for axis in (0, 1))
    return x, y


def _centroid(segment: Segment) -> Point:
    """Of a line its middle; of an arc r sin(a) / a from its centre towards its middle, a being half its sweep."""
    at = segment.at(0.5)
    if isinstance(segment, Line):
        return at
    half = 2 * math.atan(abs(segment.bulge))
    share = math.sin(half) / half if half > _NOTHING else 1.0
    (x, y), (cx, cy) = at, segment.centre
    return cx + share * (x - cx), cy + share * (y - cy)


def _larger(segment: Segment, scale: float) -> Segment:
    if scale == 1.0:
        return segment
    start, end = _times(segment.start, scale), _times(segment.end, scale)
    return Line(start, end) if isinstance(segment, Line) else Arc(start, end, segment.bulge)


def _times(at: Point, scale: float) -> Point:
    return scale * at[0], scale * at[1]


def _box(lines: Lines) -> Box | None:
    boxes = [segment.box for _, segment in lines.lines] + [(*at, *at) for _, at in lines.points]
    if not boxes:
        return None
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return min(x0), min(y0), max(x1), max(y1)
