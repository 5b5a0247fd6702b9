"""A vein of a leaf: a slot that tapers along an arc."""

import math
from dataclasses import dataclass

from parts.artwork.tapered import curved
from parts.geometry.loop import Circle, Loop
from parts.geometry.segment import Point, distance


@dataclass(frozen=True)
class Vein:
    """A right-hand vein: an arc from `start` at the midrib to `end` by the edge, turning left about `centre`."""

    start: Point
    end: Point
    centre: Point

    @property
    def radius(self) -> float:
        """Radius of the arc."""
        return distance(self.start, self.centre)

    @property
    def lean(self) -> float:
        """Angle from the axis at the end, where it is least; the heading is square to the way from the centre."""
        return math.atan2(self.centre[1] - self.end[1], self.end[0] - self.centre[0])

    @property
    def length(self) -> float:
        """Length of the arc."""
        return 2 * self.radius * math.asin(min(distance(self.start, self.end) / (2 * self.radius), 1.0))

    def loop(self, width: float, end: float) -> Loop:
        """Return the slot along the arc, `width` wide at the midrib and `end` at its end."""
        return curved(Circle(self.start, width), Circle(self.end, end), self.radius)
