"""Linear maps of the plane, which may stretch and shear: of segments and loops.

Lines stay lines. An arc becomes part of an ellipse, for which a chain of arcs stands: each goes through three points
of the ellipse, and is halved until no point of it is further off than COMPENSATED_MM.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Line, Point, Segment, cross, distance
from parts.tolerance import COMPENSATED_MM

_LOOKED_AT = tuple(i / 12 for i in range(1, 12) if i != 6)
"""Fractions of an arc where its distance from the ellipse is looked at. It goes with a cubic that is 0 at both
ends and in the middle: greatest near 0.21 and 0.79, and at 2/12 and 3/12 within 8 % of that."""
_SURE = 0.8
_LARGEST_SWEEP = math.pi / 2 + 1e-3


@dataclass(frozen=True, slots=True)
class Skew:
    """A linear map, which takes (x, y) to (xx x + xy y, yx x + yy y); the origin stays."""

    xx: float
    xy: float
    yx: float
    yy: float

    def point(self, p: Point) -> Point:
        """Return where a point goes."""
        return self.xx * p[0] + self.xy * p[1], self.yx * p[0] + self.yy * p[1]

    def inverse(self) -> "Skew":
        """Return the inverse map.

        Raises:
            ZeroDivisionError: if the map flattens the plane.
        """
        by = self.xx * self.yy - self.xy * self.yx
        return Skew(self.yy / by, -self.xy / by, -self.yx / by, self.xx / by)

    def path(self, segments: Iterable[Segment]) -> tuple[Segment, ...]:
        """Return where a chain goes, arcs as chains of arcs."""
        return tuple(piece for segment in segments for piece in self._segment(segment))

    def loop(self, loop: Loop) -> Loop:
        """Return where a loop goes, running the same way round; the map may not mirror."""
        return Loop(self.path(loop.segments))

    def _segment(self, segment: Segment) -> Iterator[Segment]:
        if isinstance(segment, Line):
            yield Line(self.point(segment.start), self.point(segment.end))
            return
        count = max(1, math.ceil(abs(segment.sweep) / _LARGEST_SWEEP))
        for i in range(count):
            yield from self._arcs(segment, i / count, (i + 1) / count)

    def _arcs(self, arc: Arc, low: float, high: float) -> Iterator[Segment]:
        """The arcs for a stretch of an arc, between two fractions of it."""
        start, middle, end = (self._at(arc, f) for f in (low, (low + high) / 2, high))
        piece = _through(start, middle, end)
        if isinstance(piece, Line) or all(
            _off(piece, self._at(arc, low + f * (high - low))) <= _SURE * COMPENSATED_MM for f in _LOOKED_AT
        ):
            yield piece
        else:
            yield from self._arcs(arc, low, (low + high) / 2)
            yield from self._arcs(arc, (low + high) / 2, high)

    def _at(self, arc: Arc, fraction: float) -> Point:
        """A mapped point of an arc; its ends to the last digit, so that chains stay closed."""
        ends = {0.0: arc.start, 1.0: arc.end}
        return self.point(ends[fraction] if fraction in ends else arc.at(fraction))


def _through(start: Point, middle: Point, end: Point) -> Segment:
    """The arc through three points, a line where they are collinear; at the middle one it has turned half its sweep."""
    ax, ay, bx, by = middle[0] - start[0], middle[1] - start[1], end[0] - middle[0], end[1] - middle[1]
    bulge = math.tan(math.atan2(cross(ax, ay, bx, by), ax * bx + ay * by) / 2)
    return Arc(start, end, bulge) if bulge else Line(start, end)


def _off(arc: Arc, p: Point) -> float:
    """How far a point is from an arc's circle."""
    return abs(arc.power(p)) / (distance(arc.centre, p) + arc.radius)
