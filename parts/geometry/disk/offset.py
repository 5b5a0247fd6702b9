"""Offset curves of loops, on their outside: where the centre of a disk goes that rolls along, and what it touches.

The material is on the left of every loop and the disk on the right. A *track* is a piece of its way on one
segment, or round one corner; its *foot* is the piece of the boundary, or the corner, that is touched. Tracks
of neighbours are trimmed where they cross, so an inside corner leaves none of its own; that the disk may touch
something else meanwhile is not looked at here.
"""

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from parts.geometry.corner import turn_between
from parts.geometry.intersect import meeting_points
from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Line, Point, Segment, distance
from parts.tolerance import PARALLEL_RAD, SAME_POINT_MM


class Track(NamedTuple):
    """A piece of an offset curve; `linked` tells whether the next track of the loop goes on where it ends."""

    path: Segment
    foot: Segment | Point
    linked: bool = True

    @property
    def foot_start(self) -> Point:
        """What is touched at the start."""
        return self.foot if isinstance(self.foot, tuple) else self.foot.start

    @property
    def foot_end(self) -> Point:
        """What is touched at the end."""
        return self.foot if isinstance(self.foot, tuple) else self.foot.end

    def piece(self, low: float, high: float) -> "Track":
        """Return the track between two fractions of its length."""
        foot = self.foot if isinstance(self.foot, tuple) else _foot(self.foot, low, high)
        return Track(piece(self.path, low, high), foot, self.linked and high == 1.0)


def _foot(segment: Segment, low: float, high: float) -> Segment | Point:
    """What is touched between two fractions of a segment: where a long track rolls round a short one, a point."""
    is_point = segment.length * (high - low) <= SAME_POINT_MM
    return segment.at((low + high) / 2) if is_point else piece(segment, low, high)


def piece(segment: Segment, low: float, high: float) -> Segment:
    """Return a segment between two fractions of its length; its own ends are kept exactly."""
    if low == 0.0 and high == 1.0:
        return segment
    start = segment.start if low == 0.0 else segment.at(low)
    end = segment.end if high == 1.0 else segment.at(high)
    if isinstance(segment, Line):
        return Line(start, end)
    return Arc(start, end, math.tan((high - low) * segment.sweep / 4))


def tracks(loop: Loop, radius: float) -> list[Track]:
    """Return the offset curve of a loop at this radius, as the tracks of a disk round it, in order."""
    raw = list(_raw(loop, radius))
    ends = _trimmed(raw)
    made = []
    for track, low, high, linked in ends:
        if (high - low) * track.path.length > SAME_POINT_MM:
            part = track if low == 0.0 and high == 1.0 else track.piece(low, high)
            made.append(part if part.linked == linked else Track(part.path, part.foot, linked))
        elif made:
            made[-1] = Track(made[-1].path, made[-1].foot, False)
    if made and ends[0][2] <= ends[0][1]:  # the first is gone, so the last doesn't go on there
        made[-1] = Track(made[-1].path, made[-1].foot, False)
    return made


def _raw(loop: Loop, radius: float) -> Iterator[Track | None]:
    """Each segment's own track, None where the disk can't follow it, and after it the corner's, if it is outside.

    `linked` is whether the next one starts there by itself; after an inside corner it doesn't yet. A cusp, which
    turns half round, is taken for an outside corner: if it is none, the disk is never clear there.
    """
    for i, segment in enumerate(loop.segments):
        after = loop.segments[(i + 1) % len(loop.segments)]
        turn = turn_between(segment, after)
        turn = turn if abs(turn) < math.pi - PARALLEL_RAD else math.pi
        path = _beside(segment, radius)
        yield Track(path, segment, turn >= -PARALLEL_RAD) if path else None
        if turn > PARALLEL_RAD:
            (ax, ay), (bx, by), (x, y) = segment.heading_at_end, after.heading_at_start, segment.end
            start, end = (x + radius * ay, y - radius * ax), (x + radius * by, y - radius * bx)
            if distance(start, end) > SAME_POINT_MM:
                yield Track(Arc(start, end, math.tan(turn / 4)), segment.end)


def _beside(segment: Segment, radius: float) -> Segment | None:
    """The offset of a segment to its right; None where an arc is tighter than the disk."""
    (ax, ay), (bx, by) = segment.heading_at_start, segment.heading_at_end
    start = segment.start[0] + radius * ay, segment.start[1] - radius * ax
    end = segment.end[0] + radius * by, segment.end[1] - radius * bx
    if isinstance(segment, Line):
        return Line(start, end)
    if (segment.bulge < 0 and segment.radius <= radius) or distance(start, end) <= SAME_POINT_MM:
        return None
    return Arc(start, end, segment.bulge)


def _trimmed(raw: Sequence[Track | None]) -> list[tuple[Track, float, float, bool]]:
    """Each track there is, how much of it its neighbours leave, and whether the next goes on where it ends."""
    count = len(raw)
    low, high = [0.0] * count, [1.0] * count
    linked = [False] * count
    for i, track in enumerate(raw):
        j = (i + 1) % count
        after = raw[j]
        if track is None or after is None:
            continue
        linked[i] = track.linked
        if not track.linked and (crossing := _crossing(track.path, after.path)):
            linked[i] = True
            high[i], low[j] = crossing
    return [(track, low[i], high[i], linked[i]) for i, track in enumerate(raw) if track is not None]


def _crossing(before: Segment, after: Segment) -> tuple[float, float] | None:
    """The intersection of the tracks beside an inside corner, as fractions of each: the one nearest the corner."""
    at = [(fraction(before, p), fraction(after, p)) for p in meeting_points(before, after)]
    return max(at, key=lambda pair: pair[0] * before.length - pair[1] * after.length, default=None)


def fraction(segment: Segment, p: Point) -> float:
    """Return how far along a segment a point of it is, 0 to 1: an end where it is one but for rounding."""
    if distance(p, segment.start) <= SAME_POINT_MM:
        return 0.0
    if distance(p, segment.end) <= SAME_POINT_MM:
        return 1.0
    return min(max(segment.fraction_of(p), 0.0), 1.0)
