"""Shop text -> numbers: nothing else in the project reads a length, an angle or a count that a person wrote.

    working units   what a bare number is in: mm or inches
    bare            without a unit. A bare number (100, 2.5) is in the working units; a bare fraction
                    (3/16, 1-1/2, three sixteenths) is inches whatever the working units, because
                    nobody says fractions of a millimetre
    mixed number    a whole number and a fraction: 1-1/2 or 1 1/2; its hyphen never subtracts

Arithmetic is exact (whole numbers and fractions) until the one rounding to float at the end, so
1-1/2 in is 38.1 mm and not a hair less. What could be meant two ways is refused, never guessed.
"""

import re
from fractions import Fraction

from parts.units.factors import Units
from parts.units.gauge import Gauge, gauge_table
from parts.units.text import Reader, Term

_MM = {
    "mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000),
    "in": Fraction(127, 5), "ft": Fraction(1524, 5), "thou": Fraction(127, 5000),
}  # fmt: skip
_METRIC = frozenset({"mm", "cm", "m"})

_LENGTH = "write a length such as 100 mm, 3/16 in, 1-1/2 in or 2 ft 3 in"
_THICKNESS = "write a thickness such as 6 mm, 3/16 in or 0.25 in"
_GAUGED = "write a thickness such as 6 mm, 3/16 in or 16 ga"
_ANGLE = "write degrees such as 45, 22.5 or 30 deg"
_COUNT = "write a whole number such as 4"
_NUMBER = "write a number such as 2.5"

_PLAIN = re.compile(r"([0-9]{1,15})(?:\.([0-9]{1,15}))? ?(mm|in)?")


def parse_length(text: str, *, bare: Units = "mm") -> float:
    """Return the length in mm that a person wrote or said.

    Reads 100, 100 mm, 10 cm, 1.2 m, .5in, 3/16, 1-1/2 in, 1 1/2", 2ft 3in, 2' 3-1/2", 2 ft 3 and
    spoken forms such as three sixteenths, half inch, two foot three. A leading minus is kept.

    Args:
        text: what was typed, in any case and spacing; typographic primes and fractions included.
        bare: unit of a bare number. A bare fraction is inches whatever this says; so is what
            follows feet.

    Raises:
        UnitsError: the text is not one length; says what was read, why not, what would do.

    >>> parse_length("1-1/2 in")
    38.1
    >>> parse_length("3/16")
    4.7625
    """
    number = _plain(text, bare)
    return _length(Reader(text, _LENGTH), bare) if number is None else number


def _plain(text: str, bare: Units) -> float | None:
    """Read the commonest text fast, digits with or without mm or in; None where it isn't that."""
    match = _PLAIN.fullmatch(text)
    if match is None:
        return None
    whole, part, unit = match.groups(default="")
    if (unit or bare) == "mm":
        return float(f"{whole}.{part}")
    scale: int = 5 * 10 ** len(part)
    return int(whole + part) * 127 / scale  # the quotient of whole numbers rounds once


def _length(reader: Reader, bare: Units) -> float:
    sign = reader.sign()
    parts = [reader.part("")]
    while reader.kind():
        parts.append(reader.part(reader.skip("-", "and")))
    if len(parts) > 1:
        _feet_and_inches(reader, parts)
    first = parts[0].unit or ("in" if parts[0].fraction else bare)
    value = parts[0].value * _MM[first] + sum(part.value * _MM["in"] for part in parts[1:])
    return reader.to_float(sign * value)


def _feet_and_inches(reader: Reader, parts: list[Term]) -> None:
    """Refuse several numbers unless they are feet, then inches."""
    units = {part.unit for part in parts if part.unit}
    if units & _METRIC and units - _METRIC:
        reader.refuse("mixes metric and inch units")
    if not units:
        reader.refuse("gives two numbers, and a hyphen joins a whole number to its fraction, never subtracts")
    if len(parts) > 2 or parts[0].unit != "ft" or parts[1].unit not in ("in", ""):
        reader.refuse("gives more than one length, and only feet and inches go together")
    if parts[1].joiner == "and" and not parts[1].unit:
        reader.refuse("could mean feet or inches at its end")


def parse_thickness(text: str, *, bare: Units = "mm", gauge: Gauge | None = None) -> float:
    """Return a thickness in mm: a length, `quarter plate`, or a gauge such as `16 ga` or `#16`.

    Args:
        text: what was typed.
        bare: unit of a bare number, as for `parse_length`; a bare number is never a gauge.
        gauge: table a gauge number is looked up in; None where the material isn't sold by gauge.

    Raises:
        UnitsError: the text is not one thickness, or its gauge is not in the table.
        DataError: the data file of the gauges is unusable.
    """
    number = _plain(text, bare)
    if number is not None:
        return number
    reader = Reader(text, _GAUGED if gauge else _THICKNESS)
    if len(reader.tokens) > 1 and reader.tokens[-1].kind == "stock":
        reader.tokens.pop()
    if any(token.kind in ("gauge", "#") for token in reader.tokens):
        return _gauge(reader, gauge)
    return _length(reader, bare)


def _gauge(reader: Reader, gauge: Gauge | None) -> float:
    if gauge is None:
        reader.refuse("is a gauge, and this material is not sold by gauge")
    if not reader.skip("gauge", "#"):
        number = reader.number()
        reader.skip("-")
        reader.skip("gauge")
    else:
        number = reader.number()
    if reader.kind() or not number.text.isdigit():
        reader.refuse("is not a whole gauge number", "write a gauge such as 16 ga")
    table = gauge_table(gauge).thickness_mm
    if number.value not in table:
        reader.refuse(f"is not in the {gauge} gauge table, which goes from {min(table)} to {max(table)}")
    return table[int(number.value)]


def parse_angle(text: str) -> float:
    """Return the angle in degrees as typed: 45, 45deg, 22-1/2 degrees.

    Raises:
        UnitsError: the text is not one angle in degrees.
    """
    reader = Reader(text, _ANGLE)
    return reader.to_float(reader.scalar("degree"))


def parse_count(text: str) -> int:
    """Return a whole number: 3, three.

    Raises:
        UnitsError: the text is not one whole number.
    """
    reader = Reader(text, _COUNT)
    value = reader.scalar()
    reader.to_float(value)
    if value.denominator != 1:
        reader.refuse("is not a whole number")
    return int(value)


def parse_number(text: str) -> float:
    """Return a number without a unit: 2.5, 1/2, three.

    Raises:
        UnitsError: the text is not one finite number.
    """
    reader = Reader(text, _NUMBER)
    return reader.to_float(reader.scalar())


def units_of(text: str | None) -> Units:
    """Return the working units that a text stands for; mm where it stands for none."""
    return "in" if text and text.strip().lower() == "in" else "mm"
