"""How much of an outline is short segments, or cut slowly, by limits that are handed in.

Which segments are short and where a torch slows is the machine's matter; what is told here is the geometry.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from parts.cached import cached_property
from parts.geometry import Arc, Loop

_Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Outline:
    """Closed chains of segments: of each its length in mm and its curvature in 1/mm, and the turn at its start in rad.

    `ends` counts the segments up to the end of each chain.
    """

    lengths: tuple[float, ...]
    curvatures: tuple[float, ...]
    turns: tuple[float, ...]
    ends: tuple[int, ...]

    @cached_property
    def length(self) -> float:
        """Length of all together in mm."""
        return math.fsum(self.lengths)


@dataclass(frozen=True, slots=True)
class Slowing:
    """Where a cutter slows: on arcs under `radius_mm`; within `reach_mm` of a joint that turns by over `turn_deg`."""

    radius_mm: float
    turn_deg: float
    reach_mm: float


def outline_of(loops: Iterable[Loop]) -> Outline:
    """Return what loops are as a cutter goes round them."""
    chains = [(loop.segments, loop.turns) for loop in loops]
    segments = [segment for chain, _ in chains for segment in chain]
    return Outline(
        tuple([segment.length for segment in segments]),
        tuple([segment.curvature if isinstance(segment, Arc) else 0.0 for segment in segments]),
        tuple([turn for _, turns in chains for turn in turns]),
        tuple(np.cumsum([len(chain) for chain, _ in chains]).tolist()),
    )


def outline_of_rings(rings: Iterable[_Floats]) -> Outline:
    """Return what closed rings of points (n x 2 each, not closed) are as a cutter goes round them."""
    lengths, turns, ends = [], [], [0]
    for ring in rings:
        x, y = (np.roll(ring, -1, axis=0) - ring).T
        bx, by = np.roll(x, 1), np.roll(y, 1)
        lengths += np.hypot(x, y).tolist()
        turns += np.arctan2(bx * y - by * x, bx * x + by * y).tolist()
        ends.append(ends[-1] + len(ring))
    return Outline(tuple(lengths), (0.0,) * len(lengths), tuple(turns), tuple(ends[1:]))


def short_share(outline: Outline, limit_mm: float) -> float:
    """Return the share of the segments, 0 to 1, that are shorter than `limit_mm`; of none, 0."""
    lengths = np.array(outline.lengths)
    return float(np.mean(lengths < limit_mm)) if len(lengths) else 0.0


def slow_share(outline: Outline, slowing: Slowing) -> float:
    """Return the share of the length, 0 to 1, on narrow arcs or near sharp joints; of none, 0."""
    slow = math.fsum(_slow(outline, first, last, slowing) for first, last in pairwise((0, *outline.ends)))
    return slow / outline.length if outline.length else 0.0


def _slow(outline: Outline, first: int, last: int, slowing: Slowing) -> float:
    """The slow length of one chain: what is in reach of its sharp joints, and the rest of its narrow arcs."""
    lengths = np.array(outline.lengths[first:last])
    narrow = np.abs(outline.curvatures[first:last]) * slowing.radius_mm > 1
    sharp = np.abs(outline.turns[first:last]) > math.radians(slowing.turn_deg)
    after, before = _distances(lengths, sharp), _distances(lengths[::-1], np.roll(sharp, -1)[::-1])[::-1]
    # along a segment, what is past the reach of the last sharp joint and short of that of the next
    free = lengths - np.clip(slowing.reach_mm - after, 0, lengths) - np.clip(slowing.reach_mm - before, 0, lengths)
    return float(np.where(narrow, lengths, lengths - np.clip(free, 0, None)).sum())


def _distances(lengths: _Floats, sharp: NDArray[np.bool_]) -> _Floats:
    """How far the start of each segment of a closed chain is past the last sharp joint; of none, infinite."""
    if not sharp.any():
        return np.full(len(lengths), np.inf)
    along = np.concatenate([[0.0], np.cumsum(lengths)])
    at = np.where(sharp, along[:-1], -np.inf)
    last = np.maximum.accumulate(at)
    return np.asarray(along[:-1] - np.where(np.isfinite(last), last, at[sharp][-1] - along[-1]))
