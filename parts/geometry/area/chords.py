"""Chords that stand for arcs where it is decided which stretches of a boundary remain."""

import math
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from parts.geometry.loop import Loop
from parts.geometry.segment import Line, Point, Segment

CHORD_MM = 0.002
"""How far chords lie from the arcs they stand for: a tenth of what curves are fitted within."""


GRID_MM = 1e-6
"""Points are snapped to a grid this fine, so that what all but coincides does."""


Region: TypeAlias = tuple[Loop, ...]


Floats: TypeAlias = NDArray[np.float64]


def chords(segment: Segment) -> list[Point]:
    """Return points along a segment, its start first, its end left out.

    On an arc they lie at whole steps of its circle, so that two arcs of one circle have the same chords.
    """
    if isinstance(segment, Line):
        return [segment.start]
    step = 2 * math.pi / max(math.ceil(math.pi / math.acos(max(1 - CHORD_MM / segment.radius, 0.0))), 8)
    (cx, cy), (ax, ay), r, sweep = segment.centre, segment.start, segment.radius, segment.sweep
    first = math.atan2(ay - cy, ax - cx)
    low, high = sorted((first, first + sweep))
    numbers = range(math.floor(low / step + 1e-6) + 1, math.ceil(high / step - 1e-6))
    inner = [(cx + r * math.cos(n * step), cy + r * math.sin(n * step)) for n in numbers]
    return [segment.start, *(inner if sweep > 0 else inner[::-1])]


def chords_of(loop: Loop) -> list[Point]:
    """Return the points of a loop's chords, not closed."""
    return [p for segment in loop.segments for p in chords(segment)]


def signed_area(ring: Floats) -> float:
    """The area of a ring of points, mm²: positive where it runs counter-clockwise."""
    x, y = (ring - ring[0]).T
    return float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2
