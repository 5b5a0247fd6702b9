"""A mask: how much of each pixel of a picture is metal.

frame    where the part stands in the picture, and how many pixels a millimetre has
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw

from parts.geometry import Arc, Loop, Point
from parts.profile import Profile

LONG_PX = 1200
"""The longer side of a picture."""
_MARGIN = 0.14  # of the part's longer side
_FLATTEST = 0.45  # a picture's shorter side over its longer
_SUB = 3  # a pixel is looked at in so many rows and columns
_CHORDS_A_TURN = 240


@dataclass(frozen=True, slots=True)
class Frame:
    """A picture of `width` by `height` pixels; `left` and `top`, mm, are its upper left corner on the part."""

    width: int
    height: int
    left: float
    top: float
    px_per_mm: float

    def at(self, point: Point) -> Point:
        """Return where a point of the part is, in pixels from the upper left."""
        return (point[0] - self.left) * self.px_per_mm, (self.top - point[1]) * self.px_per_mm


def frame(profile: Profile) -> Frame:
    """Return the picture's frame around a profile: a margin all round, and never a mere strip."""
    x0, y0, x1, y1 = profile.box
    margin = _MARGIN * max(x1 - x0, y1 - y0)
    wide, high = x1 - x0 + 2 * margin, y1 - y0 + 2 * margin
    wide, high = max(wide, _FLATTEST * high), max(high, _FLATTEST * wide)
    scale = LONG_PX / max(wide, high)
    left, top = (x0 + x1 - wide) / 2, (y0 + y1 + high) / 2
    return Frame(math.ceil(wide * scale), math.ceil(high * scale), left, top, scale)


def coverage(profile: Profile, seen: Frame) -> NDArray[np.float64]:
    """Return how much of each pixel is metal, 0 to 1, a row of the picture a row."""
    image = Image.new("L", (seen.width * _SUB, seen.height * _SUB))
    pen = ImageDraw.Draw(image)
    loops = [(loop, 255) for loop in profile.outside] + [(opening.loop, 0) for opening in profile.inside]
    for loop, value in sorted(loops, key=lambda each: -_box_area(each[0])):  # what lies within another comes later
        corners = [(x * _SUB, y * _SUB) for x, y in map(seen.at, _points(loop))]
        pen.polygon(corners, fill=value)
    return np.asarray(image.reduce(_SUB), dtype=np.float64) / 255


def _points(loop: Loop) -> Iterator[Point]:
    """Points along a loop; a chord of a whole turn's 240th lies 0.09 px off the largest arc that a picture holds."""
    for segment in loop.segments:
        turn = abs(segment.sweep) / math.tau if isinstance(segment, Arc) else 0.0
        count = max(math.ceil(turn * _CHORDS_A_TURN), 1)
        yield from (segment.at(i / count) for i in range(count))


def _box_area(loop: Loop) -> float:
    x0, y0, x1, y1 = loop.box
    return (x1 - x0) * (y1 - y0)
