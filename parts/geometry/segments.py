"""Many segments as arrays: the questions of `parts.geometry.segment` asked of all at once, by the same formulas.

Points and directions are complex numbers, x + iy. Where a method takes `k`, an array of indices, it answers for each
of these segments. Lengths are mm, angles radians.
"""

from collections.abc import Sequence
from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from parts.geometry.search.grid import Floats, Indices
from parts.geometry.segment import Arc, Segment
from parts.tolerance import PARALLEL_RAD, SAME_POINT_MM

Mask: TypeAlias = NDArray[np.bool_]
Points: TypeAlias = NDArray[np.complex128]


def dot(a: Points, b: Points) -> Floats:
    """Return the scalar products of vectors."""
    product: Floats = a.real * b.real + a.imag * b.imag
    return product


def cross(a: Points, b: Points) -> Floats:
    """Return the cross products of vectors: positive where b points to the left of a."""
    product: Floats = a.real * b.imag - a.imag * b.real
    return product


class Segments(NamedTuple):
    """Lines and arcs; a line is one of no bulge, and has no sweep, radius and curvature.

    `heading` is the unit vector from start to end, `to_centre` the vector from the start to the centre.
    """

    start: Points
    end: Points
    bulge: Floats
    chord: Floats
    heading: Points
    sweep: Floats
    radius: Floats
    curvature: Floats
    length: Floats
    to_centre: Points
    centre: Points

    @classmethod
    def between(cls, start: Points, end: Points, bulge: Floats) -> "Segments":
        """Return the segments of these ends and bulges."""
        way, bent, b = end - start, bulge != 0, np.where(bulge != 0, bulge, 1.0)
        chord, sweep = np.abs(way), 4 * np.arctan(bulge)
        radius = np.where(bent, chord * (1 + b**2) / (4 * np.abs(b)), 0.0)
        curvature = np.where(bent, np.copysign(1 / np.where(bent, radius, 1.0), bulge), 0.0)
        off = np.where(bent, (1 - b * b) / (4 * b), 0.0) * (1j * way)
        length = np.where(bent, radius * np.abs(sweep), chord)
        return cls(start, end, bulge, chord, way / chord, sweep, radius, curvature, length, way / 2 + off,
                   (start + end) / 2 + off)  # fmt: skip

    @classmethod
    def of(cls, segments: Sequence[Segment]) -> "Segments":
        """Return single segments as arrays."""
        start = np.fromiter((complex(*s.start) for s in segments), np.complex128, len(segments))
        end = np.fromiter((complex(*s.end) for s in segments), np.complex128, len(segments))
        bulge = (s.bulge if isinstance(s, Arc) else 0.0 for s in segments)
        return cls.between(start, end, np.fromiter(bulge, np.float64, len(segments)))

    def where(self, kept: Mask | Indices) -> "Segments":
        """Return some of them."""
        return Segments.between(self.start[kept], self.end[kept], self.bulge[kept])

    def boxes(self) -> Floats:
        """Return their bounding boxes (n x 4)."""
        xs, ys = (np.stack([a, b]) for a, b in ((self.start.real, self.end.real), (self.start.imag, self.end.imag)))
        boxes = np.stack([xs.min(axis=0), ys.min(axis=0), xs.max(axis=0), ys.max(axis=0)], axis=1)
        bent = np.flatnonzero(self.bulge)
        for side, way in enumerate((-1, -1j, 1, 1j) if len(bent) else ()):
            out = self.centre[bent] + self.radius[bent] * way
            covered = self._covers(bent, out)
            boxes[bent[covered], side] = (out.imag if side % 2 else out.real)[covered]
        return boxes

    def heading_at(self, k: Indices, p: Points) -> Points:
        """Return the unit directions of travel at points of the segments."""
        turned: Points = 1j * (p - self.centre[k]) * self.curvature[k]
        return np.where(self.bulge[k] != 0, turned, self.heading[k])

    def turn_between(self, before: Indices, after: Indices) -> Floats:
        """Return the turning angles from segments to those that follow, as `parts.geometry.corner.turn_between`."""
        a, b = self.heading_at(before, self.end[before]), self.heading_at(after, self.start[after])
        turn: Floats = np.arctan2(cross(a, b), dot(a, b))
        back = np.pi - np.abs(turn) <= PARALLEL_RAD
        cusp = np.where(self.curvature[before] + self.curvature[after] > 0, -np.pi, np.pi)
        return np.where(back, cusp, turn)

    def at(self, k: Indices, fraction: Floats) -> Points:
        """Return the points at fractions of the lengths, 0 at the start; of an arc as `Arc.at`."""
        start, way, half = self.start[k], self.end[k] - self.start[k], self.sweep[k] / 2
        points: Points = start + fraction * way
        if half.any():
            scale = 2 * self.radius[k] * np.sin(fraction * np.abs(half)) / self.chord[k]
            turn = (fraction - 1) * half
            points = np.where(half != 0, start + scale * (np.cos(turn) + 1j * np.sin(turn)) * way, points)
        return points

    def fraction_of(self, k: Indices, p: Points) -> Floats:
        """Return how far along points of the whole lines or circles are, 0 at the start and 1 at the end."""
        start, bulge = self.start[k], self.bulge[k]
        fraction: Floats = dot(p - start, self.heading[k]) / self.length[k]
        if bulge.any():
            out, to = start - self.centre[k], p - self.centre[k]
            angle = np.copysign(1.0, bulge) * np.arctan2(cross(out, to), dot(out, to)) % (2 * np.pi)
            fraction = np.where(bulge != 0, angle / np.where(bulge != 0, np.abs(self.sweep[k]), 1.0), fraction)
        return fraction

    def nearest(self, k: Indices, p: Points) -> Points:
        """Return the points of the segments nearest to `p`; an arc's start, where that is its centre."""
        start, heading = self.start[k], self.heading[k]
        along = dot(p - start, heading)
        points: Points = np.where(along >= self.length[k], self.end[k], start + along * heading)
        points = np.where(along <= 0, start, points)
        bent = np.flatnonzero(self.bulge[k])
        if len(bent):
            points[bent] = self._nearest_of_arc(k[bent], p[bent])
        return points

    def _nearest_of_arc(self, k: Indices, p: Points) -> Points:
        start, end, centre = self.start[k], self.end[k], self.centre[k]
        away, to = np.abs(p - centre), p - start
        power = dot(to, to) - 2 * dot(to, self.to_centre[k])
        apart = away > SAME_POINT_MM
        foot = p - (p - centre) * (power / (away + self.radius[k]) / np.where(apart, away, 1.0))
        nearer_end = np.where(np.abs(start - p) <= np.abs(end - p), start, end)
        return np.where(apart & self._covers(k, foot), foot, nearer_end)

    def _covers(self, k: Indices, p: Points) -> Mask:
        """Whether points of the full circles are on the arcs, as `Arc.covers`."""
        way, to, bulge, chord = self.end[k] - self.start[k], p - self.start[k], self.bulge[k], self.chord[k]
        slack = SAME_POINT_MM * chord
        along = dot(way, to)
        covered: Mask = np.copysign(1.0, bulge) * cross(way, to) <= slack
        covered &= (np.abs(bulge) > 1) | ((along >= -slack) & (along <= chord**2 + slack))
        return covered
