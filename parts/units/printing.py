"""Lengths -> text: nothing else in the project prints one.

    units     the working units, mm or inches
    number    a length without its unit, which stands beside it: in a table's head, after a field, on the drawing

How a length is said depends on who reads it, and each way has a function here: in a sentence (`format_length`), of
plate (`format_both`), far too long (`format_distance`), on a drawing (`dimension_text`), in a field, a name or a file.
"""

import math
from decimal import Context, Decimal
from fractions import Fraction

from parts.errors import UnitsError
from parts.tolerance import LIMIT_SLACK_MM
from parts.units.factors import MM_PER_IN, Units

_EXACT_INCH = Fraction(127, 5)

# A kilometre: far beyond any sheet, and short of where the rounding of a float feigns 64ths.
_LARGEST_FRACTION_MM = 1e6
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
    _check_finite(mm)
    if units == "mm":
        return _rounded(mm, 3)
    count = _sixty_fourths(mm)
    return _rounded(mm, 3, MM_PER_IN) if count is None else _fraction(count)


def reckoned_number(mm: float, units: Units) -> str:
    """Return the number of a length that was reckoned and not typed, as exactly as a shop reads it: `186.8`, `7.35`.

    It is to the tenth of a mm, under one to the hundredth, or to the thousandth of an inch. What is a round number
    already stays whole: 3.75 mm, whole 64ths of an inch.

    Raises:
        UnitsError: the length is not finite.
    """
    _check_finite(mm)
    if units == "in":
        return length_number(mm, units)
    return _rounded(mm, 2 if abs(mm) < 1 or _is_round(mm, 2) else 1)


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
    _check_finite(mm)
    count = _sixty_fourths(mm)
    if count is None:
        return f"{_rounded(mm, 3)} mm ({_rounded(mm, 3, MM_PER_IN)} in)"
    return f"{_fraction(count)} in ({_rounded(mm, 2)} mm)"


def format_rough(mm: float, units: Units) -> str:
    """Return a long length to the millimetre or the tenth of an inch: `337 mm`, `13.3 in`."""
    return f"{mm:.0f} mm" if units == "mm" else f"{mm / MM_PER_IN:.1f} in"


def format_kerf(mm: float, units: Units) -> str:
    """Return the width of a cut to the hundredth of a millimetre or the thousandth of an inch: `1.5 mm`, `0.059 in`."""
    return f"{_rounded(mm, 2)} mm" if units == "mm" else f"{mm / MM_PER_IN:.3f} in"


def format_fine(mm: float, units: Units) -> str:
    """Return a measured length to the micrometre or the ten thousandth of an inch, noughts kept: `0.120 mm`."""
    return f"{mm:.3f} mm" if units == "mm" else f"{mm / MM_PER_IN:.4f} in"


def format_figures(mm: float, units: Units = "mm", figures: int = 6) -> str:
    """Return a length to so many figures, however small: `4.7625 mm`."""
    return f"{to_figures(mm if units == 'mm' else mm / MM_PER_IN, figures)} {units}"


def format_apart(one: float, other: float, units: Units) -> tuple[str, str]:
    """Return two lengths to read, with as many more decimals as tell them apart: `0.0039 in`, `0.004 in`."""
    said = format_length(one, units), format_length(other, units)
    places = 3 if units == "mm" else 4
    while said[0] == said[1] and one != other and places <= _FINEST:
        said = _to_places(one, units, places), _to_places(other, units, places)
        places += 1
    return said


def _to_places(mm: float, units: Units, places: int) -> str:
    number = mm if units == "mm" else mm / MM_PER_IN
    return with_unit(_stripped(f"{number:.{places}f}"), units)


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
    _check_finite(mm)
    in_mm = f"{_plain_text(mm)}mm"
    if units == "mm" or abs(mm) > _LARGEST_FRACTION_MM:
        return in_mm
    count = _sixty_fourths(mm)
    if count is not None and float(count * _EXACT_INCH / 64) == mm:
        return f"{_fraction(count)}in"
    return min(f"{_plain_digits(_decimal_inches(mm))}in", in_mm, key=len)


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
    return _stripped(f"{mm:.4f}" if units == "mm" else f"{mm / MM_PER_IN:.6f}")


def number_in_field(mm: float, units: Units) -> str:
    """Return the number of a drawn length beside which a reading is typed: finer than any caliper reads, no more."""
    return _stripped(f"{mm:.3f}" if units == "mm" else f"{mm / MM_PER_IN:.4f}")


def number_in_name(mm: float, units: Units) -> str:
    """Return the number of a length in a file's name: no blank, no slash."""
    return _stripped(f"{mm:.1f}" if units == "mm" else f"{mm / MM_PER_IN:.3f}")


def length_in_name(mm: float, units: Units) -> str:
    """Return the same with its unit: `6.4mm`."""
    return joined_unit(number_in_name(mm, units), units)


def number_in_table(mm: float, units: Units, *, coarse: bool = False) -> str:
    """Return the number of a length in a column whose head says the units, inches never as a fraction: `0.500`.

    `coarse` is to the tenth of a mm, or the hundredth of an inch, as far as a bend is laid out.
    """
    places = {"mm": 3, "in": 3} if not coarse else {"mm": 1, "in": 2}
    return _rounded(mm, places["mm"]) if units == "mm" else f"{mm / MM_PER_IN:.{places['in']}f}"


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
    _check_finite(number)
    return f"{Decimal(f'{number:.{figures}g}'):f}"


def _decimal_inches(mm: float) -> Decimal:
    """Return the decimal of fewest digits that is `mm` when turned back; 17 always are enough."""
    inches = Decimal(0)
    for digits in range(1, 18):
        inches = Context(prec=digits).divide(Decimal(mm), Decimal("25.4"))
        if float(Fraction(inches) * _EXACT_INCH) == mm:
            break
    return inches


def _plain_text(mm: float) -> str:
    """Write all digits of a length; of most as Python has them."""
    digits = repr(mm)
    return digits.removesuffix(".0") if mm and "e" not in digits else _plain_digits(Decimal(digits))


def _plain_digits(number: Decimal) -> str:
    """Write without trailing zeros; with an exponent only where it saves many zeros."""
    number = number.normalize()
    if not number:
        return "0"
    return f"{number:f}" if -7 < number.adjusted() < 16 else f"{number:e}".replace("e+", "e")


def _is_round(number: float, places: int) -> bool:
    """Whether a number has no more decimals than these."""
    return abs(number - round(number, places)) <= LIMIT_SLACK_MM


def is_sixty_fourths(mm: float) -> bool:
    """Tell whether a length is a whole number of 64ths of an inch."""
    return _sixty_fourths(mm) is not None


def _sixty_fourths(mm: float) -> int | None:
    """Return how many 64ths of an inch `mm` is, None where it is none."""
    if abs(mm) > _LARGEST_FRACTION_MM:
        return None
    count = round(mm * 64 / MM_PER_IN)
    return count if abs(count * MM_PER_IN / 64 - mm) <= LIMIT_SLACK_MM else None


def _fraction(count: int) -> str:
    """Write 64ths of an inch as a mixed number in lowest terms."""
    whole, rest = divmod(abs(count), 64)
    words = ([str(whole)] if whole or not rest else []) + ([str(Fraction(rest, 64))] if rest else [])
    return ("-" if count < 0 else "") + "-".join(words)


def _rounded(mm: float, places: int, per: float = 1.0) -> str:
    """A length in units of `per` mm; halves are rounded alike, whatever sums they come from."""
    text = _stripped(f"{(mm + math.copysign(LIMIT_SLACK_MM, mm)) / per:.{places}f}")
    return "0" if text == "-0" else text


def _stripped(decimals: str) -> str:
    return decimals.rstrip("0").rstrip(".")


def _check_finite(mm: float) -> None:
    if not math.isfinite(mm):
        raise UnitsError(f"{mm} mm is not a length: it must be finite.")
