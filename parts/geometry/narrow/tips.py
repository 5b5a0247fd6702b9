"""Where the region of a loop comes to a tip: its outline turns back on itself around little material.

A *tip* is a stretch of outline, of no length where it is a sharp corner, that turns left by more than 120
degrees in all. The segments before and after it are its *flanks*: they run away from it at less than 60
degrees to each other, the `opening`, and for as long as it is from where the tip begins to where it ends they
turn by no more than 30 degrees, so that what lies between them is longer than wide. Flanks that run parallel
or towards each other are no tip's: between them the material has a neck (`parts.geometry.narrow.width`).

A tip with a corner at or in it is *blunt*, its width the distance between its flanks. One without, of arcs or
of chords that stand for them, is *round*: its width is the diameter of the circle that touches both flanks
where it begins, so that a single arc has twice its radius. Where stretches overlap, the narrowest is the tip.
"""

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from parts.data import threshold
from parts.geometry.corner import turn_between
from parts.geometry.loop import Loop
from parts.geometry.narrow.outline import FLANK_TURN, LEAST_TURN, LONGEST, Outline, stretches
from parts.geometry.segment import Point, Segment, distance
from parts.tolerance import PARALLEL_RAD

_CORNER = math.radians(threshold("tip", "corner_deg"))
# Up to this many segments stretches are told one by one.
_FEW_SEGMENTS = 60


@dataclass(frozen=True, slots=True)
class TipSide:
    """The outline from a tip on, forward along the loop or back: its flank first."""

    segments: Sequence[Segment]
    first: int
    step: int
    count: int

    def __iter__(self) -> Iterator[Segment]:
        n = len(self.segments)
        return (self.segments[(self.first + self.step * k) % n] for k in range(self.count))

    def runs_on(self, length: float) -> bool:
        """Whether it goes on for `length` mm without turning by more than a flank may."""
        turned, last = 0.0, None
        for segment in self:
            if length <= 0:
                return True
            if last is not None:
                turned += turn_between(last, segment) if self.step > 0 else turn_between(segment, last)
            on_corner = abs(turned)
            turned += min(length / segment.length, 1.0) * getattr(segment, "sweep", 0.0)
            if max(on_corner, abs(turned)) > FLANK_TURN:
                return False
            length -= segment.length
            last = segment
        return length <= 0


@dataclass(frozen=True, slots=True)
class Tip:
    """A tip: where it begins and ends, its width in mm, the opening between its flanks in radians.

    `first` and `last` are the indices, in `Loop.unsplit`, of the segments that leave its start and its end.
    """

    start: Point
    end: Point
    width: float
    opening: float
    round: bool
    first: int
    last: int

    @property
    def middle(self) -> Point:
        """The middle between its start and end."""
        return (self.start[0] + self.end[0]) / 2, (self.start[1] + self.end[1]) / 2

    @property
    def cut_off(self) -> float:
        """What takes the place of a sharp point: half the width of a round tip, the width of a blunt one; mm."""
        return self.width / 2 if self.round else self.width


def tips(loop: Loop, reach: float, least: float = 0.0) -> list[Tip]:
    """Return the tips of the region left of a loop, narrower than `reach` mm and cut off by no less than `least`."""
    segments, longest = loop.unsplit, LONGEST * reach
    if loop.circle or not _may_turn_back(loop, longest):
        return []
    if len(segments) <= _FEW_SEGMENTS and not _turns_back(loop, longest):
        return []
    found = [
        (tip, i, count)
        for i, count in stretches(Outline(loop), longest)
        if (tip := _tip(segments, i, count)) and tip.width < reach and tip.cut_off >= least
    ]
    taken: set[int] = set()
    kept = []
    for tip, i, count in sorted(found, key=lambda entry: (round(entry[0].width, 6), entry[0].opening)):
        vertices = {(i + k) % len(segments) for k in range(count + 1)}
        if not vertices & taken:
            taken |= vertices
            kept.append(tip)
    return kept


def _may_turn_back(loop: Loop, longest: float) -> bool:
    """Whether all left turns within `longest` mm of outline come to enough for a tip; few loops have such a place."""
    corners, segments = loop.corners, loop.unsplit
    n = len(segments)
    at_corner = [corner if corner > 0 else 0.0 for corner in corners]
    left = [turn + max(getattr(s, "sweep", 0.0), 0.0) for turn, s in zip(at_corner, segments, strict=True)]
    if not any(left):  # as of most openings
        return False
    lengths = [segment.length for segment in segments]
    turned, run, i = 0.0, 0.0, 0
    for j in range(2 * n):  # vertices i to j, and what lies between them; twice round, since it may begin anywhere
        if turned + at_corner[j % n] > LEAST_TURN:
            return True
        turned += left[j % n]
        run += lengths[j % n]
        while i < j and run > longest:
            turned -= left[i % n]
            run -= lengths[i % n]
            i += 1
        if run > longest:
            turned, run, i = 0.0, 0.0, j + 1
    return False


def _turns_back(loop: Loop, longest: float) -> bool:
    """Whether `stretches` has any to look at, by the same sums: for few segments arrays take longer."""
    corners, segments = loop.corners, loop.unsplit
    n = len(segments)
    sweeps = [getattr(segment, "sweep", 0.0) for segment in segments]
    for i, turned in enumerate(corners):
        run = 0.0
        for count in range(n - 1):
            if turned > LEAST_TURN + PARALLEL_RAD and (count == 0 or turned < math.pi - PARALLEL_RAD):
                return True
            last = (i + count) % n
            run += segments[last].length
            turned = turned + sweeps[last] + corners[(last + 1) % n]
            if run > longest:
                break
    return False


def _tip(segments: Sequence[Segment], i: int, count: int) -> Tip | None:
    """The tip made of `count` segments from `i` on, if what lies before and after are flanks."""
    n = len(segments)
    before = TipSide(segments, i - 1, -1, n - count)
    after = TipSide(segments, (i + count) % n, 1, n - count)
    flank_a, flank_b = segments[i - 1], segments[(i + count) % n]
    start, end = flank_a.end, flank_b.start
    apart = distance(start, end) if count else 0.0
    if not (before.runs_on(apart) and after.runs_on(apart)):
        return None
    within = [segments[(i + k) % n] for k in range(count)]
    turns = [turn_between(a, b) for a, b in itertools.pairwise((flank_a, *within, flank_b))]
    opening = max(math.pi - sum(turns) - sum(getattr(segment, "sweep", 0.0) for segment in within), 0.0)
    between = min(distance(start, flank_b.nearest(start)), distance(end, flank_a.nearest(end))) if count else 0.0
    is_round = count > 0 and all(abs(turn) <= _CORNER for turn in turns)
    width = between / math.cos(opening / 2) if is_round else between
    return Tip(start, end, width, opening, is_round, i, (i + count) % n)
