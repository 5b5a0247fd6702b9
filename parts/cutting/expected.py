"""What to expect of a size: how far a thermally cut one may be off, by ISO 9013.

    limit deviation   how far a size of the part may be from its nominal one, either way
    class             ISO 9013 has two; laser usually keeps the first, oxy-fuel and plasma the second

    conditions        what the limits are for: parts not much longer than wide, and cuts that aren't short
    scope             thicknesses of each process that the standard is for

A nominal size at a boundary belongs to the column that begins there, which has the wider limit; a thickness at one to
the row that ends there, as the standard heads them. The table is `parts/data/iso9013.toml`, each row with its source.
It is for cuts by flame, plasma and laser on plate and sheet that is flat and lies still; other processes have no class
in it, and a shop's own table may do better or worse.
"""

import math
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from parts.data import Number, Sourced, Table, kind_of, load
from parts.geometry import Loop
from parts.geometry.reach import Extent
from parts.tolerance import LIMIT_SLACK_MM
from parts.units import format_figures


@dataclass(frozen=True, slots=True)
class Expected:
    """A limit deviation, plus or minus, its class, and where the number is from."""

    limit_mm: float
    tolerance_class: int
    source: str

    @property
    def recalled(self) -> bool:
        """Whether the number was never seen in print."""
        return kind_of(self.source) == "from memory"


def tolerance_class(process: str) -> int | None:
    """Return the class that a process usually keeps; None where ISO 9013 has none for it."""
    return _table().processes.usual_class.get(process)


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
            if not 0 < nominal_mm < table.sizes.under_mm:
                return None
            column = bisect_right(table.sizes.from_mm, nominal_mm) - 1
            value = row.limits_mm.get(table.sizes.from_mm[column])
            return None if value is None else Expected(value, tolerance_class, row.source)
    return None


@dataclass(frozen=True, slots=True)
class Outside:
    """One thing in which a part is outside what the limits are for, and the range that they are for; mm, or times."""

    what: Literal["length to width", "cut length", "thickness"]
    value: float
    least: float
    most: float
    recalled: bool


def outside(process: str, thickness_mm: float, outlines: Sequence[Loop]) -> Iterator[Outside]:
    """Yield in what a part is outside what the limits are for, at its worst piece; nothing where there is no class.

    Args:
        process: slug of the process.
        thickness_mm: of the plate.
        outlines: the outside loops.
    """
    table = _table()
    if process not in table.scope.plate:
        return
    of, recalled = table.conditions, _recalled(table.conditions)
    plate = table.scope.plate[process]
    if not plate.thinnest_mm - LIMIT_SLACK_MM <= thickness_mm <= plate.thickest_mm + LIMIT_SLACK_MM:
        yield Outside("thickness", thickness_mm, plate.thinnest_mm, plate.thickest_mm, _recalled(table.scope))
    most = of.most_length_to_width + LIMIT_SLACK_MM
    ratio = max((_length_to_width(loop) for loop in outlines if _may_be_longer(loop, most)), default=0.0)
    if ratio > most:
        yield Outside("length to width", ratio, 0.0, of.most_length_to_width, recalled)
    length = min((loop.perimeter for loop in outlines), default=math.inf)
    if length < of.least_cut_length_mm - LIMIT_SLACK_MM:
        yield Outside("cut length", length, of.least_cut_length_mm, math.inf, recalled)


def _recalled(of: "Conditions | Scope | DeviationRow") -> bool:
    return kind_of(of.source) == "from memory"


def _may_be_longer(loop: Loop, most: float) -> bool:
    """Whether a loop can be over so many times as long as wide: no width is over the diagonal of its bounding box.

    Nor is any below its area by that diagonal, since the box at that angle holds it.
    """
    x0, y0, x1, y1 = loop.box
    diagonal = math.hypot(x1 - x0, y1 - y0)
    return diagonal**2 > most * loop.area and diagonal > most * Extent(loop).surely


def _length_to_width(loop: Loop) -> float:
    """How many times as long as wide a loop is: across its narrowest, and square to that."""
    extent = Extent(loop)
    width, angle = extent.least()
    return extent.width(angle + math.pi / 2) / width


Class = Annotated[int, Field(strict=True, ge=1, le=2)]
Deviation = Annotated[Number, Field(gt=0)]
Size = Annotated[Number, Field(ge=0)]


class Conditions(Sourced):
    """What the limits are for."""

    most_length_to_width: Annotated[Number, Field(ge=1)]
    least_cut_length_mm: Size


class PlateRange(Table):
    """The thinnest and the thickest plate, mm."""

    thinnest_mm: Size
    thickest_mm: Size


class Scope(Sourced):
    """The plate that the standard is for, by process."""

    plate: dict[str, PlateRange]


class SizeColumns(Sourced):
    """The nominal sizes that the columns begin at, and the one that the last ends under."""

    from_mm: Annotated[tuple[Size, ...], Field(min_length=1)]
    under_mm: Size

    @model_validator(mode="after")
    def _rising(self) -> Self:
        """Refuse columns out of order."""
        every = [*self.from_mm, self.under_mm]
        if every != sorted(set(every)) or every[0] != 0:
            raise ValueError("must have sizes that rise from 0 to under_mm")
        return self


class UsualClasses(Sourced):
    """The class that each process usually keeps."""

    usual_class: Annotated[dict[str, Class], Field(alias="class")]


class DeviationRow(Sourced):
    """The limits of a class for plate over one thickness up to and including another, by the size they begin at."""

    tolerance_class: Annotated[Class, Field(alias="class")]
    over_mm: Size
    to_mm: Size
    limits_mm: dict[Annotated[float, Field(ge=0)], Deviation]


class DeviationTable(Table):
    """A file of limit deviations."""

    sizes: SizeColumns
    processes: UsualClasses
    conditions: Conditions
    scope: Scope
    rows: tuple[DeviationRow, ...]

    @model_validator(mode="after")
    def _in_columns(self) -> Self:
        """Refuse a row that ends where it begins, or a limit at a size that no column begins at."""
        for place, row in enumerate(self.rows, 1):
            if row.over_mm >= row.to_mm:
                raise ValueError(f"has a row {place} of over {row.over_mm:g} to {row.to_mm:g} mm: to must be more")
            for size in row.limits_mm.keys() - set(self.sizes.from_mm):
                raise ValueError(f"has a limit at {format_figures(size)} in row {place}: sizes.from_mm doesn't list it")
        return self


@cache
def _table() -> DeviationTable:
    return load("iso9013.toml", DeviationTable)
