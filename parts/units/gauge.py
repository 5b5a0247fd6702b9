"""Sheet gauges: a gauge number of a named table -> its thickness.

A *gauge* is a name for a thickness, and the same number means another thickness in each table:
16 gauge is 0.0598 in of steel, 0.0635 in galvanized, 0.0625 in stainless, 0.0508 in aluminium.
The numbers and their sources are in `parts/data/gauges.toml`.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Literal, get_args

from parts.data import FOLDER
from parts.errors import DataError

Gauge = Literal["steel", "galvanized", "stainless", "aluminium"]

GAUGES: tuple[Gauge, ...] = get_args(Gauge)

_FILE = FOLDER / "gauges.toml"
_MM_PER_IN = Fraction(127, 5)


@dataclass(frozen=True, slots=True)
class GaugeTable:
    """One published table; `thickness_mm` is keyed by gauge number, thickest first."""

    name: str
    source: str
    thickness_mm: Mapping[int, float]


def gauge_table(gauge: Gauge) -> GaugeTable:
    """Return the published table of `gauge`.

    Raises:
        DataError: the data file of the gauges is unusable.
    """
    return _tables()[gauge]


@cache
def _tables() -> dict[Gauge, GaugeTable]:
    return load_gauges(_FILE)


def load_gauges(path: Path) -> dict[Gauge, GaugeTable]:
    """Read and check a file of gauge tables: inches in the file, mm in the answer.

    Raises:
        DataError: the file can't be read, lacks a table, a name or a source, or a thickness is
            not a number of inches between 0 and 1 that falls as the gauge number grows.
    """
    try:
        data = tomllib.loads(path.read_text(encoding="utf-8"), parse_float=Decimal)
    except (OSError, ValueError) as error:
        raise DataError(f"{path.name} can't be read as TOML ({error}).") from error
    if sorted(data) != sorted(GAUGES):
        raise DataError(f"{path.name} holds the tables {', '.join(sorted(data))}; it must hold {', '.join(GAUGES)}.")
    return {gauge: _table(f"{path.name}, {gauge}", data[gauge]) for gauge in GAUGES}


def _table(where: str, entry: object) -> GaugeTable:
    if not isinstance(entry, dict):
        raise DataError(f"{where}: this must be a table with name, source and thickness_in.")
    for key in ("name", "source"):
        if not isinstance(entry.get(key), str) or not entry[key].strip():
            raise DataError(f"{where}: {key} is {entry.get(key)!r}; it must be a text.")
    rows = entry.get("thickness_in")
    if not isinstance(rows, dict) or not rows:
        raise DataError(f"{where}: thickness_in must list gauge numbers with their thickness in inches.")
    return GaugeTable(entry["name"], entry["source"], _thicknesses(where, rows))


def _thicknesses(where: str, rows: dict[str, object]) -> dict[int, float]:
    """Turn inches to mm exactly, holding each row to the one before it."""
    thickness_mm: dict[int, float] = {}
    last_number, last_in = -1, Decimal(1)
    for text, inches in rows.items():
        number = int(text) if text.isascii() and text.isdigit() else -1
        if number <= last_number:
            raise DataError(f"{where}, gauge {text}: gauges must be whole numbers in rising order.")
        if not isinstance(inches, Decimal) or not inches.is_finite() or not 0 < inches < last_in:
            raise DataError(
                f"{where}, gauge {text}: {inches} must be a decimal above 0 and less than {last_in} inches."
            )
        thickness_mm[number] = float(Fraction(inches) * _MM_PER_IN)
        last_number, last_in = number, inches
    return thickness_mm
