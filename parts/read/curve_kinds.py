"""Curve kinds: arcs of ellipses and Bezier spans, by a parameter running from 0 to `spans`.

span    a stretch of a curve between whole values of its parameter; smooth, but where it stands still
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import ClassVar

from parts.cached import cached_property
from parts.geometry import Arc, Point, distance
from parts.read.affine import Affine
from parts.tolerance import SAME_POINT_MM

# Where the derivative is a part of the curve's reach below this, it is a cusp or a doubled control point.
_STILL = 1e-9
_STEP = 1e-3


@dataclass(frozen=True)
class EllipticArc:
    """centre + u cos t + v sin t, t from `start` to `start + sweep` radians; u and v needn't be square."""

    centre: Point
    u: Point
    v: Point
    start: float = 0.0
    sweep: float = 2 * math.pi

    @property
    def spans(self) -> int:
        """One span for each quarter turn or part of one."""
        return max(math.ceil(abs(self.sweep) / (math.pi / 2) - 1e-9), 1)

    def _turn(self, t: float) -> Point:
        if abs(self.sweep) == 2 * math.pi and t == self.spans:
            t = 0.0  # the last point is the first one
        angle = self.start + self.sweep * t / self.spans
        return math.cos(angle), math.sin(angle)

    def at(self, t: float) -> Point:
        """Return the point at `t`."""
        (cx, cy), (ux, uy), (vx, vy) = self.centre, self.u, self.v
        c, s = self._turn(t)
        return cx + c * ux + s * vx, cy + c * uy + s * vy

    def direction(self, t: float, _towards: float) -> Point:
        """Return the direction of travel at `t`, of any length."""
        (ux, uy), (vx, vy) = self.u, self.v
        c, s = self._turn(t)
        way = math.copysign(1, self.sweep)
        return way * (c * vx - s * ux), way * (c * vy - s * uy)

    def moved(self, to: Affine) -> "EllipticArc":
        """Return the curve as placed."""
        return EllipticArc(to.point(self.centre), to.vector(self.u), to.vector(self.v), self.start, self.sweep)

    @property
    def is_round(self) -> bool:
        """Whether it is a circle's arc."""
        return Affine(*self.u, *self.v).keeps_circles

    @property
    def half_axes(self) -> tuple[float, float]:
        """The longer and the shorter half axis: the singular values of the matrix of u and v."""
        (a, b), (c, d) = self.u, self.v
        plus, minus = math.hypot(a + d, b - c), math.hypot(a - d, b + c)
        return (plus + minus) / 2, abs(plus - minus) / 2

    def arcs(self) -> tuple[Arc, ...]:
        """Return the true arcs of a round one, each of half a turn or less; none where it has no size."""
        left = 1 if Affine(*self.u, *self.v).determinant > 0 else -1
        count = 1 if abs(self.sweep) <= math.pi else 2
        bulge = left * math.tan(self.sweep / count / 4)
        stops = [self.at(self.spans * i / count) for i in range(count + 1)]
        pairs = list(pairwise(stops))
        if bulge == 0 or any(distance(a, b) <= SAME_POINT_MM for a, b in pairs):
            return ()
        return tuple(Arc(a, b, bulge) for a, b in pairs)


@dataclass(frozen=True)
class Bezier:
    """One span of a polynomial curve by its control points; with weights, a rational one."""

    points: tuple[Point, ...]
    weights: tuple[float, ...] = ()
    spans: ClassVar[int] = 1

    @cached_property
    def _controls(self) -> list[tuple[float, float, float]]:
        weights = self.weights or (1.0,) * len(self.points)
        return [(x * w, y * w, w) for (x, y), w in zip(self.points, weights, strict=True)]

    def at(self, t: float) -> Point:
        """Return the point at `t`."""
        if t in (0.0, 1.0):
            return self.points[-1 if t else 0]
        x, y, w = _casteljau(self._controls, t)[-1][0]
        return x / w, y / w

    def direction(self, t: float, towards: float) -> Point:
        """Return the direction of travel at `t`; where the curve stands still, that seen towards `towards`."""
        levels = _casteljau(self._controls, t)
        if len(levels) > 1:
            (ax, ay, aw), (bx, by, bw) = levels[-2]
            dx, dy = bx / bw - ax / aw, by / bw - ay / aw
            if math.hypot(dx, dy) > _STILL * self._reach:
                return dx, dy
        near = t + (towards - t) * _STEP
        (ax, ay), (bx, by) = self.at(t), self.at(near)
        return (bx - ax, by - ay) if towards > t else (ax - bx, ay - by)

    @cached_property
    def _reach(self) -> float:
        return max(distance(self.points[0], p) for p in self.points)

    def moved(self, to: Affine) -> "Bezier":
        """Return the curve as placed."""
        return Bezier(tuple(map(to.point, self.points)), self.weights)


def _casteljau(points: Sequence[tuple[float, float, float]], t: float) -> list[list[tuple[float, float, float]]]:
    """The levels of de Casteljau's scheme, the last one the point."""
    s = 1 - t
    levels = [list(points)]
    while len(levels[-1]) > 1:
        row = levels[-1]
        levels.append(
            [(s * ax + t * bx, s * ay + t * by, s * aw + t * bw) for (ax, ay, aw), (bx, by, bw) in pairwise(row)]
        )
    return levels
