"""A flattened view: a shapely copy of loops for looking and for checks, never for deciding.

Arcs become chords whose ends lie on the arc and whose middles lie within `chord_error` mm of it, so an
outside arc loses a little area and a hole gains as little.
"""

import math
from collections.abc import Iterable

import shapely

from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Point, Segment
from parts.tolerance import FLATTEN_MM


def flattened(segment: Segment, chord_error: float = FLATTEN_MM) -> list[Point]:
    """Return points along a segment, its start first, its end left out.

    A chord that spans the angle t is r (1 - cos(t / 2)) from its arc.
    """
    if not isinstance(segment, Arc):
        return [segment.start]
    span = 2 * math.acos(max(1 - chord_error / segment.radius, -1.0))
    count = max(math.ceil(abs(segment.sweep) / span), 1)
    return [segment.start, *(segment.at(i / count) for i in range(1, count))]


def ring(loop: Loop, chord_error: float = FLATTEN_MM) -> list[Point]:
    """Return the points of a loop with its arcs flattened, not closed."""
    return [point for segment in loop.segments for point in flattened(segment, chord_error)]


def polygon(outside: Loop, inside: Iterable[Loop] = (), chord_error: float = FLATTEN_MM) -> shapely.Polygon:
    """Return one outside loop and the loops within it as a shapely polygon."""
    return shapely.Polygon(ring(outside, chord_error), [ring(loop, chord_error) for loop in inside])
