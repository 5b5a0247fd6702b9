"""The form of measurements: its fields as they were typed, and the tables of the file that they stand for.

A row whose reading is left empty isn't measured yet, and is left out. Bare numbers are in the form's units.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any
from urllib.parse import urlsplit

from parts import Problem, Refused
from parts.cached import cached_property
from parts.errors import UnitsError
from parts.truing import LONGEST_DRAWING, MOST_READINGS, Reading, Table, from_tables, write
from parts.units import Units, parse_angle, units_of, with_unit
from webapp.pages.true.fields import (
    AXES,
    BARE,
    ENTRIES,
    FIELDS,
    LENGTHS,
    LONGEST,
    MACHINE,
    MORE,
    PIECE,
    drawn_here,
    length,
    piece_name,
    pieces,
)

_ROW = re.compile(r"[0-9]{1,3}")
_PROBLEM = re.compile(r"reading ([0-9]+) ?(\w*)")


@dataclass(frozen=True)
class ReadingsForm:
    """What the form shows: texts of the machine and of each row by their field."""

    machine: Mapping[str, str] = field(default_factory=dict)
    rows: tuple[Mapping[str, str], ...] = ()
    units: Units = "mm"
    tape: Mapping[str, str] = field(default_factory=dict)
    replaces: str = ""
    piece: Mapping[str, str] = field(default_factory=dict)

    @cached_property
    def measured(self) -> tuple[int, ...]:
        """The indices of the rows that hold a reading."""
        return tuple(i for i, row in enumerate(self.rows) if row.get("measured", ""))

    @cached_property
    def listed(self) -> tuple[int, ...]:
        """The indices of the rows that a file has: those with a length, be it only the drawn one."""
        return tuple(i for i, row in enumerate(self.rows) if row.get("measured", "") or row.get("nominal", ""))

    @property
    def tables(self) -> dict[str, Any]:
        """The form as the tables of the file."""
        machine = {
            name: length(text, self.units) if MACHINE[name][1] == "length" else _number(text, MACHINE[name][1])
            for name, text in self.machine.items()
            if text
        }
        piece = {
            name: self._degrees(text) if "temperature" in name else text for name, text in self.piece.items() if text
        }
        rows = [self._reading(self.rows[i]) for i in self.listed]
        return {"units": self.units, "machine": machine, "piece": piece, "reading": rows}

    @property
    def toml(self) -> str:
        """The form as the text of the file."""
        tables = self.tables
        return write(tables["machine"], tables["reading"], tables["piece"], tables["units"])

    @property
    def part(self) -> str:
        """The address of the page of the piece, empty where it isn't known which drawing was cut."""
        return self.piece.get("drawing", "") if drawn_here(self.piece.get("drawing", "")) else ""

    @property
    def sheet(self) -> str:
        """The query of the measuring sheet of the piece, empty where it isn't known which drawing was cut."""
        at = urlsplit(self.part)
        return "&".join(filter(None, (f"template={at.path.rpartition('/')[2]}", at.query))) if self.part else ""

    def read(self) -> tuple[Table, tuple[Reading, ...]]:
        """Return the table and the readings.

        Raises:
            Refused: with each field that can't be used.
        """
        return from_tables(self.tables)

    def field_of(self, problem: Problem) -> str:
        """Return the name of the field that a problem is of, empty where it has none."""
        if problem.parameter.startswith("tape."):
            return problem.parameter
        table, _, entry = problem.parameter.partition(" ")
        if (table == "machine" and entry in MACHINE) or (table == "piece" and entry in PIECE):
            return f"{table}.{entry}"
        found = _PROBLEM.fullmatch(problem.parameter)
        if not found or not 0 < int(found[1]) <= len(self.listed):
            return ""
        names = {entry: name for name, entry in ENTRIES.items()}
        name = names.get(found[2], found[2] or "measured")
        return f"{name}.{self.listed[int(found[1]) - 1]}"

    def longer(self, count: int = MORE) -> "ReadingsForm":
        """Return the form with more empty rows."""
        more = min(count, MOST_READINGS - len(self.rows))
        return replace(self, rows=(*self.rows, *({} for _ in range(more))))

    def joined(self, other: "ReadingsForm") -> "ReadingsForm":
        """Return the form with the rows of another one after its own, empty ones at the end left out.

        What is known of machine and piece stays as it is typed here; the other one fills in the rest.

        Raises:
            Refused: they are more rows than a file may have.
        """
        last = max((i for i, row in enumerate(self.rows) if set(row) - {"kind"}), default=-1)
        rows = (*self.rows[: last + 1], *other.rows)
        if len(rows) > MOST_READINGS:
            raise Refused((Problem("rows", str(len(rows)), f"at most {MOST_READINGS} readings are taken."),))
        machine, piece = {**other.machine, **self.machine}, {**other.piece, **self.piece}
        return replace(self, rows=rows, machine=machine, piece=piece)

    def in_units(self, units: Units) -> "ReadingsForm":
        """Return the form in other units; what was typed bare keeps the unit it was typed in."""
        machine = {
            name: length(text, self.units) if MACHINE[name][1] == "length" else text
            for name, text in self.machine.items()
        }
        rows = tuple(
            {name: length(text, self.units) if name in LENGTHS else text for name, text in row.items()}
            for row in self.rows
        )
        tape = {name: length(text, self.units) for name, text in self.tape.items()}
        return replace(self, machine=machine, rows=rows, tape=tape, piece=self._piece, units=units)

    def replacing(self, number: str) -> "ReadingsForm":
        """Return the form as the correction of an entry, of none where it is empty."""
        return replace(self, replaces=number)

    @property
    def _piece(self) -> dict[str, str]:
        """What is said of the piece, temperatures with the unit that they were typed in."""
        return {name: self._degrees(text) if "temperature" in name else text for name, text in self.piece.items()}

    def _degrees(self, text: str) -> str:
        """A temperature with the unit that it was typed in."""
        return with_unit(text, "\u00b0F" if self.units == "in" else "\u00b0C") if BARE.fullmatch(text) else text

    def _reading(self, row: Mapping[str, str]) -> dict[str, Any]:
        made: dict[str, Any] = {"kind": row.get("kind") or "centres"}
        made["direction_deg"] = _direction(row.get("direction", ""))
        made |= {name: length(row.get(name, ""), self.units) for name in ("nominal", "measured")}
        if row.get("u"):
            made["u"] = length(row["u"], self.units)
        if row.get("instrument"):
            made["instrument"] = row["instrument"]
        own = row.get("letter", "").rpartition(" ")[0]
        if own in {piece_name(slug) for slug in pieces()}:
            made["piece"] = own
        return made | ({"note": row["letter"]} if row.get("letter") else {})


def sent(given: Mapping[str, str]) -> ReadingsForm:
    """Return the form that was sent."""
    texts = {name: text.strip()[:LONGEST] for name, text in given.items()}
    counts = [int(i) for name in texts for _, _, i in [name.rpartition(".")] if _ROW.fullmatch(i)]
    rows = tuple(
        {name: texts[f"{name}.{i}"] for name in FIELDS if texts.get(f"{name}.{i}")}
        for i in range(min(max(counts, default=-1) + 1, MOST_READINGS))
    )
    machine = {name: text for name in MACHINE if (text := texts.get(f"machine.{name}", ""))}
    tape = {name: text for name in ("a", "b", "d1", "d2", "u") if (text := texts.get(f"tape.{name}", ""))}
    piece = {name: text for name in PIECE if (text := texts.get(f"piece.{name}", ""))}
    if drawing := given.get("piece.drawing", "").strip():
        piece["drawing"] = drawing[:LONGEST_DRAWING]
    return ReadingsForm(machine, rows, units_of(texts.get("units")), tape, texts.get("replaces", ""), piece)


def _number(text: str, kind: str) -> str | float:
    return float(text) if kind == "steps" and BARE.fullmatch(text) else text


def _direction(text: str) -> float | str:
    if text.lower() in AXES or not text:
        return AXES.get(text.lower(), 0.0)
    try:
        return parse_angle(text)
    except UnitsError:
        return _negative(text)


def _negative(text: str) -> float | str:
    try:
        return -parse_angle(text[1:]) if text[:1] in "-\u2212" else text
    except UnitsError:
        return text


def problems_by_field(form: ReadingsForm, problems: tuple[Problem, ...]) -> tuple[dict[str, str], list[str]]:
    """Return the sentence beside each field, and those that belong beside none."""
    beside: dict[str, str] = {}
    loose: list[str] = []
    for problem in problems:
        name = form.field_of(problem)
        if name:
            said = problem.message if problem.value in problem.message else f"{problem.value} {problem.message}"
            beside.setdefault(name, said)
        else:
            loose.append(_sentence(problem))
    return beside, loose


def _sentence(problem: Problem) -> str:
    words = f"{problem.parameter} {problem.value} {problem.message}" if problem.value else problem.message
    return words[:1].upper() + words[1:]
