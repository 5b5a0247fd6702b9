"""Several files of measurements of one table: a frame, targets and a comb cut on it, taken together.

Each file's readings keep their numbers and are noted by the file's name; what the files say of the machine must agree.
"""

from collections.abc import Iterator, Sequence
from dataclasses import fields, replace
from typing import Any

from parts.errors import DataError, Problem, Refused
from parts.truing.file import MOST_READINGS, from_tables, parsed, unmeasured
from parts.truing.machine import Table
from parts.truing.report import Report, report
from parts.units import Units, format_length

_ENTRIES = {"rail_spacing": "gantry_rail_spacing"}
_LENGTHS = ("travel_x", "travel_y", "rail_spacing", "kerf")


def true_tables(named: Sequence[tuple[str, str]], units: Units | None = None) -> Report:
    """Return what the readings of several files say together of the table.

    Args:
        named: each file's short name, such as `comb`, and its text.
        units: what sentences are in; those of the first file unless said.

    Raises:
        DataError: a text is no TOML; the file is named.
        Refused: with each entry that can't be used, named as `comb: reading 3 measured`; or the readings settle
            nothing.
    """
    tables, readings, left_out, problems = [], [], [], []
    first = units
    for name, text in named:
        try:
            data = parsed(text)
            table, own = from_tables(data)
        except DataError as error:
            raise DataError(f"{name}: {error}") from error
        except Refused as refused:
            problems += [replace(each, parameter=f"{name}: {each.parameter}") for each in refused.problems]
            continue
        first = first or data.get("units", "mm")
        tables.append((name, table))
        readings += [replace(each, note=f"{name} {each.note}".strip(), piece=f"{name}: {each.piece}") for each in own]
        left_out += [f"{name} {each}" for each in unmeasured(data)]
    if not problems:
        problems += _contradictions(tables, first or "mm")
        if len(readings) > MOST_READINGS:
            problems.append(Problem("reading", str(len(readings)), f"at most {MOST_READINGS} readings are taken."))
    if problems:
        raise Refused(tuple(problems))
    return report(_one(tables), readings, first or "mm", tuple(left_out))


def _one(tables: Sequence[tuple[str, Table]]) -> Table:
    """The table with all that any file says of it."""
    known: dict[str, Any] = {}
    for _, table in reversed(tables):
        known |= {each.name: value for each in fields(table) if (value := getattr(table, each.name)) not in (None, "")}
    return Table(**known)


def _contradictions(tables: Sequence[tuple[str, Table]], units: Units) -> Iterator[Problem]:
    """A problem for each entry of the machine that two files give differently."""
    for each in fields(Table):
        said = [(name, value) for name, table in tables if (value := getattr(table, each.name)) not in (None, "")]
        for name, value in said[1:]:
            if value != said[0][1]:
                entry = _ENTRIES.get(each.name, each.name)
                other, own = (_said(each.name, of, units) for of in (said[0][1], value))
                message = f"is {other} in {said[0][0]}; files taken together must be of one table as it was set."
                yield Problem(f"{name}: machine {entry}", own, message)


def _said(entry: str, value: object, units: Units) -> str:
    """What a file says of the machine, a length in the units of the report."""
    return format_length(value, units) if entry in _LENGTHS and isinstance(value, float) else str(value)
