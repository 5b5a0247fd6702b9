"""Digits: decimals and 64ths of a number, without a unit."""

import math
from decimal import Context, Decimal
from fractions import Fraction

from parts.errors import UnitsError
from parts.tolerance import LIMIT_SLACK_MM
from parts.units.factors import MM_PER_IN

EXACT_INCH = Fraction(127, 5)
# A kilometre: far beyond any sheet, and short of where the rounding of a float feigns 64ths.
LARGEST_FRACTION_MM = 1e6


def decimal_inches(mm: float) -> Decimal:
    """Return the decimal of fewest digits that is `mm` when turned back; 17 always are enough."""
    inches = Decimal(0)
    for digits in range(1, 18):
        inches = Context(prec=digits).divide(Decimal(mm), Decimal("25.4"))
        if float(Fraction(inches) * EXACT_INCH) == mm:
            break
    return inches


def plain_text(mm: float) -> str:
    """Write all digits of a length; of most as Python has them."""
    digits = repr(mm)
    return digits.removesuffix(".0") if mm and "e" not in digits else plain_digits(Decimal(digits))


def plain_digits(number: Decimal) -> str:
    """Write without trailing zeros; with an exponent only where it saves many zeros."""
    number = number.normalize()
    if not number:
        return "0"
    return f"{number:f}" if -7 < number.adjusted() < 16 else f"{number:e}".replace("e+", "e")


def is_round(number: float, places: int) -> bool:
    """Whether a number has no more decimals than these."""
    return abs(number - round(number, places)) <= LIMIT_SLACK_MM


def is_sixty_fourths(mm: float) -> bool:
    """Tell whether a length is a whole number of 64ths of an inch."""
    return sixty_fourths(mm) is not None


def sixty_fourths(mm: float) -> int | None:
    """Return how many 64ths of an inch `mm` is, None where it is none."""
    if abs(mm) > LARGEST_FRACTION_MM:
        return None
    count = round(mm * 64 / MM_PER_IN)
    return count if abs(count * MM_PER_IN / 64 - mm) <= LIMIT_SLACK_MM else None


def fraction(count: int) -> str:
    """Write 64ths of an inch as a mixed number in lowest terms."""
    whole, rest = divmod(abs(count), 64)
    words = ([str(whole)] if whole or not rest else []) + ([str(Fraction(rest, 64))] if rest else [])
    return ("-" if count < 0 else "") + "-".join(words)


def rounded(mm: float, places: int, per: float = 1.0) -> str:
    """A length in units of `per` mm; halves are rounded alike, whatever sums they come from."""
    text = stripped(f"{(mm + math.copysign(LIMIT_SLACK_MM, mm)) / per:.{places}f}")
    return "0" if text == "-0" else text


def stripped(decimals: str) -> str:
    """Decimals without the zeros at their end."""
    return decimals.rstrip("0").rstrip(".")


def check_finite(mm: float) -> None:
    """Refuse what is no length: infinite, or no number."""
    if not math.isfinite(mm):
        raise UnitsError(f"{mm} mm is not a length: it must be finite.")
