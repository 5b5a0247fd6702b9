"""Sheet gauges: a gauge number of a named table -> its thickness.

A *gauge* is a name for a thickness, and the same number means another thickness in each table:
16 gauge is 0.0598 in of steel, 0.0635 in galvanized, 0.0625 in stainless, 0.0508 in aluminium.
The numbers and their sources are in `parts/data/gauges.toml`.
"""

from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from itertools import pairwise
from typing import Annotated, Literal, get_args

from pydantic import AfterValidator, Field

from parts.data import Number, Sourced, Table, Text, load

Gauge = Literal["steel", "galvanized", "stainless", "aluminium"]

GAUGES: tuple[Gauge, ...] = get_args(Gauge)

_MM_PER_IN = Fraction(127, 5)


def _mm(inches: float) -> float:
    """The decimal as it is written, times 25.4, rounded once."""
    return float(Fraction(str(inches)) * _MM_PER_IN)


def _falling(thickness_mm: Mapping[int, float]) -> Mapping[int, float]:
    """Refuse gauges out of order: the number grows, the thickness falls."""
    for (number, thick), (following, thin) in pairwise(thickness_mm.items()):
        if following <= number or thin >= thick:
            raise ValueError(f"has gauge {following} after {number}: numbers must rise and thicknesses fall")
    return thickness_mm


SheetThickness = Annotated[Number, Field(gt=0, lt=1), AfterValidator(_mm)]
"""Less than an inch in the file, mm once read."""


class GaugeTable(Sourced):
    """One published table; `thickness_mm` is keyed by gauge number, thickest first."""

    name: Text
    thickness_mm: Annotated[
        Mapping[Annotated[int, Field(ge=0)], SheetThickness],
        Field(alias="thickness_in", min_length=1),
        AfterValidator(_falling),
    ]


class GaugeTables(Table):
    """A file of gauge tables: inches in the file, mm once read."""

    steel: GaugeTable
    galvanized: GaugeTable
    stainless: GaugeTable
    aluminium: GaugeTable


@cache
def gauge_table(gauge: Gauge) -> GaugeTable:
    """Return the published table of `gauge`.

    Raises:
        DataError: the data file of the gauges is unusable.
    """
    table: GaugeTable = getattr(_tables(), gauge)
    return table


@cache
def _tables() -> GaugeTables:
    return load("gauges.toml", GaugeTables)
