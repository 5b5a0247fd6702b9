"""A number of the data, told: its name, where it holds, its value and unit, what it is for, and where it is from."""

from dataclasses import dataclass

from parts.data import Kind
from parts.units import to_figures

HEADINGS = ("number", "holds at", "value", "unit", "used for", "rules", "kind", "source")
"""Of the columns in which numbers are listed."""

UNITS = {
    "_mm_s2": "mm/s²", "_mm_s": "mm/s", "_kg_per_m3": "kg/m³", "_mm": "mm", "lead_in": "", "_in": "in", "time_s": "s",
    "_deg": "degrees", "_a": "A", "_kw": "kW", "_k": "K", "kerfs": "kerfs", "_widths": "widths",
    "_pitches": "slat pitches", "hole_ratio": "thicknesses", "v_opening_ratio": "thicknesses",
    "_per_v": "V openings", "edge_distance.spacing": "bolt diameters", "beyond_ratio": "bolt diameters",
    "long_ratio": "bolt diameters", "ratio": "thicknesses", "slot_lengths": "widths", "expansion": "1/K",
}  # fmt: skip
"""The unit of a number by the end of its name, or by its table; none where it is a plain number."""


@dataclass(frozen=True, slots=True)
class Number:
    """One number; `name` is its path in the data, without what `holds_at` says of the row: `6.4 mm`, `M16`.

    `rules` are the rules that read it; a number that none reads is used elsewhere, as `used_for` says.
    """

    name: str
    holds_at: str
    value: float
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


def row_of(number: Number) -> tuple[str, ...]:
    """Return a number as a row of texts, under `HEADINGS`."""
    at = ", ".join(filter(None, (number.holds_at, number.setting)))
    rules = " ".join(number.rules)
    value = to_figures(number.value)
    return number.name, at, value, number.unit, number.used_for, rules, number.kind, number.source
