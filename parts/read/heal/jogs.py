"""Jogs: steps and spikes of an outline that are no larger than the tolerance, taken out.

jog    up to three pieces in a row, each no longer than the tolerance, that leave the way of the outline and come back
       to it: a doubled corner, an overshoot and the way back, a step between lines that were meant to be one

A small chamfer, radius or curve of short chords turns one way and not far, and stays as it is: it is drawn so, and
nothing comes of it. Where a jog is taken out, what is before and behind it meets in a corner, and no point of it was
further from there than the tolerance.
"""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import TypeGuard

from parts.geometry import Arc, Loop, Segment, distance, turn_between
from parts.read.heal.mend import Mend
from parts.read.heal.net import corner
from parts.read.limits import Budget
from parts.read.outlines import encloses, with_ends

_MOST_PIECES = 3
_SHARP_RAD = math.radians(120)
"""A turn by more than this goes back; no small corner of a part is as sharp."""
_TO_AND_FRO_RAD = math.radians(60)
"""What the pieces turn to the one side and back again, in all, from which on they are a step."""


def without_jogs(loop: Loop, reach: float, budget: Budget) -> tuple[Loop, list[Mend]]:
    """Return a loop without its jogs, and what was taken out; `reach` is the tolerance in mm.

    Raises:
        Unreadable: if that takes too long.
    """
    if all(segment.length > reach for segment in loop.segments):
        return loop, []
    segments, mends = list(loop.segments), list[Mend]()
    i = 0
    while i < len(segments):
        budget.time()
        count = _jog_at(segments, i, reach)
        mend = _bridge(segments, i, count, reach) if count else None
        if mend is None:
            i += 1
        else:
            mends.append(mend)
            i = max(i - _MOST_PIECES - 1, 0)
    if not mends or not encloses(segments):
        return loop, []
    return Loop(tuple(segments)), mends


def _jog_at(segments: Sequence[Segment], i: int, reach: float) -> int:
    """How many pieces from `i` on are a jog; 0 where none is."""
    n = len(segments)
    for count in range(1, min(_MOST_PIECES, n - 2) + 1):
        run = [segments[(i + k) % n] for k in range(count)]
        if run[-1].length > reach:
            return 0
        if distance(run[0].start, run[-1].end) <= reach and _leaves_the_way(segments[i - 1], run, segments, i + count):
            return count
    return 0


def _leaves_the_way(before: Segment, run: Sequence[Segment], segments: Sequence[Segment], after: int) -> bool:
    way = [before, *run, segments[after % len(segments)]]
    turns = [turn_between(a, b) for a, b in pairwise(way)]
    if max(map(abs, turns)) > _SHARP_RAD:
        return True
    turns += [segment.sweep for segment in run if isinstance(segment, Arc)]
    return sum(map(abs, turns)) - abs(math.fsum(turns)) > _TO_AND_FRO_RAD


def _bridge(segments: list[Segment], i: int, count: int, reach: float) -> Mend | None:
    """Take a jog out of the list and have its neighbours meet in its place; None where they can't within reach."""
    n = len(segments)
    b, a = (i - 1) % n, (i + count) % n
    before, after = segments[b], segments[a]
    run = [(i + k) % n for k in range(count)]
    middle = (before.end[0] + after.start[0]) / 2, (before.end[1] + after.start[1]) / 2
    for at in (corner(before.reversed(), after, reach), middle):
        moved = max(distance(at, p) for k in run for p in (segments[k].start, segments[k].end))
        towards, away = with_ends(before, before.start, at), with_ends(after, at, after.end)
        if moved <= reach and _goes_on(towards, before) and _goes_on(away, after):
            segments[b], segments[a] = towards, away
            for k in sorted(run, reverse=True):
                del segments[k]
            return Mend("jog", moved, at)
    return None


def _goes_on(new: Segment | None, old: Segment) -> TypeGuard[Segment]:
    """Whether there is something left of a segment, which still goes the way it went."""
    if new is None:
        return False
    (ax, ay), (bx, by) = old.heading_at_start, new.heading_at_start
    return ax * bx + ay * by > 0
