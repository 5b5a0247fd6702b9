"""Measurements as a TOML file: what of the table is known, and the readings, all as shop text.

units                 mm or in: what a bare number is in, mm unless said
[machine]             name, travel_x, travel_y, gantry (x or y, the axis it lies along), gantry_rail_spacing,
                      steps_per_mm_x, steps_per_mm_y, kerf; in the place of steps per mm steps_per_inch_x,
                      gear_ratio_x (motor turns to one of screw or pinion) or screw_lead_x (travel to a turn), or _y
[[reading]]           kind, direction_deg, nominal, measured, and u or instrument; note, such as the place's letter

What is left empty, `measured = ""` or an entry of the machine, isn't known yet: a sheet is such a file to fill in.
"""

import math
import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, cast

from parts.errors import DataError, Problem, Refused, UnitsError, did_you_mean, nearest
from parts.truing.machine import DRIVES, Drive, Table
from parts.truing.reading import KINDS, Reading, ReadingKind
from parts.units import (
    MM_PER_IN,
    Units,
    format_distance,
    format_figures,
    format_length,
    parse_angle,
    parse_length,
    to_figures,
)

INSTRUMENTS = {"caliper": 0.03, "tape": 0.5, "steel-rule": 0.25, "feeler-gauge": 0.02, "height-gauge": 0.03}
"""Standard uncertainty in mm of one careful reading, common practice: half to a whole graduation."""

LONGEST_CALIPER_MM = 1000.0
"""Beyond it a length without `u` or `instrument` was measured with a tape; a reversal's gap with feeler gauges."""

MOST_READINGS = 500
LONGEST_MM, FINEST_U_MM, COARSEST_U_MM = 100e3, 1e-6, 100.0
U_LIMITS = f"must be {to_figures(FINEST_U_MM)} to {format_figures(COARSEST_U_MM)}."
"""A nanometre is finer than any instrument reads; who doesn't know a length to 100 mm hasn't measured it."""

_LENGTHS = {
    "travel_x": "travel_x", "travel_y": "travel_y", "gantry_rail_spacing": "rail_spacing", "kerf": "kerf",
}  # fmt: skip
_STEPS = ("steps_per_mm_x", "steps_per_mm_y")
_OTHERS = tuple(f"{kind}_{axis}" for kind in DRIVES[1:] for axis in "xy")
_MACHINE = ("name", "gantry", *_LENGTHS, *_STEPS, *_OTHERS)
_READING = ("kind", "direction_deg", "nominal", "measured", "u", "instrument", "note")
_TOP = ("units", "machine", "reading")
_LONGEST_ECHO, _LONGEST_NAME = 60, 80
_PLAIN = re.compile(r"[-+]?([0-9]+\.?[0-9]*|\.[0-9]+)")


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
    problems: list[Problem] = [*unknown("", data, _TOP)]
    entries = Entries(problems, data.get("units", "mm"))
    table = entries.table(data.get("machine", {}))
    rows = data.get("reading", [])
    if not isinstance(rows, list) or not rows or not all(isinstance(row, dict) for row in rows):
        problems.append(Problem("reading", echo(rows), "give each reading as a table, [[reading]], one at least."))
        rows = []
    if len(rows) > MOST_READINGS:
        problems.append(Problem("reading", str(len(rows)), f"at most {MOST_READINGS} readings are taken."))
        rows = []
    measured = [(i, row) for i, row in enumerate(rows, start=1) if not _is_empty(row.get("measured"))]
    readings = [entries.reading(i, row) for i, row in measured]
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
        _note(row.get("note", "")) or str(i)
        for i, row in enumerate(rows if isinstance(rows, list) else [], start=1)
        if isinstance(row, dict) and _is_empty(row.get("measured"))
    )


def _is_empty(value: object) -> bool:
    return isinstance(value, str) and not value.strip()


def _note(value: object) -> str:
    """What a note is shown as: one line, short."""
    return echo(" ".join(value.split())) if isinstance(value, str) and value.isprintable() else ""


class Entries:
    """Reads the entries of one file: adds to `problems` what can't be used, and returns None for it."""

    def __init__(self, problems: list[Problem], units: object = "mm") -> None:
        self.problems = problems
        if units not in ("mm", "in"):
            self.refuse("units", units, "must be mm or in.")
        self.units: Units = "in" if units == "in" else "mm"

    def refuse(self, name: str, value: object, message: str) -> None:
        """Note that an entry can't be used, and why."""
        self.problems.append(Problem(name, echo(value), message))

    def table(self, machine: object) -> Table:
        """Return what the file says of the table."""
        if not isinstance(machine, dict):
            self.refuse("machine", machine, "must be a table, [machine].")
            return Table()
        self.problems += unknown("machine ", machine, _MACHINE)
        values: dict[str, Any] = {"name": self._name(machine.get("name", ""))}
        if not _is_empty(machine.get("gantry", "")):
            values["gantry"] = self._axis(machine["gantry"])
        for entry, field in _LENGTHS.items():
            if not _is_empty(machine.get(entry, "")):
                values[field] = self.positive(f"machine {entry}", machine[entry])
        for entry in _STEPS:
            if not _is_empty(machine.get(entry, "")):
                values[entry] = self.positive(f"machine {entry}", machine[entry], plain=True)
        for axis in "xy":
            values[f"drive_{axis}"] = self._drive(machine, axis)
        return Table(**values)

    def _drive(self, machine: Mapping[str, Any], axis: str) -> Drive | None:
        """What an axis is set to in the place of steps per mm."""
        given = [kind for kind in DRIVES if not _is_empty(machine.get(f"{kind}_{axis}", ""))]
        if len(given) > 1:
            both = ", ".join(f"{kind}_{axis}" for kind in given)
            self.refuse(f"machine {given[1]}_{axis}", machine[f"{given[1]}_{axis}"], f"give one of {both}.")
        elif given and given[0] != DRIVES[0]:
            name = f"{given[0]}_{axis}"
            value = self.positive(f"machine {name}", machine[name], plain=given[0] != "screw_lead")
            return None if value is None else Drive(given[0], value)
        return None

    def _name(self, name: object) -> str:
        if isinstance(name, str) and len(name) <= _LONGEST_NAME and (not name or name.isprintable()):
            return name.strip()
        self.refuse("machine name", name, f"must be text of one line, at most {_LONGEST_NAME} characters.")
        return ""

    def _axis(self, said: object) -> str:
        if str(said).upper() in ("X", "Y"):
            return str(said).upper()
        self.refuse("machine gantry", said, "must be x or y, the axis that the gantry lies along.")
        return ""

    def reading(self, number: int, row: Mapping[str, Any]) -> Reading | None:
        """Return one reading, the one of this number in the file."""
        name, before = f"reading {number}", len(self.problems)
        self.problems += unknown(f"{name} ", row, _READING)
        kind = row.get("kind", "")
        if kind not in KINDS:
            self.refuse(f"{name} kind", kind, f"must be one of {', '.join(KINDS)}{did_you_mean(echo(kind), KINDS)}")
        direction = self.direction(name, row.get("direction_deg", 0))
        nominal = self.positive(f"{name} nominal", row.get("nominal", ""))
        if kind == "reversal":
            measured = self.number(f"{name} measured", row.get("measured", ""))
            self._small_gap(name, nominal, measured)
        else:
            measured = self.positive(f"{name} measured", row.get("measured", ""))
            self._near(name, nominal, measured)
        u, instrument = self._uncertainty(name, row, kind, nominal)
        if len(self.problems) > before or nominal is None or measured is None or u is None or direction is None:
            return None
        note = _note(row.get("note", ""))
        return Reading(cast(ReadingKind, kind), direction, nominal, measured, u, instrument, number, note)

    def _uncertainty(
        self, name: str, row: Mapping[str, Any], kind: object, nominal: float | None
    ) -> tuple[float | None, str]:
        if not _is_empty(row.get("u", "")):
            u = self.positive(f"{name} u", row["u"])
            if u is not None and not FINEST_U_MM <= u <= COARSEST_U_MM:
                self.refuse(f"{name} u", row["u"], U_LIMITS)
            return u, ""
        usual = "feeler-gauge" if kind == "reversal" else "caliper"
        if usual == "caliper" and nominal is not None and nominal > LONGEST_CALIPER_MM:
            usual = "tape"
        instrument = row.get("instrument") or usual
        if not isinstance(instrument, str) or instrument not in INSTRUMENTS:
            meant = did_you_mean(echo(instrument), INSTRUMENTS)
            self.refuse(f"{name} instrument", instrument, f"must be one of {', '.join(INSTRUMENTS)}, or give u{meant}")
            return None, ""
        return INSTRUMENTS[instrument], instrument

    def _near(self, name: str, nominal: float | None, measured: float | None) -> None:
        """No table is a quarter off; inches typed for mm, or another hole, are."""
        if nominal and measured and not 0.75 < measured / nominal < 1.25 and abs(measured - nominal) > 5:
            far = f"is far from the nominal {format_length(nominal, self.units)}"
            self.refuse(
                f"{name} measured",
                format_length(measured, self.units),
                f"{far}; look at the units and at what was measured.",
            )

    def _small_gap(self, name: str, nominal: float | None, gap: float | None) -> None:
        if nominal and gap is not None and abs(gap) > nominal / 4:
            message = "is no gap of a square: it is more than a quarter of the nominal; give the gap alone."
            self.refuse(f"{name} measured", format_length(gap, self.units), message)

    def direction(self, name: str, value: object) -> float | None:
        """Return a direction in radians, of degrees as a number or as text."""
        entry = f"{name} direction_deg"
        if isinstance(value, str):
            try:
                value = parse_angle(value)
            except UnitsError as error:
                self.refuse(entry, value, str(error))
                return None
        if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) <= 360:
            self.refuse(entry, value, "must be degrees, -360 to 360.")
            return None
        return math.radians(value)

    def positive(self, name: str, value: object, *, plain: bool = False) -> float | None:
        """Return a length in mm, or a plain number, that is more than 0."""
        number = self.number(name, value, plain=plain)
        if number is not None and number <= 0:
            self.refuse(name, value, "must be more than 0.")
            return None
        return number

    def number(self, name: str, value: object, *, plain: bool = False) -> float | None:
        """Return a length in mm, of shop text or of a number in the file's units; or a plain number."""
        if isinstance(value, str) and not plain:
            try:
                length = parse_length(value, bare=self.units)
            except UnitsError as error:
                self.refuse(name, value, str(error))
                return None
            return self._in_reach(name, value, length)
        if isinstance(value, str) and _PLAIN.fullmatch(value.strip()):
            value = float(value)
        if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) <= 1e9:
            accepted = "a number" if plain else f'a length such as "300.12 mm", or plain {self.units}'
            self.refuse(name, value, f"must be {accepted}.")
            return None
        if plain:
            return float(value)
        return self._in_reach(name, value, value * MM_PER_IN if self.units == "in" else float(value))

    def _in_reach(self, name: str, value: object, length: float) -> float | None:
        if abs(length) <= LONGEST_MM:
            return length
        self.refuse(name, value, f"must be at most {format_distance(LONGEST_MM)}.")
        return None


def unknown(where: str, table: Mapping[str, Any], known: Iterable[str]) -> Iterator[Problem]:
    """Yield a problem for each entry that isn't known."""
    for key in table:
        if key not in known:
            near = nearest(key, known)
            message = f"isn't known; did you mean {near}?" if near else f"isn't known; there are {', '.join(known)}."
            yield Problem(f"{where}{echo(key)}", "", message)


def echo(value: object) -> str:
    """Return a value to show, no longer than a person reads."""
    text = str(value)
    return text if len(text) <= _LONGEST_ECHO else f"{text[:_LONGEST_ECHO]}..."
