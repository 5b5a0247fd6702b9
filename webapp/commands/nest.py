"""`platewright nest`: what a table orders, laid out on sheets of stock."""

import argparse
import json
import re
import sys
from collections.abc import Sequence
from pathlib import Path

from parts.errors import Problem, Refused, UnitsError
from parts.orders import MARGIN_MM, Asked, Nested, Sort, left_of, nest, read_items, write_layout
from parts.sheets import Stock
from parts.units import Units, format_length, parse_length, parse_number, units_of
from webapp.commands.console import own_table, tell, usual_values, waiting

_SECONDS, _MOST_SECONDS = 5.0, 3600.0
_LARGEST_MM, _SMALLEST_MM = 30_000.0, 10.0
_BY = re.compile(r"\s*(?:x|\u00d7|\*|by)\s*", re.IGNORECASE)
_UNIT = re.compile(r"[a-z\"']+\.?$", re.IGNORECASE)
_HOW = "write it as 4ftx8ft or 1500x3000 mm, with :3 after it where there are three."


def declare(command: argparse.ArgumentParser) -> None:
    """Say what the command is given."""
    command.epilog = (
        "Columns besides those of `batch`: turns (any, quarter, half or none; quarter unless said) and mirror (yes or "
        "no), for parts alike on both sides. Each material and thickness has sheets of its own."
    )
    command.add_argument("table", metavar="TABLE", help="CSV or XLSX, one part a row, with its quantity")
    command.add_argument("-o", "--output", metavar="FOLDER", help="a DXF a sheet, the overview as PDF, and JSON")
    command.add_argument(
        "--sheet", action="append", required=True, metavar="SIZE",
        help="such as 4ftx8ft; 600x900:2 where there are two; may be given again",
    )  # fmt: skip
    command.add_argument("--gap", metavar="L", help="between parts; two kerfs and the narrowest bridge unless said")
    command.add_argument("--margin", metavar="L", help="to the edge of the sheet; 10 mm unless said")
    command.add_argument("--time", default=str(_SECONDS), metavar="S", help="seconds to look for a better one; 5")
    command.add_argument("--json", action="store_true", help="where every part lies as JSON, lengths in mm")
    command.add_argument("--replace", action="store_true", help="exchange a layout that is in the folder already")
    command.add_argument("--even-so", action="store_true", help="lay out parts despite a stop finding")
    command.set_defaults(run=run)


def run(request: argparse.Namespace) -> int:
    """Lay out what the table orders and return the exit status."""
    if not request.output and not request.json:
        raise Refused((Problem("output", "", "isn't given: name a folder with -o, or say --json."),))
    units = units_of(usual_values().get("units"))
    stock = tuple(_stock(size, units) for size in request.sheet)
    margin = MARGIN_MM if request.margin is None else _length("margin", request.margin, units)
    gap = None if request.gap is None else _length("gap", request.gap, units)
    asked = Asked(stock, gap, margin, _seconds(request.time), request.even_so)
    table, folder = own_table(request.table)
    with waiting("laying out"):
        nested = nest(read_items(table, folder), asked)
    for fault in nested.faults:
        tell(str(fault))
    for line in _unplaced(nested):
        tell(line)
    if request.output:
        write_layout(nested, Path(request.output), exchange=request.replace)
    if request.json:
        sys.stdout.write(json.dumps(nested.content(), ensure_ascii=False, indent=1) + "\n")
    else:
        sys.stdout.writelines(f"{line}\n" for line in _report(nested))
    return nested.exit_status


def _stock(text: str, units: Units) -> Stock:
    """A size of sheet as it is said."""
    size, colon, number = text.partition(":")
    pieces = _BY.split(size.strip())
    if len(pieces) != 2 or not all(pieces):
        raise Refused((Problem("sheet", text, f"isn't a size: {_HOW}"),))
    unit = _UNIT.search(pieces[1])
    if unit and not _UNIT.search(pieces[0]):
        pieces[0] += unit[0]
    width, height = (_length("sheet", piece, units, of=text) for piece in pieces)
    if min(width, height) < _SMALLEST_MM or max(width, height) > _LARGEST_MM:
        limits = f"{format_length(_SMALLEST_MM, units)} to {format_length(_LARGEST_MM, units)}"
        raise Refused((Problem("sheet", text, f"is out of the sizes of sheets, {limits} a side: {_HOW}"),))
    if colon and not (number.strip().isascii() and number.strip().isdecimal() and 1 <= int(number) <= 1000):
        raise Refused((Problem("sheet", text, f"has no number of sheets from 1 to 1000 after its colon: {_HOW}"),))
    return Stock(width, height, int(number) if colon else None)


def _length(name: str, text: str, units: Units, of: str = "") -> float:
    try:
        length = parse_length(text, bare=units)
    except UnitsError as error:
        raise Refused((Problem(name, of or text, f"{error}{f' For a sheet, {_HOW}' if of else ''}"),)) from error
    if not 0 <= length <= _LARGEST_MM:
        raise Refused((Problem(name, of or text, f"must be 0 to {format_length(_LARGEST_MM, units)}."),))
    return length


def _seconds(text: str) -> float:
    try:
        seconds = parse_number(text)
    except UnitsError:
        seconds = -1.0
    if not 0 <= seconds <= _MOST_SECONDS:
        raise Refused((Problem("time", text, f"must be seconds, 0 to {_MOST_SECONDS:.0f}; 0 takes the first layout."),))
    return seconds


def _unplaced(nested: Nested) -> Sequence[str]:
    """A line for each row with parts that lie nowhere."""
    counted: dict[tuple[int, str, str], int] = {}
    for _, row, part, why in nested.left:
        counted[row, part, why] = counted.get((row, part, why), 0) + 1
    return [f"row {row}: {part}: {count} not placed: {why.rstrip('.')}." for (row, part, why), count in counted.items()]


def _report(nested: Nested) -> Sequence[str]:
    lines = []
    for number, (sort, laid) in enumerate(nested.sheets, start=1):
        lines.append(f"sheet {number}: {_sheet(sort)}: {len(laid.placements)} parts, {laid.share:.0%} used; "
                     f"left at its end {left_of(laid, sort)}")  # fmt: skip
    return lines or ["no part is laid out"]


def _sheet(sort: Sort) -> str:
    record = sort.record
    return f"{record.material_title.lower()} {record.job.say(record.job.cut.thickness_mm)}"
