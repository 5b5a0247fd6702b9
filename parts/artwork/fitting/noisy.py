"""Rings of noisy points, contours of a picture, as the lines, arcs and corners that they seem to have been.

What the blur of a picture does to a shape is taken back: circles shrink by a little, corners are rounded, so that these
are put where both sides meet. Points near a corner have no say.
"""

import math
from dataclasses import replace

import numpy as np
import shapely
from numpy.typing import NDArray

from parts.artwork.fitting.chain import Chain, chain, deviations, fit_step, joining_step, kinks, shape
from parts.artwork.fitting.curves import Curves, Ints, curves
from parts.artwork.fitting.offsets import Floats
from parts.artwork.fitting.pieces import pieces_between
from parts.artwork.fitting.rings import Span
from parts.artwork.fitting.spans import Arcs

_SIDE = 10
# Points at steps of the blur, that tell the heading on one side of a corner.
_BLURRED = 2
# In blurs, how far from a corner its rounding reaches.
_MORE_DEG = 8.0
# By how much more than a drawn corner a noisy one has to turn to be told.
_TANGENT_RAD = math.radians(15)
_JOINED_RAD = 1e-6
_FITS, _JOINS, _HALVINGS = 8, 3, 5
_AT_CORNER = 2.0
# In blurs, how far a corner may stand out from its rounded contour, as one of 45 degrees does.


def noisy_arcs(ring: Floats, corner_deg: float, tolerance: float, blur: float) -> Arcs | None:
    """Return a closed ring (n x 2) as lines and arcs, or None where none are found to do.

    They are within the tolerance of the ring, but at corners, which stand out by what the blur has rounded off. Arcs
    and lines that meet at less than 15 degrees are tangent.
    """
    points, aside = resampled(ring, blur)
    tolerance -= aside
    if len(points) < 2 * _SIDE:
        return None
    corner = noisy_corners(points, math.radians(corner_deg + _MORE_DEG))
    weight = _weights(len(points), corner)
    joints, bends = pieces_between(points / blur, corner, weight)
    batch = curves([Span(np.vstack([points, points[:1]]), None, None, closed=True)])
    batch = replace(batch, weight=weight[np.arange(len(batch.points)) % len(points)])
    sharp = np.isin(joints[:-1] % len(points), corner)
    for _ in range(_HALVINGS + 1):
        if len(joints) < 3:
            return None
        made = _refined(batch, joints, sharp, bends, tolerance)
        with np.errstate(all="ignore"):
            bad = deviations(batch, made, batch.weight) > tolerance
        if not bad.any():
            return _arcs(made, batch, tolerance, blur, aside)
        joints, sharp, bends = _halved(joints, sharp, bends, bad)
    return None


def resampled(ring: Floats, step: float) -> tuple[Floats, float]:
    """Return points at even steps, of about this length, along a closed ring; and how far it is at most from them."""
    around = np.vstack([ring, ring[:1]])
    edge = np.diff(around, axis=0)
    along = np.concatenate([[0.0], np.cumsum(np.hypot(edge[:, 0], edge[:, 1]))])
    places = np.linspace(0, along[-1], max(round(along[-1] / step), 3), endpoint=False)
    points = np.column_stack([np.interp(places, along, around[:, i]) for i in (0, 1)])
    first = np.searchsorted(places, along[:-1], side="right") - 1
    chord, away = (np.roll(points, -1, axis=0) - points)[first], ring - points[first]
    share = np.clip((chord * away).sum(axis=1) / np.maximum((chord * chord).sum(axis=1), 1e-300), 0, 1)
    return points, float(np.hypot(*(away - share[:, None] * chord).T).max())


def noisy_corners(points: Floats, least: float) -> Ints:
    """Return at which points, evenly spaced round a ring, it turns by more than `least` radians at once.

    The heading on either side is that of the parabola of least squares through the points there, as they come up to it.
    """
    steps = np.arange(2, 2 + _SIDE)
    slope = np.linalg.pinv(np.vander(steps, 3, increasing=True))[1]
    ahead = sum(w * np.roll(points, -k, axis=0) for w, k in zip(slope, steps.tolist(), strict=True))
    back = -sum(w * np.roll(points, k, axis=0) for w, k in zip(slope, steps.tolist(), strict=True))
    (ax, ay), (bx, by) = np.asarray(back).T, np.asarray(ahead).T
    turn = np.abs(np.arctan2(ax * by - ay * bx, ax * bx + ay * by))
    near = np.max([np.roll(turn, k) for k in range(-_SIDE // 2, _SIDE // 2 + 1)], axis=0)
    return np.flatnonzero((turn > least) & (turn >= near))


def _weights(count: int, corner: Ints) -> Floats:
    """1, or 0 for points that a corner's rounding has moved."""
    weight = np.ones(count)
    for k in range(-_BLURRED, _BLURRED + 1):
        weight[(corner + k) % count] = 0
    return weight


def _refined(
    batch: Curves, joints: Ints, sharp: NDArray[np.bool_], bends: NDArray[np.bool_], tolerance: float
) -> Chain:
    """The chain of least squares; tangent at the joints where it nearly is, but for corners."""
    made = chain(batch, [0], [joints])
    made.sharp, made.bends = np.ones_like(sharp), bends
    made.half = np.where(bends, made.half, 0.0)
    with np.errstate(all="ignore"):
        for _ in range(2):
            fit_step(batch, made, tolerance)
        made.sharp = np.zeros_like(sharp)
        kinked = np.abs(kinks(made, shape(made).angle)) > _TANGENT_RAD
        made.sharp = sharp | kinked | ~(bends | np.roll(bends, 1))
        for _ in range(_FITS):
            fit_step(batch, made, tolerance)
        for _ in range(_JOINS):
            joining_step(batch, made)
    return made


def _halved(
    joints: Ints, sharp: NDArray[np.bool_], bends: NDArray[np.bool_], bad: NDArray[np.bool_]
) -> tuple[Ints, NDArray[np.bool_], NDArray[np.bool_]]:
    """The joints with one more between those of each arc that is too far off; both halves may bend."""
    where = np.flatnonzero(bad & (np.diff(joints) > 3))
    middle = (joints[where] + joints[where + 1]) // 2
    bends = bends | bad
    return (
        np.insert(joints, where + 1, middle),
        np.insert(sharp, where + 1, False),
        np.insert(bends, where, True),
    )


def _arcs(made: Chain, batch: Curves, tolerance: float, blur: float, aside: float) -> Arcs | None:
    """The vertices, where arcs are tangent as asked and corners don't stand out too far."""
    with np.errstate(all="ignore"):
        bent = np.abs(kinks(made, shape(made).angle)).max()
        off = float(deviations(batch, made).max())
    out = float(shapely.distance(shapely.LinearRing(batch.spans[0].points), shapely.points(made.at)).max())
    if bent > _JOINED_RAD or max(off, out) > max(tolerance, _AT_CORNER * blur):
        return None
    rows = np.column_stack([made.at[made.start], np.tan(made.half / 2)]).tolist()
    return Arcs([(x, y, bulge) for x, y, bulge in rows], max(off, out) + aside)
