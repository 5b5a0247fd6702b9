"""A window: an axis-parallel rectangle with round corners, or one of its special cases, a slot or a round hole.

It is kept as its *core*, the rectangle that is left when the corner radius is taken off all round: every
point within `radius` of the core belongs to the window. Gaps between windows follow exactly from that.
Lengths are mm.
"""

import math
from dataclasses import dataclass, replace

from parts.geometry.draft import rectangle, slot
from parts.geometry.loop import Loop
from parts.geometry.segment import Point
from parts.tolerance import LIMIT_SLACK_MM


@dataclass(frozen=True, slots=True)
class Window:
    """Width along x and height along y, over all; `radius` is at most half of either."""

    centre: Point
    width: float
    height: float
    radius: float

    @property
    def core(self) -> Point:
        """Half the width and half the height of the core."""
        return self.width / 2 - self.radius, self.height / 2 - self.radius

    @property
    def loop(self) -> Loop:
        """The exact loop, counter-clockwise: round ends are one arc each, a round hole is a circle.

        Raises:
            GeometryError: if the radius is more than half of width or height.
        """
        (x, y), w, h = self.centre, self.width, self.height
        if abs(min(w, h) - 2 * self.radius) <= LIMIT_SLACK_MM:
            return slot(self.centre, max(w, h), min(w, h), 0.0 if w >= h else math.pi / 2)
        return rectangle((x - w / 2, y - h / 2), w, h, self.radius)

    def at(self, x: float, y: float) -> "Window":
        """Return the same window with its centre elsewhere."""
        return replace(self, centre=(x, y))

    def reach(self, nx: float, ny: float) -> float:
        """Return how far it reaches from its centre in the direction of a unit vector."""
        a, b = self.core
        return abs(nx) * a + abs(ny) * b + self.radius

    def gap(self, other: "Window") -> float:
        """Return the distance to another window; zero where they touch, negative where they overlap."""
        (ax, ay), (bx, by), r, s = self.centre, other.centre, self.radius, other.radius  # no `core`: asked very often
        across = abs(ax - bx) - (self.width / 2 - r) - (other.width / 2 - s)
        up = abs(ay - by) - (self.height / 2 - r) - (other.height / 2 - s)
        return math.hypot(across if across > 0 else 0.0, up if up > 0 else 0.0) - r - s

    def touching(self, other: "Window") -> float:
        """Return how far apart in x the centres are where the two touch, at their present heights.

        Zero where they pass over one another without touching.
        """
        (ax, ay), (bx, by) = self.core, other.core
        up = max(abs(self.centre[1] - other.centre[1]) - ay - by, 0.0)
        radii = self.radius + other.radius
        return ax + bx + math.sqrt(radii**2 - up**2) if up < radii else 0.0


def hole(centre: Point, diameter: float) -> Window:
    """Return a round hole."""
    return Window(centre, diameter, diameter, diameter / 2)


def level_slot(centre: Point, length: float, width: float) -> Window:
    """Return a slot along x; a `length` of 0 stands for a round hole."""
    return Window(centre, length or width, width, width / 2)


def upright_slot(centre: Point, length: float, width: float) -> Window:
    """Return a slot along y; a `length` of 0 stands for a round hole."""
    return Window(centre, width, length or width, width / 2)
