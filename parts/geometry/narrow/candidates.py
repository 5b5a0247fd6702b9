"""The broad phase of the search for necks: which segments of a large boundary may hold one between them.

`parts.geometry.narrow.width` decides exactly, a pair of segments at a time; this module only has to leave no
pair out, and to leave few in. Arcs become *facets*, chords within FACET_MM of them; long ones are cut, so that
no facet is much longer than segments are on average. Facets that follow
each other without turning much are a *bundle*; two bundles are looked into only where they come near
and somewhere face each other. Of two facets the closest points are taken, and the pair is kept when the
chord between them leaves into the region and gets no shorter past the facets' ends, within the angle
that a facet may be off its arc.
"""

import itertools
import math
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from parts.geometry.search.grid import Floats, Indices, near_boxes, spread
from parts.geometry.segments import Mask, Points, Segments, cross, dot
from parts.tolerance import FACET_MM, PARALLEL_RAD, SAME_POINT_MM

# A bundle turns by less than this in all, so that bundles side by side on one edge don't face each other.
_BUNDLE_TURN = math.pi / 2
# Radians: what is further from parallel, or from straight on, is so beyond all rounding.
_NEARLY = 1e-6
# Distances from a centre further away than this are off by more than LIMIT_SLACK_MM allows.
_FAR_MM = 1e6
# Facet pairs looked at in one go: what they take stays near the processor.
_BATCH = 100_000


class Facets(NamedTuple):
    """All facets of a boundary, in order: ends, unit heading, owner segment, and neighbours by index.

    `slack` is how far, in radians, the heading may be off the true one; `turn` the turn into the facet.
    """

    start: Points
    end: Points
    heading: Points
    length: Floats
    owner: Indices
    before: Indices
    after: Indices
    slack: Floats


def facing_pairs(facets: Facets, limit: float) -> tuple[Indices, Indices]:
    """Return index arrays of the pairs of segments (i < j) that may have a neck under `limit` mm between them.

    The region is on the left of every loop.
    """
    found = [np.empty(0, dtype=np.int64)]
    corner = _starts_at_corner(facets)
    for i, j in _batches(facets, limit):
        a, b = (facets.owner[k] for k in _may_hold_neck(facets, corner, i, j, limit))
        found.append(np.minimum(a, b) * (1 << 32) + np.maximum(a, b))
    keys = np.sort(np.concatenate(found))
    keys = keys[np.diff(keys, prepend=-1) != 0]
    return keys >> 32, keys & 0xFFFFFFFF


def facets_of(segments: Segments, sizes: Indices, limit: float) -> Facets:
    """Return the facets of the segments of loops, which have as many segments each as `sizes` tells."""
    sweep, radius, length = segments.sweep, segments.radius, segments.length
    bent = segments.bulge != 0
    # a chord that spans the angle t is r (1 - cos(t / 2)) from its arc
    span = 2 * np.arccos(np.clip(1 - FACET_MM / np.where(bent, radius, 1.0), -1.0, 1.0))
    longest = max(limit, length.sum() / len(length)) / 2
    count = np.ceil(np.maximum(np.where(bent, np.abs(sweep) / span, 1.0), length / longest)).astype(np.int64)
    owner = np.repeat(np.arange(len(length)), count)
    share = (np.arange(len(owner)) - np.repeat(np.cumsum(count) - count, count)) / count[owner]
    point = segments.at(owner, share)
    following = followers(np.add.reduceat(count, np.cumsum(sizes) - sizes))
    before = np.empty_like(following)
    before[following] = np.arange(len(following))
    end = point[following]
    length = np.abs(end - point)
    slack = np.abs(sweep / count)[owner]
    return Facets(point, end, (end - point) / length, length, owner, before, following, slack)


def followers(sizes: Indices) -> Indices:
    """Return, for rows of these sizes, each a ring, the index after each index."""
    following = np.arange(1, sizes.sum() + 1)
    following[np.cumsum(sizes) - 1] = np.cumsum(sizes) - sizes
    return following


def _batches(facets: Facets, limit: float) -> Iterator[tuple[Indices, Indices]]:
    """Yield arrays of facet pairs (i, j) whose bundles come within `limit` and somewhere face each other."""
    first = _bundle_starts(facets, limit)
    count = np.diff(np.append(first, len(facets.owner)))
    xs, ys = (facets.start.real, facets.end.real), (facets.start.imag, facets.end.imag)
    low = [np.minimum.reduceat(np.minimum(*ends), first) for ends in (xs, ys)]
    high = [np.maximum.reduceat(np.maximum(*ends), first) for ends in (xs, ys)]
    boxes = np.stack([*low, *high], axis=1)
    middle, half = _headings(facets, first, count)
    facing = [np.empty((2, 0), dtype=np.int64)]
    for a, b in near_boxes(boxes, limit + 2 * FACET_MM):
        off = np.abs((middle[a] - middle[b]) % (2 * np.pi) - np.pi)
        facing.append(np.stack([a, b])[:, off <= half[a] + half[b] + PARALLEL_RAD])
    a, b = np.concatenate(facing, axis=1)
    sizes = count[a] * count[b]
    starts = np.flatnonzero(np.diff(np.cumsum(sizes) // _BATCH, prepend=-1))
    for low, high in itertools.pairwise([*starts, len(sizes)]):
        yield _every_pair(first, count, a[low:high], b[low:high])


def _bundle_starts(facets: Facets, limit: float) -> Indices:
    """Index of the first facet of each bundle: in one loop, of little turn, at most the limit long."""
    turn = np.abs(_turns(facets))
    steps = np.stack([np.cumsum(turn) // (_BUNDLE_TURN / 2), np.cumsum(facets.length) // limit])
    fresh = np.any(np.diff(steps, axis=1) != 0, axis=0)
    consecutive = facets.before[1:] == np.arange(len(turn) - 1)
    return np.append(0, np.flatnonzero(fresh | ~consecutive) + 1)


def _turns(facets: Facets) -> Floats:
    """The turn into each facet from the one before, in radians."""
    u, v = facets.heading[facets.before], facets.heading
    turns: Floats = np.arctan2(cross(u, v), dot(u, v))
    return turns


def _headings(facets: Facets, first: Indices, count: Indices) -> tuple[Floats, Floats]:
    """The headings there can be along bundles, corners at their ends included: the middle one, and how far from it.

    Two bundles face each other where some of their headings can be opposite.
    """
    turns = _turns(facets)
    total = np.cumsum(turns)
    last = first + count - 1
    # headings along a bundle, relative to its first: the running sum of turns, with the turn out at its end
    low = np.minimum.reduceat(total, first) - total[first]
    high = np.maximum.reduceat(total, first) - total[first]
    way_in, way_out = turns[first], turns[facets.after[last]] + (total[last] - total[first])
    low = np.minimum(low, np.minimum(-way_in, way_out))
    high = np.maximum(high, np.maximum(-way_in, way_out))
    base = np.angle(facets.heading[first])
    slack = np.maximum.reduceat(facets.slack, first)
    slack = np.maximum(slack, np.maximum(facets.slack[facets.before[first]], facets.slack[facets.after[last]]))
    return base + (low + high) / 2, (high - low) / 2 + slack


def _every_pair(first: Indices, count: Indices, a: Indices, b: Indices) -> tuple[Indices, Indices]:
    """Every facet of bundle a[k] with every facet of bundle b[k], for all k."""
    of, within = spread(count[a] * count[b])
    wide = count[b][of]
    return first[a][of] + within // wide, first[b][of] + within % wide


def _may_hold_neck(facets: Facets, corner: Mask, i: Indices, j: Indices, limit: float) -> tuple[Indices, Indices]:
    """Of facet pairs those that may hold a neck."""
    apart = np.abs(facets.start[i] - facets.start[j])
    near = (apart <= limit + 2 * FACET_MM + facets.length[i] + facets.length[j]) & (facets.owner[i] != facets.owner[j])
    i, j = i[near], j[near]
    p, q, at_i, at_j = _closest(facets, i, j)
    chord = q - p
    apart = np.abs(chord)
    with np.errstate(invalid="ignore", divide="ignore"):
        u = chord / apart
        # how far the chord between the arcs may be off: it stands square on these, not on the facets
        off = facets.slack[i] + facets.slack[j]
        off += np.where(off > 0, 2 * FACET_MM / apart, 0.0)
    kept = apart <= 2 * FACET_MM + SAME_POINT_MM
    kept |= _stands(facets, i, at_i, u, off) & _stands(facets, j, at_j, -u, off)
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
    parallel = np.abs(cross(a, b)) <= _NEARLY
    from_i = corner[i] & (at_i * facets.length[i] <= SAME_POINT_MM) & ((1 - at_j) * facets.length[j] > SAME_POINT_MM)
    from_j = corner[j] & (at_j * facets.length[j] <= SAME_POINT_MM) & ((1 - at_i) * facets.length[i] > SAME_POINT_MM)
    told: Mask = bent | parallel | from_i | from_j
    return told


def _starts_at_corner(facets: Facets) -> Mask:
    """Whether a facet is the first of its segment, after a turn to the right or straight back."""
    turns = _turns(facets)
    first: Mask = facets.owner[facets.before] != facets.owner
    return first & ((turns <= _NEARLY) | (turns >= np.pi - _NEARLY))


def _stands(facets: Facets, i: Indices, at: Floats, u: Points, off: Floats) -> Mask:
    """Whether a chord leaving facet i at `at` goes into the region and grows past the facet's ends.

    `off` is how far, in radians, its direction `u` may be off the true one. Past an end isn't asked where the chord is
    square to the facet: as near another place of it may do.
    """
    before, after = facets.before[i], facets.after[i]
    slack = np.maximum(facets.slack[before], facets.slack[after]) + off + PARALLEL_RAD
    heading = facets.heading[i]
    left = cross(heading, u)
    length = facets.length[i]
    near_start, near_end = at * length <= SAME_POINT_MM, (1 - at) * length <= SAME_POINT_MM
    grows_back = dot(facets.heading[before], u) >= -slack
    grows_on = dot(facets.heading[after], u) <= slack
    inward: Mask = (left > -slack) | near_start | near_end
    square = np.abs(dot(heading, u)) <= slack
    inward &= square | ((grows_back | ~near_start) & (grows_on | ~near_end))
    return inward


def _closest(facets: Facets, i: Indices, j: Indices) -> tuple[Points, Points, Floats, Floats]:
    """Closest points of facet pairs and how far along they are: the best of four projections of ends.

    Two segments that don't cross are closest at an end of one of them; where they cross, the loops are at
    fault and the width means nothing.
    """
    a0, a, b0, b = facets.start[i], facets.end[i] - facets.start[i], facets.start[j], facets.end[j] - facets.start[j]
    at_i, at_j = np.empty((4, len(i))), np.empty((4, len(i)))
    at_i[0], at_i[1], at_i[2], at_i[3] = 0.0, 1.0, _foot(b0 - a0, a), _foot(b0 + b - a0, a)
    at_j[0], at_j[1], at_j[2], at_j[3] = _foot(a0 - b0, b), _foot(a0 + a - b0, b), 0.0, 1.0
    chord = (b0 + at_j * b) - (a0 + at_i * a)
    pick = np.argmin(dot(chord, chord), axis=0), np.arange(len(i))
    return a0 + at_i[pick] * a, b0 + at_j[pick] * b, at_i[pick], at_j[pick]


def _foot(to: Points, along: Points) -> Floats:
    """The projection of a vector onto another, as a fraction of that, kept from 0 to 1."""
    fraction: Floats = dot(to, along) / dot(along, along)
    return fraction.clip(0.0, 1.0)
