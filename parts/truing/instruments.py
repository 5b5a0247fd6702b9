"""What readings share: each instrument's zero and scale, and how warm each piece is, as standard uncertainties.

Numbers and their sources are in `parts/data/instruments.toml`. A length of a piece at T_p read with an instrument at
T_i comes out a_p (T_p - 20) - a_i (T_i - 20) of itself too long, the a being what each grows per kelvin; both are right
at 20 degrees C (ISO 1).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from parts.data import Number, Sourced, Table, load
from parts.truing.reading import Reading

REFERENCE_C = 20.0
"""The temperature at which lengths are what they are said to be (ISO 1)."""


class Instrument(Sourced):
    """The uncertainties of one instrument; `inside_zero_mm` is 0 where one zero is in all its readings."""

    u_mm: Number
    zero_mm: Number
    inside_zero_mm: Number = 0.0
    scale: Number


class Temperatures(Sourced):
    """How well temperatures are known: a piece's beyond the instrument's, a room's, and one that was told."""

    difference_k: Number
    room_k: Number
    told_k: Number


class Expansion(Sourced):
    """Growth per kelvin of length, by group of materials, and of instruments."""

    steel: Number
    stainless: Number
    aluminium: Number
    copper: Number
    brass: Number
    instrument: Number


class InstrumentTable(Table):
    """The data file."""

    instruments: dict[str, Instrument]
    temperature: Temperatures
    expansion: Expansion


@cache
def table() -> InstrumentTable:
    """Return the built-in numbers."""
    return load("instruments.toml", InstrumentTable)


def usual_u() -> dict[str, float]:
    """Return the standard uncertainty in mm of one careful reading, by instrument."""
    return {name: of.u_mm for name, of in table().instruments.items()}


METALS = tuple(name for name in Expansion.model_fields if name not in ("source", "instrument"))
"""The groups of materials whose growth is known."""


@dataclass(frozen=True, slots=True)
class Warmth:
    """How much too long, as a share, the lengths of a piece are read for its temperature, and how sure that is."""

    growth: float
    u: float


def warmth(metal: str = "steel", piece_c: float | None = None, instrument_c: float | None = None) -> Warmth:
    """Return how much too long a piece is read.

    Args:
        metal: one of METALS.
        piece_c: the piece's temperature, None where it isn't told: about that of the instrument.
        instrument_c: the instrument's, None where it isn't told: about 20 degrees C.
    """
    of_piece: float = getattr(table().expansion, metal)
    of_instrument, sure = table().expansion.instrument, table().temperature
    room = REFERENCE_C if instrument_c is None else instrument_c
    u_room = sure.room_k if instrument_c is None else sure.told_k
    if piece_c is None:
        apart = of_piece - of_instrument
        return Warmth(apart * (room - REFERENCE_C), math.hypot(of_piece * sure.difference_k, apart * u_room))
    growth = of_piece * (piece_c - REFERENCE_C) - of_instrument * (room - REFERENCE_C)
    return Warmth(growth, math.hypot(of_piece * sure.told_k, of_instrument * u_room))


def shared(readings: Sequence[Reading]) -> list[list[float]]:
    """Return, for each error that readings share, what one standard uncertainty of it makes of each of them, mm.

    A reading without an instrument or a piece shares nothing. Centres are half of far and near edges together, so that
    they have half of the zero of either pair of jaws.
    """
    columns: dict[tuple[str, str], list[float]] = {}
    for i, reading in enumerate(readings):
        for source, effect in _effects(reading):
            columns.setdefault(source, [0.0] * len(readings))[i] = effect
    return [column for column in columns.values() if any(column)]


def _effects(reading: Reading) -> list[tuple[tuple[str, str], float]]:
    found = []
    length = abs(reading.measured) if reading.kind == "reversal" else reading.nominal
    if reading.warmth_u and reading.kind != "reversal":
        found.append((("warmth", reading.piece), length * reading.warmth_u))
    if not reading.tool:
        return found
    of, tool = table().instruments[reading.tool], reading.tool
    outside, inside = (1.0, 0.0) if not of.inside_zero_mm else _JAWS.get(reading.kind, (1.0, 0.0))
    return [
        *found,
        (("scale", tool), length * of.scale),
        (("zero", tool), outside * of.zero_mm),
        (("inside zero", tool), inside * of.inside_zero_mm),
    ]


_JAWS = {"centres": (0.5, 0.5), "inside": (0.0, 1.0), "hole": (0.0, 1.0)}
"""How much of the zero of its outside and of its inside jaws a caliper brings into a reading of each kind."""
