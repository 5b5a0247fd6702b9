"""Measurements as a TOML file: what of the table is known, and the readings, all as shop text.

[machine]             name, travel_x, travel_y, gantry_rail_spacing, steps_per_mm_x, steps_per_mm_y, kerf
[[reading]]           kind, direction_deg, nominal, measured, and u or instrument
"""

import difflib
import math
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, cast

from parts.errors import DataError, Problem, Refused, UnitsError
from parts.truing.machine import Table
from parts.truing.reading import KINDS, Kind, Reading
from parts.units import parse_length

INSTRUMENTS = {"caliper": 0.03, "tape": 0.5, "steel-rule": 0.25, "feeler-gauge": 0.02, "height-gauge": 0.03}
"""Standard uncertainty in mm of one careful reading, common practice: half to a whole graduation."""

MOST_READINGS = 500
_LENGTHS = {
    "travel_x": "travel_x", "travel_y": "travel_y", "gantry_rail_spacing": "rail_spacing", "kerf": "kerf",
}  # fmt: skip
_STEPS = ("steps_per_mm_x", "steps_per_mm_y")
_MACHINE = ("name", *_LENGTHS, *_STEPS)
_READING = ("kind", "direction_deg", "nominal", "measured", "u", "instrument", "note")
_LONGEST_ECHO = 60


def read(text: str) -> tuple[Table, tuple[Reading, ...]]:
    """Return the table and the readings that a file's text holds.

    Raises:
        DataError: it is no TOML.
        Refused: with each entry that can't be used, named as `reading 3 measured`.
    """
    try:
        data = tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        raise DataError(f"The measurements can't be read as TOML: {str(error) or 'nested too deep'}.") from error
    return from_tables(data)


def from_tables(data: Mapping[str, Any]) -> tuple[Table, tuple[Reading, ...]]:
    """Return the same from tables already read, as `read` does."""
    problems: list[Problem] = [*_unknown("", data, ("machine", "reading"))]
    machine, rows = data.get("machine", {}), data.get("reading", [])
    if not isinstance(machine, dict):
        problems.append(Problem("machine", _echo(machine), "must be a table, [machine]."))
        machine = {}
    if not isinstance(rows, list) or not rows or not all(isinstance(row, dict) for row in rows):
        problems.append(Problem("reading", _echo(rows), "give each reading as a table, [[reading]], one at least."))
        rows = []
    if len(rows) > MOST_READINGS:
        problems.append(Problem("reading", str(len(rows)), f"at most {MOST_READINGS} readings are taken."))
        rows = []
    table = _table(machine, problems)
    readings = [_reading(f"reading {i}", row, problems) for i, row in enumerate(rows, start=1)]
    if problems:
        raise Refused(tuple(problems))
    return table, tuple(cast(list[Reading], readings))


def _table(machine: Mapping[str, Any], problems: list[Problem]) -> Table:
    problems += _unknown("machine ", machine, _MACHINE)
    values: dict[str, Any] = {"name": str(machine.get("name", ""))[:200]}
    for entry, field in _LENGTHS.items():
        if entry in machine:
            values[field] = _positive(f"machine {entry}", machine[entry], problems)
    for entry in _STEPS:
        if entry in machine:
            values[entry] = _positive(f"machine {entry}", machine[entry], problems, plain=True)
    return Table(**values)


def _reading(name: str, row: Mapping[str, Any], problems: list[Problem]) -> Reading | None:
    before = len(problems)
    problems += _unknown(f"{name} ", row, _READING)
    kind = row.get("kind", "")
    if kind not in KINDS:
        problems.append(Problem(f"{name} kind", _echo(kind), f"must be one of {', '.join(KINDS)}."))
    direction = _direction(name, row.get("direction_deg", 0), problems)
    nominal = _positive(f"{name} nominal", row.get("nominal", ""), problems)
    if kind == "reversal":
        measured = _number(f"{name} measured", row.get("measured", ""), problems)
    else:
        measured = _positive(f"{name} measured", row.get("measured", ""), problems)
        _near(name, nominal, measured, problems)
    u = _uncertainty(name, row, problems)
    if len(problems) > before or nominal is None or measured is None or u is None or direction is None:
        return None
    return Reading(cast(Kind, kind), direction, nominal, measured, u)


def _uncertainty(name: str, row: Mapping[str, Any], problems: list[Problem]) -> float | None:
    if "u" in row:
        return _positive(f"{name} u", row["u"], problems)
    instrument = row.get("instrument", "caliper")
    if instrument not in INSTRUMENTS:
        known = ", ".join(INSTRUMENTS)
        problems.append(Problem(f"{name} instrument", _echo(instrument), f"must be one of {known}; or give u."))
        return None
    return INSTRUMENTS[instrument]


def _near(name: str, nominal: float | None, measured: float | None, problems: list[Problem]) -> None:
    """No table is a quarter off; inches typed for mm, or another hole, are."""
    if nominal and measured and not 0.75 < measured / nominal < 1.25 and abs(measured - nominal) > 5:
        message = f"is far from the nominal {nominal:g} mm; look at the units and at what was measured."
        problems.append(Problem(f"{name} measured", f"{measured:g} mm", message))


def _direction(name: str, value: object, problems: list[Problem]) -> float | None:
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) <= 360:
        problems.append(Problem(f"{name} direction_deg", _echo(value), "must be degrees, -360 to 360."))
        return None
    return math.radians(value)


def _positive(name: str, value: object, problems: list[Problem], *, plain: bool = False) -> float | None:
    number = _number(name, value, problems, plain=plain)
    if number is not None and number <= 0:
        problems.append(Problem(name, _echo(value), "must be more than 0."))
        return None
    return number


def _number(name: str, value: object, problems: list[Problem], *, plain: bool = False) -> float | None:
    """A length as shop text or plain mm; of steps, a plain number alone."""
    if isinstance(value, str) and not plain:
        try:
            return parse_length(value)
        except UnitsError as error:
            problems.append(Problem(name, _echo(value), str(error)))
            return None
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) <= 1e9:
        accepted = "a number" if plain else 'a length such as "300.12 mm", or plain mm'
        problems.append(Problem(name, _echo(value), f"must be {accepted}."))
        return None
    return float(value)


def _unknown(where: str, table: Mapping[str, Any], known: Iterable[str]) -> Iterator[Problem]:
    for key in table:
        if key not in known:
            near = difflib.get_close_matches(key, list(known), n=1)
            message = f"isn't known; did you mean {near[0]}?" if near else f"isn't known; there are {', '.join(known)}."
            yield Problem(f"{where}{key}", "", message)


def _echo(value: object) -> str:
    text = str(value)
    return text if len(text) <= _LONGEST_ECHO else f"{text[:_LONGEST_ECHO]}..."
