"""The maximum inscribed circle of a region: about where its centre is, or that none of a given radius fits.

The search is branch and bound: cells over the region are split, and a cell is left out when no circle about
a place in it can be larger than one that is known. Each segment bounds the radius: from a place `s` mm off the
middle of a cell in the direction `v`, a segment whose nearest point is `d` mm off the middle in the direction `-u`
is no further than `d + u·v + bend`, the bend growing with the square of `s`. Of two segments across from each other
the mean of both bounds hardly grows with the cell, so a long passage of one width takes few cells. Distances are
those of true lines and arcs, but for rounding.
"""

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from parts.geometry.search.grid import Floats
from parts.geometry.segment import Box, Point
from parts.geometry.segments import Mask, Points, Segments, cross, dot
from parts.tolerance import FLATTEN_MM, JET_SLACK_MM

# What a bound may be off by rounding, with arcs of some kilometres: far below what is looked for, far above 1e-16.
_MARGIN_MM = FLATTEN_MM / 100
# The cells along the longer side of a region, at the start, are no more than this.
_MOST_ALONG = 64
# A cell is split in so many each way: in more at once, since a call of numpy costs more than a few points.
_SPLIT = 4
# Up to so many pairs of a first cell and a segment are as quickly looked at when the cells are split at once.
_FEW = 64
_INNER = np.add.outer(np.arange(1 - _SPLIT, _SPLIT, 2), 1j * np.arange(1 - _SPLIT, _SPLIT, 2)).ravel()


class Inscribed(NamedTuple):
    """The largest circle found, and a bound that none in the region exceeds."""

    centre: Point
    radius: float
    most: float


def inscribed(
    boundary: Segments, box: Box, least: float = 0.0, enough: float = math.inf, likely: Sequence[Point] = ()
) -> Inscribed:
    """Return a circle within FLATTEN_MM of the largest in a region, or the first found of the radius `enough`.

    Args:
        boundary: of the region, whole loops that don't cross; which way they run doesn't matter.
        box: an upright rectangle around the region, or around the centres of the circles looked for.
        least: circles smaller than this aren't looked for; where `most` is less, the centre means nothing.
        enough: the search ends at a circle of this radius, with a `most` of infinity.
        likely: centres that are tried first.
    """
    boundary = _without_slightest_arcs(boundary)
    middles, half = _tiles(box)
    if len(middles) * len(boundary.start) <= _FEW:
        middles, half = _split(middles, half)
    found, most = Inscribed((box[0], box[1]), 0.0, 0.0), 0.0
    first = np.array([complex(*centre) for centre in likely], np.complex128)
    while len(middles):
        seen = _look(boundary, np.concatenate((middles, first)))
        if seen.clear.max() > found.radius:
            found = _settled(boundary, seen)
        if found.radius >= enough:
            return found._replace(most=math.inf)
        bounds, first = seen.up_to(len(middles)).bounds(boundary, half * math.sqrt(2)), first[:0]
        kept = bounds > max(found.radius + FLATTEN_MM, least - _MARGIN_MM)
        most = max(most, found.radius, float(bounds[~kept].max(initial=0.0)))
        middles, half = _split(middles[kept], half)
    return found._replace(most=most + JET_SLACK_MM)


def _without_slightest_arcs(boundary: Segments) -> Segments:
    """The boundary with what bows by JET_SLACK_MM or less straight: its centre is so far that rounding hides it."""
    slight = np.abs(boundary.bulge) * boundary.chord <= 2 * JET_SLACK_MM
    return Segments.between(boundary.start, boundary.end, np.where(slight, 0.0, boundary.bulge))


def _tiles(box: Box) -> tuple[Points, float]:
    """Middles of squares that cover a box, and half of their side."""
    x0, y0, x1, y1 = box
    half = max(min(x1 - x0, y1 - y0), max(x1 - x0, y1 - y0) / _MOST_ALONG) / 2
    xs, ys = (np.linspace(low + half, max(high - half, low + half), math.ceil((high - low) / (2 * half) - 1e-9))
              for low, high in ((x0, x1), (y0, y1)))  # fmt: skip
    return (xs[:, None] + 1j * ys).ravel(), half


def _split(middles: Points, half: float) -> tuple[Points, float]:
    """The middles of smaller cells, and half of their side."""
    return (middles[:, None] + half / _SPLIT * _INNER).ravel(), half / _SPLIT


def _settled(boundary: Segments, seen: "_Seen") -> Inscribed:
    """The largest circle about one of the points, or about the middle between what is nearest and what is across."""
    best = int(np.argmax(seen.clear))
    far, unit = seen.far[best], seen.unit[best]
    near = int(np.argmin(far))
    centre, clear = seen.points[best], seen.clear[best]
    step = (np.where(dot(unit, unit[near]) < 0, far, np.inf).min() - far[near]) / 2
    if 0 < step < math.inf:
        further = _look(boundary, np.array([centre + step * unit[near]]))
        if further.clear[0] > clear:
            centre, clear = further.points[0], further.clear[0]
    return Inscribed((float(centre.real), float(centre.imag)), float(clear), 0.0)


class _Seen(NamedTuple):
    """Points, and how far each is from the boundary, negative outside.

    Of each segment (points x segments): the foot, where it is nearest, how `far` that is, and the unit direction from
    there to the point.
    """

    points: Points
    clear: Floats
    feet: Points
    far: Floats
    unit: Points

    def up_to(self, count: int) -> "_Seen":
        """Return the first of the points."""
        points, clear, feet, far, unit = self
        return _Seen(points[:count], clear[:count], feet[:count], far[:count], unit[:count])

    def bounds(self, boundary: Segments, reach: float) -> Floats:
        """Return, for each point, what no circle about a place within `reach` mm of it exceeds."""
        near = np.argmin(self.far, axis=1)[:, None]
        bound = self.far + self._bend(boundary, reach)
        opposite = np.abs(self.unit + np.take_along_axis(self.unit, near, axis=1))
        means = (bound + np.take_along_axis(bound, near, axis=1) + reach * opposite) / 2
        return np.where(self.clear > 0, np.minimum(self.clear + reach, means.min(axis=1)), self.clear + reach)

    def _bend(self, boundary: Segments, reach: float) -> Floats:
        """How far beyond its rate the distance from each segment may grow over `reach` mm; infinite over all of it.

        From a point d away it is s² / 2(d - s); from an arc seen from outside as from its centre; from a line and an
        arc seen from inside none. The latter hold where the foot stays on the segment.
        """
        away = np.abs(self.points[:, None] - boundary.centre)
        bent, outside = boundary.bulge != 0, away > boundary.radius
        with np.errstate(divide="ignore", invalid="ignore"):
            of_point, of_centre = (reach**2 / (2 * (d - reach)) for d in (self.far, away))
            moves = np.where(bent & ~outside, reach * boundary.radius / (away - reach), reach)
        ends = np.minimum(np.abs(self.feet - boundary.start), np.abs(self.feet - boundary.end))
        stays = (ends > moves) & (outside | (away > reach) | ~bent)
        bend = np.where(stays, np.where(bent & outside, of_centre, 0.0), of_point)
        return np.where(self.far > reach, bend, np.inf)


def _look(boundary: Segments, points: Points) -> _Seen:
    point, k = np.repeat(points, len(boundary.start)), np.tile(np.arange(len(boundary.start)), len(points))
    feet = boundary.nearest(k, point).reshape(len(points), -1)
    away = points[:, None] - feet
    far = np.abs(away)
    clear = np.where(_inside(boundary, points), far.min(axis=1), -far.min(axis=1))
    return _Seen(points, clear, feet, far, away / np.where(far > 0, far, 1.0))


def _inside(boundary: Segments, points: Points) -> Mask:
    """Whether points lie within an odd number of loops.

    A ray to the right crosses an arc as often as its chord, but for one time where the point is between both.
    """
    to, way, above = points[:, None] - boundary.start, boundary.end - boundary.start, points.imag[:, None]
    upward = boundary.end.imag > above
    left = cross(way, to)
    hits = ((boundary.start.imag > above) != upward) & ((left > 0) == upward)
    bent = np.flatnonzero(boundary.bulge)
    if len(bent):
        power = dot(to[:, bent], to[:, bent]) - 2 * dot(to[:, bent], boundary.to_centre[bent])
        hits[:, bent] ^= (power < 0) & (left[:, bent] * boundary.bulge[bent] < 0)
    inside: Mask = np.count_nonzero(hits, axis=1) % 2 == 1
    return inside
