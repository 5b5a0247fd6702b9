"""The joint of a tab in its slot: square corners relieved so that the jet's radius is in nobody's way, and an eye.

relief  a round opening through a square corner, its centre on the side of the void: it takes least of the metal, and
        nothing is seen of it beside the tab but a corner
eye     a round opening in the middle of a slot that is too narrow to pierce in
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from parts.geometry import Arc, Corner, Line, Loop, Point, Segment, polygon

ROOT = 2 * math.sin(math.pi / 4)
"""How far a relief of radius 1 reaches along each edge of a square corner."""
BESIDE = 1 - math.sqrt(0.5)
"""How far a relief of radius 1 reaches over each edge of a square corner."""
QUARTER = 0.25
"""Radius of a relief in thicknesses, where none is asked for (common practice)."""
MOST_OF_ROOM = 0.97
"""Of the room in a slot's end that reliefs may take by themselves: they don't meet."""


@dataclass(frozen=True, slots=True)
class CutRelief(Corner):
    """A relief of a square corner that goes through the corner as cut: `grow` is how far the lines are drawn off.

    Its centre stays at `size` from the corner as cut, k = size / sqrt 2 - grow from the lines as drawn, and its radius
    is drawn `grow` smaller; h is half of what it cuts out of either line.
    """

    grow: float = 0.0

    @property
    def _legs(self) -> tuple[float, float]:
        k = self.size * math.sqrt(0.5) - self.grow
        return k, math.sqrt(max((self.size - self.grow) ** 2 - k**2, 0.0))

    def setback(self, turn: float) -> float:
        """Return how far from the drawn corner the arc begins, mm."""
        return sum(self._legs)

    def bulge(self, turn: float) -> float:
        """Return the bulge of the arc, the long way round by the corner."""
        k, h = self._legs
        return math.copysign(math.tan((3 * math.pi / 2 - 2 * math.atan2(k, h)) / 4), turn)


@lru_cache(maxsize=64)
def relieved_slot(size: tuple[float, float], relief: float, grow: float, eye: float, level: bool) -> Loop:
    """Return a slot about the origin, along x (`level`) or y: length and width as cut less two `grow`, its reliefs.

    `eye` is the diameter of a round opening in its middle to pierce in, 0 for none.
    """
    long, wide = size[0] / 2, size[1] / 2
    a, b = (long, wide) if level else (wide, long)
    loop = polygon(CutRelief(each, relief, "relief", grow) for each in ((-a, -b), (a, -b), (a, b), (-a, b)))
    if not eye:
        return loop
    return Loop(tuple(piece for s in loop.segments for piece in _with_eye(s, eye / 2, level=level)))


def _with_eye(side: Segment, radius: float, *, level: bool) -> Iterator[Segment]:
    """Yield a segment of a slot; of a long side the two ends, and between them an arc about the slot's middle."""
    axis = 0 if level else 1
    if not isinstance(side, Line) or side.start[1 - axis] != side.end[1 - axis]:
        yield side
        return
    across = abs(side.start[1 - axis])
    half = math.sqrt(radius**2 - across**2)
    forward = math.copysign(half, side.end[axis] - side.start[axis])

    def on_the_side(along: float) -> Point:
        return (along, side.start[1]) if level else (side.start[0], along)

    near, far = on_the_side(-forward), on_the_side(forward)
    yield Line(side.start, near)
    yield Arc(near, far, math.tan(math.atan2(half, across) / 2))
    yield Line(far, side.end)
