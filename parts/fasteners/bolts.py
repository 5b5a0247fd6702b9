"""Bolt sizes and fits -> clearance holes, by ISO 273 (metric) and ASME B18.2.8 (inch).

    clearance hole   a hole a bolt goes through without thread
    fit              how much room it has there: close, normal or loose (in ISO 273: fine, medium, coarse)

The sizes and their sources are in `parts/data/bolts.toml`.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import pairwise
from typing import Annotated, Generic, Self, TypeVar

from pydantic import Field, model_validator

from parts.data import Sourced, Table, load
from parts.errors import UnitsError
from parts.tolerance import LIMIT_SLACK_MM
from parts.units import Inches, Millimetres, Units, echo, parse_length

FITS = ("close", "normal", "loose")

_FIT_NAMES = {"fine": "close", "medium": "normal", "coarse": "loose"} | {fit: fit for fit in FITS}
_ASIDE = re.compile(r"(?<![a-z])(?:hex|bolts?|screws?|studs?|unc|unf|unr)(?![a-z])")
_DECIMAL = r"[0-9]{1,3}(?:\.[0-9]{1,3})?"
# size, pitch, length, class of the thread: m8x1.25x40, m6x1-6h
_METRIC = re.compile(rf"m ?({_DECIMAL})(?: ?[x-] ?{_DECIMAL}){{0,2}}(?: ?mm)?(?: ?- ?[3-9][a-h](?:[3-9][a-h])?)?")
# size, threads to the inch, class, length: 1/4-20, 5/16-18-2a, 3/8-16 x 1-1/2 in
_INCH = re.compile(
    r"(.*?[0-9\"n])(?: ?[x-] ?[0-9]{1,3}(?: ?tpi)?)?(?: ?- ?[1-3][ab])?(?: ?x ?[0-9][0-9 ./-]*(?:\"|in)?)?"
)
_NUMBERED = re.compile(r"(?:#|no\.? ?|number )[0-9]{1,2}(?![0-9]).*|[0-9]{1,2} ?- ?[0-9]{2}(?:[ x-].*)?")
_RANGE = (
    "write M3 to M36 (ISO 273) or 1/4 to 1-1/2 in (ASME B18.2.8), such as M8 or 5/16, or by-diameter to give any hole "
    "by its diameter"
)
_LONGEST_TEXT = 60
_BARE_NUMBER = re.compile(r"[0-9]*\.?[0-9]*(?:e[0-9]+)?")


@dataclass(frozen=True, slots=True)
class Bolt:
    """One size of a standard: its diameter and its clearance hole by fit, in mm."""

    size: str
    units: Units
    source: str
    diameter_mm: float
    hole_mm: Mapping[str, float]


class MetricSize(Table):
    """A bolt and its clearance holes, mm."""

    diameter_mm: Millimetres
    close_mm: Millimetres
    normal_mm: Millimetres
    loose_mm: Millimetres

    @property
    def hole_mm(self) -> dict[str, float]:
        """The clearance hole by fit."""
        return dict(zip(FITS, (self.close_mm, self.normal_mm, self.loose_mm), strict=True))

    @model_validator(mode="after")
    def _growing(self) -> Self:
        """Refuse a hole that its bolt doesn't go through, or that is no larger than the closer one."""
        if not 0 < self.diameter_mm < self.close_mm < self.normal_mm < self.loose_mm:
            raise ValueError("must grow from diameter through close and normal to loose")
        return self


class InchSize(MetricSize):
    """The same of an inch bolt: inches in the file, mm once read."""

    diameter_mm: Annotated[Inches, Field(alias="diameter_in")]
    close_mm: Annotated[Inches, Field(alias="close_in")]
    normal_mm: Annotated[Inches, Field(alias="normal_in")]
    loose_mm: Annotated[Inches, Field(alias="loose_in")]


S = TypeVar("S", bound=MetricSize)


class Standard(Sourced, Generic[S]):
    """The sizes of one standard, ascending."""

    sizes: Annotated[dict[str, S], Field(min_length=1)]

    @model_validator(mode="after")
    def _ascending(self) -> Self:
        """Refuse a bolt that isn't larger than the one before it."""
        for (size, small), (following, large) in pairwise(self.sizes.items()):
            if large.diameter_mm <= small.diameter_mm:
                raise ValueError(f"has {following} after {size}: bolts must stand in ascending order")
        return self

    def bolts(self, units: Units) -> dict[str, Bolt]:
        """Return its bolts by size."""
        return {size: Bolt(size, units, self.source, row.diameter_mm, row.hole_mm) for size, row in self.sizes.items()}


class BoltTables(Table):
    """A file of bolt sizes and clearance holes."""

    metric: Standard[MetricSize]
    inch: Standard[InchSize]


@cache
def bolts() -> Mapping[str, Bolt]:
    """Return every bolt by its size: M3 to M36, then 1/4 to 1-1/2 in.

    Raises:
        DataError: the data file of the bolts is unusable.
    """
    tables = load("bolts.toml", BoltTables)
    return tables.metric.bolts("mm") | tables.inch.bolts("in")


def inch_bolt(size: str) -> str:
    """Return the inch size nearest to a bolt in diameter: 1/4 for M6, 1/2 for M12; an inch size is its own.

    Raises:
        DataError: the data file of the bolts is unusable.
    """
    known = bolts()
    inch = [other for other in known.values() if other.units == "in"]
    return min(inch, key=lambda other: abs(other.diameter_mm - known[size].diameter_mm)).size


def bolt_diameter_mm(bolt: str) -> float:
    """Return the nominal diameter of a bolt size in mm.

    Raises:
        UnitsError: no such size is in the tables.
    """
    return bolts()[find_bolt(bolt)].diameter_mm


@lru_cache(maxsize=256)
def clearance_hole_mm(bolt: str, fit: str = "normal") -> float:
    """Return the diameter in mm of the clearance hole for a bolt size.

    ISO 273:1979 for metric sizes. For inch sizes the nominal drill of ASME B18.2.8, as its
    fraction of an inch; the standard's decimals are the same rounded to 0.001 in.

    Args:
        bolt: a size, as `find_bolt` reads it.
        fit: close, normal or loose; ISO 273's fine, medium and coarse mean the same.

    Raises:
        UnitsError: no such size or fit is in the tables.
    """
    name = _FIT_NAMES.get(fit.strip().lower())
    if name is None:
        raise UnitsError(f"{echo(fit)} is not a fit: write close, normal or loose.")
    return bolts()[find_bolt(bolt)].hole_mm[name]


@lru_cache(maxsize=256)
def bolt_of_mm(diameter_mm: float) -> Bolt | None:
    """Return the size with this nominal diameter, None where the tables have none."""
    return next((bolt for bolt in bolts().values() if abs(bolt.diameter_mm - diameter_mm) <= LIMIT_SLACK_MM), None)


def find_bolt(text: str) -> str:
    """Return the size, one of `bolts`, that a person wrote.

    Reads m8, M 8, M8x1.25x40, 8 mm, 1/4", 1/4-20, 1/4-20 UNC x 3/4, 3/8 bolt, half inch.

    A thread pitch, its class or a length after the size is left aside. A bare number other than 1 is
    refused: 8 could be M8 or a number size. Number sizes, such as 10-24, have no hole in the tables.

    Raises:
        UnitsError: the text is no size in the tables; says which are accepted.
    """
    if text in bolts():
        return text
    if len(text) > _LONGEST_TEXT:
        raise UnitsError(f"{echo(text)} is {len(text)} characters long: {_RANGE}.")
    tidy = " ".join(_ASIDE.sub(" ", text.lower().replace("\u2013", "-").replace("\u00d7", "x")).split())
    metric = _METRIC.fullmatch(tidy)
    if metric:
        return _by_diameter(text, float(metric[1]))
    if _NUMBERED.fullmatch(tidy) and not tidy.startswith("1-"):
        raise UnitsError(f"{echo(text)} is a number size, which the tables have no hole for: {_RANGE}.")
    return _inch_size(text, tidy)


def _inch_size(text: str, tidy: str) -> str:
    """The inch size that a person wrote, or one by its diameter."""
    inch = _INCH.fullmatch(tidy)
    if inch:
        tidy = inch[1]
    if tidy in bolts():
        return tidy
    if _BARE_NUMBER.fullmatch(tidy):
        raise UnitsError(f"{echo(text)} is not a bolt size: {_RANGE}.")
    try:
        diameter_mm = parse_length(tidy, bare="in")
    except UnitsError as error:
        raise UnitsError(f"{echo(text)} is not a bolt size: {_RANGE}.") from error
    return _by_diameter(text, diameter_mm)


def _by_diameter(text: str, diameter_mm: float) -> str:
    if bolt := bolt_of_mm(diameter_mm):
        return bolt.size
    raise UnitsError(f"{echo(text)} is not a size in the tables: {_RANGE}.")
