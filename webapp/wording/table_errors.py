"""The errors of a table: what each is called, and how large it is."""

import math

from parts.truing import Words
from parts.units import format_angle_error, format_fine

TITLES = {
    "scale_x": "Scale of X",
    "scale_y": "Scale of Y",
    "out_of_square": "Out of square",
    "kerf": "Kerf beyond its setting",
    "hole_shrinkage": "Holes smaller than slots",
}
MINUS = "\u2212"


def said_of(name: str, value: float, words: Words, *, sign: bool = True) -> str:
    """Return an error as it is said: a scale over a length, the angle in degrees, the others as lengths."""
    before = ("+" if value > 0 else MINUS if value < 0 else "") if sign else ""
    if name == "out_of_square":
        over = format_fine(words.span_mm * math.tan(abs(value)), words.units)
        return f"{before}{format_angle_error(abs(math.degrees(value)))}, {over} in {words.span}"
    span, over = (words.span_mm, f" in {words.span}") if name in ("scale_x", "scale_y") else (1.0, "")
    much = format_fine(span * abs(value), words.units)
    return f"{before if any(digit in '123456789' for digit in much) else ''}{much}{over}"
