"""What a template says of one parameter, and how text or a number becomes its value."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Literal, TypeAlias, cast

from pydantic.fields import FieldInfo

from parts.data import word_of
from parts.errors import UnitsError, did_you_mean, nearest
from parts.fasteners import bolt_diameter_mm, clearance_hole_mm, find_bolt, inch_bolt
from parts.shop import Ambiguous, taken_for
from parts.spec.condition import Condition
from parts.tolerance import LEAST_LENGTH_MM, LIMIT_SLACK_MM
from parts.units import (
    MM_PER_IN,
    Gauge,
    Units,
    exact_text,
    format_angle,
    format_figures,
    format_length,
    inch_least,
    inch_length,
    inch_most,
    inch_plate,
    inch_text,
    length_number,
    parse_angle,
    parse_count,
    parse_length,
    parse_number,
    parse_thickness,
    with_unit,
)

ParameterKind: TypeAlias = Literal["length", "count", "angle", "number", "choice", "flag", "text"]
Moves: TypeAlias = Literal["free", "care", "never"]
"""How freely a remedy may change a parameter: `free` where nothing else hangs on it, with `care` where something may,
`never` by itself where it mates with something else, or is what was asked for."""
Value: TypeAlias = float | int | str | bool

BY_DIAMETER = "by-diameter"
_MEASURE = re.compile(r"([0-9.]+)(?: to ([0-9.]+))? mm\b")
"""A length, or a range of lengths, in a hint."""
_LARGEST = 1e15
"""A plain number beyond this is no measure of anything, and the float of one much larger overflows."""
_HALF_STEP: Mapping[Units, float] = {"mm": 0.0005, "in": 0.0005 * MM_PER_IN}
"""Half of what lies between two lengths as they are said, to three decimals, in mm."""
_SHOP_WORDS: Mapping[str, Literal["process", "material"]] = {"process": "process", "material": "material"}
"""Choices that a shop has words of its own for."""
_YES_NO = {
    "on": True, "yes": True, "true": True, "1": True,
    "off": False, "no": False, "false": False, "0": False,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class ReadingContext:
    """What the reading of a value depends on: the working units, and the gauge table of the material."""

    units: Units = "mm"
    gauge: Gauge | None = None


@dataclass(frozen=True, slots=True)
class Spec:
    """A parameter as declared.

    Lengths are mm, angles degrees; a text is at most `longest` among `characters`. `diameter` is, of a
    choice of bolts, the parameter that gives the hole instead. `when` has the conditions of which any must hold
    for the parameter to apply. `auto` is the property with what a value of 0 becomes, where it is left to the template
    and no dimension shows it. What isn't said to move mates with something: a forgotten word costs a question, not
    a part that no longer fits. `inches` is the default in place of `default` where inches are worked in, as it is said
    there; empty where it is the size that a shop chooses nearest to `default`. `is_drawn` is whether a drawing ever
    has a dimension of it. `also` are words that a choice takes besides its own, as a regular expression.
    """

    name: str
    kind: ParameterKind
    label: str
    default: Value
    group: str
    help: str = ""
    minimum: float | None = None
    maximum: float | None = None
    choices: tuple[str, ...] = ()
    characters: str = ""
    longest: int = 0
    is_thickness: bool = False
    diameter: str = ""
    when: tuple[Condition, ...] = ()
    moves: Moves = "never"
    auto: str = ""
    inches: str = ""
    is_drawn: bool = True
    also: str = ""

    def default_in(self, units: Units) -> Value:
        """Return the declared default of who works in these units; a length in mm, whatever they are."""
        return self.default if units == "mm" else inch_default(self)

    def help_in(self, units: Units) -> str:
        """Return the hint for who works in these units: `0 to 1/32 in is usual`."""
        if units == "in" and self.is_thickness:
            return "As on the rack: 1/4, 16 ga, 6 mm."
        return self.help if units == "mm" else _MEASURE.sub(_in_inches, self.help)

    @property
    def is_bolt(self) -> bool:
        """Whether it is a choice of bolt sizes."""
        return bool(self.diameter)

    @property
    def unit(self) -> str:
        """The unit of the default and the limits in machine-readable output."""
        return {"length": "mm", "angle": "deg"}.get(self.kind, "")

    def read(self, given: object, reading: ReadingContext) -> Value:
        """Return the value that a person's text, or a plain number, stands for.

        Raises:
            UnitsError: if it can't be read, or lies outside the limits; one sentence saying what is accepted.
        """
        is_text = isinstance(given, str)
        value = _READERS[self.kind](self, str(given).strip(), reading) if is_text else self._plain(given)
        if self.minimum is not None or self.maximum is not None:
            self._within_limits(cast(float, value), reading.units)
        return value

    def say(self, value: Value, units: Units = "mm") -> str:
        """Return the value as a person in the shop says it."""
        if self.kind == "length":
            return format_length(cast(float, value), units)
        if self.kind == "angle":
            return format_angle(cast(float, value))
        if self.kind == "flag":
            return "yes" if value else "no"
        if self.kind == "choice":
            return word_of(str(value))
        return f"{value:g}" if isinstance(value, float) else str(value)

    def text(self, value: Value, units: Units = "mm") -> str:
        """Return the text that `read` turns back into exactly this value, whatever the working units."""
        if self.kind == "length":
            return exact_text(cast(float, value), units)
        if self.kind == "flag":
            return "on" if value else "off"
        return repr(value).removesuffix(".0") if isinstance(value, float) else str(value)

    def limits(self, units: Units = "mm") -> str:
        """Return what is accepted, in words: `25 mm to 1500 mm`; in inches the sizes next inside what is held."""
        if self.choices:
            return "one of " + ", ".join(map(word_of, self.choices))
        if self.minimum is None or self.maximum is None:
            return ""
        return f"{self._least(self.minimum, units)} to {self._most(self.maximum, units)}"

    def _plain(self, given: object) -> Value:
        """A value that is not text: a plain number, in mm or degrees, or a truth value for a flag."""
        number = isinstance(given, int | float) and not isinstance(given, bool) and abs(given) <= _LARGEST
        if self.kind == "flag" and isinstance(given, bool):
            return given
        if number and self.kind == "count" and float(cast(float, given)).is_integer():
            return int(cast(float, given))
        if number and self.kind in ("length", "angle", "number"):
            return float(cast(float, given))
        raise UnitsError(f"{given!r:.40} can't be read as a {self.kind}.")

    def _within_limits(self, value: float, units: Units) -> None:
        if self.kind == "length" and 0 < abs(value) < LEAST_LENGTH_MM - LIMIT_SLACK_MM:
            raise UnitsError(f"is less than can be measured; write 0, or at least {format_figures(LEAST_LENGTH_MM)}.")
        low, high = self.minimum, self.maximum
        if low is not None and value < low - LIMIT_SLACK_MM:
            held = self._least(low, units)
            raise UnitsError(f"must be at least {held}.", near=held)
        if high is not None and value > high + LIMIT_SLACK_MM:
            held = self._most(high, units)
            raise UnitsError(f"must be at most {held}.", near=held)

    def _least(self, low: float, units: Units) -> str:
        if self.kind != "length":
            return self.say(low)
        return say_least(low if units == "mm" else -inch_most(-low) if low < 0 else inch_least(low), units)

    def _most(self, high: float, units: Units) -> str:
        if self.kind != "length":
            return self.say(high)
        return say_most(high if units == "mm" else inch_most(high), units)


@lru_cache(maxsize=8192)
def inch_default(spec: Spec) -> Value:
    """Return the default of a parameter where inches are worked in: the size that a shop chooses there.

    Raises:
        DataError: the data file of the sizes or of the bolts is unusable.
    """
    if spec.kind == "length":
        size = cast(float, spec.default)
        return inch_text(spec.inches) if spec.inches else inch_plate(size) if spec.is_thickness else inch_length(size)
    if spec.is_bolt and spec.default != BY_DIAMETER:
        return spec.inches or inch_bolt(str(spec.default))
    return spec.inches or spec.default


def _in_inches(measure: re.Match[str]) -> str:
    sizes = (length_number(inch_length(float(number)), "in") for number in measure.groups() if number)
    return with_unit(" to ".join(sizes), "in")


def say_least(mm: float, units: Units) -> str:
    """Return the least length accepted as it is said, rounded up: what is read is accepted."""
    said = format_length(mm, units)
    return said if parse_length(said) >= mm - LIMIT_SLACK_MM else format_length(mm + _HALF_STEP[units], units)


def say_most(mm: float, units: Units) -> str:
    """Return the greatest length accepted as it is said, rounded down: what is read is accepted."""
    said = format_length(mm, units)
    return said if parse_length(said) <= mm + LIMIT_SLACK_MM else format_length(mm - _HALF_STEP[units], units)


def _read_length(spec: Spec, text: str, reading: ReadingContext) -> Value:
    if spec.is_thickness:
        return parse_thickness(text, bare=reading.units, gauge=reading.gauge)
    return parse_length(text, bare=reading.units)


def _read_choice(spec: Spec, text: str, _: ReadingContext) -> Value:
    wanted = text.lower()
    for choice in spec.choices:
        if wanted == word_of(choice).lower() or choice.lower() in (re.sub("[_ ]", "-", wanted), wanted):
            return choice
    if spec.also and re.fullmatch(spec.also, wanted):
        return wanted
    if spec.is_bolt:
        return find_bolt(text)
    if spec.name in _SHOP_WORDS:
        try:
            if meant := taken_for(_SHOP_WORDS[spec.name], text, spec.choices):
                return meant
        except Ambiguous as error:
            raise UnitsError(str(error)) from error
    raise UnitsError(f"must be {spec.limits()}{did_you_mean(text, spec.choices)}", near=nearest(text, spec.choices))


def _read_flag(_: Spec, text: str, __: ReadingContext) -> Value:
    if text.lower() not in _YES_NO:
        raise UnitsError("must be on or off.")
    return _YES_NO[text.lower()]


def _read_text(spec: Spec, text: str, _: ReadingContext) -> Value:
    wrong = sorted(set(text) - set(spec.characters)) if spec.characters else []
    if wrong:
        raise UnitsError(f"can't hold {' '.join(wrong)}; it may hold {spec.characters.replace(' ', 'spaces and ')}.")
    if len(text) > spec.longest:
        raise UnitsError(f"must be at most {spec.longest} characters long.")
    return text


_READERS: Mapping[ParameterKind, Callable[[Spec, str, ReadingContext], Value]] = {
    "length": _read_length,
    "angle": lambda _spec, text, _reading: parse_angle(text),
    "count": lambda _spec, text, _reading: parse_count(text),
    "number": lambda _spec, text, _reading: parse_number(text),
    "choice": _read_choice,
    "flag": _read_flag,
    "text": _read_text,
}


def hole_diameter(bolt_size: str, fit_name: str, diameter: float) -> float:
    """Return the hole in mm for a bolt and fit, or `diameter` where the hole is given by that."""
    return diameter if bolt_size == BY_DIAMETER else clearance_hole_mm(bolt_size, fit_name)


def bolt_mm(bolt_size: str) -> float:
    """Return the nominal diameter in mm of a chosen bolt, 0 where the hole is given by its diameter."""
    return 0.0 if bolt_size == BY_DIAMETER else bolt_diameter_mm(bolt_size)


def spec_of(name: str, field: FieldInfo) -> Spec:
    """Return the declaration behind a field of a `Parameters` class."""
    return Spec(name=name, default=field.default, **cast(dict[str, Any], field.json_schema_extra))
