"""The form of measurements: its fields as they were typed, and the tables of the file that they stand for.

A row whose reading is left empty isn't measured yet, and is left out. Bare numbers are in the form's units.
"""

import math
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any
from urllib.parse import urlsplit

from parts import Problem, Refused
from parts.cached import cached_property
from parts.errors import UnitsError
from parts.spec import MeasuringPlace, Parameters
from parts.templates import template, templates
from parts.truing import LONGEST_DRAWING, MOST_READINGS, Reading, Table, from_tables, write
from parts.units import Units, number_in_field, parse_angle, to_figures, units_of, with_unit

KINDS = {
    "centres": "between centres",
    "outside": "over outside faces",
    "inside": "between inside faces",
    "hole": "across a round hole",
    "reversal": "gap when flipped",
}
MACHINE = {
    "name": ("Name of the table", ""),
    "travel_x": ("Travel in X", "length"),
    "travel_y": ("Travel in Y", "length"),
    "gantry": ("Axis the gantry lies along, x or y", ""),
    "gantry_rail_spacing": ("Between the rails of the gantry", "length"),
    "steps_per_mm_x": ("Steps per mm of X", "steps"),
    "steps_per_mm_y": ("Steps per mm of Y", "steps"),
    "steps_per_inch_x": ("Or steps per inch of X", "steps"),
    "steps_per_inch_y": ("Or steps per inch of Y", "steps"),
    "gear_ratio_x": ("Or gear ratio of X, motor turns to one", "steps"),
    "gear_ratio_y": ("Or gear ratio of Y, motor turns to one", "steps"),
    "screw_lead_x": ("Or travel of X to a turn", "length"),
    "screw_lead_y": ("Or travel of Y to a turn", "length"),
    "kerf": ("Kerf it was set to allow for", "length"),
    "confirmed": ("Errors this large were looked at and are so", "yes"),
}
PIECE = {
    "temperature": "How warm the piece was",
    "instrument_temperature": "How warm the instrument was",
    "metal": "Metal",
    "drawing": "",
}
"""What is said of the piece; its drawing's address comes with the form, unseen."""
FIELDS = ("letter", "kind", "direction", "nominal", "measured", "instrument", "u")
MORE = 4
"""Rows that the button for more adds."""
TEST_PIECE = "square-test"

_ENTRIES = {"direction": "direction_deg", "letter": "note"}
_LENGTHS = ("nominal", "measured", "u")
_AXES = {"x": 0.0, "y": 90.0}
_BARE = re.compile(r"[-+]?([0-9]+\.?[0-9]*|\.[0-9]+)")
_ROW = re.compile(r"[0-9]{1,3}")
_PROBLEM = re.compile(r"reading ([0-9]+) ?(\w*)")
_LONGEST = 200


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
            name: _length(text, self.units) if MACHINE[name][1] == "length" else _number(text, MACHINE[name][1])
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
        names = {entry: name for name, entry in _ENTRIES.items()}
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
            name: _length(text, self.units) if MACHINE[name][1] == "length" else text
            for name, text in self.machine.items()
        }
        rows = tuple(
            {name: _length(text, self.units) if name in _LENGTHS else text for name, text in row.items()}
            for row in self.rows
        )
        tape = {name: _length(text, self.units) for name, text in self.tape.items()}
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
        return with_unit(text, "\u00b0F" if self.units == "in" else "\u00b0C") if _BARE.fullmatch(text) else text

    def _reading(self, row: Mapping[str, str]) -> dict[str, Any]:
        made: dict[str, Any] = {"kind": row.get("kind") or "centres"}
        made["direction_deg"] = _direction(row.get("direction", ""))
        made |= {name: _length(row.get(name, ""), self.units) for name in ("nominal", "measured")}
        if row.get("u"):
            made["u"] = _length(row["u"], self.units)
        if row.get("instrument"):
            made["instrument"] = row["instrument"]
        own = row.get("letter", "").rpartition(" ")[0]
        if own in {piece_name(slug) for slug in pieces()}:
            made["piece"] = own
        return made | ({"note": row["letter"]} if row.get("letter") else {})


def sent(given: Mapping[str, str]) -> ReadingsForm:
    """Return the form that was sent."""
    texts = {name: text.strip()[:_LONGEST] for name, text in given.items()}
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


def blank(places: tuple[MeasuringPlace, ...], units: Units, piece: str = "", drawing: str = "") -> ReadingsForm:
    """Return the form for places that are still to be measured; the letters stand after the name of their piece.

    `drawing` is the address that draws it.
    """
    lettered = (replace(place, letter=f"{piece} {place.letter}".strip()) for place in places)
    of = {"drawing": drawing} if drawing else {}
    return ReadingsForm(rows=tuple(_row(place, units) for place in lettered), units=units, piece=of)


def drawn_here(address: str) -> bool:
    """Return whether an address is that of a test piece's drawing here: what a file says may be anything."""
    at = urlsplit(address)
    return not at.scheme and not at.netloc and at.path in {f"/parts/{slug}" for slug in pieces()}


def pieces() -> dict[str, str]:
    """Return the title of each test piece by its slug."""
    return {slug: of.title for slug, of in templates().items() if of.readings}


def piece_name(slug: str) -> str:
    """Return what a piece is called beside its letters: `comb` of gauge-kerf-comb."""
    return slug.rsplit("-", 1)[-1]


def places_of(slug: str, values: Mapping[str, Any]) -> tuple[MeasuringPlace, ...]:
    """Return where a test piece of these values is measured.

    Raises:
        UnknownTemplate: if no template has this slug.
        Refused: if the values can't be drawn, or the template isn't measured.
    """
    chosen = template(slug)
    parameters: Parameters = chosen.parameters.read(values)
    places = chosen.places(parameters)
    if not places:
        raise Refused((Problem("template", slug, f"isn't a test piece; {TEST_PIECE} is one."),))
    return places


def of_file(text: str, units: Units | None = None) -> ReadingsForm:
    """Return the form filled in from a file of measurements, whatever it holds, in its own units unless others are.

    Raises:
        Refused: it is no TOML, or holds what the form has no place for.
    """
    try:
        data = tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        message = f"can't be read as TOML: {str(error) or 'nested too deep'}."
        raise Refused((Problem("file", "", message),)) from error
    machine, rows, piece = data.get("machine", {}), data.get("reading", []), data.get("piece", {})
    if (
        not isinstance(machine, dict)
        or not isinstance(piece, dict)
        or not isinstance(rows, list)
        or not all(isinstance(row, dict) for row in rows)
    ):
        message = "must hold a table [machine], a table [piece] and a table [[reading]] for each reading."
        raise Refused((Problem("file", "", message),))
    if len(rows) > MOST_READINGS:
        raise Refused((Problem("file", str(len(rows)), f"at most {MOST_READINGS} readings are taken."),))
    own = data.get("units", "mm")
    if own not in ("mm", "in"):
        raise Refused((Problem("file units", str(own)[:_LONGEST], "must be mm or in."),))
    texts = {name: _text(machine[name], MACHINE[name][1], own) for name in MACHINE if name in machine}
    of = {name: str(piece[name])[:LONGEST_DRAWING] for name in PIECE if piece.get(name, "") != ""}
    filled = ReadingsForm(texts, tuple(_row_of(row, own) for row in rows), own, piece=of)
    return filled.in_units(units or own)


def _row_of(entries: Mapping[str, Any], units: Units) -> dict[str, str]:
    row: dict[str, str] = {}
    for name in FIELDS:
        entry = _ENTRIES.get(name, name)
        if entry in entries:
            row[name] = _text(entries[entry], "length" if name in _LENGTHS else "", units)
    return row


def _text(value: object, kind: str, units: Units) -> str:
    """A value of the file as the form shows it: a plain number of a length is in the file's units."""
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    return with_unit(str(value), units) if is_number and kind == "length" else str(value)[:_LONGEST]


def _row(place: MeasuringPlace, units: Units) -> dict[str, str]:
    degrees = round(math.degrees(place.direction), 6)
    names = {angle: axis.upper() for axis, angle in _AXES.items()}
    return {
        "letter": place.letter,
        "kind": place.kind,
        "direction": names.get(degrees, to_figures(degrees)),
        "nominal": number_in_field(place.nominal, units),
    }


def _length(text: str, units: Units) -> str:
    return with_unit(text, units) if _BARE.fullmatch(text) else text


def _number(text: str, kind: str) -> str | float:
    return float(text) if kind == "steps" and _BARE.fullmatch(text) else text


def _direction(text: str) -> float | str:
    if text.lower() in _AXES or not text:
        return _AXES.get(text.lower(), 0.0)
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
