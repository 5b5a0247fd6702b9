"""What to expect of a size: how far a thermally cut one may be off, by ISO 9013.

    limit deviation   how far a size of the part may be from its nominal one, either way
    class             ISO 9013 has two; laser usually keeps the first, oxy-fuel and plasma the second

The table is `parts/data/iso9013.toml`, each row with its source. It is for cuts by flame, plasma and laser on plate
and sheet that is flat and lies still; other processes have no class in it, and a shop's own table may do better
or worse.
"""

import tomllib
from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from parts.data import FOLDER

TABLE = FOLDER / "iso9013.toml"

MEMORY = "from memory"


@dataclass(frozen=True, slots=True)
class Expected:
    """A limit deviation, plus or minus, its class, and where the number is from."""

    limit_mm: float
    tolerance_class: int
    source: str

    @property
    def recalled(self) -> bool:
        """Whether the number was never seen in print."""
        return self.source.startswith(MEMORY)


def tolerance_class(process: str) -> int | None:
    """Return the class that a process usually keeps; None where ISO 9013 has none for it."""
    return _table().classes.get(process)


def expected(process: str, thickness_mm: float, nominal_mm: float) -> Expected | None:
    """Return the limit deviation of a size; None where the table has no value for it.

    Args:
        process: slug of the process.
        thickness_mm: of the plate.
        nominal_mm: the size as drawn.
    """
    kept = tolerance_class(process)
    return None if kept is None else limit(kept, thickness_mm, nominal_mm)


def limit(tolerance_class: int, thickness_mm: float, nominal_mm: float) -> Expected | None:
    """Return the limit deviation of a size in a class; None where the table has no value for it."""
    table = _table()
    for row in table.rows:
        if row.tolerance_class == tolerance_class and row.over_mm < thickness_mm <= row.to_mm:
            column = bisect_left(table.sizes_over_mm, nominal_mm) - 1
            if column < 0 or nominal_mm > table.largest_mm:
                return None
            value = row.limits_mm.get(table.sizes_over_mm[column])
            return None if value is None else Expected(value, tolerance_class, row.source)
    return None


@dataclass(frozen=True, slots=True)
class _Row:
    tolerance_class: int
    over_mm: float
    to_mm: float
    limits_mm: Mapping[float, float]
    source: str


@dataclass(frozen=True, slots=True)
class _Table:
    rows: tuple[_Row, ...]
    sizes_over_mm: tuple[float, ...]
    largest_mm: float
    classes: Mapping[str, int]


@cache
def _table() -> _Table:
    data = tomllib.loads(TABLE.read_text(encoding="utf-8"))
    return _Table(
        tuple(_row(row) for row in data["rows"]),
        tuple(float(size) for size in data["sizes_over_mm"]),
        float(data["largest_size_mm"]),
        {process: kept for process, kept in data["processes"].items() if process != "source"},
    )


def _row(row: Mapping[str, Any]) -> _Row:
    limits = {float(size): float(value) for size, value in row["limits_mm"].items()}
    return _Row(row["class"], float(row["over_mm"]), float(row["to_mm"]), limits, row["source"])
