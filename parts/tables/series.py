"""Series: a cell that says several values, `50..200 step 25`."""

import math
import re
from collections.abc import Callable, Mapping

from parts.errors import UnitsError
from parts.tolerance import TIDY_DECIMALS
from parts.units import Units, exact_text, parse_angle, parse_length, parse_number

SERIES_KINDS = ("length", "angle", "number", "count")
"""Kinds of parameters that a series can be of."""
MOST_VALUES = 1_000
_SERIES = re.compile(r"\s*(.+?)\s*(?:\.\.\.?|\u2026)\s*(.+?)(?:\s+(?:step|by)\s+(.+?))?\s*", re.IGNORECASE)
_SLACK = 1e-9


def is_series(text: str) -> bool:
    """Tell whether a cell is written as a series."""
    return bool(_SERIES.fullmatch(text))


def series(text: str, kind: str, units: Units) -> tuple[str, ...]:
    """Return the values of a series as text, the first and, where the steps come to it, the last among them.

    Args:
        text: `FIRST..LAST step STEP`, each as the kind is written; bare lengths in `units`.
        kind: of the parameter, one of SERIES_KINDS.
        units: the working units.

    Raises:
        UnitsError: it isn't written so, its step leads nowhere, or it has too many values.
    """
    match = _SERIES.fullmatch(text)
    if not match or not match[3]:
        raise UnitsError("needs its step: write a series as 50..200 step 25.")
    read, write = _ways(units)[kind]
    first, last, step = (read(piece) for piece in match.groups())
    if not step or (last - first) * step < 0:
        raise UnitsError(f"never comes from {match[1]} to {match[2]} in steps of {match[3]}; a step leads to the last.")
    steps = (last - first) / step
    count = math.floor(steps + _SLACK * max(steps, 1.0)) + 1
    if count > MOST_VALUES:
        raise UnitsError(f"has {count:,} values; a series may have {MOST_VALUES:,}. Take a longer step.")
    return tuple(write(round(first + i * step, TIDY_DECIMALS)) for i in range(count))


def _ways(units: Units) -> Mapping[str, tuple[Callable[[str], float], Callable[[float], str]]]:
    """How each kind is read and written."""

    def length(text: str) -> float:
        return parse_length(text, bare=units)

    def number(value: float) -> str:
        return f"{value:.10g}"

    return {
        "length": (length, lambda mm: exact_text(mm, units)),
        "angle": (parse_angle, number),
        "number": (parse_number, number),
        "count": (parse_number, number),
    }
