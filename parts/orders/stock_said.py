"""Stock as it is said: sizes of sheets, gaps and margins, and how long to look for a better layout."""

import re

from parts.errors import Problem, Refused, UnitsError
from parts.sheets import Stock
from parts.units import Units, format_length, parse_length, parse_number

_LARGEST_MM, _SMALLEST_MM = 30_000.0, 10.0
_BY = re.compile(r"\s*(?:x|\u00d7|\*|by)\s*", re.IGNORECASE)
_UNIT = re.compile(r"[a-z\"']+\.?$", re.IGNORECASE)
_HOW = "write it as 4ftx8ft or 1500x3000 mm, with :3 after it where there are three."


def stock_of(text: str, units: Units) -> Stock:
    """Return a size of sheet as it is said: `4ftx8ft`, `600x900:2` where there are two of it.

    Raises:
        Refused: it isn't one.
    """
    size, colon, number = text.partition(":")
    pieces = _BY.split(size.strip())
    if len(pieces) != 2 or not all(pieces):
        raise Refused((Problem("sheet", text, f"isn't a size: {_HOW}"),))
    unit = _UNIT.search(pieces[1])
    if unit and not _UNIT.search(pieces[0]):
        pieces[0] += unit[0]
    width, height = (length_of("sheet", piece, units, of=text) for piece in pieces)
    if min(width, height) < _SMALLEST_MM or max(width, height) > _LARGEST_MM:
        limits = f"{format_length(_SMALLEST_MM, units)} to {format_length(_LARGEST_MM, units)}"
        raise Refused((Problem("sheet", text, f"is out of the sizes of sheets, {limits} a side: {_HOW}"),))
    if colon and not (number.strip().isascii() and number.strip().isdecimal() and 1 <= int(number) <= 1000):
        raise Refused((Problem("sheet", text, f"has no number of sheets from 1 to 1000 after its colon: {_HOW}"),))
    return Stock(width, height, int(number) if colon else None)


def length_of(name: str, text: str, units: Units, of: str = "") -> float:
    """Return a length as it is said, mm; refused by a name, of the text that it is a piece of.

    Raises:
        Refused: it isn't one, or no length on a sheet.
    """
    try:
        length = parse_length(text, bare=units)
    except UnitsError as error:
        raise Refused((Problem(name, of or text, f"{error}{f' For a sheet, {_HOW}' if of else ''}"),)) from error
    if not 0 <= length <= _LARGEST_MM:
        raise Refused((Problem(name, of or text, f"must be 0 to {format_length(_LARGEST_MM, units)}."),))
    return length


def seconds_of(text: str, most: float) -> float:
    """Return for how many seconds to look for a better layout, up to so many.

    Raises:
        Refused: it says none.
    """
    try:
        seconds = parse_number(text)
    except UnitsError:
        seconds = -1.0
    if not 0 <= seconds <= most:
        raise Refused((Problem("time", text, f"must be seconds, 0 to {most:.0f}; 0 takes the first layout."),))
    return seconds
