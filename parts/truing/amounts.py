"""Amounts of a file of readings: lengths, plain numbers and directions, each read or refused by its name."""

import math
import re

from parts.errors import Problem, UnitsError
from parts.units import MM_PER_IN, Units, format_distance, parse_angle, parse_length

_LONGEST_ECHO = 60
LONGEST_MM = 100e3
_PLAIN = re.compile(r"[-+]?([0-9]+\.?[0-9]*|\.[0-9]+)")


class Amounts:
    """Reads amounts: adds to `problems` what can't be used, and returns None for it."""

    def __init__(self, problems: list[Problem], units: object = "mm") -> None:
        self.problems = problems
        if units not in ("mm", "in"):
            self.refuse("units", units, "must be mm or in.")
        self.units: Units = "in" if units == "in" else "mm"

    def refuse(self, name: str, value: object, message: str) -> None:
        """Note that an entry can't be used, and why."""
        self.problems.append(Problem(name, echo(value), message))

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


def echo(value: object) -> str:
    """Return a value to show, no longer than a person reads."""
    text = str(value)
    return text if len(text) <= _LONGEST_ECHO else f"{text[:_LONGEST_ECHO]}..."
