"""Lengths -> text: nothing else in the project prints one.

    units     the working units, mm or inches
    number    a length without its unit, which stands beside it: in a table's head, after a field, on the drawing

How a length is said depends on who reads it, and each way has a function here: in a sentence (`format_length`), of
plate (`format_both`), far too long (`format_distance`), on a drawing (`dimension_text`), in a field, a name or a file.
"""

from decimal import Decimal
from fractions import Fraction

from parts.units.digits import (
    EXACT_INCH,
    LARGEST_FRACTION_MM,
    check_finite,
    decimal_inches,
    fraction,
    is_round,
    plain_digits,
    plain_text,
    rounded,
    sixty_fourths,
    stripped,
)
from parts.units.factors import MM_PER_IN, Units

_FINEST = 9
"""Decimals beyond which two lengths are told apart no more: LIMIT_SLACK_MM."""


def format_length(mm: float, units: Units) -> str:
    """Return a length to read: `38.1 mm`, `1-1/2 in`, `0.394 in`.

    Inches are a fraction where the length is a whole number of 64ths to within LIMIT_SLACK_MM;
    otherwise, as for mm, up to three decimals.

    Raises:
        UnitsError: the length is not finite.
    """
    return f"{length_number(mm, units)} {units}"


def length_number(mm: float, units: Units) -> str:
    """Return the same without the unit, where that stands beside it: `38.1`, `1-1/2`, `0.394`.

    Raises:
        UnitsError: the length is not finite.
    """
    check_finite(mm)
    if units == "mm":
        return rounded(mm, 3)
    count = sixty_fourths(mm)
    return rounded(mm, 3, MM_PER_IN) if count is None else fraction(count)


def reckoned_number(mm: float, units: Units) -> str:
    """Return the number of a length that was reckoned and not typed, as exactly as a shop reads it: `186.8`, `7.35`.

    It is to the tenth of a mm, under one to the hundredth, or to the thousandth of an inch. What is a round number
    already stays whole: 3.75 mm, whole 64ths of an inch.

    Raises:
        UnitsError: the length is not finite.
    """
    check_finite(mm)
    if units == "in":
        return length_number(mm, units)
    return rounded(mm, 2 if abs(mm) < 1 or is_round(mm, 2) else 1)


def format_by(width: str, height: str, units: Units) -> str:
    """Return two numbers of lengths as a size, the unit said once: `1800 by 250 mm`."""
    return f"{width} by {height} {units}"


def dimension_text(number: str, units: Units) -> str:
    """Return a length as a drawing's lettering has it: no unit for mm (ISO 129-1), a double prime for inches."""
    return number if units == "mm" else f'{number}"'


def format_size(width: float, height: float, units: Units) -> str:
    """Return width by height, both mm: `100 mm x 60 mm`; in ASCII, as every file can carry it.

    Raises:
        UnitsError: one of them is not finite.
    """
    return f"{format_length(width, units)} x {format_length(height, units)}"


def format_both(mm: float) -> str:
    """Return a length both ways: `3/16 in (4.76 mm)` for whole 64ths of an inch, else `6 mm (0.236 in)`.

    Raises:
        UnitsError: the length is not finite.
    """
    check_finite(mm)
    count = sixty_fourths(mm)
    if count is None:
        return f"{rounded(mm, 3)} mm ({rounded(mm, 3, MM_PER_IN)} in)"
    return f"{fraction(count)} in ({rounded(mm, 2)} mm)"


def format_rough(mm: float, units: Units) -> str:
    """Return a long length to the millimetre or the tenth of an inch: `337 mm`, `13.3 in`."""
    return f"{mm:.0f} mm" if units == "mm" else f"{mm / MM_PER_IN:.1f} in"


def format_kerf(mm: float, units: Units) -> str:
    """Return the width of a cut to the hundredth of a millimetre or the thousandth of an inch: `1.5 mm`, `0.059 in`."""
    return f"{rounded(mm, 2)} mm" if units == "mm" else f"{mm / MM_PER_IN:.3f} in"


def format_fine(mm: float, units: Units) -> str:
    """Return a measured length to the micrometre or the ten thousandth of an inch, noughts kept: `0.120 mm`."""
    return f"{mm:.3f} mm" if units == "mm" else f"{mm / MM_PER_IN:.4f} in"


def format_figures(mm: float, units: Units = "mm", figures: int = 6) -> str:
    """Return a length to so many figures, however small: `4.7625 mm`."""
    return f"{to_figures(mm if units == 'mm' else mm / MM_PER_IN, figures)} {units}"


def format_apart(one: float, other: float, units: Units) -> tuple[str, str]:
    """Return two lengths to read, with as many more decimals as tell them apart: `0.0039 in`, `0.004 in`.

    A fraction beside the same number in decimals isn't told apart: `0.125 in`, `0.12502 in`.
    """
    said = format_length(one, units), format_length(other, units)
    places = 3 if units == "mm" else 4
    while read_alike(*said) and one != other and places <= _FINEST:
        said = _to_places(one, units, places), _to_places(other, units, places)
        places += 1
    return said


def read_alike(one: str, other: str) -> bool:
    """Tell whether two lengths as they are printed here read as the same, in whatever form: `1/8 in`, `0.125 in`."""
    return one == other or _printed(one) == _printed(other)


def _printed(said: str) -> tuple[Fraction, str]:
    """The number of a printed length, `1-1/2 in`, and its unit."""
    number, _, unit = said.partition(" ")
    sign, (whole, _, part) = -1 if number.startswith("-") else 1, number.removeprefix("-").partition("-")
    return sign * (Fraction(whole) + Fraction(part or 0)), unit


def _to_places(mm: float, units: Units, places: int) -> str:
    number = mm if units == "mm" else mm / MM_PER_IN
    return with_unit(stripped(f"{number:.{places}f}"), units)


def format_distance(mm: float) -> str:
    """Return a distance beyond any sheet, in metres or from ten kilometres on in those: `2,236 m`, `12.5 km`."""
    metres = mm / 1000
    return f"{metres:,.0f} m" if metres < 10_000 else f"{Decimal(to_figures(metres / 1000, 3)):,f} km"


def exact_text(mm: float, units: Units) -> str:
    """Return a short text, with its unit, that `parse_length` turns back to exactly `mm`.

    In inches a fraction to 64ths if exact, else decimals; where mm take fewer characters than
    those (10 mm is 0.39370078740157477 in) and beyond a kilometre, mm.

    Raises:
        UnitsError: the length is not finite.
    """
    check_finite(mm)
    in_mm = f"{plain_text(mm)}mm"
    if units == "mm" or abs(mm) > LARGEST_FRACTION_MM:
        return in_mm
    count = sixty_fourths(mm)
    if count is not None and float(count * EXACT_INCH / 64) == mm:
        return f"{fraction(count)}in"
    return min(f"{plain_digits(decimal_inches(mm))}in", in_mm, key=len)


def exact_number(mm: float, units: Units) -> str:
    """Return the same for a field that has its unit beside it: the unit only where it is another one, `10 mm`.

    Raises:
        UnitsError: the length is not finite.
    """
    text = exact_text(mm, units)
    number = text.rstrip("min")
    unit = text[len(number) :]
    return number if unit == units else f"{number} {unit}"


def number_to_fill_in(mm: float, units: Units) -> str:
    """Return the number of a length in a file to fill in, which says its units once: to 0.1 micrometres or better."""
    return stripped(f"{mm:.4f}" if units == "mm" else f"{mm / MM_PER_IN:.6f}")


def number_in_field(mm: float, units: Units) -> str:
    """Return the number of a drawn length beside which a reading is typed: finer than any caliper reads, no more."""
    return stripped(f"{mm:.3f}" if units == "mm" else f"{mm / MM_PER_IN:.4f}")


def number_in_name(mm: float, units: Units) -> str:
    """Return the number of a length in a file's name: no blank, no slash."""
    return stripped(f"{mm:.1f}" if units == "mm" else f"{mm / MM_PER_IN:.3f}")


def length_in_name(mm: float, units: Units) -> str:
    """Return the same with its unit: `6.4mm`."""
    return joined_unit(number_in_name(mm, units), units)


def number_in_table(mm: float, units: Units, *, coarse: bool = False) -> str:
    """Return the number of a length in a column whose head says the units, inches never as a fraction: `0.500`.

    `coarse` is to the tenth of a mm, or the hundredth of an inch, as far as a bend is laid out.
    """
    places = {"mm": 3, "in": 3} if not coarse else {"mm": 1, "in": 2}
    return rounded(mm, places["mm"]) if units == "mm" else f"{mm / MM_PER_IN:.{places['in']}f}"


def with_unit(number: str, unit: str) -> str:
    """Return a number as it was typed with the unit that was beside its field: `3/16 in`."""
    return f"{number} {unit}"


def joined_unit(number: str, unit: Units) -> str:
    """Return a number and its unit in one word, as addresses and attributes of files have them: `3-1/2in`."""
    return f"{number}{unit}"


def to_figures(number: float, figures: int = 6) -> str:
    """Return a number to so many figures, without trailing noughts and never with an exponent.

    Raises:
        UnitsError: the number is not finite.
    """
    check_finite(number)
    return f"{Decimal(f'{number:.{figures}g}'):f}"
