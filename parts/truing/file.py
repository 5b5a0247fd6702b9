"""Measurements as a TOML file: what of the table is known, and the readings, all as shop text.

units                 mm or in: what a bare number is in, mm unless said
[machine]             name, travel_x, travel_y, gantry (x or y, the axis it lies along), gantry_rail_spacing,
                      steps_per_mm_x, steps_per_mm_y, kerf; in the place of steps per mm steps_per_inch_x,
                      gear_ratio_x (motor turns to one of screw or pinion) or screw_lead_x (travel to a turn), or _y
                      confirmed, yes where errors larger than a shop could miss were looked at and are so
[piece]               drawing, the address that draws it; metal; temperature and instrument_temperature when measured
[[reading]]           kind, direction_deg, nominal, measured, and u, instrument or both; note, such as the place's
                      letter; piece, its name where a file has readings of several

What is left empty, `measured = ""` or an entry of the machine, isn't known yet: a sheet is such a file to fill in.
"""

import tomllib
from collections.abc import Mapping
from typing import Any, cast

from parts.errors import DataError, Problem, Refused
from parts.truing.amounts import echo
from parts.truing.entries import Entries, is_empty, note_of, unknown
from parts.truing.machine import Table
from parts.truing.reading import Reading

MOST_READINGS = 500
TOP = ("units", "machine", "piece", "reading")
"""The tables and entries of a file."""


def parsed(text: str) -> dict[str, Any]:
    """Return a file's text as tables.

    Raises:
        DataError: it is no TOML.
    """
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        raise DataError(f"The measurements can't be read as TOML: {str(error) or 'nested too deep'}.") from error


def read(text: str) -> tuple[Table, tuple[Reading, ...]]:
    """Return the table and the readings that a file's text holds.

    Raises:
        DataError: it is no TOML.
        Refused: with each entry that can't be used, named as `reading 3 measured`.
    """
    return from_tables(parsed(text))


def from_tables(data: Mapping[str, Any]) -> tuple[Table, tuple[Reading, ...]]:
    """Return the same from tables already read, as `read` does."""
    problems: list[Problem] = [*unknown("", data, TOP)]
    entries = Entries(problems, data.get("units", "mm"))
    table = entries.table(data.get("machine", {}))
    rows = data.get("reading", [])
    if not isinstance(rows, list) or not rows or not all(isinstance(row, dict) for row in rows):
        problems.append(Problem("reading", echo(rows), "give each reading as a table, [[reading]], one at least."))
        rows = []
    if len(rows) > MOST_READINGS:
        problems.append(Problem("reading", str(len(rows)), f"at most {MOST_READINGS} readings are taken."))
        rows = []
    measured = [(i, row) for i, row in enumerate(rows, start=1) if not is_empty(row.get("measured"))]
    piece = entries.piece(data.get("piece", {}))
    readings = [entries.reading(i, row, piece) for i, row in measured]
    if rows and not readings:
        said = f"{len(rows)} of them"
        problems.append(Problem("reading", said, "hold no measured length yet; one at least has to."))
    if problems:
        raise Refused(tuple(problems))
    return table, tuple(cast(list[Reading], readings))


def unmeasured(data: Mapping[str, Any]) -> tuple[str, ...]:
    """Return what the readings that aren't taken yet are called, by their notes or else their numbers."""
    rows = data.get("reading", [])
    return tuple(
        note_of(row.get("note", "")) or str(i)
        for i, row in enumerate(rows if isinstance(rows, list) else [], start=1)
        if isinstance(row, dict) and is_empty(row.get("measured"))
    )
