"""Which holes are standard for a bolt in structural steel, and how much more edge distance the others ask for.

    standard hole         what the edge distance of the tables is for
    oversized hole        a round hole that is larger
    short and long slot   as wide as the standard hole, up to a length, and longer
    increment             what the others add to the edge distance, which is measured from their middle (C2)

AISC 360 tables J3.3 and J3.3M have the holes, J3.5 and J3.5M the increments. Of a slot shorter than the longest of its
kind half of what it lacks comes off; one that lies along the edge adds nothing. Where a hole or slot is larger than any
of the standard, half of what it is over is added: derived.
"""

from itertools import pairwise
from typing import Annotated, Self

from pydantic import Field, model_validator

from parts.data import Number, Sourced, Table
from parts.tolerance import LIMIT_SLACK_MM
from parts.units import Inches, Millimetres, format_figures


class HoleRow(Sourced):
    """The holes of one bolt: standard and oversized diameter, and the longest short slot."""

    bolt_mm: Millimetres
    standard_mm: Millimetres
    oversized_mm: Millimetres
    short_mm: Millimetres

    @model_validator(mode="after")
    def _grows(self) -> Self:
        """Refuse a hole that isn't larger than the one before it."""
        if not 0 < self.bolt_mm < self.standard_mm < self.oversized_mm < self.short_mm:
            raise ValueError("must grow from bolt through standard and oversized to short")
        return self


class InchHoleRow(HoleRow):
    """The same of an inch bolt: inches in the file, mm once read."""

    bolt_mm: Annotated[Inches, Field(alias="bolt_in")]
    standard_mm: Annotated[Inches, Field(alias="standard_in")]
    oversized_mm: Annotated[Inches, Field(alias="oversized_in")]
    short_mm: Annotated[Inches, Field(alias="short_in")]


class HoleTable(Sourced):
    """Rows by ascending bolt, each with its source; a long slot is up to `long_ratio` x bolt."""

    rows: Annotated[tuple[HoleRow, ...], Field(min_length=1)]
    long_ratio: Annotated[Number, Field(ge=1)]

    @model_validator(mode="after")
    def _ascending(self) -> Self:
        """Refuse a row whose bolt isn't larger than the one before it."""
        _refuse_unless_rising("bolt", [row.bolt_mm for row in self.rows])
        return self

    def of(self, bolt_mm: float) -> HoleRow:
        """Return the holes of a bolt; where no row has it, as much larger than the bolt as in the row below."""
        row = next((row for row in reversed(self.rows) if row.bolt_mm <= bolt_mm), self.rows[0])
        off = bolt_mm - row.bolt_mm
        sizes = {"standard_mm": row.standard_mm, "oversized_mm": row.oversized_mm, "short_mm": row.short_mm}
        moved = {name: size + off for name, size in sizes.items()}
        return row.model_copy(update={"bolt_mm": bolt_mm, **moved}) if off else row


class InchHoleTable(HoleTable):
    """The same of inch bolts."""

    rows: Annotated[tuple[InchHoleRow, ...], Field(min_length=1)]


class IncrementRow(Table):
    """What is added for bolts over a size: for an oversized hole, and for a short slot."""

    over_mm: Annotated[Millimetres, Field(ge=0)]
    oversized_mm: Annotated[Millimetres, Field(ge=0)]
    short_mm: Annotated[Millimetres, Field(ge=0)]


class InchIncrementRow(IncrementRow):
    """The same of inch bolts."""

    over_mm: Annotated[Inches, Field(alias="over_in", ge=0)]
    oversized_mm: Annotated[Inches, Field(alias="oversized_in", ge=0)]
    short_mm: Annotated[Inches, Field(alias="short_in", ge=0)]


class IncrementTable(Sourced):
    """Rows by ascending bolt, the last without an end; for a long slot it is `long_ratio` x bolt."""

    rows: Annotated[tuple[IncrementRow, ...], Field(min_length=1)]
    long_ratio: Annotated[Number, Field(ge=0)]

    @model_validator(mode="after")
    def _rising(self) -> Self:
        """Refuse a row that begins no higher than the one before it, or a first one that leaves bolts out."""
        if self.rows[0].over_mm:
            raise ValueError("must have rows that begin over 0")
        _refuse_unless_rising("row over", [row.over_mm for row in self.rows])
        return self

    def of(self, bolt_mm: float) -> IncrementRow:
        """Return what is added for a bolt."""
        return next(row for row in reversed(self.rows) if row.over_mm < bolt_mm)


class InchIncrementTable(IncrementTable):
    """The same of inch bolts."""

    rows: Annotated[tuple[InchIncrementRow, ...], Field(min_length=1)]


def oversized_increment(bolt_mm: float, width_mm: float, holes: HoleTable, increments: IncrementTable) -> float:
    """Return what a hole or a slot this wide adds for being wider than standard, mm; 0 where it isn't."""
    of = holes.of(bolt_mm)
    if width_mm <= of.standard_mm + LIMIT_SLACK_MM:
        return 0.0
    return increments.of(bolt_mm).oversized_mm + max(width_mm - of.oversized_mm, 0.0) / 2


def is_short(bolt_mm: float, length_mm: float, holes: HoleTable) -> bool:
    """Tell whether a slot this long over all is a short one."""
    return length_mm <= holes.of(bolt_mm).short_mm + LIMIT_SLACK_MM


def slot_increment(bolt_mm: float, length_mm: float, holes: HoleTable, increments: IncrementTable) -> float:
    """Return what a slot this long over all adds where it points to the edge, mm."""
    short = is_short(bolt_mm, length_mm, holes)
    if short:
        longest, added = holes.of(bolt_mm).short_mm, increments.of(bolt_mm).short_mm
    else:
        longest, added = holes.long_ratio * bolt_mm, increments.long_ratio * bolt_mm
    least = 0.0 if short else increments.of(bolt_mm).short_mm  # a longer one never asks for less
    return max(added - (longest - length_mm) / 2, least)


def _refuse_unless_rising(what: str, values: list[float]) -> None:
    for small, large in pairwise(values):
        if large <= small:
            wrong = f"{format_figures(large)} after {format_figures(small)}"
            raise ValueError(f"has a {what} of {wrong}: rows must ascend")
