"""Rings of noisy points, contours of a picture, as the lines, arcs and corners that they seem to have been.

What the blur of a picture does to a shape is taken back: circles shrink by a little, corners are rounded, so that these
are put where both sides meet. Points near a corner have no say.
"""

import math
from collections.abc import Sequence
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
from parts.geometry import Arc, Line, Point, Segment, Vertex

_SIDE = 10
# Points at steps of the blur, that tell the heading on one side of a corner.
_NEAR_SIDE, _NEAR_LEAST = 5, math.radians(50)
# So many where corners are near each other, and how far it has to turn by them.
_BLURRED = 2
# In blurs, how far from a corner its rounding reaches.
_MORE_DEG = 8.0
# By how much more than a drawn corner a noisy one has to turn to be told.
_TANGENT_RAD = math.radians(15)
_JOINED_RAD = 1e-6
_FITS, _JOINS, _HALVINGS = 7, 2, 5
_AT_CORNER, _POINTED = 2.5, 2.0
# In blurs, how far points near a corner may be off, and how far it may stand out; further, as of a sharp point, nobody
# could tell where it was.
_CUTS = 25
_STRAIGHT = 1e-9


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
    Where corners are near each other only few points are on one side; by these, it has to turn further.
    """
    far, near = _turns(points, _SIDE), _turns(points, _NEAR_SIDE)
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
    """The vertices, where arcs are tangent as asked; corners that stand out too far, as of a point, are cut off."""
    with np.errstate(all="ignore"):
        bent = np.abs(kinks(made, shape(made).angle)).max()
        off = float(deviations(batch, made).max())
    ring = shapely.LinearRing(batch.spans[0].points)
    out = shapely.distance(ring, shapely.points(made.at))
    if bent > _JOINED_RAD or off > max(tolerance, _AT_CORNER * blur):
        return None
    segments = [
        Arc(start, end, bulge) if abs(bulge) > _STRAIGHT else Line(start, end)
        for start, end, bulge in zip(
            map(tuple, made.at[made.start].tolist()),
            map(tuple, made.at[made.end].tolist()),
            np.tan(made.half / 2).tolist(),
            strict=True,
        )
    ]
    sharp = np.flatnonzero(out > max(tolerance, _POINTED * blur))
    worst = max(off, float(np.delete(out, sharp).max(initial=0.0)))
    for i in sharp[::-1].tolist():
        segments, far = _cut_off(segments, i, ring, blur)
        worst = max(worst, far)
    return Arcs(_vertices(segments), worst + aside)


def _vertices(segments: Sequence[Segment]) -> list[Vertex]:
    return [(*segment.start, segment.bulge if isinstance(segment, Arc) else 0.0) for segment in segments]


def _cut_off(
    segments: list[Segment], corner: int, ring: shapely.LinearRing, blur: float
) -> tuple[list[Segment], float]:
    """Segments of a closed chain with the corner at the start of one cut off straight, where it is near enough.

    And how far at most they and the ring are apart there.
    """
    before, after = segments[corner - 1], segments[corner]
    cuts = np.linspace(0, 0.45 * min(before.length, after.length), _CUTS)[1:]
    ends = [(before.at(1 - cut / before.length), after.at(cut / after.length)) for cut in cuts.tolist()]
    out = shapely.distance(ring, shapely.points([((p[0] + q[0]) / 2, (p[1] + q[1]) / 2) for p, q in ends]))
    best = int((out <= _POINTED * blur).argmax()) if out.min() <= _POINTED * blur else int(out.argmin())
    (p, q), cut = ends[best], float(cuts[best])
    made = list(segments)
    made[corner - 1] = _part(before, before.start, p, 1 - cut / before.length)
    made[corner] = _part(after, q, after.end, 1 - cut / after.length)
    made.insert(corner, Line(p, q))
    chain = [made[corner - 1], made[corner], made[corner + 1]]
    return made, _apart(chain, before.end, ring, cut, blur / 8)


def _part(segment: Segment, start: Point, end: Point, share: float) -> Segment:
    """A share of a segment, between two of its points."""
    if isinstance(segment, Line):
        return Line(start, end)
    return Arc(start, end, math.tan(segment.sweep * share / 4))


def _apart(chain: Sequence[Segment], corner: Point, ring: shapely.LinearRing, reach: float, step: float) -> float:
    """How far at most a corner's cut and the ring near it are apart: at places, and what may be between them."""
    near = shapely.intersection(ring, shapely.Point(corner).buffer(reach))
    line = shapely.LineString([p for s in chain for p in _places(s, max(math.ceil(s.length / step), 1))])
    cut = _places(chain[1], max(math.ceil(chain[1].length / step), 1))
    there = shapely.distance(ring, shapely.points([*cut, chain[1].end])).max()
    back = shapely.distance(line, shapely.points(shapely.get_coordinates(shapely.segmentize(near, step)))).max(
        initial=0
    )
    return float(max(there, back)) + step / 2


def _places(segment: Segment, count: int) -> list[Point]:
    return [segment.at(i / count) for i in range(count)]
