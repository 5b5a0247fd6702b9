"""Arcs from joint to joint along spans, moved until they are tangent and as near to the points as can be.

A joint is a point in the plane; an arc between two joints has half its sweep besides. Each step solves for the moves
of all joints and half sweeps at once: least squares of the points' right offsets, to first order, where the headings
of arcs that meet are to be the same (C. F. Gauss's and J.-L. Lagrange's methods; any textbook of optimisation). An arc
whose ends move while its sweep stays is turned and scaled with its chord; one whose half sweep grows by da moves a
point of it, p, by |p - start| |p - end| / |chord| da to the right, the metric of bipolar coordinates.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from parts.artwork.fitting.curves import Curves, Ints
from parts.artwork.fitting.offsets import Floats, edge_feet, right_offsets

_SLIDE = 30.0
# Moving a joint along the path by its arc's length costs as much as so many points that are off by the tolerance.
_STILL = 1e-3
# Beside a point's weight of 1, what keeps a joint in place that no point holds.
_FURTHEST = 0.35
# Of the shorter arc, how far a joint moves in a step at most.
_MOST_HALF_SWEEP = 1.7
# Just over a half turn: further round, a point's ray from the centre says little.
_WRONG = 1e3

_UPPER, _LOWER = np.triu_indices(6)
_SQUARE = np.zeros((6, 6), dtype=np.int64)
_SQUARE[_UPPER, _LOWER] = _SQUARE[_LOWER, _UPPER] = np.arange(len(_UPPER))
# Of a symmetric matrix of 6 by 6 the columns to multiply, and where each product stands.


@dataclass
class Chain:
    """Joints and arcs of some spans; a joint of a span that is open has a number for each end.

    `at` (n x 2) are the joints, `along` where they are along the curves; `half` is half of each arc's sweep, in
    radians, `start` and `end` its joints, `span` its span. `before` and `after` are the arcs at each joint, -1 for
    none, and `heading` stands in for one, NaN where none is asked for. `order` is a numbering in which neighbours are
    near. At `sharp` joints arcs needn't be tangent; arcs that don't `bend` stay lines.
    """

    at: Floats
    along: Floats
    half: Floats
    start: Ints
    end: Ints
    span: Ints
    joint_span: Ints
    moves: NDArray[np.bool_]
    before: Ints
    after: Ints
    heading: Floats
    order: Ints
    sharp: NDArray[np.bool_]
    bends: NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Shape:
    """What follows of a chain: chords, their lengths and angles, left normals at the starts, curvatures."""

    chord: Floats
    length: Floats
    angle: Floats
    normal: Floats
    curvature: Floats


def chain(curves: Curves, spans: Sequence[int], joints: Sequence[Ints]) -> Chain:
    """Return the chain along some spans with joints at points, by their numbers."""
    rows: list[tuple[NDArray[np.generic], ...]] = []
    joint = arc = 0
    for k, row in zip(spans, joints, strict=True):
        span, arcs = curves.spans[k], len(row) - 1
        count = arcs if span.closed else arcs + 1
        number = np.arange(count)
        heading = np.full(count, np.nan)
        moves = np.ones(count, dtype=bool)
        order = np.minimum(2 * number, 2 * (count - number) - 1) if span.closed else number
        before, after = arc + (number - 1) % arcs, arc + number
        if not span.closed:
            moves[[0, -1]] = False
            before[0] = after[-1] = -1
            heading[0] = np.nan if span.leaving is None else span.leaving
            heading[-1] = np.nan if span.arriving is None else span.arriving
        rows.append((
            curves.points[row[:count]], curves.along[row[:count]], np.diff(curves.heading[row]) / 2,
            joint + np.arange(arcs), joint + (np.arange(arcs) + 1) % count, np.full(arcs, k),
            np.full(count, k), moves, before, after, heading, joint + order,
        ))  # fmt: skip
        joint, arc = joint + count, arc + arcs
    columns: list[Any] = [np.concatenate(column) for column in zip(*rows, strict=True)]
    columns += [np.zeros(joint, dtype=bool), np.ones(arc, dtype=bool)]
    return Chain(*columns)


def shape(chain: Chain) -> Shape:
    """Return what follows of the joints and half sweeps."""
    chord = chain.at[chain.end] - chain.at[chain.start]
    length = np.hypot(chord[:, 0], chord[:, 1])
    angle = np.arctan2(chord[:, 1], chord[:, 0])
    heading = angle - chain.half
    normal = np.column_stack([-np.sin(heading), np.cos(heading)])
    return Shape(chord, length, angle, normal, 2 * np.sin(chain.half) / length)


def kinks(chain: Chain, angle: Floats) -> Floats:
    """Return how far the headings at each joint differ, in radians; 0 where none is asked for."""
    out = np.where(chain.after >= 0, angle[chain.after] - chain.half[chain.after], chain.heading)
    into = np.where(chain.before >= 0, angle[chain.before] + chain.half[chain.before], chain.heading)
    kink = (out - into + np.pi) % (2 * np.pi) - np.pi
    return np.asarray(np.where(np.isnan(kink) | chain.sharp, 0.0, kink))


def fit_step(curves: Curves, chain: Chain, tolerance: float) -> None:
    """Move joints and half sweeps once: nearer to the points, and to arcs that are tangent."""
    now = shape(chain)
    blocks = np.zeros((len(chain.half), 6, 6))
    blocks[:, :5, :5] = _slides(chain, now, tolerance)
    index, arc, first = _points_of(curves, chain)
    rows = _jacobian(curves.points[index], chain, now, arc) * curves.weight[index, None]
    if len(first):
        sums = np.add.reduceat(rows[:, _UPPER] * rows[:, _LOWER], first, axis=0)
        blocks[arc[first]] += sums[:, _SQUARE]
    _move(curves, chain, now, blocks)


def joining_step(curves: Curves, chain: Chain) -> None:
    """Move joints and half sweeps as little as makes the arcs tangent, to first order."""
    now = shape(chain)
    blocks = np.zeros((len(chain.half), 6, 6))
    blocks[:, range(4), range(4)] = 1.0
    blocks[:, 4, 4] = (now.length / 4) ** 2
    _move(curves, chain, now, blocks)


def deviations(curves: Curves, chain: Chain, weight: Floats | None = None) -> Floats:
    """Return for each arc how far at most it and its points are apart, in mm; huge where it goes astray.

    Where weights are given, points of weight 0 have no say.

    Along rays from its centre every place of the arc has one of the points' edges, and of an edge the furthest are its
    ends and the foot of the centre on it; so no point of either is further from the other.
    """
    now = shape(chain)
    begin, finish = _stretches(curves, chain)
    low = np.searchsorted(curves.along, begin + 1e-7, side="right") - 1
    high = np.searchsorted(curves.along, finish - 1e-7)
    low, high = (np.clip(x, curves.first[chain.span], curves.last[chain.span]) for x in (low, high))
    astray = (high <= low) | (begin >= finish) | (np.abs(chain.half) > _MOST_HALF_SWEEP)
    count = np.maximum(high - low, 0) + 1
    index, arc, first = _rows(low, count)
    points = curves.points[index]
    follows = curves.points[np.minimum(index + 1, high[arc].clip(low[arc]))]
    place = chain.at[chain.start][arc], now.normal[arc], now.curvature[arc]
    feet = edge_feet(points, follows, *place)
    off = np.maximum(np.abs(right_offsets(points, *place)), np.abs(right_offsets(feet, *place)))
    off = np.maximum(off, _past_the_ends(chain, now, points, arc) * ((index > low[arc]) & (index < high[arc])))
    if weight is not None:
        off = off * ((weight[index] > 0) & (weight[np.minimum(index + 1, len(weight) - 1)] > 0))
    return np.where(astray, _WRONG, np.nan_to_num(np.maximum.reduceat(off, first), nan=_WRONG))


def _past_the_ends(chain: Chain, now: Shape, points: Floats, arc: Ints) -> Floats:
    """How far points are from that end of their arc which they lie beyond; 0 for the others."""
    start, end = points - chain.at[chain.start][arc], points - chain.at[chain.end][arc]
    leaving, arriving = now.angle - chain.half, now.angle + chain.half
    behind = start[:, 0] * np.cos(leaving)[arc] + start[:, 1] * np.sin(leaving)[arc] < 0
    beyond = end[:, 0] * np.cos(arriving)[arc] + end[:, 1] * np.sin(arriving)[arc] > 0
    nearest = np.minimum(np.hypot(start[:, 0], start[:, 1]), np.hypot(end[:, 0], end[:, 1]))
    return np.where(behind | beyond, nearest, 0.0)


def _stretches(curves: Curves, chain: Chain) -> tuple[Floats, Floats]:
    """From where to where along the curves each arc goes."""
    begin, finish = chain.along[chain.start], chain.along[chain.end]
    last = curves.closed[chain.span] & (chain.end <= chain.start)
    return begin, np.where(last, finish + curves.length[chain.span], finish)


def _rows(low: Ints, count: Ints) -> tuple[Ints, Ints, Ints]:
    """Numbers from `low` on, `count` of them for each arc: them, their arcs, and where each arc's begin."""
    first = np.cumsum(count) - count
    arc = np.repeat(np.arange(len(count)), count)
    return low[arc] + np.arange(len(arc)) - first[arc], arc, first[count > 0]


def _points_of(curves: Curves, chain: Chain) -> tuple[Ints, Ints, Ints]:
    """The points along each arc."""
    begin, finish = _stretches(curves, chain)
    low, high = np.searchsorted(curves.along, begin - 1e-9), np.searchsorted(curves.along, finish - 1e-9)
    return _rows(low, np.maximum(high - low, 0))


def _jacobian(points: Floats, chain: Chain, now: Shape, arc: Ints) -> Floats:
    """Of each point the right offset, last, and how it changes with x, y of both ends and with half the sweep."""
    start, curvature, chord = chain.at[chain.start][arc], now.curvature[arc], now.chord[arc]
    normal = now.normal[arc]
    away, square = points - start, now.length[arc] ** 2
    nx, ny = normal[:, 0] - curvature * away[:, 0], normal[:, 1] - curvature * away[:, 1]
    long = np.hypot(nx, ny)
    nx, ny = nx / long, ny / long
    # turned and scaled with the chord, a point moves by the share g, a complex number, of what the end moves by
    g = (away[:, 0] * chord[:, 0] + away[:, 1] * chord[:, 1]) / square
    h = (away[:, 1] * chord[:, 0] - away[:, 0] * chord[:, 1]) / square
    ex, ey = nx * g + ny * h, ny * g - nx * h
    left = np.hypot(away[:, 0], away[:, 1])
    right = np.hypot(away[:, 0] - chord[:, 0], away[:, 1] - chord[:, 1])
    offset = right_offsets(points, start, normal, curvature)
    return np.column_stack([nx - ex, ny - ey, ex, ey, -left * right / now.length[arc], offset])


def _slides(chain: Chain, now: Shape, tolerance: float) -> Floats:
    """What keeps the ends of each arc from sliding far along it, and all of it in place."""
    held = np.zeros((len(chain.half), 5, 5))
    held[:, range(4), range(4)] = _STILL / 2
    held[:, 4, 4] = _STILL * (now.length / 4) ** 2
    cost = _SLIDE * (tolerance / now.length) ** 2
    tangent = np.column_stack([now.normal[:, 1], -now.normal[:, 0]])
    ends = tangent[:, :, None] * tangent[:, None, :] * cost[:, None, None]
    held[:, :2, :2] += ends
    held[:, 2:4, 2:4] += ends
    return held


_BAND = 11
_TALL = 3 * _BAND + 1
# Rows that LAPACK's dgbsv wants: the band, and room above it.
_LOCAL = np.array([0, 1, 4, 5, 2])


def _move(curves: Curves, chain: Chain, now: Shape, blocks: Floats) -> None:
    """Solve for the moves, and make them; no joint further than a share of its shorter arc.

    Each joint has four unknowns: x, y, half the sweep of the arc after it, and the multiplier of its kink. An arc joins
    those of both its joints, so that the matrix is a band.
    """
    count, arcs = len(chain.at), len(chain.half)
    kink = kinks(chain, now.angle)
    asked = ((chain.before >= 0) | ~np.isnan(chain.heading)) & ((chain.after >= 0) | ~np.isnan(chain.heading))
    asked &= ~chain.sharp
    free = np.column_stack([chain.moves, chain.moves, (chain.after >= 0) & chain.bends[chain.after], asked])
    local = np.zeros((arcs, 8, 8))
    local[:, _LOCAL[:, None], _LOCAL] = blocks[:, :5, :5]
    side = np.column_stack([-now.chord[:, 1], now.chord[:, 0]]) / now.length[:, None] ** 2
    for row, sign in ((3, 1.0), (7, -1.0)):  # the kink at the start has this arc's heading added, that at the end taken
        local[:, row, 0:2] = local[:, 0:2, row] = -sign * side
        local[:, row, 4:6] = local[:, 4:6, row] = sign * side
        local[:, row, 2] = local[:, 2, row] = -1.0
    if not np.isfinite(local.sum() + kink.sum()):  # one that can't be reckoned with would spoil all
        astray = chain.span[~np.isfinite(local.sum(axis=(1, 2)) + kink[chain.start])]
        free &= ~np.isin(chain.joint_span, astray)[:, None]
        local[np.isin(chain.span, astray)] = 0.0
    number = 4 * chain.order[:, None] + np.arange(4)
    mine = np.column_stack([number[chain.start], number[chain.end]])
    is_free = np.column_stack([free[chain.start], free[chain.end]])
    local *= is_free[:, :, None] & is_free[:, None, :]
    rows, columns = np.broadcast_to(mine[:, :, None], local.shape), np.broadcast_to(mine[:, None, :], local.shape)
    size = 4 * count
    place = columns * _TALL + 2 * _BAND + rows - columns
    band = np.asarray(np.bincount(place.ravel(), local.ravel(), minlength=_TALL * size), dtype=np.float64)
    band = band.reshape(size, _TALL)
    band[number.ravel(), 2 * _BAND] += np.where(free, [[0.0, 0.0, 0.0, -1e-12]], 1.0).ravel()
    pull = np.zeros((arcs, 8))
    pull[:, _LOCAL] = blocks[:, :5, 5]
    pulled = np.bincount(mine.ravel(), np.where(is_free, pull, 0.0).ravel(), minlength=size)
    right = -np.asarray(pulled, dtype=np.float64)
    right[number[:, 3]] = np.where(free[:, 3], -kink, 0.0)
    ends = np.flatnonzero(np.diff(chain.joint_span, append=-1)) + 1
    solved = _solved(band, right, (4 * ends).tolist())[number]
    _take(curves, chain, now, np.where(free, solved, 0.0))


def _solved(band: Floats, right: Floats, ends: Sequence[int]) -> Floats:
    """The unknowns of each span, which end at `ends`: none has to do with another's.

    One by one, as a solver rounds differently by what stands beside: so a span is fitted the same in any company.
    """
    from scipy.linalg.lapack import dgbsv

    solved, first = np.zeros(len(right)), 0
    for last in ends:
        *_, found, failed = dgbsv(_BAND, _BAND, band[first:last].T, right[first:last], overwrite_ab=True)
        if not failed:
            solved[first:last] = found
        first = last
    return solved


def _take(curves: Curves, chain: Chain, now: Shape, moves: Floats) -> None:
    """Make the moves of each span, all in the same share where one of them is too far; with corners, those about it."""
    short = np.full(len(chain.at), np.inf)
    np.minimum.at(short, chain.start, now.length)
    np.minimum.at(short, chain.end, now.length)
    far = np.hypot(moves[:, 0], moves[:, 1]) / (_FURTHEST * short)
    worst = np.zeros(len(curves.spans))
    np.maximum.at(worst, chain.joint_span, far)
    most = worst[chain.joint_span]
    if chain.sharp.any():  # beyond corners, what is far away needn't wait
        most = far.copy()
        np.maximum.at(most, chain.start, far[chain.end])
        np.maximum.at(most, chain.end, far[chain.start])
    share = 1 / np.maximum(most, 1.0)
    chain.at = chain.at + moves[:, :2] * share[:, None]
    has = chain.after >= 0
    half = chain.half.copy()
    half[chain.after[has]] += moves[has, 2] * share[has]
    chain.half = half
    _find_along(curves, chain)


def _find_along(curves: Curves, chain: Chain) -> None:
    """Find where along the curves the normals through the joints that moved meet them; at corners, what halves them."""
    now = shape(chain)
    joint, into = chain.start, chain.before[chain.start]
    out = now.angle - chain.half
    other = np.where(into >= 0, (now.angle + chain.half)[into], out)
    hx, hy = np.cos(out) + np.cos(other), np.sin(out) + np.sin(other)
    long = np.maximum(np.hypot(hx, hy), 1e-9)
    x, y = curves.points.T
    limit = _FURTHEST * now.length
    for _ in range(3):
        along = chain.along[joint]
        beyond = (chain.at[joint, 0] - np.interp(along, curves.along, x)) * hx
        beyond += (chain.at[joint, 1] - np.interp(along, curves.along, y)) * hy
        chain.along[joint] = along + np.where(chain.moves[joint], np.clip(beyond / long, -limit, limit), 0.0)
