"""Rings of noisy points, contours of a picture, as the lines, arcs and corners that they seem to have been.

What the blur of a picture does to a shape is taken back: circles shrink by a little, corners are rounded, so that these
are put where both sides meet. Points near a corner have no say.
"""

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from parts.artwork.fitting.chain import Chain, chain, deviations, fit_step, joining_step, kinks, shape
from parts.artwork.fitting.curves import Curves, Ints, curves
from parts.artwork.fitting.merging import ROUNDED, merged
from parts.artwork.fitting.offsets import Floats
from parts.artwork.fitting.pieces import pieces_between
from parts.artwork.fitting.rings import DROPPED_MM, Span
from parts.artwork.fitting.rough import rough_arcs
from parts.artwork.fitting.spans import Arcs
from parts.geometry import Vertex

_SIDE = 10
# Points at steps of the blur, that tell the heading on one side of a corner.
_NEAR_SIDE, _NEAR_LEAST = 5, math.radians(50)
# So many where corners are near each other, and how far it has to turn by them.
_LEAST_POINTS = 12
# Of a ring that corners are told on.
_MORE_DEG = 8.0
# By how much more than a drawn corner a noisy one has to turn to be told.
_TANGENT_RAD = math.radians(15)
_JOINED_RAD = 1e-6
_FITS, _JOINS, _TURNS, _TANGENT_TURNS = 7, 2, 7, 3
_RIGHT, _POINTED = 1.0, 4.0
# In blurs, how far a right corner may stand out, by its rounding and by what its sides are off; and any, however sharp.
_FURTHEST = 8.0
# In tolerances, how far off a corner may be.
_ABOUT = 12
# Points before and behind a joint, that it is measured from.
_STRAIGHT = 1e-9
_LEAST_HALVED = 3
# Points along a piece that is halved.
_FLAT = 0.5
# Of the tolerance, what an arc may bow that was meant to be a line.
_MERGED = 0.75
# Of the tolerance, how far points may be from a piece that takes the place of two; where it meets its neighbours, they
# will be further.


def noisy_arcs(ring: Floats, corner_deg: float, tolerance: float, blur: float) -> Arcs | None:
    """Return a closed ring (n x 2) as lines and arcs, or None where none are found to do.

    They are within the tolerance of the ring, but at corners, which stand out by what the blur has rounded off. Arcs
    and lines that meet at less than 15 degrees are tangent.
    """
    points, near, aside = resampled(ring, blur)
    if len(points) < _LEAST_POINTS:
        return None
    corner = noisy_corners(points, math.radians(corner_deg + _MORE_DEG))
    weight = _weights(len(points), corner)
    joints, bends = pieces_between(points / blur, corner, weight, tolerance / blur)
    joints, bends = merged(points / blur, joints, bends, corner, weight, _MERGED * tolerance / blur)
    if len(joints) < 3:
        return None
    corner = np.intersect1d(corner, joints % len(points))
    plain = curves([Span(np.vstack([points, points[:1]]), None, None, closed=True)])
    way = _Way(joints, bends, np.isin(joints[:-1] % len(points), corner))
    turn = 0
    while True:
        weight = _weights(len(points), corner)
        batch = replace(plain, weight=weight[np.arange(len(plain.points)) % len(points)])
        within = tolerance - float(aside[weight[near] > 0].max(initial=0.0))
        made = _refined(batch, way, within)
        with np.errstate(all="ignore"):
            bad = deviations(batch, made, batch.weight) > within
        odd = _astray(made, batch, tolerance, blur) & np.isin(way.joints[:-1] % len(points), corner)
        if turn == _TURNS or not (bad.any() or odd.any()):
            return _arcs(_straightened(made, batch, way, within), batch, within, float(aside.max()))
        corner = np.setdiff1d(corner, way.joints[:-1][odd] % len(points))
        way = _halved(way, bad, free=turn >= _TANGENT_TURNS)
        turn += 1


@dataclass(frozen=True, slots=True)
class _Way:
    """Which points a chain goes through, the first again at the end; which of its pieces bend; where it may kink."""

    joints: Ints
    bends: NDArray[np.bool_]
    sharp: NDArray[np.bool_]


def resampled(ring: Floats, step: float) -> tuple[Floats, Ints, Floats]:
    """Return points at even steps, of about this length, along a closed ring.

    And of each of its own points the one of these that is before it, and how far it is from their chord.
    """
    around = np.vstack([ring, ring[:1]])
    edge = np.diff(around, axis=0)
    along = np.concatenate([[0.0], np.cumsum(np.hypot(edge[:, 0], edge[:, 1]))])
    places = np.linspace(0, along[-1], max(round(along[-1] / step), 3), endpoint=False)
    points = np.column_stack([np.interp(places, along, around[:, i]) for i in (0, 1)])
    first = np.searchsorted(places, along[:-1], side="right") - 1
    chord, away = (np.roll(points, -1, axis=0) - points)[first], ring - points[first]
    share = np.clip((chord * away).sum(axis=1) / np.maximum((chord * chord).sum(axis=1), 1e-300), 0, 1)
    off = away - share[:, None] * chord
    return points, first.astype(np.int64), np.hypot(off[:, 0], off[:, 1])


def noisy_corners(points: Floats, least: float) -> Ints:
    """Return at which points, evenly spaced round a ring, it turns by more than `least` radians at once.

    The heading on either side is that of the parabola of least squares through the points there, as they come up to it.
    Where corners are near each other only few points are on one side; by these, it has to turn further.
    """
    side = min(_SIDE, len(points) // 2 - 2)
    far, near = _turns(points, side), _turns(points, min(_NEAR_SIDE, side))
    found = np.flatnonzero(_peaks(far, _SIDE // 2) & (far > least))
    more = np.flatnonzero(_peaks(near, _NEAR_SIDE // 2) & (near > _NEAR_LEAST))
    apart = np.abs(more[:, None] - found[None, :])
    apart = np.minimum(apart, len(points) - apart).min(axis=1, initial=len(points))
    return np.union1d(found, more[apart > _NEAR_SIDE // 2])


def _turns(points: Floats, side: int) -> Floats:
    """How far the heading differs between so many points behind and before each, in radians."""
    steps = np.arange(2, 2 + side)
    slope = np.linalg.pinv(np.vander(steps, 3, increasing=True))[1]
    weights = list(zip(slope, steps.tolist(), strict=True))
    ax, ay = (-sum(w * np.roll(axis, k) for w, k in weights) for axis in points.T)
    bx, by = (sum(w * np.roll(axis, -k) for w, k in weights) for axis in points.T)
    return np.asarray(np.abs(np.arctan2(ax * by - ay * bx, ax * bx + ay * by)))


def _peaks(turn: Floats, reach: int) -> NDArray[np.bool_]:
    """Where none turns further within reach."""
    return np.asarray(turn >= np.max([np.roll(turn, k) for k in range(-reach, reach + 1)], axis=0))


def _weights(count: int, corner: Ints) -> Floats:
    """1, or 0 for points that a corner's rounding has moved."""
    weight = np.ones(count)
    for k in range(-ROUNDED, ROUNDED + 1):
        weight[(corner + k) % count] = 0
    return weight


def _refined(batch: Curves, way: _Way, tolerance: float) -> Chain:
    """The chain of least squares; tangent at the joints where it nearly is, but for corners."""
    made = chain(batch, [0], [way.joints])
    made.sharp, made.bends = np.ones_like(way.sharp), way.bends
    made.half = np.where(way.bends, made.half, 0.0)
    with np.errstate(all="ignore"):
        for _ in range(2):
            fit_step(batch, made, tolerance)
        made.sharp = np.zeros_like(way.sharp)
        kinked = np.abs(kinks(made, shape(made).angle)) > _TANGENT_RAD
        made.sharp = way.sharp | kinked | ~(way.bends | np.roll(way.bends, 1))
        for _ in range(_FITS):
            fit_step(batch, made, tolerance)
        for _ in range(_JOINS):
            joining_step(batch, made)
    return made


def _straightened(made: Chain, batch: Curves, way: _Way, tolerance: float) -> Chain:
    """The chain with arcs that bow by next to nothing made lines, where that does."""
    bow = np.abs(shape(made).length * np.tan(made.half / 2)) / 2
    flat = way.bends & (bow < _FLAT * tolerance)
    if not flat.any():
        return made
    tried = _refined(batch, replace(way, bends=way.bends & ~flat), tolerance)
    with np.errstate(all="ignore"):
        before, after = (deviations(batch, each, batch.weight) > tolerance for each in (made, tried))
    return made if (after & ~before).any() else tried


def _halved(way: _Way, bad: NDArray[np.bool_], *, free: bool) -> _Way:
    """A way with one more joint along each piece that is too far off, both halves of which may bend.

    Where that didn't do for long, they needn't be tangent to their neighbours either, and a piece too short for a joint
    becomes part of the next.
    """
    long = np.diff(way.joints) > _LEAST_HALVED
    where = np.flatnonzero(bad & long)
    middle = (way.joints[where] + way.joints[where + 1]) // 2
    sharp = way.sharp | (free & (bad | np.roll(bad, 1)))
    gone = np.flatnonzero(bad & ~long & ~np.roll(way.sharp, -1) & free)
    gone = gone[(gone + 1 < len(bad)) & (np.diff(gone, prepend=-2) > 1)] + 1
    joints, bends = np.delete(way.joints, gone), np.delete(way.bends | bad, gone)
    at = np.searchsorted(joints, middle)
    sharp = np.insert(np.delete(sharp, gone), at, False)
    return _Way(np.insert(joints, at, middle), np.insert(bends, at - 1, True), sharp)


def _astray(made: Chain, batch: Curves, tolerance: float, blur: float) -> NDArray[np.bool_]:
    """Tell of each joint whether it is further from the ring than a corner is that turns so far and that was blurred.

    A right angle is rounded off by 0.77 blurs along its bisector, where the blur leaves half of the brightness.
    """
    out = _out(made, batch)
    angle = shape(made).angle
    turn = (angle - made.half)[made.after] - (angle + made.half)[made.before]
    turned = np.abs((turn + np.pi) % (2 * np.pi) - np.pi)
    rounded = np.minimum(_RIGHT * np.tan(turned / 2), _POINTED) * blur
    return np.asarray(out > tolerance + rounded)


def _out(made: Chain, batch: Curves) -> Floats:
    """How far each joint is from the points' edges near where it is along them."""
    ring = batch.spans[0].points[:-1]
    at = np.searchsorted(batch.along, made.along)[:, None] + np.arange(-_ABOUT, _ABOUT)
    start, end = ring[at % len(ring)], ring[(at + 1) % len(ring)]
    edge, away = end - start, made.at[:, None, :] - start
    share = np.clip((edge * away).sum(axis=2) / np.maximum((edge * edge).sum(axis=2), 1e-300), 0, 1)
    off = away - share[..., None] * edge
    return np.asarray(np.hypot(off[..., 0], off[..., 1]).min(axis=1))


def _arcs(made: Chain, batch: Curves, tolerance: float, aside: float) -> Arcs | None:
    """The vertices, where arcs are tangent as asked; pieces that are still too far off go from point to point."""
    with np.errstate(all="ignore"):
        bent = np.abs(kinks(made, shape(made).angle))
        off, held = deviations(batch, made), deviations(batch, made, batch.weight)
    out = _out(made, batch)
    stray = (bent > _JOINED_RAD) | ((out > tolerance) & ~made.sharp) | (out > _FURTHEST * tolerance)
    loose = (held > tolerance) | (off > _FURTHEST * tolerance) | stray[made.start] | stray[made.end]
    bulges = np.where(np.abs(made.half) > _STRAIGHT, np.tan(made.half / 2), 0.0)
    vertices: list[Vertex] = []
    for i, row in enumerate(np.column_stack([made.at[made.start], bulges]).tolist()):
        vertices += _rough(made, batch, i, stray, tolerance) if loose[i] else [tuple(row)]
    worst = max(float(off[~loose].max(initial=0.0)), float(out[~stray].max(initial=0.0)), tolerance * bool(loose.any()))
    return Arcs(vertices, worst + aside)


def _rough(made: Chain, batch: Curves, arc: int, stray: NDArray[np.bool_], tolerance: float) -> list[Vertex]:
    """One piece from point to point, also at its ends where they went astray."""
    joints, last = (made.start[arc], made.end[arc]), int(batch.last[0])
    begin, finish = made.along[joints[0]], made.along[joints[1]]
    finish += float(batch.length[0]) if finish <= begin and arc == len(made.half) - 1 else 0.0
    low = int(np.searchsorted(batch.along, begin + 1e-7, side="right"))
    high = int(np.searchsorted(batch.along, finish - 1e-7))
    start, end = (
        batch.points[min(k, last)] if stray[j] else made.at[j] for j, k in zip(joints, (low, high), strict=True)
    )
    points = np.vstack([start, batch.points[min(low, last) : min(high, last + 1)], end])
    step = np.asarray(np.diff(points, axis=0))
    fresh = np.concatenate([[True], np.hypot(step[:, 0], step[:, 1]) > DROPPED_MM])
    return rough_arcs(Span(points[fresh], None, None), tolerance / 2).vertices if fresh.sum() > 1 else []
