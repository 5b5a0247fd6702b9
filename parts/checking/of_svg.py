"""Of an SVG: how many of its pixels make an inch, and what is cut of its strokes, as text."""

from parts.errors import Problem, Refused
from parts.read import STROKES, StrokesCut
from parts.units import parse_number

DPI, STROKES_CUT = "dpi", "strokes"
LEAST_DPI, MOST_DPI = 10.0, 10_000.0
"""Pixels to the inch: screens and pictures have 72 to 1200, plotters a few thousand."""


def dpi_of(asked: object) -> float | None:
    """Return how many pixels make an inch; nothing and blank text leave it to CSS.

    Raises:
        Refused: if it is no number, or none that a picture has; the problem's parameter is `dpi`.
    """
    if asked is None or not str(asked).strip():
        return None
    message = f"must be a number of pixels to the inch, {LEAST_DPI:g} to {MOST_DPI:g}, such as 72, 90 or 96."
    try:
        per_inch = float(parse_number(asked)) if isinstance(asked, str) else float(str(asked))
    except ValueError:
        raise Refused((Problem(DPI, str(asked), message),)) from None
    if not LEAST_DPI <= per_inch <= MOST_DPI:
        raise Refused((Problem(DPI, str(asked), message),))
    return per_inch


def strokes_of(asked: object) -> StrokesCut:
    """Return what is cut of strokes; by their width where nothing is asked.

    Raises:
        Refused: if it is something else; the problem's parameter is `strokes`.
    """
    text = str(asked or "").strip().lower() or STROKES[0]
    if text not in STROKES:
        raise Refused((Problem(STROKES_CUT, str(asked), f"must be one of {', '.join(STROKES)}."),))
    return text
