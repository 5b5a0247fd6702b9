"""What readings don't settle, or settle badly, why, and the fewest further readings that would settle it well."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache
from itertools import combinations

from parts.truing.instruments import usual_u, warmth
from parts.truing.model import NAMES
from parts.truing.reading import Reading, ReadingKind
from parts.truing.solve import foreseen, settles

_OFFERS: tuple[tuple[ReadingKind, float, float, str], ...] = (
    ("centres", 0, 300, "the distance between two hole centres along X"),
    ("centres", 90, 300, "the distance between two hole centres along Y"),
    ("centres", 45, 424, "one diagonal between hole centres"),
    ("reversal", 0, 300, "the gap of the piece flipped along a straightedge"),
    ("outside", 0, 350, "an outside length along X"),
    ("inside", 0, 12, "an inside length along X, such as a slot's"),
    ("outside", 90, 350, "an outside length along Y"),
    ("hole", 0, 10, "the diameter of a hole"),
    ("centres", 135, 424, "the other diagonal between hole centres"),
)
"""What may be measured as well, each with the length that the default test square has of it, mm."""

WELL: Mapping[str, float] = {
    "scale_x": 5e-4, "scale_y": 5e-4, "out_of_square": 5e-4, "kerf": 0.1, "hole_shrinkage": 0.1,
}  # fmt: skip
"""An error is settled well with a standard uncertainty up to this: 1 mm in a metre, or 0.2 mm in a width, with 95 %
confidence; what a shop's tape would show, common practice."""

WHAT = {
    "scale_x": "the scale of X",
    "scale_y": "the scale of Y",
    "out_of_square": "the angle between the axes",
    "kerf": "the jet's width",
    "hole_shrinkage": "how much smaller round holes come out",
}


def missing(readings: Sequence[Reading]) -> dict[str, str]:
    """Return, for each error that the readings don't settle, a sentence on why and what would."""
    known, enough = settles(readings), _Enough(readings)
    return {
        name: f"Nothing here tells {WHAT[name]} by itself; {enough.said(name)}." for name in NAMES if name not in known
    }


def weak(readings: Sequence[Reading]) -> dict[str, str]:
    """Return, for each error that the readings settle, but not well, a sentence on what would."""
    enough = _Enough(readings)
    return {
        name: f"These readings tell {WHAT[name]} only roughly; {enough.said(name)}."
        for name, u in foreseen(readings).items()
        if u > WELL[name]
    }


class _Enough:
    """Looks for the fewest further readings; each set of them is reckoned once for all errors."""

    def __init__(self, readings: Sequence[Reading]) -> None:
        self._readings = _alike(readings)
        self._foreseen = cache(self._with)

    def said(self, name: str) -> str:
        for count in (1, 2, 3):
            found = next(self._sets(name, count), None)
            if found:
                return f"{' and '.join(found)} would"
        return "measure both axes and both diagonals between hole centres"

    def _sets(self, name: str, count: int) -> Iterator[tuple[str, ...]]:
        """Yield the sets of so many further readings, of different kinds or directions, that settle an error well."""
        for chosen in combinations(range(len(_OFFERS)), count):
            if self._foreseen(chosen).get(name, math.inf) <= WELL[name]:
                yield tuple(_OFFERS[i][-1] for i in chosen)

    def _with(self, chosen: tuple[int, ...]) -> dict[str, float]:
        piece = self._readings[0].piece if self._readings else ""
        return foreseen([*self._readings, *(offered(i, piece) for i in chosen)])


def offered(index: int, piece: str = "") -> Reading:
    """Return one of the offers as a reading of a good table, by its usual instrument."""
    kind, degrees, length, _ = _OFFERS[index]
    tool = "scriber-and-rule" if kind == "reversal" else "caliper"
    measured = 0.0 if kind == "reversal" else length
    of = warmth()
    return Reading(
        kind, math.radians(degrees), length, measured, usual_u()[tool], tool=tool, piece=piece, warmth_u=of.u
    )


def _alike(readings: Sequence[Reading]) -> tuple[Reading, ...]:
    """The readings, of many that are the same but for what they show one for all, as sure as they are together."""
    groups: dict[tuple[object, ...], list[Reading]] = {}
    for r in readings:
        groups.setdefault((r.kind, r.direction, r.nominal, r.tool, r.piece, r.u), []).append(r)
    return tuple(group[0] if len(group) == 1 else _one(group) for group in groups.values())


def _one(group: Sequence[Reading]) -> Reading:
    return replace(group[0], u=group[0].u / math.sqrt(len(group)))
