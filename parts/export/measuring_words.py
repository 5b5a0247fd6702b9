"""How the readings of a measuring sheet are told: what is measured, how long it is drawn, and how it is done."""

import math
import textwrap
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from parts.spec import MeasuringPlace
from parts.units import Units, format_angle, format_length

LINE = 110


class SheetRow(NamedTuple):
    """One reading of a sheet: its letter, what is measured, how long it is drawn, and the unit beside its box."""

    letter: str
    what: str
    drawn: str
    unit: str


WHAT = {
    "centres": "between centres",
    "outside": "over outside faces",
    "inside": "between inside faces",
    "hole": "across the hole",
    "reversal": "gap when flipped",
}
FIRST = "Let the piece cool and deburr it. Write down the instruments, how warm they are, and how warm the piece."
OF_KINDS = {
    "centres": "Hole centres: measure over both far edges and between both near edges; the centres are half of their "
    "sum apart.",
    "crosses": "Crosses: tape from scribed line to scribed line, straight and evenly tight.",
    "again": "Again: a second reading shows a slip in the first; set the instrument anew, turn a tape round.",
    "inside": "Slots: between the straight sides, not at the round ends.",
    "hole": "Holes: across X and Y where they look oval; write the mean.",
    "reversal": "Flip: the other edge on a straightedge, scribe along this one, turn the piece over about it, scribe "
    "again so that the lines meet at the corner, or where its rounding ends; read the gap with a rule. It counts as "
    "more than 0 where each line leans away from the piece it was drawn along.",
}
"""How each kind of reading is taken, where a piece has it."""


def notes(places: Sequence[MeasuringPlace]) -> tuple[str, ...]:
    """Return how these places are measured, a sentence or two each."""
    kinds = {"crosses" if place.cross else place.kind for place in places}
    kinds |= {"again" for place in places if place.again}
    return (FIRST, *(said for kind, said in OF_KINDS.items() if kind in kinds))


def what(place: MeasuringPlace) -> str:
    """Return what is measured at a place and which way, in words."""
    if place.again:
        return f"{place.again} again"
    said = "from cross to cross" if place.cross else WHAT[place.kind]
    if place.kind == "reversal":
        return f"{said}, along {way(place)}"
    return said if place.kind == "hole" else f"{said}, {way(place)}"


def drawn(place: MeasuringPlace, units: Units) -> str:
    """Return how long a place is drawn, or how far from where the lines meet its gap is read."""
    length = format_length(place.nominal, units)
    return f"read at {length}" if place.kind == "reversal" else f"drawn {length}"


def way(place: MeasuringPlace) -> str:
    """Return a direction as it is said: X, Y, or degrees from X toward Y."""
    degrees = round(math.degrees(place.direction), 3)
    return {0.0: "X", 90.0: "Y"}.get(degrees, format_angle(degrees))


def commented(texts: Iterable[str]) -> str:
    """Return texts as comments at the head of a file of measurements, wrapped."""
    return "".join(f"# {line}\n" for text in texts for line in textwrap.wrap(text, LINE))
