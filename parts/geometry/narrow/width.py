"""Where a region is narrow: its width between two places of its boundary, exact on true arcs.

A *neck* is a chord across the region, from one place of the boundary to another, whose circle (the
chord being its diameter) has no boundary inside, and that gets longer whichever way its ends move a
little: a local minimum of the region's width. A pointed wedge has none. Where two pieces of boundary
run at one distance from each other, the run is one neck, given by the chord in its middle.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from parts.geometry.loop import Loop
from parts.geometry.narrow.boundary import Boundary
from parts.geometry.narrow.chords import Chords, empty, minimal_chords, put_together
from parts.geometry.narrow.runs import Runs, free_stretches, joined, runs_between
from parts.geometry.search.grid import near_between, near_points
from parts.geometry.segment import Point, distance
from parts.geometry.segments import Mask
from parts.tolerance import LIMIT_SLACK_MM, SAME_NECK_MM


@dataclass(frozen=True, slots=True)
class Neck:
    """The narrowest chord of one narrow place, and the indices of the loops that it runs between."""

    start: Point
    end: Point
    loop_a: int
    loop_b: int

    @property
    def width(self) -> float:
        """Length of the chord in mm."""
        return distance(self.start, self.end)

    @property
    def middle(self) -> Point:
        """Middle of the chord."""
        return (self.start[0] + self.end[0]) / 2, (self.start[1] + self.end[1]) / 2


def necks(loops: Sequence[Loop], limit: float) -> list[Neck]:
    """Return each neck narrower than `limit` mm, narrowest first; the region is on the left of every loop."""
    boundary = Boundary(loops, limit)
    a, b = boundary.pairs
    if not len(a):
        return []
    runs = runs_between(boundary.segments, a, b)
    runs = free_stretches(runs.where(runs.width < limit - LIMIT_SLACK_MM), boundary)
    # of a pair that has a run no chord is shorter than those across the run, nor minimal elsewhere
    rest = np.bincount(runs.pair, minlength=len(a)) == 0
    chords = minimal_chords(boundary, a[rest], b[rest], limit)
    chords = chords.where(empty(boundary, chords))
    if not len(chords.a) + len(runs.pair):
        return []
    longest = joined(runs)
    p, q = longest.chord
    across = Chords(a[longest.pair], p, b[longest.pair], q)
    return _each_once(put_together([chords.where(~_on_runs(chords, runs)), across]), boundary)


def _on_runs(chords: Chords, runs: Runs) -> Mask:
    """Whether chords are across a run, as happens where a run goes over into a curve."""
    middle = chords.middle
    if not len(middle) or not len(runs.width):
        return np.zeros(len(middle), dtype=np.bool_)
    place = np.stack([middle.real, middle.imag, middle.real, middle.imag], axis=1)
    i, k = near_between(place, runs.path.boxes(), 2 * SAME_NECK_MM)
    apart = np.abs(runs.path.nearest(k, middle[i]) - middle[i])
    # at the far end of a piece too short to count as a run it stands one such piece away
    across = (np.abs(chords.width[i] - runs.width[k]) <= SAME_NECK_MM) & (apart <= 2 * SAME_NECK_MM)
    return np.bincount(i[across], minlength=len(middle)) > 0


def _each_once(found: Chords, boundary: Boundary) -> list[Neck]:
    """The chords as necks, narrowest first, without those found again from a neighbouring segment."""
    p, q = found.p, found.q
    found = found.where(np.lexsort((q.imag, q.real, p.imag, p.real, found.width)))
    i, j = near_points(found.middle, SAME_NECK_MM)
    again = j[_same(found.where(i), found.where(j))]
    found = found.where(np.bincount(again, minlength=len(p)) == 0)
    ends = (np.stack([end.real, end.imag], axis=1).tolist() for end in (found.p, found.q))
    loops = (boundary.loop[side].tolist() for side in (found.a, found.b))
    every = (Neck((px, py), (qx, qy), a, b) for (px, py), (qx, qy), a, b in zip(*ends, *loops, strict=True))
    return sorted(every, key=lambda neck: neck.width)


def _same(one: Chords, other: Chords) -> Mask:
    """Whether the ends of chords are the same, in either order."""
    same: Mask = (np.abs(one.p - other.p) <= SAME_NECK_MM) & (np.abs(one.q - other.q) <= SAME_NECK_MM)
    crossed: Mask = (np.abs(one.p - other.q) <= SAME_NECK_MM) & (np.abs(one.q - other.p) <= SAME_NECK_MM)
    return same | crossed
