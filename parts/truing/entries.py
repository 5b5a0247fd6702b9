"""The entries of a file of measurements, read one by one: what can't be used is a problem, named as it stands there."""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, cast

from parts.errors import Problem, did_you_mean, nearest
from parts.shop import Ambiguous, taken_for
from parts.truing.amounts import Amounts, echo
from parts.truing.instruments import METALS, Warmth, usual_u, warmth
from parts.truing.machine import DRIVES, Drive, Table
from parts.truing.reading import KINDS, Reading, ReadingKind
from parts.units import format_figures, format_length, format_temperature, to_figures

LONGEST_CALIPER_MM = 1000.0
"""Beyond it a length without `u` or `instrument` was measured with a tape; a reversal's gap as two scribed lines."""

FINEST_U_MM, COARSEST_U_MM = 1e-6, 100.0
U_LIMITS = f"must be {to_figures(FINEST_U_MM)} to {format_figures(COARSEST_U_MM)}."
"""A nanometre is finer than any instrument reads; who doesn't know a length to 100 mm hasn't measured it."""

_LENGTHS = {
    "travel_x": "travel_x", "travel_y": "travel_y", "gantry_rail_spacing": "rail_spacing", "kerf": "kerf",
}  # fmt: skip
_STEPS = ("steps_per_mm_x", "steps_per_mm_y")
_OTHERS = tuple(f"{kind}_{axis}" for kind in DRIVES[1:] for axis in "xy")
_MACHINE = ("name", "gantry", *_LENGTHS, *_STEPS, *_OTHERS, "confirmed")
_TEMPERATURES = ("temperature", "instrument_temperature")
_PIECE = ("drawing", "metal", *_TEMPERATURES)
_READING = ("kind", "direction_deg", "nominal", "measured", "u", "instrument", "note", "piece")
_LONGEST_NAME, LONGEST_DRAWING = 80, 2000
COLDEST_C, HOTTEST_C = -50.0, 150.0
"""No one measures a piece that is colder or hotter."""
_DEGREES = (
    'must be a temperature such as "24 \u00b0C" or "75 \u00b0F", '
    f"{to_figures(COLDEST_C)} to {format_temperature(HOTTEST_C)}."
)
_TEMPERATURE = re.compile(r"([-+\u2212]?(?:[0-9]+\.?[0-9]*|\.[0-9]+))\s*(?:\u00b0|deg)?\s*([CF]?)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Piece:
    """What a file says of the piece it is of: how warm it was read, and the address of its drawing, "" for none."""

    warmth: Warmth
    told: bool = False
    drawing: str = ""


def is_empty(value: object) -> bool:
    """Return whether a value is text without a character that shows."""
    return isinstance(value, str) and not value.strip()


def note_of(value: object) -> str:
    """What a note is shown as: one line, short."""
    return echo(" ".join(value.split())) if isinstance(value, str) and value.isprintable() else ""


class Entries(Amounts):
    """Reads the entries of one file: adds to `problems` what can't be used, and returns None for it."""

    def table(self, machine: object) -> Table:
        """Return what the file says of the table."""
        if not isinstance(machine, dict):
            self.refuse("machine", machine, "must be a table, [machine].")
            return Table()
        self.problems += unknown("machine ", machine, _MACHINE)
        values: dict[str, Any] = {"name": self._name(machine.get("name", ""))}
        for entry, said in (("gantry", self._axis), ("confirmed", self._confirmed)):
            if not is_empty(machine.get(entry, "")):
                values[entry] = said(machine[entry])
        for entry, field in _LENGTHS.items():
            if not is_empty(machine.get(entry, "")):
                values[field] = self.positive(f"machine {entry}", machine[entry])
        for entry in _STEPS:
            if not is_empty(machine.get(entry, "")):
                values[entry] = self.positive(f"machine {entry}", machine[entry], plain=True)
        return Table(**values, drive_x=self._drive(machine, "x"), drive_y=self._drive(machine, "y"))

    def _confirmed(self, said: object) -> str:
        if str(said).strip().lower() in ("yes", "true"):
            return "yes"
        self.refuse(
            "machine confirmed", said, "must be yes, where errors this large were looked at and are so; or empty."
        )
        return ""

    def piece(self, said: object) -> Piece:
        """Return what the file says of the piece."""
        if not isinstance(said, dict):
            self.refuse("piece", said, "must be a table, [piece].")
            said = {}
        self.problems += unknown("piece ", said, _PIECE)
        metal = self._metal(said.get("metal", "") or "steel")
        own, room = (self._temperature(f"piece {name}", said.get(name, "")) for name in _TEMPERATURES)
        drawing = said.get("drawing", "")
        if not isinstance(drawing, str) or not drawing.isprintable() or len(drawing) > LONGEST_DRAWING:
            self.refuse(
                "piece drawing", drawing, f"must be the address of its drawing, at most {LONGEST_DRAWING} long."
            )
            drawing = ""
        return Piece(warmth(metal, own, room), own is not None, drawing)

    def _metal(self, said: object) -> str:
        """The group of metals that a name, or a shop's word for one, is of."""
        try:
            meant = taken_for("metal", str(said), METALS)
        except Ambiguous as error:
            self.refuse("piece metal", said, str(error))
            return "steel"
        if meant is None:
            meant_by = did_you_mean(echo(said), METALS)
            self.refuse("piece metal", said, f"must be one of {', '.join(METALS)}{meant_by}")
        return meant or "steel"

    def _temperature(self, name: str, said: object) -> float | None:
        """A temperature in degrees C; a bare number is in degrees F where the file is in inches."""
        if is_empty(said):
            return None
        is_number = isinstance(said, int | float) and not isinstance(said, bool)
        found = _TEMPERATURE.fullmatch(str(said).strip()) if is_number or isinstance(said, str) else None
        if found:
            number = float(found[1].replace("\u2212", "-"))
            scale = found[2].upper() or ("F" if self.units == "in" else "C")
            celsius = (number - 32) / 1.8 if scale == "F" else number
            if COLDEST_C <= celsius <= HOTTEST_C:
                return celsius
        self.refuse(
            name,
            said,
            _DEGREES,
        )
        return None

    def _drive(self, machine: Mapping[str, Any], axis: str) -> Drive | None:
        """What an axis is set to in the place of steps per mm."""
        given = [kind for kind in DRIVES if not is_empty(machine.get(f"{kind}_{axis}", ""))]
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

    def reading(self, number: int, row: Mapping[str, Any], piece: Piece) -> Reading | None:
        """Return one reading of a piece, the one of this number in the file."""
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
        u, instrument, tool = self._uncertainty(name, row, kind, nominal)
        own = row.get("piece", "")
        if not isinstance(own, str) or not own.isprintable() or len(own) > _LONGEST_NAME:
            self.refuse(f"{name} piece", own, f"must be text of one line, at most {_LONGEST_NAME} characters.")
        if len(self.problems) > before or nominal is None or measured is None or u is None or direction is None:
            return None
        return Reading(
            cast(ReadingKind, kind),
            direction,
            nominal,
            measured,
            u,
            instrument,
            number,
            note_of(row.get("note", "")),
            tool,
            own or "the piece",
            piece.warmth.growth,
            piece.warmth.u,
        )

    def _uncertainty(
        self, name: str, row: Mapping[str, Any], kind: object, nominal: float | None
    ) -> tuple[float | None, str, str]:
        """The reading's own uncertainty, the instrument it was taken from, and the one whose errors it has.

        One that isn't known, beside a u of its own, has no errors of its own but those.
        """
        usual = "scriber-and-rule" if kind == "reversal" else "caliper"
        if usual == "caliper" and nominal is not None and nominal > LONGEST_CALIPER_MM:
            usual = "tape"
        instrument, known = row.get("instrument") or usual, usual_u()
        is_known = isinstance(instrument, str) and instrument in known
        if not is_empty(row.get("u", "")):
            u = self.positive(f"{name} u", row["u"])
            if u is not None and not FINEST_U_MM <= u <= COARSEST_U_MM:
                self.refuse(f"{name} u", row["u"], U_LIMITS)
            return u, "", str(instrument) if is_known else ""
        if not is_known:
            meant = did_you_mean(echo(instrument), known)
            self.refuse(f"{name} instrument", instrument, f"must be one of {', '.join(known)}, or give u{meant}")
            return None, "", ""
        return known[instrument], instrument, instrument

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


def unknown(where: str, table: Mapping[str, Any], known: Iterable[str]) -> Iterator[Problem]:
    """Yield a problem for each entry that isn't known."""
    for key in table:
        if key not in known:
            near = nearest(key, known)
            message = f"isn't known; did you mean {near}?" if near else f"isn't known; there are {', '.join(known)}."
            yield Problem(f"{where}{echo(key)}", "", message)
