"""How near an edge, and how near each other, bolts may be in a structural steel connection.

AISC 360: section J3.3 for the spacing, tables J3.4 and J3.4M for the edge distance, both measured from the centre of
a standard hole. The numbers are in `parts/data/edge_distance.toml`. They are for detailing: the connection itself is
an engineer's work.
"""

import tomllib
from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

from parts.data import FOLDER
from parts.errors import DataError, UnitsError
from parts.fasteners.bolts import bolt_of_mm
from parts.units import Units, parse_length


@dataclass(frozen=True, slots=True)
class EdgeTable:
    """Rows of bolt and least edge distance in mm, ascending; `beyond_ratio` x bolt holds after the last."""

    rows: tuple[tuple[float, float], ...]
    beyond_ratio: float
    source: str

    def least_mm(self, bolt_mm: float) -> float:
        """Return the least edge distance for a bolt.

        Between rows it is on the straight line, and below the first on the line from nothing to that row: the
        standard has no such bolts, and 1.25 diameters would be a step down from its smallest.
        """
        if bolt_mm > self.rows[-1][0]:
            return self.beyond_ratio * bolt_mm
        rows = ((0.0, 0.0), *self.rows)
        at = bisect_left(rows, bolt_mm, key=lambda row: row[0])
        (low, least), (high, most) = rows[max(at - 1, 0)], rows[max(at, 1)]
        return most if bolt_mm == high else least + (most - least) * (bolt_mm - low) / (high - low)


@dataclass(frozen=True, slots=True)
class Bolting:
    """The tables by the units a bolt is named in, and the spacing in bolt diameters."""

    edge: Mapping[Units, EdgeTable]
    least_spacing: float
    preferred_spacing: float
    spacing_source: str


def load_bolting(path: Path) -> Bolting:
    """Read and check a file of edge distances and spacings.

    Raises:
        DataError: the file can't be read, lacks an entry, or its rows don't ascend.
    """
    try:
        data = tomllib.loads(path.read_text(encoding="utf-8"))
        tables: dict[Units, EdgeTable] = {"mm": _table(data["metric"], "mm"), "in": _table(data["inch"], "in")}
        spacing = data["spacing"]
        least, preferred = (float(Fraction(spacing[name])) for name in ("least", "preferred"))
        return Bolting(tables, least, preferred, str(spacing["source"]))
    except (OSError, ValueError, KeyError, TypeError, UnitsError) as error:
        raise DataError(f"{path.name} can't be used: {error}.") from error


def _table(entry: Mapping[str, Any], units: Units) -> EdgeTable:
    rows = tuple(
        (parse_length(str(row[f"bolt_{units}"]), bare=units), parse_length(str(row[f"edge_{units}"]), bare=units))
        for row in entry["rows"]
    )
    if not rows or list(rows) != sorted(rows) or any(edge < bolt for bolt, edge in rows):
        raise ValueError("rows must ascend, each edge distance at least its bolt")
    return EdgeTable(rows, float(entry["beyond_ratio"]), str(entry["source"]))


BOLTING = load_bolting(FOLDER / "edge_distance.toml")


def edge_table(bolt_mm: float) -> EdgeTable:
    """Return the table for a bolt of this nominal diameter: the inch one for inch sizes, else the metric one."""
    bolt = bolt_of_mm(bolt_mm)
    return BOLTING.edge[bolt.units if bolt else "mm"]


def least_spacing_mm(bolt_mm: float) -> float:
    """Return the least distance from centre to centre for bolts of this diameter."""
    return BOLTING.least_spacing * bolt_mm


def preferred_spacing_mm(bolt_mm: float) -> float:
    """Return the distance from centre to centre that is preferred for bolts of this diameter."""
    return BOLTING.preferred_spacing * bolt_mm
