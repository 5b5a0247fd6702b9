"""A bolt pattern said in words: `6 on 120`, `4 at 100 x 80`, `5 at 60`, as a motor, a post or a wall has it.

N on D        N holes evenly on a bolt circle of diameter D, the first on the x axis
4 at W x H    the corners of a rectangle
N at P        a row of N holes, P from one to the next
"""

import math
import re
from collections.abc import Iterator

from parts.boltup.holes import Hole
from parts.errors import Problem, Refused, UnitsError
from parts.geometry import Point
from parts.units import Units, parse_length

EXAMPLES = ("6 on 120", "4 at 100 x 80", "5 at 60")
"""A bolt circle, a rectangle and a row."""
MOST_IN_PATTERN = 60
_FORM = re.compile(r"\s*([0-9]{1,3})\s+(on|at)\s+(.+?)\s*")
_BY = re.compile(r"\s+(?:x|by)\s+|\s*\u00d7\s*", re.IGNORECASE)


def pattern(text: str, parameter: str, units: Units) -> tuple[Point, ...] | None:
    """Return the places of a pattern's holes, its middle at the origin; None where the text is no pattern's.

    Args:
        text: what was written.
        parameter: what it was written for, to be named where it can't be.
        units: of bare numbers.

    Raises:
        Refused: it says a pattern that can't be.
    """
    if not (said := _FORM.fullmatch(text)):
        return None
    count, lengths = int(said[1]), _lengths(said[3], parameter, text, units)
    if fault := _fault(count, said[2], lengths):
        raise Refused((Problem(parameter, text, fault),))
    return tuple(_places(count, said[2], lengths))


def _places(count: int, word: str, lengths: list[float]) -> Iterator[Point]:
    first = lengths[0]
    if word == "on":
        for turn in (2 * math.pi * k / count for k in range(count)):
            yield first / 2 * math.cos(turn), first / 2 * math.sin(turn)
    elif len(lengths) == 2:
        yield from ((x * first / 2, y * lengths[1] / 2) for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1)))
    else:
        yield from ((first * (k - (count - 1) / 2), 0.0) for k in range(count))


def _fault(count: int, word: str, lengths: list[float]) -> str:
    if not 1 <= count <= MOST_IN_PATTERN:
        return f"has {count} holes; it can have 1 to {MOST_IN_PATTERN}."
    if len(lengths) > (2 if word == "at" else 1):
        return "has a length too many: write 6 on 120, 4 at 100 x 80 or 5 at 60."
    if len(lengths) == 2 and count != 4:
        return f"says a rectangle, which has 4 holes, not {count}: write 4 at 100 x 80, or 5 at 60 for a row."
    return "" if all(length > 0 for length in lengths) else "must have lengths greater than 0."


def _lengths(text: str, parameter: str, whole: str, units: Units) -> list[float]:
    try:
        return [parse_length(each, bare=units) for each in _BY.split(text)]
    except UnitsError as error:
        raise Refused((Problem(parameter, whole, f"isn't a pattern: {error}"),)) from error


def as_holes(places: tuple[Point, ...], width: float, bolt: float) -> tuple[Hole, ...]:
    """Return places as round holes of a width for a bolt, mm."""
    return tuple(Hole(f"hole {k}", at, width, bolt=bolt) for k, at in enumerate(places, 1))
