"""Files of a layout: a DXF a sheet, the overview with labels as a PDF, and all of it as JSON."""

import json
import math
import re
from collections.abc import Iterator
from pathlib import Path

from parts.data import replace
from parts.errors import Problem, Refused
from parts.export import LaidPart, LayoutSheet, layout_dxf, layout_pdf, wrote
from parts.geometry import Motion
from parts.orders.nest import Nested, sheet_name
from parts.orders.sort import Sort
from parts.record import VERSION
from parts.sheets import NARROWEST_MM, Laid, cutting_order, left_over, number_places, remnant, rings_of
from parts.units import Units, format_length, format_rough

_JSON, _PDF = "layout.json", "layout.pdf"
_SHEET = re.compile(r"sheet-[0-9]{2,}\.dxf")


def write_layout(nested: Nested, folder: Path, *, exchange: bool = False) -> list[str]:
    """Write the files of a layout and return their names; an earlier one is taken away whole, where that is asked for.

    Raises:
        Refused: an earlier layout is there and isn't to be exchanged, or a file that Platewright didn't write.
        OSError: the folder can't be written to.
    """
    folder.mkdir(parents=True, exist_ok=True)
    earlier = [path for path in sorted(folder.iterdir()) if _SHEET.fullmatch(path.name) or path.name in (_JSON, _PDF)]
    for path in earlier:
        _may_go(path, exchange)
    files = layout_files(nested)
    for path in earlier:
        if path.name not in files:
            path.unlink()
    for name, data in files.items():
        replace(folder / name, data)
    return list(files)


def layout_files(nested: Nested) -> dict[str, bytes]:
    """Return the files of a layout by their names: a DXF a sheet, the overview with labels, all of it as JSON."""
    sheets = list(layout_sheets(nested))
    files: dict[str, bytes] = {
        sheet_name(sheet.number): layout_dxf(sheet, nested_version(nested)).encode() for sheet in sheets
    }
    if sheets:
        files[_PDF] = layout_pdf(sheets, "Layout")
    content = {"platewright_version": VERSION, **nested.content()}
    files[_JSON] = (json.dumps(content, ensure_ascii=False, indent=1) + "\n").encode()
    return files


def _may_go(path: Path, exchange: bool) -> None:
    if not exchange:
        message = "is of a layout that is there already; --replace exchanges it, or name another folder."
        raise Refused((Problem("output", str(path), message),))
    ours = path.is_file() and not path.is_symlink()
    ours = ours and (
        path.read_bytes()[:24].startswith(b'{\n "platewright_version"') if path.name == _JSON else wrote(path)
    )
    if not ours:
        raise Refused((Problem("output", str(path), "is there, and Platewright didn't write it; move it away."),))


def nested_version(nested: Nested) -> str:
    """Return the DXF version that the parts ask for."""
    return nested.sorts[0].record.dxf_version if nested.sorts else "R2010"


def layout_sheets(nested: Nested) -> Iterator[LayoutSheet]:
    """Yield every sheet as its files show it."""
    every = list(nested.sheets)
    for number, (sort, laid) in enumerate(every, start=1):
        record = sort.record
        yield LayoutSheet(
            number, len(every), laid.stock.width, laid.stock.height, tuple(_said(sort, laid, nested.margin)),
            tuple(_parts(nested, laid)), record.job.cut.square_side, record.units, record.paper, record.drill_circles,
            rings_of(laid.stock.outline),
        )  # fmt: skip


def _said(sort: Sort, laid: Laid, margin: float) -> Iterator[str]:
    """Yield what a sheet is: its stock, how it is cut, how full it is, what is left at its end."""
    cut, units = sort.record.job.cut, sort.record.units
    size = _by(laid.stock.width, laid.stock.height, units)
    if laid.stock.off_cut:
        size = f"Off-cut {laid.stock.off_cut}, within {size}"
    yield f"{sort.record.material_title}, {sort.record.job.say(cut.thickness_mm)} thick, {cut.title.lower()}"
    apart = f"parts {format_length(sort.gap, units)} apart, {format_length(margin, units)} from the edges"
    count = len(laid.placements)
    yield f"{size}: {count} part{'' if count == 1 else 's'}, {laid.share:.0%} used; {apart}"
    yield f"Left: {left_of(laid, sort)}"


def left_of(laid: Laid, sort: Sort) -> str:
    """Return what is left of a sheet: the strip at its end that no part reaches into, or the box of a larger piece."""
    units = sort.record.units
    if laid.stock.outline is None:
        width, height = left_over(laid)
        if min(width, height) >= NARROWEST_MM:
            return f"{_by(math.floor(width), math.floor(height), units)} at its end"
    left = remnant(laid, sort.gap)
    if left is None:
        return "scrap"
    _, _, width, height = left[0].bounds
    return f"a piece within {_by(math.floor(width), math.floor(height), units)}"


def _by(width: float, height: float, units: Units) -> str:
    return f"{format_rough(width, units)} by {format_rough(height, units)}"


def _parts(nested: Nested, laid: Laid) -> Iterator[LaidPart]:
    places = number_places(each.piece for each in laid.placements)
    for number, each in enumerate(cutting_order(laid), start=1):
        item, made = nested.items[each.piece.key], nested.parts[each.piece.key]
        motion: Motion = each.motion
        at, room = places[each.piece]
        profile = made.part.profile.moved(motion)
        yield LaidPart(number, item.name, item.row, profile, motion.point(at), room, each.is_pinned)
