"""What a row of a series holds for: the current of a plasma, the power of a laser, the edge that a waterjet leaves."""

from collections.abc import Mapping

from parts.units import to_figures, with_unit

SETTINGS: Mapping[str, str] = {"current_a": "A", "power_kw": "kW", "quality": ""}
"""The entries of a row that say it, with their units."""

NOT_SAID = "not said"
"""The quality of a row whose source doesn't say what edge it is for."""


def setting_of(row: Mapping[str, object]) -> str:
    """Return it in words: `45 A`, `3 kW`, `good edge`; empty where nothing is said."""
    return ", ".join(filter(None, (_said(row.get(name), unit) for name, unit in SETTINGS.items())))


def _said(value: object, unit: str) -> str:
    if isinstance(value, int | float) and not isinstance(value, bool):
        return with_unit(to_figures(value), unit).rstrip()
    return f"edge {NOT_SAID}" if value == NOT_SAID else str(value or "")
