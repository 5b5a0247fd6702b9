"""Where a figure's weight is: a hole straight above it, or two holes level beside it, let it hang as it is drawn."""

from collections.abc import Iterable, Sequence
from itertools import repeat
from math import inf

from parts.errors import GeometryError
from parts.geometry import Loop, Point, centroid
from parts.geometry.figure import Touch, highest_seat
from parts.tolerance import LIMIT_SLACK_MM

_ROUNDS = 12
"""How often a level for two holes is tried lower; each time one of both has more room."""


def centre_of_mass(outside: Loop, cut_outs: Iterable[Loop]) -> Point:
    """Return the centre of mass of a flat figure: that of its area without what is cut out of it."""
    parts = [(outside.area, centroid(outside)), *((-loop.area, centroid(loop)) for loop in cut_outs)]
    area = sum(size for size, _ in parts)
    return sum(size * x for size, (x, _) in parts) / area, sum(size * y for size, (_, y) in parts) / area


def level_seats(loops: Sequence[Loop], places: Iterable[float], clearance: float) -> tuple[Touch, ...]:
    """Return the highest seats of one height on upright lines, each clear of every loop.

    Raises:
        GeometryError: if there is no such height.
    """
    at, level = tuple(places), inf
    for _ in repeat(None, _ROUNDS):
        found = [highest_seat(loops, x, clearance, level) for x in at]
        seats = tuple(seat for seat in found if seat)
        if len(seats) < len(at):
            break
        lowest = min((seat.height for seat in seats), default=0.0)
        if all(seat.height - lowest <= LIMIT_SLACK_MM for seat in seats):
            return seats
        level = lowest
    raise GeometryError("No hole with the metal around it has room there.")
