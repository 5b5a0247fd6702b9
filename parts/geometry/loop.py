"""A loop: a closed chain of straight and circular segments."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from parts.errors import GeometryError
from parts.geometry.corner import turn_between
from parts.geometry.lazy import lazy
from parts.geometry.segment import Arc, Box, Line, Point, Segment, distance
from parts.geometry.unsplit import unsplit
from parts.tolerance import SAME_POINT_MM


class Circle(NamedTuple):
    """A full circle: centre and diameter in mm."""

    centre: Point
    diameter: float


@dataclass(frozen=True)
class Loop:
    """A closed chain: each segment starts at the very point where the one before it ends.

    Raises:
        GeometryError: if the chain has fewer than two segments, is open, or holds a segment of no length.
    """

    segments: tuple[Segment, ...]

    def __post_init__(self) -> None:
        if len(self.segments) < 2:
            raise GeometryError(f"A loop needs two segments or more, not {len(self.segments)}.")
        before = self.segments[-1]
        for segment in self.segments:
            if before.end != segment.start:
                raise GeometryError(f"The loop is open between {before.end} and {segment.start}.")
            if isinstance(segment, Line) and segment.length <= SAME_POINT_MM:  # an arc can't be made without
                raise GeometryError(f"The loop holds a segment of no length at {segment.start}.")
            before = segment

    def __hash__(self) -> int:  # asked for by every cache over loops: taken once
        return self._hash

    @lazy
    def _hash(self) -> int:
        return hash(self.segments)

    @classmethod
    def through(cls, vertices: Iterable[tuple[float, float, float]]) -> "Loop":
        """Make a loop from (x, y, bulge) vertices; the bulge is that of the segment leaving the vertex.

        A vertex that repeats the one before it is left out when nothing lies between the two.

        Raises:
            GeometryError: as for `Loop`.
        """
        corners = list(vertices)
        segments: list[Segment] = []
        points = [(x, y) for x, y, _ in corners]
        for (_, _, bulge), start, end in zip(corners, points, points[1:] + points[:1], strict=True):
            apart = distance(start, end)
            if bulge and abs(bulge) * apart / 2 > SAME_POINT_MM:  # how far it bows
                segments.append(Arc(start, end, bulge))
            elif apart > SAME_POINT_MM:
                segments.append(Line(start, end))
            elif segments:
                segments[-1] = _ending_at(segments[-1], end)
        if segments and segments[-1].end != segments[0].start:
            segments[-1] = _ending_at(segments[-1], segments[0].start)
        return cls(tuple(segments))

    @lazy
    def area(self) -> float:
        """Area in mm², positive whichever way the loop runs."""
        return abs(self.signed_area)

    @lazy
    def signed_area(self) -> float:
        """Area in mm², positive when the loop runs counter-clockwise."""
        return math.fsum(segment.swept_area for segment in self.segments)

    @property
    def counter_clockwise(self) -> bool:
        """Whether the loop has its inside on the left."""
        return self.signed_area > 0

    @lazy
    def perimeter(self) -> float:
        """Length of the whole chain in mm."""
        return math.fsum(segment.length for segment in self.segments)

    @lazy
    def box(self) -> Box:
        """The bounding box of the loop."""
        x0, y0, x1, y1 = zip(*(segment.box for segment in self.segments), strict=True)
        return min(x0), min(y0), max(x1), max(y1)

    @lazy
    def unsplit(self) -> tuple[Segment, ...]:
        """The segments, collinear lines and arcs of one circle merged; of a full circle as they are."""
        if self.circle:
            return self.segments
        merged = unsplit(self.segments)
        return merged if len(merged) < len(self.segments) else self.segments

    @lazy
    def turns(self) -> tuple[float, ...]:
        """The turning angle at the start of each segment, in radians, positive to the left."""
        return _turns(self.segments)

    @lazy
    def corners(self) -> tuple[float, ...]:
        """The turning angle at the start of each segment of `unsplit`, in radians, positive to the left."""
        return self.turns if self.unsplit is self.segments else _turns(self.unsplit)

    @lazy
    def circle(self) -> Circle | None:
        """The full circle this loop is, or None."""
        first = self.segments[0]
        if not isinstance(first, Arc):
            return None
        for other in self.segments[1:]:
            same = isinstance(other, Arc) and (
                (other.bulge > 0) == (first.bulge > 0)
                and abs(other.radius - first.radius) <= SAME_POINT_MM
                and distance(other.centre, first.centre) <= SAME_POINT_MM
            )
            if not same:
                return None
        turned = sum(abs(arc.sweep) for arc in self.segments if isinstance(arc, Arc))
        return Circle(first.centre, 2 * first.radius) if turned < 3 * math.pi else None

    def contains(self, p: Point) -> bool:
        """Tell whether `p` lies inside; decided on the true arcs, and either way for `p` on the loop."""
        x0, y0, x1, y1 = self.box
        if not (x0 <= p[0] <= x1 and y0 <= p[1] <= y1):
            return False
        x, y = p
        crossings = 0
        for segment in self.segments:
            if isinstance(segment, Line):  # as `Line.crossings_right_of`: most sides are clearly above or below
                (ax, ay), (bx, by) = segment.start, segment.end
                crossings += (ay > y) != (by > y) and ax + (y - ay) * (bx - ax) / (by - ay) > x
            else:
                crossings += segment.crossings_right_of(p)
        return crossings % 2 == 1

    def reversed(self) -> "Loop":
        """Return the same loop walked the other way."""
        made = object.__new__(Loop)  # closed as this one is: nothing to look at
        facts = made.__dict__
        facts["segments"] = tuple([segment.reversed() for segment in reversed(self.segments)])
        facts["signed_area"] = -self.signed_area  # to the last bit: so is what every segment sweeps
        return made

    def running(self, counter_clockwise: bool) -> "Loop":
        """Return the loop running the way asked."""
        return self if self.counter_clockwise == counter_clockwise else self.reversed()


def _turns(segments: Sequence[Segment]) -> tuple[float, ...]:
    """The turning angle at the start of each segment of a closed chain."""
    return tuple([turn_between(segments[i - 1], segment) for i, segment in enumerate(segments)])


def _ending_at(segment: Segment, end: Point) -> Segment:
    """The segment with its end moved by less than SAME_POINT_MM, so that the chain closes exactly."""
    return Line(segment.start, end) if isinstance(segment, Line) else Arc(segment.start, end, segment.bulge)
