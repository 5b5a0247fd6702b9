"""Shapes of sign plates: each an exact loop of a width and height, with the room that it has for a block of text.

frame    the rectangle of the text with its margin all round, which lies wholly on the plate

The lower left of the plate's box is at the origin.
"""

import math
from collections.abc import Sequence
from typing import Literal, TypeAlias

from parts.artwork import Knot, closed
from parts.geometry import Loop, Point, Vertex, rectangle

Shape: TypeAlias = Literal["rounded", "rectangle", "scalloped", "oval", "round", "shield"]
SHAPES: tuple[Shape, ...] = ("rounded", "rectangle", "scalloped", "oval", "round", "shield")

POINT = 0.35
"""How far a shield goes down below its frame, in widths (by eye)."""
_BOW = math.radians(15)
# By how much the lower sides of a shield lean at their ends beside their chords: they bow out (by eye).
_OVALS = (1.5, math.sqrt(2)), (4.0, 1.2)
# A frame so many times as wide as high has an oval so many times as wide as itself, others between: for one about as
# wide as high that is the smallest, for a line of text one that isn't longer than need be (by eye).
_KNOTS = 64


def least_size(shape: Shape, frame: Point) -> tuple[float, float]:
    """Return the least width and height of a plate that has room for a frame; a round one has its own way."""
    width, height = frame
    if shape == "oval":
        (low, most), (high, least) = _OVALS
        share = min(max((width / height - low) / (high - low), 0.0), 1.0)
        wider = most + share * (least - most)
        return wider * width, height * wider / math.sqrt(wider**2 - 1)  # its corners lie on the ellipse
    return (width, height + POINT * width) if shape == "shield" else (width, height)


def has_room(shape: Shape, size: Point, frame: Point) -> bool:
    """Tell whether a plate of a size, 0 for any, has room for a frame."""
    (width, height), (least_width, least_height) = size, least_size(shape, frame)
    if width and height and shape == "oval":
        return (frame[0] / width) ** 2 + (frame[1] / height) ** 2 <= 1
    if width and height and shape == "shield":
        return frame[0] <= width and frame[1] <= height - POINT * width
    return least_width <= (width or math.inf) and least_height <= (height or math.inf)


def middle(shape: Shape, size: Point) -> Point:
    """Return the middle of the frame on a plate of a size."""
    width, height = size
    return width / 2, (height + POINT * width) / 2 if shape == "shield" else height / 2


def edge(shape: Shape, size: Point, corner: float) -> Loop:
    """Return the plate's edge, its corners of a radius where it has any."""
    width, height = size
    if shape == "scalloped" and corner:
        return _scalloped(width, height, corner)
    if shape in ("rounded", "rectangle", "scalloped"):
        return rectangle((0.0, 0.0), width, height, corner if shape == "rounded" else 0.0)
    if shape == "shield":
        return _shield(width, height, corner)
    return _ellipse(width, height)


def _scalloped(width: float, height: float, r: float) -> Loop:
    """A rectangle with a quarter of a circle cut out of each corner."""
    hollow = -math.tan(math.pi / 8)
    return Loop.through(
        [
            (r, 0.0, 0.0), (width - r, 0.0, hollow), (width, r, 0.0), (width, height - r, hollow),
            (width - r, height, 0.0), (r, height, hollow), (0.0, height - r, 0.0), (0.0, r, hollow),
        ]
    )  # fmt: skip


def _ellipse(width: float, height: float) -> Loop:
    """An ellipse as tangent arcs, within some hundredths of a millimetre; a circle as one."""
    a, b = width / 2, height / 2
    if abs(a - b) <= 1e-9:
        return Loop.through([(0.0, b, 1.0), (width, b, 1.0)])
    knots = []
    for i in range(_KNOTS):
        t = 2 * math.pi * i / _KNOTS
        x, y = a * math.cos(t), b * math.sin(t)
        knots.append(Knot((a + x, b + y), math.atan2(b * math.cos(t), -a * math.sin(t))))
    return Loop.through(closed(knots))


def _shield(width: float, height: float, corner: float) -> Loop:
    """Straight sides, and two that bow out and meet in a point below; the corners above rounded."""
    depth, bulge, quarter = POINT * width, math.tan(_BOW / 2), math.tan(math.pi / 8)
    above: list[Vertex] = [(width, height, 0.0), (0.0, height, 0.0)]
    if corner:
        above = [(width, height - corner, quarter), (width - corner, height, 0.0)]
        above += [(corner, height, quarter), (0.0, height - corner, 0.0)]
    return Loop.through([(width / 2, 0.0, bulge), (width, depth, 0.0), *above, (0.0, depth, bulge)])


def corners_of(shape: Shape, size: Point, inset: float) -> Sequence[Point]:
    """Return the places for holes in the corners, so far in from both edges; a shield has them above alone."""
    width, height = size
    above = [(inset, height - inset), (width - inset, height - inset)]
    return above if shape == "shield" else [(inset, inset), (width - inset, inset), *above]
