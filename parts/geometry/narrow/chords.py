"""The locally shortest chords across a region, which no small move of their ends shortens, of many pairs at once.

An end of a chord can move along the boundary two ways, each a *branch*. The chord is minimal when, for
its length d and each branch of either end,
- it gets no shorter along the branch: at a smooth point it stands square on the boundary, at a corner
  that points into the region it leans forward against what comes in and backward against what goes out;
- along a branch it stands square on, of curvature k (positive where the boundary bends away from the
  chord, as a hole does), 1 + d k >= 0: the second derivative of the distance is not negative;
- along two such branches, of curvatures k and l, that run the same way, k + l + d k l >= 0: nor is it
  when both ends move.
"""

import itertools
from collections.abc import Iterable, Iterator
from typing import NamedTuple

import numpy as np

from parts.geometry.narrow.boundary import Boundary
from parts.geometry.search.grid import Floats, Indices
from parts.geometry.segments import Mask, Points, Segments, cross, dot
from parts.tolerance import LIMIT_SLACK_MM, PARALLEL_RAD, SAME_POINT_MM


class Chords(NamedTuple):
    """Chords from p on the segments a to q on the segments b."""

    a: Indices
    p: Points
    b: Indices
    q: Points

    def where(self, kept: Mask | Indices) -> "Chords":
        """Return some of them."""
        return Chords(self.a[kept], self.p[kept], self.b[kept], self.q[kept])

    @property
    def width(self) -> Floats:
        """Their lengths in mm."""
        return np.abs(self.q - self.p)

    @property
    def middle(self) -> Points:
        """Their middles."""
        return (self.p + self.q) / 2


def put_together(parts: Iterable[Chords]) -> Chords:
    """Return all chords as one."""
    return Chords(*(np.concatenate(column) for column in zip(*parts, strict=True)))


def minimal_chords(boundary: Boundary, a: Indices, b: Indices, limit: float) -> Chords:
    """Return the locally shortest chords under `limit` between pairs of segments, each once.

    A chord from a corner to a corner comes up with each of the segments that meet there.
    """
    square = put_together(_perpendiculars(boundary.segments, a, b))
    square = square.where(square.width < limit)
    square = square.where(
        _within(boundary.segments, square.a, square.p) & _within(boundary.segments, square.b, square.q)
    )
    found = put_together(itertools.chain([square], _from_corners(boundary, a, b)))
    width = found.width
    found = found.where((width > SAME_POINT_MM) & (width < limit - LIMIT_SLACK_MM))
    if not len(found.a):
        return found
    found = found.where(_minimal(boundary, found))
    ends = np.sort(np.stack([found.p, found.q]), axis=0)
    order = np.lexsort((ends[1].imag, ends[1].real, ends[0].imag, ends[0].real))
    fresh = np.any(np.diff(ends[:, order], axis=1, prepend=np.nan) != 0, axis=0)
    return found.where(np.sort(order[fresh]))


def _from_corners(boundary: Boundary, a: Indices, b: Indices) -> Iterator[Chords]:
    """Yield the chords from a corner to the nearest place of the other segment, and from corner to corner."""
    start, nearest = boundary.segments.start, boundary.segments.nearest
    corner_a, corner_b = boundary.corner[a], boundary.corner[b]
    i, j = a[corner_a], b[corner_a]
    yield Chords(i, start[i], j, nearest(j, start[i]))
    i, j = a[corner_b], b[corner_b]
    yield Chords(i, nearest(i, start[j]), j, start[j])
    i, j = a[corner_a & corner_b], b[corner_a & corner_b]
    yield Chords(i, start[i], j, start[j])


def _perpendiculars(of: Segments, a: Indices, b: Indices) -> Iterator[Chords]:
    """Yield the common normals of the whole lines or circles of both, as chords, at most four; not those of runs."""
    bent_a, bent_b = of.bulge[a] != 0, of.bulge[b] != 0
    i, j = a[~bent_a & bent_b], b[~bent_a & bent_b]
    for foot, q in _line_to_circle(of, i, j):
        yield Chords(i, foot, j, q)
    i, j = a[bent_a & ~bent_b], b[bent_a & ~bent_b]
    for foot, p in _line_to_circle(of, j, i):
        yield Chords(i, p, j, foot)
    apart = np.abs(of.centre[a] - of.centre[b])
    bent = bent_a & bent_b & (apart > SAME_POINT_MM)
    i, j = a[bent], b[bent]
    way = (of.centre[j] - of.centre[i]) / apart[bent]
    for one, other in itertools.product((-1, 1), repeat=2):
        yield Chords(i, of.centre[i] + one * of.radius[i] * way, j, of.centre[j] + other * of.radius[j] * way)


def _line_to_circle(of: Segments, line: Indices, arc: Indices) -> Iterator[tuple[Points, Points]]:
    foot = of.at(line, of.fraction_of(line, of.centre[arc]))
    for side in (-1j, 1j):
        yield foot, of.centre[arc] + of.radius[arc] * (side * of.heading[line])


def _within(of: Segments, k: Indices, p: Points) -> Mask:
    """Whether points of the whole lines or circles are on the segments, whose ends are as wide as in `_branches`."""
    fraction = of.fraction_of(k, p)
    at_end = np.minimum(np.abs(p - of.start[k]), np.abs(p - of.end[k])) <= SAME_POINT_MM
    within: Mask = ((fraction >= 0) & (fraction <= 1)) | at_end
    return within


class Branch(NamedTuple):
    """A way for an end of each chord to move along the boundary.

    `slope` is how the chord's length changes with the move, mm per mm; `bend` is the curvature away from it.
    """

    slope: Floats
    bend: Floats

    @property
    def square(self) -> Mask:
        """Whether the chords stand square on it."""
        return self.slope <= PARALLEL_RAD


def _minimal(boundary: Boundary, chords: Chords) -> Mask:
    """Whether chords are local minima: no small move of the ends makes them shorter."""
    d = chords.width
    u = (chords.q - chords.p) / d
    into_p, back_p, on_p = _branches(boundary, chords.a, chords.p, u)
    into_q, back_q, on_q = _branches(boundary, chords.b, chords.q, -u)
    minimal = into_p & into_q
    for k in (back_p, on_p, back_q, on_q):
        minimal &= (k.slope >= -PARALLEL_RAD) & (~k.square | (1 + d * k.bend >= -PARALLEL_RAD))
    for k, m in ((back_p, on_q), (on_p, back_q)):  # the boundary runs opposite ways at the two ends
        least = -PARALLEL_RAD * (np.abs(k.bend) + np.abs(m.bend))
        minimal &= ~(k.square & m.square) | (k.bend + m.bend + d * k.bend * m.bend >= least)
    return minimal


def _branches(boundary: Boundary, side: Indices, p: Points, u: Points) -> tuple[Mask, Branch, Branch]:
    """Whether chords leaving points p in directions u go into the region, and the branches there, back first."""
    of = boundary.segments
    before = np.where(np.abs(p - of.start[side]) <= SAME_POINT_MM, boundary.before[side], side)
    after = np.where(np.abs(p - of.end[side]) <= SAME_POINT_MM, boundary.after[side], side)
    a, b = of.heading_at(before, p), of.heading_at(after, p)
    back, forward = Branch(dot(u, a), -of.curvature[before]), Branch(-dot(u, b), -of.curvature[after])
    turn = of.turn_between(before, after)
    smooth = (before == after) | (np.abs(turn) <= PARALLEL_RAD)
    inward = np.where(smooth, cross(b, u) > 0, turn < 0)
    return inward, back, forward


def empty(boundary: Boundary, chords: Chords) -> Mask:
    """Whether the circle on each chord as its diameter has none of the boundary inside."""
    middle, radius = chords.middle, chords.width / 2
    if not len(middle):
        return np.ones(0, dtype=np.bool_)
    x, y = middle.real, middle.imag
    i, k = boundary.near(np.stack([x - radius, y - radius, x + radius, y + radius], axis=1))
    inside = np.abs(middle[i] - boundary.segments.nearest(k, middle[i])) < radius[i] - SAME_POINT_MM
    is_empty: Mask = np.bincount(i[inside], minlength=len(middle)) == 0
    return is_empty
