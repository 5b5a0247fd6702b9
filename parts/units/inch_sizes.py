"""The size that a shop working in inches chooses, for a length or a thickness that is said in millimetres.

What is a whole number of 64ths already is such a size. The steps and lists are in `parts/data/inch_sizes.toml`.
"""

import math
from bisect import bisect_left
from collections.abc import Callable
from fractions import Fraction
from functools import cache
from itertools import pairwise
from typing import Annotated, Self

from pydantic import BeforeValidator, Field, model_validator

from parts.data import Sourced, Table, load
from parts.tolerance import LIMIT_SLACK_MM
from parts.units.digits import is_sixty_fourths
from parts.units.factors import MM_PER_IN, Units
from parts.units.gauge import Gauge, gauge_table
from parts.units.reading import parse_length

_PER_IN = Fraction(str(MM_PER_IN))


def _inches(value: object) -> object:
    """Read a size as it is written, `1-1/2`, exactly."""
    if not isinstance(value, str):
        raise ValueError("it must be a size such as '1-1/2'")
    return sum(map(Fraction, value.split("-")), Fraction(0))


Size = Annotated[Fraction, BeforeValidator(_inches), Field(gt=0)]
"""Inches, exactly."""


class Steps(Table):
    """Up to a size, the step between two lengths."""

    to: Size
    step: Size


class Lengths(Sourced):
    """The steps of lengths, rising."""

    rows: Annotated[tuple[Steps, ...], Field(min_length=1)]

    @model_validator(mode="after")
    def _rising(self) -> Self:
        """Refuse rows out of order: a length would find the wrong step."""
        if any(small.to >= large.to or small.step >= large.step for small, large in pairwise(self.rows)):
            raise ValueError("must go from small to large")
        return self


class Plates(Sourced):
    """The thicknesses of plate, thinnest first."""

    sizes: Annotated[tuple[Size, ...], Field(min_length=1)]


class MetricPlates(Sourced):
    """The thicknesses of plate where millimetres are worked in, thinnest first."""

    sizes_mm: Annotated[tuple[Annotated[float, Field(gt=0)], ...], Field(min_length=1)]


class Gauges(Sourced):
    """The numbers of sheet gauges, thickest first."""

    numbers: Annotated[tuple[Annotated[int, Field(strict=True, ge=0)], ...], Field(min_length=1)]


class InchSizes(Table):
    """A file of the sizes that are chosen from, and of what limits are rounded to."""

    lengths: Lengths
    plates: Plates
    metric_plates: MetricPlates
    gauges: Gauges
    limits: Lengths


def inch_length(mm: float) -> float:
    """Return, in mm, the nearest length that is chosen in inches; nothing stays nothing.

    Source: `lengths` in `parts/data/inch_sizes.toml`; a half goes to the larger.

    Raises:
        DataError: the data file of the sizes is unusable.

    >>> inch_length(100)
    101.6
    """
    if not mm or is_sixty_fourths(mm):
        return mm
    inches = Fraction(str(mm)) / _PER_IN
    step = _step(_sizes().lengths, inches)
    return _mm(max(int(inches / step + Fraction(1, 2)), 1) * step)


def inch_least(mm: float) -> float:
    """Return, in mm, the least length as it is said in inches: rounded up, so that what is read is accepted.

    Source: `limits` in `parts/data/inch_sizes.toml`.

    Raises:
        DataError: the data file of the sizes is unusable.

    >>> inch_least(25)
    25.4
    """
    return _inward(mm, math.ceil)


def inch_most(mm: float) -> float:
    """Return the same of the greatest length: rounded down.

    Raises:
        DataError: the data file of the sizes is unusable.
    """
    return _inward(mm, math.floor)


def _inward(mm: float, turn: Callable[[Fraction], int]) -> float:
    if mm <= 0 or is_sixty_fourths(mm):
        return mm
    inches = Fraction(str(mm)) / _PER_IN
    step = _step(_sizes().limits, inches)
    return _mm(turn(inches / step) * step)


def _step(of: Lengths, inches: Fraction) -> Fraction:
    """The step of the first row that reaches as far."""
    return of.rows[min(bisect_left([row.to for row in of.rows], inches), len(of.rows) - 1)].step


def inch_plate(mm: float) -> float:
    """Return, in mm, the plate that is chosen in inches for this thickness.

    Source: `plates` in `parts/data/inch_sizes.toml`.

    Raises:
        DataError: the data file of the sizes is unusable.
    """
    sizes = [_mm(size) for size in _sizes().plates.sizes]
    return mm if is_sixty_fourths(mm) else min(sizes, key=lambda size: abs(size - mm))


def thinner_plates(mm: float, units: Units) -> tuple[float, ...]:
    """Return, in mm, the plates thinner than this that are sold in the working units, thickest first.

    Source: `plates` and `metric_plates` in `parts/data/inch_sizes.toml`.

    Raises:
        DataError: the data file of the sizes is unusable.
    """
    sizes = [_mm(size) for size in _sizes().plates.sizes] if units == "in" else _sizes().metric_plates.sizes_mm
    return tuple(size for size in reversed(sizes) if size < mm - LIMIT_SLACK_MM)


def inch_stock(mm: float, gauge: Gauge | None) -> str:
    """Return the same as it is said, sheet by its gauge: `1/4`, `16 ga`.

    Source: `gauges` and `plates` in `parts/data/inch_sizes.toml`.

    Raises:
        DataError: the data file of the sizes or of the gauges is unusable.
    """
    plates = {_said(size): _mm(size) for size in _sizes().plates.sizes}
    table = gauge_table(gauge).thickness_mm if gauge else {}
    sheets = {f"{number} ga": table[number] for number in _sizes().gauges.numbers if number in table}
    known = sheets | plates if sheets and mm <= max(sheets.values()) else plates
    return min(known, key=lambda name: abs(known[name] - mm))


def inch_text(text: str) -> float:
    """Return, in mm, a size as a template declares it for inches: `2-3/8`, `0.04`."""
    return parse_length(text, bare="in")


def _said(size: Fraction) -> str:
    whole, rest = divmod(size, 1)
    return "-".join(map(str, filter(None, (whole, rest))))


def _mm(inches: Fraction) -> float:
    return float(inches * _PER_IN)


@cache
def _sizes() -> InchSizes:
    return load("inch_sizes.toml", InchSizes)
