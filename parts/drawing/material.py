"""Material: whether points of a part lie on it, asked many times of one part."""

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from parts.cached import cached_property
from parts.geometry import Arc, Box, Loop, Point, Segment
from parts.geometry.search import Floats
from parts.tolerance import SAME_END_MM

CHORD_RAD = 0.4
"""What an arc turns along one of its chords: a fiftieth of its radius off it at most."""


class MaterialStrips:
    """The boundary of a part, filed in horizontal strips: a point is compared with the segments of its strip alone."""

    def __init__(self, loops: Sequence[Loop]) -> None:
        boxes = [loop.box for loop in loops]
        self._box: Box = (
            min((box[0] for box in boxes), default=0.0),
            min((box[1] for box in boxes), default=0.0),
            max((box[2] for box in boxes), default=0.0),
            max((box[3] for box in boxes), default=0.0),
        )
        self._segments = [segment for loop in loops for segment in loop.segments]
        self._count = len(self._segments) + 1
        self._height = (self._box[3] - self._box[1]) / self._count or 1.0

    @cached_property
    def _strips(self) -> list[list[Segment]]:
        """The segments of each strip, filed when one point is asked for first: of many at once they aren't needed."""
        strips: list[list[Segment]] = [[] for _ in range(self._count)]
        for segment in self._segments:
            _, low, _, high = segment.box
            for k in range(self._strip(low - SAME_END_MM), self._strip(high + SAME_END_MM) + 1):
                strips[k].append(segment)
        return strips

    def holds(self, p: Point) -> bool:
        """Tell whether a point is inside by the even-odd rule: by a ray to the right; either way for one on a loop."""
        x0, y0, x1, y1 = self._box
        if not (x0 <= p[0] <= x1 and y0 <= p[1] <= y1):
            return False
        return sum(segment.crossings_right_of(p) for segment in self._strips[self._strip(p[1])]) % 2 == 1

    def holds_about(self, x: Floats, y: Floats) -> NDArray[np.bool_]:
        """Tell the same of many points at once, each arc taken for the chords of a many-sided figure."""
        ax, ay, bx, by = self._chords
        steps = (ay > y[:, None]) != (by > y[:, None])
        with np.errstate(divide="ignore", invalid="ignore"):
            right = ax + (y[:, None] - ay) * ((bx - ax) / (by - ay)) > x[:, None]
        odd: NDArray[np.bool_] = np.count_nonzero(steps & right, axis=1) % 2 == 1
        return odd

    @cached_property
    def _chords(self) -> Floats:
        """The starts and ends of lines and of chords of arcs, as four rows."""
        found: list[tuple[float, float, float, float]] = []
        for segment in self._segments:
            points = [segment.start, segment.end]
            if isinstance(segment, Arc):
                points = segment.points(math.ceil(abs(segment.sweep) / CHORD_RAD))
            found += [(*start, *end) for start, end in pairwise(points)]
        return np.array(found).reshape(-1, 4).T

    def _strip(self, y: float) -> int:
        """The index of the strip at a height, of the outermost ones beyond them."""
        return min(max(math.floor((y - self._box[1]) / self._height), 0), self._count - 1)
