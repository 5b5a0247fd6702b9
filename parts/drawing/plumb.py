"""The plumb line of a figure that hangs: from its holes through the centre of mass, by which it comes to hang.

Upright on the drawing, it hangs straight. From one hole it is the line through hole and centre of mass; two level holes
hold the figure as it is drawn, and the line is plumb below the middle between them.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from parts.drawing.frame import Frame
from parts.drawing.primitives import Item, Path
from parts.geometry import Line, Point, centre_of_mass, circle
from parts.profile import Profile
from parts.tolerance import LIMIT_SLACK_MM

HOLE = "hanging hole"
"""What templates call the openings that a figure hangs by."""
_STRAIGHT_RAD = math.radians(0.5)
"""What leans less looks straight (from memory)."""
_MASS, _BEYOND = 0.35, 1.5
"""Radius of the ring about the centre of mass, and how far the line goes on, in sizes of the lettering."""


@dataclass(frozen=True, slots=True)
class Hanging:
    """Where a figure hangs, where its weight is, and by how much it leans to the right, in radians."""

    at: Point
    mass: Point
    lean: float

    @property
    def said(self) -> str:
        """Whether it hangs straight, a sentence."""
        if abs(self.lean) < _STRAIGHT_RAD:
            return "It hangs straight: the plumb line on the drawing goes through its centre of mass."
        side = "right" if self.lean > 0 else "left"
        return f"It hangs askew: its centre of mass is to the {side}, and the line to it on the drawing comes plumb."


def hanging(profile: Profile) -> Hanging | None:
    """Return how a part hangs by its hanging holes; None where it has none, or is of several pieces."""
    holes = [opening.loop.circle for opening in profile.inside if opening.name == HOLE]
    at = [hole.centre for hole in holes if hole]
    if not at or len(profile.outside) != 1:
        return None
    mass = centre_of_mass(profile.outside[0], [opening.loop for opening in profile.inside])
    middle = sum(x for x, _ in at) / len(at), sum(y for _, y in at) / len(at)
    is_held = len(at) > 1 and max(y for _, y in at) - min(y for _, y in at) <= LIMIT_SLACK_MM
    if is_held:
        return Hanging(middle, (middle[0], mass[1]), 0.0)
    return Hanging(middle, mass, math.atan2(mass[0] - middle[0], middle[1] - mass[1]))


def plumb_line(frame: Frame) -> Iterator[Item]:
    """Yield the line of a figure that hangs, and a small ring about its centre of mass."""
    found = hanging(frame.profile)
    if found is None:
        return
    (x, y), (u, v) = frame.point(found.at), frame.point(found.mass)
    long = math.hypot(u - x, v - y)
    if not long:
        return
    text = frame.sizes.text
    on = _BEYOND * text / long
    yield Path("centre", (Line((x, y), (u + on * (u - x), v + on * (v - y))),))
    yield Path("centre", circle((u, v), 2 * _MASS * text).segments, closed=True)
