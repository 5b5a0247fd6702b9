"""A kept layout as JSON's objects and back."""

import math
from typing import Any

from parts.errors import Unreadable
from parts.store.entries import entry, object_at, text_at
from parts.store.layout import MOST_LYING, MOST_SHEETS, KeptLayout, KeptSheet, Lying, Rings

_FARTHEST_MM = 1e6
MOST_CORNERS = 5_000
"""Of an outline of an off-cut."""


def layout_rows(layout: KeptLayout) -> dict[str, Any]:
    """Return a layout as JSON's objects."""
    return {
        **{name: getattr(layout, name) for name in ("sheet", "gap", "margin", "time", "even_so", "off_cuts")},
        "sheets": [_sheet_rows(each) for each in layout.sheets],
    }


def _sheet_rows(sheet: KeptSheet) -> dict[str, Any]:
    rows: dict[str, Any] = {"width_mm": sheet.width, "height_mm": sheet.height}
    if sheet.off_cut:
        rows |= {"off_cut": sheet.off_cut, "outline_mm": sheet.outline}
    if sheet.is_cut:
        rows["cut"] = True
    lying = [[e.line, e.x, e.y, e.turn_deg, int(e.mirrored), int(e.is_pinned)] for e in sheet.lying]
    return {**rows, "placements": lying}


def layout_of(row: object, at: str) -> KeptLayout:
    """Return the layout that JSON's objects say, which stand at a place of the file.

    Raises:
        Unreadable: they say none; the sentence names the entry and what is accepted.
    """
    layout = object_at(row, at)
    rows = entry(layout, "sheets", list, at)
    if len(rows) > MOST_SHEETS:
        raise Unreadable(f"{at}.sheets: are {len(rows):,}; a layout may have {MOST_SHEETS}.")
    sheets = tuple(_sheet(each, f"{at}.sheets[{i}]") for i, each in enumerate(rows, start=1))
    if sum(len(each.lying) for each in sheets) > MOST_LYING:
        raise Unreadable(f"{at}.sheets: hold more than {MOST_LYING:,} parts, more than are laid out at once.")
    sheet, gap, margin, time = (text_at(layout, name, at, "") for name in ("sheet", "gap", "margin", "time"))
    even_so, off_cuts = (entry(layout, name, bool, at, False) for name in ("even_so", "off_cuts"))
    return KeptLayout(sheets, sheet, gap, margin, time, even_so, off_cuts)


def _sheet(row: object, at: str) -> KeptSheet:
    sheet = object_at(row, at)
    width, height = (_number(sheet.get(name), f"{at}.{name}") for name in ("width_mm", "height_mm"))
    if min(width, height) <= 0:
        raise Unreadable(f"{at}.width_mm: a sheet has a width and a height above 0.")
    lying = tuple(
        _lying(each, f"{at}.placements[{i}]") for i, each in enumerate(entry(sheet, "placements", list, at), start=1)
    )
    number = entry(sheet, "off_cut", int, at, 0)
    outline = rings_in(sheet.get("outline_mm"), f"{at}.outline_mm") if number else ()
    return KeptSheet(width, height, lying, number, outline, entry(sheet, "cut", bool, at, False))


def _lying(row: object, at: str) -> Lying:
    if not isinstance(row, list) or len(row) != 6:
        raise Unreadable(f"{at}: must be six numbers: line, x, y, turn, mirrored, pinned.")
    line, x, y, turn, mirrored, pinned = (_number(each, at) for each in row)
    if line != int(line) or not 1 <= line <= 10**9:
        raise Unreadable(f"{at}: {line} is no number of a line: they count from 1.")
    return Lying(int(line), x, y, turn % 360, bool(mirrored), bool(pinned))


def rings_in(rows: object, at: str) -> Rings:
    """Return the outline that lists of corners say.

    Raises:
        Unreadable: they say none.
    """
    if not isinstance(rows, list) or not rows:
        raise Unreadable(f"{at}: must be a list of rings, the outer one first.")
    rings = []
    for ring in rows:
        if not isinstance(ring, list) or not 3 <= len(ring) <= MOST_CORNERS:
            raise Unreadable(f"{at}: a ring has 3 to {MOST_CORNERS:,} corners.")
        if not all(isinstance(corner, list) and len(corner) == 2 for corner in ring):
            raise Unreadable(f"{at}: a corner is two numbers, x and y.")
        rings.append(tuple((_number(x, at), _number(y, at)) for x, y in ring))
    return tuple(rings)


def _number(given: object, at: str) -> float:
    if isinstance(given, bool) or not isinstance(given, int | float) or not math.isfinite(given):
        raise Unreadable(f"{at}: must be a number.")
    if abs(given) > _FARTHEST_MM:
        raise Unreadable(f"{at}: {given:g} is farther than any sheet reaches.")
    return float(given)
