"""Which segments of a large boundary may hold a neck between them: a search over many at once.

`parts.geometry.width` decides exactly, a pair of segments at a time; this module only has to leave no
pair out, and to leave few in. Arcs become *facets*, chords within FACET_MM of them; long ones are cut, so that
no facet is much longer than segments are on average. Facets that follow
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

from parts.geometry.cells import Floats, Indices, near_boxes, spread
from parts.geometry.loop import Loop
from parts.geometry.segment import Arc
from parts.tolerance import FACET_MM, PARALLEL_RAD, SAME_POINT_MM

Mask: TypeAlias = NDArray[np.bool_]

# A bundle turns by less than this in all, so that bundles side by side on one edge don't face each other.
_BUNDLE_TURN = math.pi / 6
# Radians: what is further from parallel, or from straight on, is so beyond all rounding.
_NEARLY = 1e-6
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
    corner = _starts_at_corner(facets)
    for i, j in _batches(facets, limit):
        a, b = (facets.owner[k] for k in _may_hold_neck(facets, corner, i, j, limit))
        keys = np.unique(np.minimum(a, b) * (1 << 32) + np.maximum(a, b))
        found.update(zip((keys >> 32).tolist(), (keys & 0xFFFFFFFF).tolist(), strict=True))
    return sorted(found)


def facets_of(loops: Sequence[Loop], limit: float) -> Facets:
    """Return the facets of all segments of the loops."""
    segments = [segment for loop in loops for segment in loop.segments]
    sizes = np.array([len(loop.segments) for loop in loops])
    start = np.array([segment.start for segment in segments])
    end = start[_followers(sizes)]
    bulge = np.array([segment.bulge if isinstance(segment, Arc) else 0.0 for segment in segments])
    way, sweep = end - start, 4 * np.arctan(bulge)
    chord = np.hypot(*way.T)
    bent = bulge != 0
    ratio = np.where(bent, (1 + bulge**2) / np.where(bent, 4 * np.abs(bulge), 1.0), 0.0)
    radius, length = ratio * chord, np.where(bent, ratio * np.abs(sweep), 1.0) * chord
    # a chord that spans the angle t is r (1 - cos(t / 2)) from its arc
    span = 2 * np.arccos(np.clip(1 - FACET_MM / np.where(bent, radius, 1.0), -1.0, 1.0))
    longest = max(limit, length.sum() / len(segments)) / 2
    count = np.ceil(np.maximum(np.where(bent, np.abs(sweep) / span, 1.0), length / longest)).astype(np.int64)
    owner = np.repeat(np.arange(len(segments)), count)
    share = (np.arange(len(owner)) - np.repeat(np.cumsum(count) - count, count)) / count[owner]
    point = start[owner] + _along(way[owner], sweep[owner] / 2, share)
    following = _followers(np.add.reduceat(count, np.cumsum(sizes) - sizes))
    before = np.empty_like(following)
    before[following] = np.arange(len(following))
    end = point[following]
    length = np.hypot(*(end - point).T)
    slack = np.abs(sweep / count)[owner]
    return Facets(point, end, (end - point) / length[:, None], length, owner, before, following, slack)


def _followers(sizes: Indices) -> Indices:
    """For rows of these sizes, each a ring, the index after each index."""
    following = np.arange(1, sizes.sum() + 1)
    following[np.cumsum(sizes) - 1] = np.cumsum(sizes) - sizes
    return following


def _along(way: Floats, half: Floats, share: Floats) -> Floats:
    """From the start of segments to a share of their length: `way` to their ends, `half` the sweep. As `Arc.at`."""
    sine = np.sin(half)
    scale = np.where(half != 0, np.sin(share * half) / np.where(half != 0, sine, 1.0), share)
    turn = (share - 1) * half
    c, s = scale * np.cos(turn), scale * np.sin(turn)
    return np.stack([c * way[:, 0] - s * way[:, 1], s * way[:, 0] + c * way[:, 1]], axis=1)


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
    of, within = spread(count[a] * count[b])
    wide = count[b][of]
    return first[a][of] + within // wide, first[b][of] + within % wide


def _may_hold_neck(facets: Facets, corner: Mask, i: Indices, j: Indices, limit: float) -> tuple[Indices, Indices]:
    """Of facet pairs those that may hold a neck."""
    apart = np.hypot(*(facets.start[i] - facets.start[j]).T)
    near = (apart <= limit + 2 * FACET_MM + facets.length[i] + facets.length[j]) & (facets.owner[i] != facets.owner[j])
    i, j = i[near], j[near]
    p, q, at_i, at_j = _closest(facets, i, j)
    chord = q - p
    apart = np.hypot(*chord.T)
    with np.errstate(invalid="ignore", divide="ignore"):
        u = chord / apart[:, None]
        lean = 2 * FACET_MM / apart  # how far the arcs' chord may be off
    kept = apart <= 2 * FACET_MM + SAME_POINT_MM
    kept |= _stands(facets, i, at_i, u, lean) & _stands(facets, j, at_j, -u, lean)
    kept &= apart <= limit + 2 * FACET_MM
    i, j, at_i, at_j = i[kept], j[kept], at_i[kept], at_j[kept]
    told = _told_of_here(facets, corner, (i, at_i), (j, at_j))
    return i[told], j[told]


def _told_of_here(facets: Facets, corner: Mask, one: tuple[Indices, Floats], other: tuple[Indices, Floats]) -> Mask:
    """Whether a chord between two facets isn't found with a neighbour of theirs as well; told of lines alone.

    Between two straight pieces that aren't parallel, the chord that no move along them shortens is the one
    between their closest points, and it has an end of one of them: a corner, which counts as the start of what
    comes after it.
    """
    (i, at_i), (j, at_j) = one, other
    a, b = facets.heading[i], facets.heading[j]
    bent = (facets.slack[i] > 0) | (facets.slack[j] > 0)
    parallel = np.abs(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]) <= _NEARLY
    from_i = corner[i] & (at_i * facets.length[i] <= SAME_POINT_MM) & ((1 - at_j) * facets.length[j] > SAME_POINT_MM)
    from_j = corner[j] & (at_j * facets.length[j] <= SAME_POINT_MM) & ((1 - at_i) * facets.length[i] > SAME_POINT_MM)
    told: Mask = bent | parallel | from_i | from_j
    return told


def _starts_at_corner(facets: Facets) -> Mask:
    """Whether a facet is the first of its segment, after a turn to the right or straight back."""
    turns = _turns(facets)
    first: Mask = facets.owner[facets.before] != facets.owner
    return first & ((turns <= _NEARLY) | (turns >= np.pi - _NEARLY))


def _stands(facets: Facets, i: Indices, at: Floats, u: Floats, lean: Floats) -> Mask:
    """Whether a chord leaving facet i at `at` goes into the region and grows past the facet's ends.

    Past an end isn't asked where the chord is square to the facet: as near another place of it may do.
    """
    before, after = facets.before[i], facets.after[i]
    slack = facets.slack[i] + np.maximum(facets.slack[before], facets.slack[after]) + PARALLEL_RAD
    slack += np.where(slack > PARALLEL_RAD, lean, 0.0)
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
