"""A ring of points: which are corners, which edges were drawn straight, and the curved spans between them.

corner    a point that stays as it is, at which the outline turns by more than is smoothed, or two straight edges meet
straight  an edge too long to be a chord of a curve; it stays a line with its own ends
span      points that stand for a curve between two places that stay, or all the way round
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from parts.artwork.fitting.offsets import Floats
from parts.artwork.metal import FLAT_MM

DROPPED_MM = 1e-3
"""Points as near as this to the one before are left out: far under any tolerance, and slips of overlays, not shape."""
_COLLINEAR_MM = 1e-6
_CORNER_REACH = 4.0
# In tolerances, how far from a corner either way it still has to turn: by 20 degrees, that is not within the tolerance.
_LONGER = 3.0
# So many times longer than its neighbours, an edge isn't one of a row of chords.


@dataclass(frozen=True, slots=True)
class Span:
    """Points (n x 2) of a curve, both ends among them; and the headings at its ends, where straight edges give them."""

    points: Floats
    leaving: float | None
    arriving: float | None
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Straight:
    """An edge that stays as it is."""

    start: Floats
    end: Floats


def cleaned(ring: Floats) -> Floats:
    """Return the points of a closed ring (n x 2) without those that add nothing: repeated ones, ones on a line.

    No point is further than DROPPED_MM from what is left.
    """
    edge = _after(ring) - ring
    length = np.hypot(edge[:, 0], edge[:, 1])
    kept = ring
    if length.min() <= DROPPED_MM:
        cell = np.floor((np.cumsum(length) - length) / DROPPED_MM)
        kept = ring[np.concatenate([[True], np.diff(cell) > 0])]
        if np.hypot(*(kept[0] - kept[-1])) <= DROPPED_MM:
            kept = kept[:-1]
    if len(kept) < 3:
        return ring
    while True:
        before, after = _before(kept), _after(kept)
        (ax, ay), (bx, by) = (kept - before).T, (after - before).T
        off = np.abs(ax * by - ay * bx) / np.maximum(np.hypot(bx, by), DROPPED_MM)
        on_line = (off < _COLLINEAR_MM) & (ax * bx + ay * by > 0)
        on_line[1:] &= ~on_line[:-1]  # of two that follow each other, only one at a time
        if not on_line.any() or len(kept) - on_line.sum() < 3:
            return kept
        kept = kept[~on_line]


def turns(ring: Floats) -> Floats:
    """Return the turn at each point of a closed ring, radians, positive to the left."""
    bx, by = (_after(ring) - ring).T
    ax, ay = _before(bx), _before(by)
    return np.asarray(np.arctan2(ax * by - ay * bx, ax * bx + ay * by))


def corners(ring: Floats, turned: Floats, corner_rad: float, tolerance: float) -> NDArray[np.bool_]:
    """Return at which points of a closed ring a corner is.

    It turns there by more than asked; and still does from a little before it to a little after, or what looks like a
    corner is only rough.
    """
    found = np.abs(turned) > corner_rad
    sharp = np.flatnonzero(found)
    if not len(sharp):
        return found
    edge = _after(ring) - ring
    along = np.concatenate([[0.0], np.cumsum(np.hypot(edge[:, 0], edge[:, 1]))])
    around = np.vstack([ring, ring[:1]])

    def at(place: Floats) -> Floats:
        return np.column_stack([np.interp(place, along, around[:, i], period=along[-1]) for i in (0, 1)])

    reach = _CORNER_REACH * tolerance
    (ax, ay), (bx, by) = (ring[sharp] - at(along[sharp] - reach)).T, (at(along[sharp] + reach) - ring[sharp]).T
    found[sharp] = np.abs(np.arctan2(ax * by - ay * bx, ax * bx + ay * by)) > corner_rad
    return found


def straight_edges(
    ring: Floats, turned: Floats, corner: NDArray[np.bool_], tolerance: float, flat: float = FLAT_MM
) -> NDArray[np.bool_]:
    """Return which edges, by their starts, were drawn straight.

    A chord of an arc that turns by t at its ends bows by an eighth of its length times t. More than the tolerance
    isn't smoothed away; more than chords of curves bow is a line where it is much longer than its neighbours.
    """
    length = np.hypot(*(_after(ring) - ring).T)
    turn = np.abs(turned)
    free, long_start, long_end = corner, length > _LONGER * _before(length), length > _LONGER * _after(length)
    bow_start = np.where(free, np.inf, length * turn / 8)
    bow_end = np.where(_after(free), np.inf, length * _after(turn) / 8)
    alone = (long_start | free) & (long_end | _after(free))
    sharper = alone & (np.maximum(bow_start, bow_end) > flat / 2)
    return np.asarray((np.minimum(bow_start, bow_end) > tolerance) | sharper)


def split(ring: Floats, corner_rad: float, tolerance: float, flat: float = FLAT_MM) -> list[Span | Straight]:
    """Return a cleaned ring as spans and straight edges, each starting where the one before it ends."""
    n, turned = len(ring), turns(ring)
    corner = corners(ring, turned, corner_rad, tolerance)
    straight = straight_edges(ring, turned, corner, tolerance, flat)
    stays = np.flatnonzero(corner | straight | _before(straight))
    if not len(stays):
        return [Span(np.vstack([ring, ring[:1]]), None, None, closed=True)]
    edge = _after(ring) - ring
    heading = np.arctan2(edge[:, 1], edge[:, 0])
    found: list[Span | Straight] = []
    for first, last in zip(stays.tolist(), [*stays[1:].tolist(), int(stays[0]) + n], strict=True):
        if straight[first]:
            found.append(Straight(ring[first], ring[last % n]))
        else:
            leaving = None if corner[first] else float(heading[first - 1])
            arriving = None if corner[last % n] else float(heading[last % n])
            found.append(Span(ring[np.arange(first, last + 1) % n], leaving, arriving))
    return found


def _after(ring: NDArray[Any]) -> NDArray[Any]:
    """What follows each of a closed ring; numpy's roll does as much in five times the time."""
    return np.concatenate([ring[1:], ring[:1]])


def _before(ring: NDArray[Any]) -> NDArray[Any]:
    """What is before each of a closed ring."""
    return np.concatenate([ring[-1:], ring[:-1]])
