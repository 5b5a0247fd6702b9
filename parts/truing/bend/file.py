"""A test bend as a TOML file: what the strips have in common, and the readings of each, all as shop text.

units       mm or in: what a bare number is in, mm unless said
[bend]      material, stock (what the sheet is called), thickness and thickness_u, v_opening, angle_deg (what the sheet
            is turned through, 90 unless said), legs (over or mould), inside_radius and inside_radius_u where it was
            measured, instrument, thickness_instrument, bend_line (from end A on the flat), cut (the flat as drawn),
            date, brake, drawing; confirmed, yes where what was asked about was looked at and is so
[[strip]]   note (what is scribed on it), flat, leg_a, leg_b, between_deg (the angle between the legs, inside), u

What is left empty isn't measured: a strip without any length is left out.
"""

import math
from collections.abc import Collection, Iterator, Mapping
from datetime import date
from typing import Any

from parts import shop
from parts.errors import Problem, Refused, UnitsError, did_you_mean
from parts.truing.amounts import echo
from parts.truing.bend.reading import LEGS, BendTest, LegsRead, StripReading, numbers
from parts.truing.bend.rule import radius_by_v
from parts.truing.entries import (
    COARSEST_U_MM,
    FINEST_U_MM,
    LONGEST_DRAWING,
    U_LIMITS,
    Entries,
    is_empty,
    note_of,
    unknown,
)
from parts.truing.instruments import METALS, usual_u
from parts.units import format_angle, format_length, parse_angle, parse_thickness, with_unit

MOST_STRIPS = 50
BEND = (
    "material", "stock", "thickness", "thickness_u", "v_opening", "angle_deg", "legs", "inside_radius",
    "inside_radius_u", "instrument", "thickness_instrument", "bend_line", "cut", "date", "brake", "drawing",
    "confirmed",
)  # fmt: skip
STRIP = ("note", "flat", "leg_a", "leg_b", "between_deg", "u")
LENGTHS = ("flat", "leg_a", "leg_b")
LEAST_ANGLE_DEG, MOST_ANGLE_DEG, HALF_TURN_DEG = 10.0, 150.0, 180.0
FAR_OFF_DEG = 20.0
"""An angle further off the one that was meant is another one, or was read from the other side."""
_LONGEST_NAME = 80


def is_bend(data: Mapping[str, Any]) -> bool:
    """Return whether a file's tables are of a test bend, not of a table."""
    return "bend" in data or "strip" in data


def bend_from_tables(data: Mapping[str, Any]) -> BendTest:
    """Return the test bend that a file's tables hold.

    Raises:
        Refused: with each entry that can't be used, named as `bend thickness` or `strip 2 leg_a`.
        DataError: the shop's own file is unusable.
    """
    problems: list[Problem] = [*unknown("", data, ("units", "bend", "strip"))]
    entries = _BendEntries(problems, data.get("units", "mm"))
    bend = data.get("bend", {})
    if not isinstance(bend, dict):
        entries.refuse("bend", bend, "must be a table, [bend].")
        bend = {}
    problems += unknown("bend ", bend, BEND)
    common = entries.common(bend)
    strips = tuple(entries.strips(data.get("strip", []), common))
    if problems:
        raise Refused(tuple(problems))
    return BendTest(**common, strips=strips, assumed=tuple(entries.assumed))


def unmeasured_strips(data: Mapping[str, Any]) -> tuple[str, ...]:
    """Return what the strips that aren't measured yet are called, by their notes or else their numbers."""
    rows = data.get("strip", [])
    return tuple(
        note_of(row.get("note", "")) or str(i)
        for i, row in enumerate(rows if isinstance(rows, list) else [], start=1)
        if isinstance(row, dict) and _is_blank(row)
    )


def _is_blank(row: Mapping[str, Any]) -> bool:
    return all(is_empty(row.get(name, "")) for name in LENGTHS)


class _BendEntries(Entries):
    """Reads the entries of a test bend's file; `assumed` are sentences on what wasn't told."""

    def __init__(self, problems: list[Problem], units: object) -> None:
        super().__init__(problems, units)
        self.assumed: list[str] = []

    def common(self, bend: Mapping[str, Any]) -> dict[str, Any]:
        """Return what the strips have in common, as the fields of a test."""
        of = {name: value for name, value in bend.items() if not is_empty(value)}
        material = self._material(of)
        tool = self._one_of("bend instrument", of.get("instrument", "caliper"), usual_u())
        thickness_tool = self._one_of("bend thickness_instrument", of.get("thickness_instrument", tool), usual_u())
        stock, thickness = self._stock(of, material), self._needed("thickness", of)
        v_opening = self._needed("v_opening", of)
        radius, radius_u = self._radius(of, material, v_opening)
        return {
            "material": material,
            "metal": group if (group := shop.load(shop.edition()).materials[material].group) in METALS else "steel",
            "stock": stock,
            "thickness": thickness,
            "thickness_u": self._u("bend thickness_u", of.get("thickness_u"), usual_u()[thickness_tool]),
            "v_opening": v_opening,
            "angle": self._bend_angle(of.get("angle_deg", 90.0)),
            "radius": radius,
            "radius_u": radius_u,
            "radius_measured": "inside_radius" in of,
            "legs": self._legs(of.get("legs", "over")),
            "tool": tool,
            "thickness_tool": thickness_tool,
            "bend_line": self.positive("bend bend_line", of["bend_line"]) if "bend_line" in of else None,
            "cut": self.positive("bend cut", of["cut"]) if "cut" in of else None,
            "date": self._date(of.get("date", "")),
            "brake": self._text("brake", of.get("brake", ""), _LONGEST_NAME),
            "drawing": self._text("drawing", of.get("drawing", ""), LONGEST_DRAWING),
            "confirmed": "confirmed" in of and bool(self._confirmed_bend(of["confirmed"])),
        }

    def strips(self, rows: object, common: Mapping[str, Any]) -> Iterator[StripReading]:
        """Yield the strips that are measured."""
        if not isinstance(rows, list) or not rows or not all(isinstance(row, dict) for row in rows):
            self.refuse("strip", rows, "give each strip as a table, [[strip]], one at least.")
            return
        if len(rows) > MOST_STRIPS:
            self.refuse("strip", len(rows), f"at most {MOST_STRIPS} strips are taken.")
            return
        measured = [(i, row) for i, row in enumerate(rows, start=1) if not _is_blank(row)]
        if not measured:
            self.refuse("strip", f"{len(rows)} of them", "hold no measured length yet; one at least has to.")
        for i, row in measured:
            if found := self._strip(i, row, common):
                yield found

    def _strip(self, number: int, row: Mapping[str, Any], common: Mapping[str, Any]) -> StripReading | None:
        name, before = f"strip {number}", len(self.problems)
        self.problems += unknown(f"{name} ", row, STRIP)
        lengths = {}
        for length in LENGTHS:
            if is_empty(row.get(length, "")):
                self.refuse(f"{name} {length}", "", "isn't measured; a strip needs its flat and both legs.")
            else:
                lengths[length] = self.positive(f"{name} {length}", row[length])
        angle, between = None, row.get("between_deg", "")
        if not is_empty(between):
            angle = self._between(f"{name} between_deg", between, common["angle"])
        u = self._u(f"{name} u", row.get("u"), usual_u()[common["tool"]])
        if len(self.problems) > before:
            return None
        flat, leg_a, leg_b = (lengths[each] or 0.0 for each in LENGTHS)
        return StripReading(flat, leg_a, leg_b, angle, u, note_of(row.get("note", "")), number)

    def _material(self, of: Mapping[str, Any]) -> str:
        known = tuple(shop.load(shop.edition()).materials)
        material = of.get("material", "mild-steel")
        return self._one_of("bend material", material, known)

    def _one_of(self, name: str, value: object, known: Collection[str]) -> str:
        if value in known:
            return str(value)
        self.refuse(name, value, f"must be one of {', '.join(known)}{did_you_mean(echo(value), tuple(known))}")
        return next(iter(known))

    def _needed(self, name: str, of: Mapping[str, Any]) -> float:
        """A length that has to be told; 1 where it isn't, which is refused."""
        if name not in of:
            self.refuse(f"bend {name}", "", _NEEDED[name])
            return 1.0
        return self.positive(f"bend {name}", of[name]) or 1.0

    def _u(self, name: str, value: object, usual: float) -> float:
        if value is None or is_empty(value):
            return usual
        u = self.positive(name, value)
        if u is not None and not FINEST_U_MM <= u <= COARSEST_U_MM:
            self.refuse(name, value, U_LIMITS)
        return u or usual

    def _radius(self, of: Mapping[str, Any], material: str, v_opening: float) -> tuple[float, float]:
        """The inside radius and its uncertainty: as measured, or by the rule for the V opening."""
        if "inside_radius" in of:
            radius = self.positive("bend inside_radius", of["inside_radius"]) or 1.0
            return radius, self._u("bend inside_radius_u", of.get("inside_radius_u"), numbers().radius_gauge.u(radius))
        radius = radius_by_v(material, v_opening)
        if "inside_radius_u" in of:
            self.refuse("bend inside_radius_u", of["inside_radius_u"], "goes with an inside_radius that was measured.")
        else:
            said, sure = format_length(radius, self.units), format_length(numbers().by_v.u(radius), self.units)
            self.assumed.append(
                f"the inside radius wasn't measured, so that of the rule for the V opening was taken, {said}, sure to "
                f"{sure}; a radius gauge makes K surer."
            )
        return radius, numbers().by_v.u(radius)

    def _bend_angle(self, value: object) -> float:
        """What the sheet is turned through, radians; square where it can't be read."""
        angle = self._degrees("bend angle_deg", value)
        if angle is None or LEAST_ANGLE_DEG <= math.degrees(angle) <= MOST_ANGLE_DEG:
            return math.pi / 2 if angle is None else angle
        limits = f"{format_angle(LEAST_ANGLE_DEG)} to {format_angle(MOST_ANGLE_DEG)}"
        self.refuse("bend angle_deg", value, f"must be {limits}, what the sheet is turned through.")
        return math.pi / 2

    def _between(self, name: str, value: object, meant: float) -> float | None:
        """What a strip is turned through, radians, by the angle between its legs."""
        between = self._degrees(name, value)
        if between is None:
            return None
        turned, far = math.pi - between, math.radians(FAR_OFF_DEG)
        if abs(turned - meant) <= far:
            return turned
        said = f"is far from {format_angle(math.degrees(math.pi - meant))}, what is left between the legs of this bend"
        other = " You may have given what the sheet is turned through." if abs(between - meant) <= far else ""
        self.refuse(name, value, f"{said}.{other}")
        return None

    def _degrees(self, name: str, value: object) -> float | None:
        """An angle in radians, of degrees as a number or as text."""
        try:
            degrees = parse_angle(value) if isinstance(value, str) else value
        except UnitsError as error:
            self.refuse(name, value, str(error))
            return None
        if isinstance(degrees, bool) or not isinstance(degrees, int | float) or not 0 <= degrees <= HALF_TURN_DEG:
            self.refuse(name, value, "must be degrees, 0 to 180.")
            return None
        return math.radians(degrees)

    def _stock(self, of: Mapping[str, Any], material: str) -> float:
        """What the sheet is called, mm; a gauge too, where the material is sold so."""
        if not isinstance(value := of.get("stock", ""), str) or is_empty(value):
            return self._needed("stock", of)
        gauge = shop.load(shop.edition()).materials[material].gauge
        try:
            stock = parse_thickness(value, bare=self.units, gauge=None if gauge == "none" else gauge)
        except UnitsError as error:
            self.refuse("bend stock", value, str(error))
            return 1.0
        return self.positive("bend stock", with_unit(repr(stock), "mm")) or 1.0

    def _legs(self, value: object) -> LegsRead:
        said = self._one_of("bend legs", value, LEGS)
        return "mould" if said == "mould" else "over"

    def _date(self, value: object) -> str:
        if is_empty(value):
            return ""
        try:
            return date.fromisoformat(str(value).strip()).isoformat()
        except ValueError:
            self.refuse("bend date", value, "must be a date such as 2026-03-14.")
            return ""

    def _text(self, name: str, value: object, longest: int) -> str:
        if isinstance(value, str) and value.isprintable() and len(value) <= longest:
            return value.strip()
        self.refuse(f"bend {name}", value, f"must be text of one line, at most {longest} characters.")
        return ""

    def _confirmed_bend(self, said: object) -> str:
        if str(said).strip().lower() in ("yes", "true"):
            return "yes"
        self.refuse("bend confirmed", said, "must be yes, where what was asked about was looked at; or empty.")
        return ""


_NEEDED = {
    "stock": 'say what the sheet is called, such as "3 mm" or "11 ga": parts of that thickness are drawn by this test.',
    "thickness": "measure the sheet beside the strips: the answer is in thicknesses.",
    "v_opening": "say how wide the groove of the die is, from shoulder to shoulder.",
}
