"""Isometries: translating, rotating and mirroring segments and loops without changing their size."""

import math
from dataclasses import dataclass
from typing import TypeVar

from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Line, Point, Segment

AnySegment = TypeVar("AnySegment", Line, Arc)


@dataclass(frozen=True, slots=True)
class Motion:
    """A rotation by (cos, sin), a reflection of y before it where `mirrored`, and a translation after it."""

    shift: Point = (0.0, 0.0)
    cos: float = 1.0
    sin: float = 0.0
    mirrored: bool = False

    def point(self, p: Point) -> Point:
        """Return where the motion takes a point."""
        x, y = p[0], -p[1] if self.mirrored else p[1]
        return self.cos * x - self.sin * y + self.shift[0], self.sin * x + self.cos * y + self.shift[1]

    def segment(self, segment: Segment) -> Segment:
        """Return where the motion takes a segment."""
        start, end = self.point(segment.start), self.point(segment.end)
        if isinstance(segment, Line):
            return Line(start, end)
        return Arc(start, end, -segment.bulge if self.mirrored else segment.bulge)

    def loop(self, loop: Loop) -> Loop:
        """Return where the motion takes a loop, running the same way round as before; each corner as by `point`."""
        c, s, (dx, dy), flip = self.cos, self.sin, self.shift, -1.0 if self.mirrored else 1.0
        old = [segment.start for segment in loop.segments]
        starts = [(c * x - s * (flip * y) + dx, s * x + c * (flip * y) + dy) for x, y in old]
        ends = [*starts[1:], starts[0]]  # each is the start of the next, to the last bit
        made = Loop(
            tuple(
                [
                    Line(start, end) if isinstance(segment, Line) else Arc(start, end, flip * segment.bulge)
                    for segment, start, end in zip(loop.segments, starts, ends, strict=True)
                ]
            )
        )
        return made.reversed() if self.mirrored else made


def translation(dx: float, dy: float) -> Motion:
    """Return the translation by (dx, dy) mm."""
    return Motion((dx, dy))


def rotation(angle: float, about: Point = (0.0, 0.0)) -> Motion:
    """Return the rotation by `angle` radians to the left about a point; quarter turns are exact."""
    quarters = angle / (math.pi / 2)
    if quarters == round(quarters):
        c, s = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[round(quarters) % 4]
    else:
        c, s = math.cos(angle), math.sin(angle)
    x, y = about
    return Motion((x - c * x + s * y, y - s * x - c * y), c, s)


def mirror(at: Point, direction: float) -> Motion:
    """Return the reflection in the line through `at` running in `direction`, radians from the x axis."""
    turn = rotation(2 * direction)
    x, y = turn.point((at[0], -at[1]))
    return Motion((at[0] - x, at[1] - y), turn.cos, turn.sin, mirrored=True)
