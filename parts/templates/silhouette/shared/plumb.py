"""Two holes level beside a figure's weight let it hang as it is drawn."""

from collections.abc import Iterable, Sequence
from itertools import repeat
from math import inf

from parts.errors import GeometryError
from parts.geometry import Loop
from parts.geometry.figure import Touch, highest_seat
from parts.tolerance import LIMIT_SLACK_MM

_ROUNDS = 12
"""How often a level for two holes is tried lower; each time one of both has more room."""


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
