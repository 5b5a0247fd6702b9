"""A number of the data, told: its name, where it holds, its value and unit, what it is for, and where it is from."""

import re
from dataclasses import dataclass

from parts.data import Kind
from parts.units import KG_PER_LB, MM_PER_IN, Units, format_length, to_figures

HEADINGS = ("number", "holds at", "value", "unit", "used for", "rules", "kind", "source")
"""Of the columns in which numbers are listed."""

UNITS = {
    "_mm_s2": "mm/s²", "_mm_s": "mm/s", "_kg_per_m3": "kg/m³", "_mm": "mm", "lead_in": "", "_in": "in", "time_s": "s",
    "_deg": "degrees", "_a": "A", "_kw": "kW", "_k": "K", "kerfs": "kerfs", "_widths": "widths",
    "_pitches": "slat pitches", "hole_ratio": "thicknesses", "v_opening_ratio": "thicknesses",
    "_per_v": "V openings", "length_to_width": "widths", "edge_distance.spacing": "bolt diameters",
    "beyond_ratio": "bolt diameters", "long_ratio": "bolt diameters", "ratio": "thicknesses", "slot_lengths": "widths",
    "expansion": "1/K", "_l_min": "l/min", "_kg_min": "kg/min", "_per_kg": "a kg", "_per_m3": "a m\u00b3",
    "percent": "%",
    "_hours": "h", "handling_min": "min", "mass_kg": "kg", "_per_h": "an hour",
}  # fmt: skip
"""The unit of a number by the end of its name, or by its table; none where it is a plain number."""

IN_INCHES = {
    "mm": ("in", MM_PER_IN), "mm/s": ("in/min", MM_PER_IN / 60), "mm/s²": ("in/s²", MM_PER_IN),
    "kg/m³": ("lb/in³", KG_PER_LB / (MM_PER_IN / 1000) ** 3), "kg": ("lb", KG_PER_LB), "kg/min": ("lb/min", KG_PER_LB),
}  # fmt: skip
"""The unit that an inch shop has in place of one, and so many of that one it is."""
_MM = re.compile(r"([0-9.]+) mm(?![\w/²])")


@dataclass(frozen=True, slots=True)
class Number:
    """One number; `name` is its path in the data, without what `holds_at` says of the row: `6.4 mm`, `M16`.

    A choice in force (`side`, `paper`) is listed as a number is; its value is a word. `rules` are the rules that read
    it; a number that none reads is used elsewhere, as `used_for` says.
    """

    name: str
    holds_at: str
    value: float | str
    unit: str
    used_for: str
    rules: tuple[str, ...]
    kind: Kind
    source: str
    setting: str = ""


def unit_of(name: str) -> str:
    """Return the unit of a number by its name."""
    words = name.split(".")
    ends = [unit for end, unit in UNITS.items() if words[-1].endswith(end) or name.startswith(f"{end}.")]
    above = next((unit for word in reversed(words) for end, unit in UNITS.items() if word.endswith(end)), "")
    in_table = UNITS.get(".".join(words[:-1])) or UNITS.get(words[-2] if len(words) > 1 else "")
    return in_table or (ends[0] if ends else above if words[-1].isdigit() else "")


def row_of(number: Number, units: Units = "mm") -> tuple[str, ...]:
    """Return a number as a row of texts, under `HEADINGS`, in working units; its source says what it says."""
    at = ", ".join(filter(None, (number.holds_at, number.setting)))
    at = _MM.sub(lambda mm: format_length(float(mm[1]), units), at) if units == "in" else at
    value, unit = _said_in(number, units)
    rules = " ".join(number.rules)
    return number.name, at, value, unit, number.used_for, rules, number.kind, number.source


def _said_in(number: Number, units: Units) -> tuple[str, str]:
    """The value and its unit: a length as one is read, all else to four figures where it is turned into inches."""
    value, unit = number.value, number.unit
    if isinstance(value, str):
        return value, unit
    if units == "mm" or unit not in IN_INCHES:
        return to_figures(value), unit
    unit, per = IN_INCHES[unit]
    is_long = unit == "in" and value >= MM_PER_IN / 64
    said, unit = format_length(value, units).split() if is_long else (to_figures(value / per, 4), unit)
    return said, unit
