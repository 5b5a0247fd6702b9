"""SVG's numbers: lengths with units, lists of coordinates, and transforms (SVG 1.1, sections 4.2 and 7.6)."""

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from parts.errors import Unreadable
from parts.geometry import Point
from parts.read.affine import Affine, scaling, shift, turning
from parts.read.coordinate import coordinate
from parts.read.limits import FAR_OUT, MOST_SEGMENTS
from parts.read.raw import Scale
from parts.units import MM_PER_IN

NUMBER = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?")
PX_PER_IN = 96
"""CSS Values and Units 3, section 6.2: 1in is 96px."""

_LENGTH = re.compile(rf"\s*({NUMBER.pattern})\s*([a-zA-Z%]*)\s*")
# What is left between the numbers of a list.
_GAPS = re.compile(r"[\s,]*")
_BETWEEN = re.compile(r"[\s,]+")
_MOST_NUMBERS = 2 * MOST_SEGMENTS
MOST_FUNCTIONS = 100
_FUNCTION = re.compile(r"[\s,]*([a-zA-Z]+)\s*\(([^()]*)\)")

_PHYSICAL: Mapping[str, Scale] = {
    "mm": Scale(1.0, "millimetres", "mm"),
    "cm": Scale(10.0, "centimetres", "mm"),
    "q": Scale(0.25, "quarter millimetres", "mm"),
    "in": Scale(MM_PER_IN, "inches", "in"),
    "pt": Scale(MM_PER_IN / 72, "points", "in"),
    "pc": Scale(MM_PER_IN / 6, "picas", "in"),
}


def numbers(text: str, what: str) -> list[float]:
    """Return a list of numbers apart by blanks or commas.

    Raises:
        Unreadable: if there is anything else in it.
    """
    found: list[float] = []
    at = _skip(text, 0)
    while at < len(text):
        match = NUMBER.match(text, at)
        if match is None:
            raise Unreadable(f"{what} should be numbers and goes on with {text[at : at + 20]!r}")
        found.append(coordinate(match[0], what))
        if len(found) > _MOST_NUMBERS:
            raise Unreadable(f"{what} has more than {_MOST_NUMBERS:,} numbers")
        at = _skip(text, match.end())
    return found


def _skip(text: str, at: int) -> int:
    match = _GAPS.match(text, at)
    return match.end() if match else at


def points(text: str) -> list[Point]:
    """Return the points of a polygon.

    Raises:
        Unreadable: if they are no pairs of numbers.
    """
    flat = numbers(text, "a list of points")
    if len(flat) % 2:
        raise Unreadable(f"a list of points has {len(flat)} numbers, which make no pairs")
    return list(zip(flat[::2], flat[1::2], strict=True))


@dataclass(frozen=True, slots=True)
class Resolution:
    """How many pixels, which are the user units of whatever has no viewBox, a file has to the inch."""

    per_inch: float = PX_PER_IN

    def length(self, text: str, what: str, whole: float = 0.0) -> float | None:
        """Return a length in user units; None where it is relative to something (em), or a share of a `whole` unknown.

        Raises:
            Unreadable: if it is no length.
        """
        value, unit = measure(text, what)
        if unit in ("", "px"):
            return value
        if unit in _PHYSICAL:
            return value * _PHYSICAL[unit].unit_mm * self.per_inch / MM_PER_IN
        return value / 100 * whole if unit == "%" and whole > 0 else None

    def lengths(self, text: str, what: str, whole: float = 0.0) -> list[float]:
        """Return a list of lengths as a style states it, in user units; none where one of them isn't known."""
        try:
            found = [self.length(each, what, whole) for each in _BETWEEN.split(text.strip()) if each]
        except Unreadable:
            return []
        return [] if None in found else [each for each in found if each is not None]

    @property
    def pixel(self) -> Scale:
        """What a pixel is."""
        return Scale(MM_PER_IN / self.per_inch, "pixels", "mm")


def measure(text: str, what: str) -> tuple[float, str]:
    """Return a length's number and its unit in small letters.

    Raises:
        Unreadable: if it is no length.
    """
    match = _LENGTH.fullmatch(text)
    if match is None:
        raise Unreadable(f"{what} should be a length and is {text[:20]!r}")
    return coordinate(match[1], what), match[2].lower()


def physical(text: str, units: float, what: str) -> Scale | None:
    """Return the scale at which `units` user units fill a length such as 100mm; None where it isn't physical.

    Raises:
        Unreadable: if it is no length.
    """
    value, unit = measure(text, what)
    scale = _PHYSICAL.get(unit)
    if scale is None or value <= 0 or units <= 0:
        return None
    each = Fraction(value) * Fraction(scale.unit_mm) / Fraction(units)
    return Scale(float(each), scale.name, scale.units)


def transform(text: str) -> Affine:
    """Return the placing that a `transform` attribute states.

    Raises:
        Unreadable: if it isn't one.
    """
    placing, at, count = Affine(), 0, 0
    while match := _FUNCTION.match(text, at):
        at, count = match.end(), count + 1
        if count > MOST_FUNCTIONS:
            raise Unreadable(f"a transform in it has more than {MOST_FUNCTIONS} steps")
        make = _FUNCTIONS.get(match[1])
        values = numbers(match[2], f"the transform {match[1]}")
        if make is None or len(values) not in make[0]:
            raise Unreadable(f"the transform {match[0].strip()[:40]!r} isn't one of SVG's")
        placing = placing.after(make[1](*values))
        if not placing.is_sane:
            raise Unreadable(FAR_OUT)
    if _skip(text, at) < len(text):
        raise Unreadable(f"the transform {text[:40]!r} isn't one of SVG's")
    return placing


def rotate(degrees: float, x: float = 0.0, y: float = 0.0) -> Affine:
    """Return the turn by an angle about a point."""
    return shift(x, y).after(turning(degrees)).after(shift(-x, -y))


def scale(x: float, y: float | None = None) -> Affine:
    """Return the placing that scales, alike both ways unless y is given."""
    return scaling(x, x if y is None else y)


_FUNCTIONS: Mapping[str, tuple[tuple[int, ...], Callable[..., Affine]]] = {
    "matrix": ((6,), Affine),
    "translate": ((1, 2), lambda x, y=0.0: shift(x, y)),
    "scale": ((1, 2), scale),
    "rotate": ((1, 3), rotate),
    "skewX": ((1,), lambda degrees: Affine(c=math.tan(math.radians(degrees)))),
    "skewY": ((1,), lambda degrees: Affine(b=math.tan(math.radians(degrees)))),
}
