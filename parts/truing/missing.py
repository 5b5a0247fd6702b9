"""What readings don't settle, why, and which one further reading would."""

import math
from collections.abc import Iterator, Sequence
from itertools import combinations

from parts.truing.model import NAMES
from parts.truing.reading import Reading, ReadingKind
from parts.truing.solve import settles

_OFFERS: tuple[tuple[ReadingKind, float, str], ...] = (
    ("centres", 0, "the distance between two hole centres along X"),
    ("centres", 90, "the distance between two hole centres along Y"),
    ("centres", 45, "one diagonal between hole centres"),
    ("reversal", 0, "the gap of the piece flipped along a straightedge"),
    ("outside", 0, "an outside length along X"),
    ("inside", 0, "an inside length along X, such as a slot's"),
    ("outside", 90, "an outside length along Y"),
    ("hole", 0, "the diameter of a hole"),
    ("centres", 135, "the other diagonal between hole centres"),
)
_LENGTH, _U = 300.0, 0.02
"""Any will do: whether a reading settles an error doesn't hang on them."""

_WHAT = {
    "scale_x": "the scale of X",
    "scale_y": "the scale of Y",
    "out_of_square": "the angle between the axes",
    "kerf": "the jet's width",
    "hole_shrinkage": "how much smaller round holes come out",
}


def missing(readings: Sequence[Reading]) -> dict[str, str]:
    """Return, for each error that the readings don't settle, a sentence on why and what would."""
    known = settles(readings)
    alike = tuple({(reading.kind, reading.direction): reading for reading in readings}.values())
    return {name: _sentence(name, alike) for name in NAMES if name not in known}


def _sentence(name: str, readings: Sequence[Reading]) -> str:
    for count in (1, 2, 3):
        found = next(_enough(name, readings, count), None)
        if found:
            would = " and ".join(found)
            return f"Nothing here tells {_WHAT[name]} by itself; {would} would."
    return f"Nothing here tells {_WHAT[name]} by itself; measure both axes and both diagonals between hole centres."


def _enough(name: str, readings: Sequence[Reading], count: int) -> Iterator[tuple[str, ...]]:
    """Yield the sets of so many further readings, of different kinds or directions, that settle an error."""
    for offers in combinations(_OFFERS, count):
        more = [Reading(kind, math.radians(degrees), _LENGTH, _LENGTH, _U) for kind, degrees, _ in offers]
        if name in settles([*readings, *more]):
            yield tuple(said for _, _, said in offers)
