"""How near an edge, and how near each other, bolts may be in a structural steel connection.

AISC 360: section J3.3 for the spacing, tables J3.4 and J3.4M for the edge distance, both measured from the centre of
a standard hole; tables J3.3 and J3.5 (and their metric ones) for what holes are standard and what others add, in
`parts.fasteners.hole_tables`. The numbers are in `parts/data/edge_distance.toml`. They are for detailing: the
connection itself is an engineer's work.
"""

from bisect import bisect_left
from fractions import Fraction
from functools import cache
from itertools import pairwise
from typing import Annotated, Generic, Self, TypeVar

from pydantic import BeforeValidator, Field, model_validator

from parts.data import Number, Sourced, Table, load
from parts.fasteners.bolts import bolt_of_mm
from parts.fasteners.hole_tables import HoleTable, InchHoleTable, InchIncrementTable, IncrementTable
from parts.units import Inches, Millimetres, format_figures

Ratio = Annotated[float, BeforeValidator(lambda ratio: float(Fraction(ratio))), Field(gt=0)]
"""A number of bolt diameters, written as a fraction."""


class MetricRow(Table):
    """A bolt and its least edge distance, mm."""

    bolt_mm: Millimetres
    edge_mm: Millimetres

    @model_validator(mode="after")
    def _within(self) -> Self:
        """Refuse an edge within the bolt."""
        if not 0 < self.bolt_mm <= self.edge_mm:
            raise ValueError("must have an edge distance of at least its bolt")
        return self


class InchRow(MetricRow):
    """The same of an inch bolt: inches in the file, mm once read."""

    bolt_mm: Annotated[Inches, Field(alias="bolt_in")]
    edge_mm: Annotated[Inches, Field(alias="edge_in")]


R = TypeVar("R", bound=MetricRow)


class EdgeTable(Sourced, Generic[R]):
    """Rows by ascending bolt; `beyond_ratio` x bolt holds after the last."""

    holes: HoleTable
    increments: IncrementTable
    rows: Annotated[tuple[R, ...], Field(min_length=1)]
    beyond_ratio: Annotated[Number, Field(ge=1)]

    @model_validator(mode="after")
    def _ascending(self) -> Self:
        """Refuse a row whose bolt isn't larger, or whose edge is nearer, than the one before it."""
        for small, large in pairwise(self.rows):
            if large.bolt_mm <= small.bolt_mm or large.edge_mm < small.edge_mm:
                wrong = f"{format_figures(large.bolt_mm)} after {format_figures(small.bolt_mm)}"
                raise ValueError(f"has a bolt of {wrong}: rows must ascend")
        return self

    def least_mm(self, bolt_mm: float) -> float:
        """Return the least edge distance for a bolt.

        Between rows it is on the straight line, and below the first on the line from nothing to that row: the
        standard has no such bolts, and 1.25 diameters would be a step down from its smallest.
        """
        if bolt_mm > self.rows[-1].bolt_mm:
            return self.beyond_ratio * bolt_mm
        rows = ((0.0, 0.0), *((row.bolt_mm, row.edge_mm) for row in self.rows))
        at = bisect_left(rows, bolt_mm, key=lambda row: row[0])
        (low, least), (high, most) = rows[max(at - 1, 0)], rows[max(at, 1)]
        return most if bolt_mm == high else least + (most - least) * (bolt_mm - low) / (high - low)

    def is_of_the_table(self, bolt_mm: float) -> bool:
        """Tell whether the standard itself has the distance for this bolt; else it is derived from its rows."""
        return bolt_mm > self.rows[-1].bolt_mm or any(row.bolt_mm == bolt_mm for row in self.rows)


class InchEdgeTable(EdgeTable[InchRow]):
    """The same of inch bolts."""

    holes: InchHoleTable
    increments: InchIncrementTable


class Spacing(Sourced):
    """From centre to centre, in bolt diameters."""

    least: Ratio
    preferred: Ratio


class Bolting(Table):
    """A file of edge distances, by the units a bolt is named in, and of spacings."""

    metric: EdgeTable[MetricRow]
    inch: InchEdgeTable
    spacing: Spacing


@cache
def bolting() -> Bolting:
    """Return the tables.

    Raises:
        DataError: their data file is unusable.
    """
    return load("edge_distance.toml", Bolting)


def edge_table(bolt_mm: float) -> EdgeTable[MetricRow] | InchEdgeTable:
    """Return the table for a bolt of this nominal diameter: the inch one for inch sizes, else the metric one."""
    bolt = bolt_of_mm(bolt_mm)
    return bolting().inch if bolt and bolt.units == "in" else bolting().metric


def least_spacing_mm(bolt_mm: float) -> float:
    """Return the least distance from centre to centre for bolts of this diameter."""
    return bolting().spacing.least * bolt_mm


def preferred_spacing_mm(bolt_mm: float) -> float:
    """Return the distance from centre to centre that is preferred for bolts of this diameter."""
    return bolting().spacing.preferred * bolt_mm
