"""Bolt sizes and fits -> clearance holes, by ISO 273 (metric) and ASME B18.2.8 (inch).

    clearance hole   a hole a bolt goes through without thread
    fit              how much room it has there: close, normal or loose (in ISO 273: fine, medium, coarse)

The sizes and their sources are in `parts/data/bolts.toml`.
"""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from parts.data import FOLDER
from parts.errors import DataError, UnitsError
from parts.tolerance import LIMIT_SLACK_MM
from parts.units import Units, echo, parse_length

FITS = ("close", "normal", "loose")

_SYSTEMS: dict[str, Units] = {"metric": "mm", "inch": "in"}
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


def load_bolts(path: Path) -> dict[str, Bolt]:
    """Read and check a file of bolt sizes; return them by size, metric then inch, ascending.

    Raises:
        DataError: the file can't be read or lacks a source, or in a row a length is missing or
            the holes don't grow from the bolt through close and normal to loose, or the bolts
            of a standard don't ascend.
    """
    try:
        data = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise DataError(f"{path.name} can't be read as TOML ({error}).") from error
    bolts: dict[str, Bolt] = {}
    for system, units in _SYSTEMS.items():
        bolts |= _load_system(f"{path.name}, {system}", data.get(system), units)
    return bolts


def _load_system(where: str, entry: object, units: Units) -> dict[str, Bolt]:
    if not isinstance(entry, dict) or not isinstance(entry.get("sizes"), dict):
        raise DataError(f"{where}: this must be a table with source and sizes.")
    source = entry.get("source")
    if not isinstance(source, str) or not source.strip():
        raise DataError(f"{where}: source is {source!r}; it must be a text.")
    bolts: dict[str, Bolt] = {}
    last_mm = 0.0
    for size, row in entry["sizes"].items():
        bolts[size] = _load_bolt(f"{where}, {size}", size, row, source, units)
        if bolts[size].diameter_mm <= last_mm:
            raise DataError(f"{where}, {size}: bolts must stand in ascending order.")
        last_mm = bolts[size].diameter_mm
    return bolts


def _load_bolt(where: str, size: str, row: object, source: str, units: Units) -> Bolt:
    names = [f"{name}_{units}" for name in ("diameter", *FITS)]
    if not isinstance(row, dict) or sorted(row) != sorted(names):
        raise DataError(f"{where}: this must hold exactly {', '.join(names)}.")
    try:
        diameter, *holes = (parse_length(str(row[name]), bare=units) for name in names)
    except UnitsError as error:
        raise DataError(f"{where}: {error}") from error
    if not 0 < diameter < holes[0] < holes[1] < holes[2]:
        raise DataError(f"{where}: the lengths must grow from diameter through close and normal to loose.")
    return Bolt(size, units, source, diameter, dict(zip(FITS, holes, strict=True)))


_BOLTS = load_bolts(FOLDER / "bolts.toml")

BOLT_SIZES: tuple[str, ...] = tuple(_BOLTS)
"""Every size in the tables: M3 to M36, then 1/4 to 1-1/2 in."""


def bolt_diameter_mm(bolt: str) -> float:
    """Return the nominal diameter of a bolt size in mm.

    Raises:
        UnitsError: no such size is in the tables.
    """
    return _BOLTS[find_bolt(bolt)].diameter_mm


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
    return _BOLTS[find_bolt(bolt)].hole_mm[name]


def bolt_of_mm(diameter_mm: float) -> Bolt | None:
    """Return the size with this nominal diameter, None where the tables have none."""
    return next((bolt for bolt in _BOLTS.values() if abs(bolt.diameter_mm - diameter_mm) <= LIMIT_SLACK_MM), None)


def find_bolt(text: str) -> str:
    """Return the size, one of BOLT_SIZES, that a person wrote.

    Reads m8, M 8, M8x1.25x40, 8 mm, 1/4", 1/4-20, 1/4-20 UNC x 3/4, 3/8 bolt, half inch.

    A thread pitch, its class or a length after the size is left aside. A bare number other than 1 is
    refused: 8 could be M8 or a number size. Number sizes, such as 10-24, have no hole in the tables.

    Raises:
        UnitsError: the text is no size in the tables; says which are accepted.
    """
    if text in _BOLTS:
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
    if tidy in _BOLTS:
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
