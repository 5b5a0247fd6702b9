"""An opening with the pieces that lie loose in it, by its shape alone, wherever it lies on the plate."""

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from parts.artwork.holding.scan import Floats
from parts.cached import cached_property

_LONG = 0.22
"""Half the difference of the squares of length and breadth, over half their sum: of 1.25 to 1."""
BEYOND = -1
"""Stands for no piece: what lies beyond the frame around pieces that lie side by side."""


@dataclass(frozen=True)
class Shape:
    """Closed rings about the middle of the opening's bounding box, each with its piece, as bytes so as to be kept.

    Piece 0 is the metal around the opening; where there is none, its ring is a frame and its piece BEYOND. The loose
    pieces follow from 1 on; the rings of their own openings come with them.
    """

    rings: tuple[tuple[int, bytes], ...]

    @cached_property
    def points(self) -> tuple[tuple[int, Floats], ...]:
        """The rings as arrays (n x 2)."""
        return tuple((piece, np.frombuffer(data).reshape(-1, 2)) for piece, data in self.rings)

    @cached_property
    def outlines(self) -> dict[int, Floats]:
        """The outer ring of each loose piece."""
        found: dict[int, Floats] = {}
        for piece, ring in self.points:
            if piece > 0:
                found.setdefault(piece, ring)
        return found

    @cached_property
    def area(self) -> float:
        """What is cut, mm²."""
        (_, first), *rest = self.points
        return abs(ring_area(first)) - sum(abs(ring_area(ring)) for ring in self.outlines.values()) if rest else 0.0

    @cached_property
    def stroke(self) -> float:
        """How wide in the mean a stroke is that has this area and outline; mm."""
        around = [ring for i, (piece, ring) in enumerate(self.points) if piece != BEYOND and (i == 0 or piece > 0)]
        return 2 * self.area / sum(float(np.hypot(*np.diff(ring, axis=0).T).sum()) for ring in around)

    def turned(self, angle: float) -> tuple[tuple[int, Floats], ...]:
        """Return the rings turned clockwise by an angle in radians, so that what ran along it stands level."""
        return _turned(self, angle) if angle else self.points

    def spans(self, angle: float) -> Floats:
        """Return how far each turned ring reaches to the left and right (n x 2)."""
        return _spans(self, angle)


@lru_cache(maxsize=32)
def _spans(shape: Shape, angle: float) -> Floats:
    return np.array([(ring[:, 0].min(), ring[:, 0].max()) for _, ring in shape.turned(angle)])


@lru_cache(maxsize=32)  # asked for at every bridge
def _turned(shape: Shape, angle: float) -> tuple[tuple[int, Floats], ...]:
    c, s = math.cos(angle), math.sin(angle)
    return tuple((piece, ring @ np.array([[c, -s], [s, c]])) for piece, ring in shape.points)


def ring_area(ring: Floats) -> float:
    """Return the area of a closed ring, positive where it runs counter-clockwise; mm²."""
    x, y = (ring - ring[0]).T
    return float(np.dot(x[:-1], y[1:]) - np.dot(x[1:], y[:-1])) / 2


def long_axis(ring: Floats) -> float | None:
    """Return the direction in radians of the long principal axis of a closed ring's area; None if it has none."""
    x, y = (ring - ring.mean(axis=0)).T
    cross = x[:-1] * y[1:] - x[1:] * y[:-1]
    area = cross.sum() / 2
    if not area:
        return None
    mx, my = ((c[:-1] + c[1:]) @ cross / (6 * area) for c in (x, y))
    xx, yy = ((c[:-1] ** 2 + c[:-1] * c[1:] + c[1:] ** 2) @ cross / (12 * area) for c in (x, y))
    xy = (x[:-1] * y[1:] + 2 * x[:-1] * y[:-1] + 2 * x[1:] * y[1:] + x[1:] * y[:-1]) @ cross / (24 * area)
    xx, yy, xy = xx - mx * mx, yy - my * my, xy - mx * my
    spread = math.hypot(xx - yy, 2 * xy)
    if spread < _LONG * (xx + yy):
        return None
    return math.atan2(2 * xy, xx - yy) / 2
