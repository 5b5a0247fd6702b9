"""The form of a test bend: its fields as they were typed, and the tables of the file that they stand for.

Bare lengths are in the form's units. A strip without any length isn't measured yet, and is left out.
"""

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any
from urllib.parse import urlsplit

from parts import Problem, Refused
from parts.cached import cached_property
from parts.errors import DataError
from parts.spec import Parameters
from parts.templates import template
from parts.truing import LONGEST_DRAWING, parsed
from parts.truing.bend import BEND, MOST_STRIPS, STRIP, write_bend
from parts.units import Units, number_in_field, to_figures, units_of, with_unit

TEMPLATE = "gauge-test-bend"
LABELS = {
    "brake": "Name of the brake",
    "material": "Material",
    "stock": "What the sheet is called",
    "thickness": "Its thickness, measured",
    "v_opening": "V opening of the die",
    "inside_radius": "Inside radius, if measured",
    "angle_deg": "Turned through",
    "instrument": "Lengths measured with",
    "date": "Date",
}
FINER = {
    "bend_line": "Bend line from end A, as drawn",
    "cut": "Flat length, as drawn",
    "legs": "How the legs were read",
    "thickness_u": "Thickness is sure to (u)",
    "thickness_instrument": "Thickness measured with",
    "inside_radius_u": "Inside radius is sure to (u)",
}
LEGS_SAID = {"over": "over the other leg's outside face", "mould": "from the mould point itself"}
COLUMNS = {
    "note": "Strip",
    "flat": "Flat, before",
    "leg_a": "Leg A, outside",
    "leg_b": "Leg B, outside",
    "between_deg": "Between the legs",
    "u": "Or its u",
}
LENGTHS = frozenset(
    {"stock", "thickness", "thickness_u", "v_opening", "inside_radius", "inside_radius_u", "bend_line", "cut"}
    | {"flat", "leg_a", "leg_b", "u"}
)
MORE = 2
_BARE = re.compile(r"([0-9]+\.?[0-9]*|\.[0-9]+)")
_ROW = re.compile(r"[0-9]{1,2}")
_PROBLEM = re.compile(r"strip ([0-9]+) ?(\w*)")
_LONGEST = 200


@dataclass(frozen=True)
class BendForm:
    """What the form shows: texts of what the strips have in common, and of each strip, by their field."""

    bend: Mapping[str, str] = field(default_factory=dict)
    strips: tuple[Mapping[str, str], ...] = ()
    units: Units = "mm"

    @cached_property
    def listed(self) -> tuple[int, ...]:
        """The indices of the strips that a file has: those with anything in them."""
        return tuple(i for i, strip in enumerate(self.strips) if any(strip.values()))

    @property
    def is_measured(self) -> bool:
        """Whether any strip has a length."""
        return any(strip.get(name) for strip in self.strips for name in ("flat", "leg_a", "leg_b"))

    @property
    def tables(self) -> dict[str, Any]:
        """The form as the tables of the file."""
        bend = {name: self._with_unit(name, text) for name, text in self.bend.items() if text}
        strips = [
            {name: self._with_unit(name, text) for name, text in self.strips[i].items() if text} for i in self.listed
        ]
        return {"units": self.units, "bend": bend, "strip": strips}

    @property
    def toml(self) -> str:
        """The form as the text of the file."""
        tables = self.tables
        return write_bend(tables["bend"], tables["strip"], self.units)

    @property
    def sheet(self) -> str:
        """The query of the measuring sheet of the strips' drawing."""
        at = urlsplit(self.bend.get("drawing", ""))
        ours = not at.scheme and not at.netloc and at.path == f"/parts/{TEMPLATE}"
        return "&".join(filter(None, (f"template={TEMPLATE}", at.query if ours else "")))

    def field_of(self, problem: Problem) -> str:
        """Return the name of the field that a problem is of, empty where it has none."""
        table, _, entry = problem.parameter.partition(" ")
        if table == "bend" and entry in {*LABELS, *FINER}:
            return f"bend.{entry}"
        found = _PROBLEM.fullmatch(problem.parameter)
        if not found or not 0 < int(found[1]) <= len(self.listed):
            return ""
        return f"{found[2] or 'flat'}.{self.listed[int(found[1]) - 1]}"

    def longer(self) -> "BendForm":
        """Return the form with more empty strips."""
        count = min(MORE, MOST_STRIPS - len(self.strips))
        return replace(self, strips=(*self.strips, *({"note": str(len(self.strips) + n + 1)} for n in range(count))))

    def in_units(self, units: Units) -> "BendForm":
        """Return the form in other units; what was typed bare keeps the unit it was typed in."""
        tables = self.tables
        bend = {name: str(value) for name, value in tables["bend"].items()}
        strips = tuple(
            {name: self._with_unit(name, text) for name, text in strip.items() if text} for strip in self.strips
        )
        return BendForm(bend, strips, units)

    def _with_unit(self, name: str, text: str) -> str:
        return with_unit(text, self.units) if name in LENGTHS and _BARE.fullmatch(text) else text


def sent(given: Mapping[str, str]) -> BendForm:
    """Return the form that was sent."""
    texts = {name: text.strip()[:_LONGEST] for name, text in given.items()}
    counts = [int(i) for name in texts for _, _, i in [name.rpartition(".")] if _ROW.fullmatch(i)]
    strips = tuple(
        {name: texts[f"{name}.{i}"] for name in STRIP if texts.get(f"{name}.{i}")}
        for i in range(min(max(counts, default=-1) + 1, MOST_STRIPS))
    )
    bend = {name: text for name in BEND if (text := texts.get(f"bend.{name}", ""))}
    if drawing := given.get("bend.drawing", "").strip():
        bend["drawing"] = drawing[:LONGEST_DRAWING]
    return BendForm(bend, strips, units_of(texts.get("units")))


def blank(values: Mapping[str, str], drawing: str, today: str) -> BendForm:
    """Return the form for the strips that a drawing has, to be measured.

    Raises:
        Refused: they can't be drawn as they are asked for.
    """
    chosen = template(TEMPLATE)
    parameters: Parameters = chosen.parameters.read(values)
    made = chosen.bend_test(parameters) if chosen.bend_test else None
    if made is None:
        raise Refused((Problem("template", TEMPLATE, "draws no strips."),))
    units = parameters.units
    bend = {
        "drawing": drawing,
        "material": parameters.material,
        "stock": number_in_field(parameters.thickness, units),
        "angle_deg": to_figures(math.degrees(made.angle)),
        "bend_line": number_in_field(made.bend_line, units),
        "cut": number_in_field(made.flat, units),
        "date": today,
    }
    return BendForm(bend, tuple({"note": str(n + 1)} for n in range(made.count)), units)


def of_file(text: str) -> BendForm:
    """Return the form filled in from a file of a test bend, in its own units.

    Raises:
        Refused: it is no TOML, or holds what the form has no place for.
    """
    try:
        data = parsed(text)
    except DataError as error:
        raise Refused((Problem("file", "", str(error)),)) from error
    bend, strips, units = data.get("bend", {}), data.get("strip", []), data.get("units", "mm")
    if not isinstance(bend, dict) or not isinstance(strips, list) or not all(isinstance(each, dict) for each in strips):
        raise Refused((Problem("file", "", "must hold a table [bend] and a table [[strip]] for each strip."),))
    if "reading" in data or not (bend or strips):
        raise Refused((Problem("file", "", "holds no test bend; readings of a table go to the page /true."),))
    if len(strips) > MOST_STRIPS:
        raise Refused((Problem("file", str(len(strips)), f"at most {MOST_STRIPS} strips are taken."),))
    if units not in ("mm", "in"):
        raise Refused((Problem("file units", str(units)[:_LONGEST], "must be mm or in."),))
    texts = {name: _text(name, bend[name], units) for name in BEND if name in bend}
    rows = tuple({name: _text(name, each[name], units) for name in STRIP if name in each} for each in strips)
    return BendForm(texts, rows, units)


def _text(name: str, value: object, units: Units) -> str:
    """A value of the file as the form shows it: a plain number of a length is in the file's units."""
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    longest = LONGEST_DRAWING if name == "drawing" else _LONGEST
    return with_unit(str(value), units) if is_number and name in LENGTHS else str(value)[:longest]
