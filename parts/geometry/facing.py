"""Which segments of a large boundary may hold a neck between them: a search over many at once.

`parts.geometry.width` decides exactly, a pair of segments at a time; this module only has to leave no
pair out, and to leave few in. Arcs become *facets*, chords within FACET_MM of them. Facets that follow
each other without turning much are a *bundle*; two bundles are looked into only where they come near
and somewhere face each other. Of two facets the closest points are taken, and the pair is kept when the
chord between them leaves into the region and gets no shorter past the facets' ends, within the angle
that a facet may be off its arc.
"""

import itertools
import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from parts.geometry.loop import Loop
from parts.geometry.segment import Arc
from parts.geometry.view import flattened, near_boxes
from parts.tolerance import FACET_MM, PARALLEL_RAD, SAME_POINT_MM

Floats: TypeAlias = NDArray[np.float64]
Indices: TypeAlias = NDArray[np.int64]
Mask: TypeAlias = NDArray[np.bool_]

# A bundle turns by less than this in all, so that bundles side by side on one edge don't face each other.
_BUNDLE_TURN = math.pi / 6
# Facet pairs looked at in one go: keeps memory near 100 MB.
_BATCH = 1_000_000


class Facets(NamedTuple):
    """All facets of a boundary, in order: ends, unit heading, owner segment, and neighbours by index.

    `slack` is how far, in radians, the heading may be off the true one; `turn` the turn into the facet.
    """

    start: Floats
    end: Floats
    heading: Floats
    length: Floats
    owner: Indices
    before: Indices
    after: Indices
    slack: Floats


def facing_pairs(facets: Facets, limit: float) -> list[tuple[int, int]]:
    """Return the pairs of segments (i < j, counted through all loops) that may hold a neck under `limit` mm.

    The region is on the left of every loop.
    """
    found: set[tuple[int, int]] = set()
    for i, j in _batches(facets, limit):
        kept = _may_hold_neck(facets, i, j, limit)
        a, b = facets.owner[i[kept]], facets.owner[j[kept]]
        pairs = np.unique(np.stack([np.minimum(a, b), np.maximum(a, b)], axis=1), axis=0)
        found.update((int(p), int(q)) for p, q in pairs if p != q)
    return sorted(found)


def segment_boxes(facets: Facets) -> Floats:
    """Return the box of each segment (n x 4), a facet's error larger than it has to be."""
    first = np.flatnonzero(np.diff(facets.owner, prepend=-1))
    low = np.minimum.reduceat(np.minimum(facets.start, facets.end), first)
    high = np.maximum.reduceat(np.maximum(facets.start, facets.end), first)
    return np.hstack([low - FACET_MM, high + FACET_MM])


def facets_of(loops: Sequence[Loop]) -> Facets:
    """Return the facets of all segments of the loops."""
    points: list[tuple[float, float]] = []
    owner: list[int] = []
    slack: list[float] = []
    after: list[Indices] = []
    index = 0
    for loop in loops:
        first = len(points)
        for segment in loop.segments:
            if isinstance(segment, Arc):
                along = flattened(segment, FACET_MM)
                points += along
                owner += [index] * len(along)
                slack += [abs(segment.sweep) / len(along)] * len(along)
            else:
                points.append(segment.start)
                owner.append(index)
                slack.append(0.0)
            index += 1
        after.append(np.roll(np.arange(first, len(points)), -1))
    start, following = np.array(points, dtype=float), np.concatenate(after)
    before = np.empty_like(following)
    before[following] = np.arange(len(following))
    end = start[following]
    length = np.hypot(*(end - start).T)
    heading = (end - start) / length[:, None]
    return Facets(start, end, heading, length, np.array(owner), before, following, np.array(slack))


def _batches(facets: Facets, limit: float) -> Iterator[tuple[Indices, Indices]]:
    """Yield arrays of facet pairs (i, j) whose bundles come within `limit` and somewhere face each other."""
    first = _bundle_starts(facets, limit)
    count = np.diff(np.append(first, len(facets.owner)))
    corners = np.minimum(facets.start, facets.end), np.maximum(facets.start, facets.end)
    boxes = np.hstack([np.minimum.reduceat(corners[0], first), np.maximum.reduceat(corners[1], first)])
    a, b = near_boxes(boxes, limit + 2 * FACET_MM)
    a, b = _facing(facets, first, count, a, b)
    sizes = count[a] * count[b]
    starts = np.flatnonzero(np.diff(np.cumsum(sizes) // _BATCH, prepend=-1))
    for low, high in itertools.pairwise([*starts, len(sizes)]):
        yield _every_pair(first, count, a[low:high], b[low:high])


def _bundle_starts(facets: Facets, limit: float) -> Indices:
    """Index of the first facet of each bundle: in one loop, of little turn, at most half the limit long."""
    turn = np.abs(_turns(facets))
    steps = np.stack([np.cumsum(turn) // (_BUNDLE_TURN / 2), np.cumsum(facets.length) // (limit / 2)])
    fresh = np.any(np.diff(steps, axis=1) != 0, axis=0)
    consecutive = facets.before[1:] == np.arange(len(turn) - 1)
    return np.append(0, np.flatnonzero(fresh | ~consecutive) + 1)


def _turns(facets: Facets) -> Floats:
    """The turn into each facet from the one before, in radians."""
    u, v = facets.heading[facets.before], facets.heading
    turns: Floats = np.arctan2(u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0], np.sum(u * v, axis=1))
    return turns


def _facing(facets: Facets, first: Indices, count: Indices, a: Indices, b: Indices) -> tuple[Indices, Indices]:
    """The pairs of bundles some normals of which can be opposite, corners at their ends included."""
    turns = _turns(facets)
    total = np.cumsum(turns)
    last = first + count - 1
    # headings along a bundle, relative to its first: the running sum of turns, with the turn out at its end
    low = np.minimum.reduceat(total, first) - total[first]
    high = np.maximum.reduceat(total, first) - total[first]
    way_in, way_out = turns[first], turns[facets.after[last]] + (total[last] - total[first])
    low = np.minimum(low, np.minimum(-way_in, way_out))
    high = np.maximum(high, np.maximum(-way_in, way_out))
    base = np.arctan2(facets.heading[first, 1], facets.heading[first, 0])
    middle, half = base + (low + high) / 2, (high - low) / 2
    slack = np.maximum.reduceat(facets.slack, first)
    off = np.abs((middle[a] - middle[b]) % (2 * np.pi) - np.pi)
    keep = off <= half[a] + half[b] + slack[a] + slack[b] + PARALLEL_RAD
    return a[keep], b[keep]


def _every_pair(first: Indices, count: Indices, a: Indices, b: Indices) -> tuple[Indices, Indices]:
    """Every facet of bundle a[k] with every facet of bundle b[k], for all k."""
    sizes = count[a] * count[b]
    of = np.repeat(np.arange(len(a)), sizes)
    within = np.arange(len(of)) - np.repeat(np.cumsum(sizes) - sizes, sizes)
    wide = count[b][of]
    return first[a][of] + within // wide, first[b][of] + within % wide


def _may_hold_neck(facets: Facets, i: Indices, j: Indices, limit: float) -> Mask:
    p, q, at_i, at_j = _closest(facets, i, j)
    chord = q - p
    apart = np.hypot(*chord.T)
    kept: Mask = (apart <= limit + 2 * FACET_MM) & (i != j)
    with np.errstate(invalid="ignore", divide="ignore"):
        u = chord / apart[:, None]
    touching = apart <= 2 * FACET_MM + SAME_POINT_MM
    kept &= touching | (_stands(facets, i, at_i, u) & _stands(facets, j, at_j, -u))
    return kept


def _stands(facets: Facets, i: Indices, at: Floats, u: Floats) -> Mask:
    """Whether a chord leaving facet i at `at` goes into the region and grows past the facet's ends.

    Past an end isn't asked where the chord is square to the facet: as near another place of it may do.
    """
    before, after = facets.before[i], facets.after[i]
    slack = facets.slack[i] + np.maximum(facets.slack[before], facets.slack[after]) + PARALLEL_RAD
    heading = facets.heading[i]
    left = heading[:, 0] * u[:, 1] - heading[:, 1] * u[:, 0]
    length = facets.length[i]
    near_start, near_end = at * length <= SAME_POINT_MM, (1 - at) * length <= SAME_POINT_MM
    grows_back = np.sum(facets.heading[before] * u, axis=1) >= -slack
    grows_on = np.sum(facets.heading[after] * u, axis=1) <= slack
    inward: Mask = (left > -slack) | near_start | near_end
    square = np.abs(np.sum(heading * u, axis=1)) <= slack
    inward &= square | ((grows_back | ~near_start) & (grows_on | ~near_end))
    return inward


def _closest(facets: Facets, i: Indices, j: Indices) -> tuple[Floats, Floats, Floats, Floats]:
    """Closest points of facet pairs and how far along they are: the best of four feet of ends.

    Two segments that don't cross are closest at an end of one of them; where they cross, the loops are at
    fault and the width means nothing.
    """
    a0, a1, b0, b1 = facets.start[i], facets.end[i], facets.start[j], facets.end[j]
    s0, s1 = _foot(a0, b0, b1), _foot(a1, b0, b1)
    t0, t1 = _foot(b0, a0, a1), _foot(b1, a0, a1)
    zero, one = np.zeros(len(i)), np.ones(len(i))
    at_i, at_j = np.stack([zero, one, t0, t1]), np.stack([s0, s1, zero, one])
    p = a0 + at_i[..., None] * (a1 - a0)
    q = b0 + at_j[..., None] * (b1 - b0)
    best = np.argmin(np.sum((q - p) ** 2, axis=2), axis=0)
    pick = best, np.arange(len(i))
    return p[pick], q[pick], at_i[pick], at_j[pick]


def _foot(p: Floats, a: Floats, b: Floats) -> Floats:
    """How far along a to b the point nearest to p is, 0 to 1."""
    along = b - a
    fraction: Floats = np.sum((p - a) * along, axis=1) / np.sum(along * along, axis=1)
    return fraction.clip(0.0, 1.0)
