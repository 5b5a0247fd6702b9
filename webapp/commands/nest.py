"""`platewright nest`: what a table orders, laid out on sheets of stock."""

import argparse
import json
import sys
from collections.abc import Sequence
from pathlib import Path

from parts import store
from parts.errors import Problem, Refused
from parts.orders import (
    MARGIN_MM,
    Asked,
    Each,
    Nested,
    OffCut,
    Sort,
    in_several,
    left_of,
    length_of,
    nest,
    read_items,
    seconds_of,
    seeds_on_cluster,
    stock_of,
    write_layout,
)
from parts.units import units_of
from webapp.commands.console import own_table, tell, usual_values, waiting, whole_number

_SECONDS, _MOST_SECONDS = 5.0, 3600.0
_USUAL_SEEDS, _MOST_SEEDS, _MOST_WORKERS = 16, 10_000, 256


def declare(command: argparse.ArgumentParser) -> None:
    """Say what the command is given."""
    command.epilog = (
        "Columns besides those of `batch`: turns (any, quarter, half or none; quarter unless said) and mirror (yes or "
        "no), for parts alike on both sides. Each material and thickness has sheets of its own."
    )
    command.add_argument("table", metavar="TABLE", help="CSV or XLSX, one part a row, with its quantity")
    declare_sheets(command)
    command.set_defaults(run=run)


def declare_sheets(command: argparse.ArgumentParser) -> None:
    """Say what a layout is asked for by, and where it goes."""
    command.add_argument("-o", "--output", metavar="FOLDER", help="a DXF a sheet, the overview as PDF, and JSON")
    command.add_argument(
        "--sheet", action="append", required=True, metavar="SIZE",
        help="such as 4ftx8ft; 600x900:2 where there are two; may be given again",
    )  # fmt: skip
    command.add_argument("--gap", metavar="L", help="between parts; two kerfs and the narrowest bridge unless said")
    command.add_argument("--margin", metavar="L", help="to the edge of the sheet; 10 mm unless said")
    command.add_argument("--time", default=str(_SECONDS), metavar="S", help="seconds to look for a better one; 5")
    command.add_argument(
        "--seeds", type=whole_number, metavar="N",
        help="try N searches whose layout hangs on no clock, in place of --time: the same wherever they are tried",
    )  # fmt: skip
    command.add_argument("--workers", type=whole_number, default=1, metavar="N", help="processes that try seeds; 1")
    command.add_argument("--scheduler", metavar="ADDRESS", help="of a cluster of Dask that tries them")
    command.add_argument("--json", action="store_true", help="where every part lies as JSON, lengths in mm")
    command.add_argument("--replace", action="store_true", help="exchange a layout that is in the folder already")
    command.add_argument("--off-cuts", action="store_true", help="lay parts on the off-cuts of the store first")
    command.add_argument("--even-so", action="store_true", help="lay out parts despite a stop finding")


def run(request: argparse.Namespace) -> int:
    """Lay out what the table orders and return the exit status."""
    asked = asked_of(request)
    table, folder = own_table(request.table)
    with waiting("laying out"):
        nested = nest(read_items(table, folder), asked, each=each_of(request))
    return told(nested, request)


def asked_of(request: argparse.Namespace) -> Asked:
    """Return the stock, distances and time that a layout is asked for by.

    Raises:
        Refused: one can't be read, or it isn't said where the layout goes.
    """
    if not request.output and not request.json:
        raise Refused((Problem("output", "", "isn't given: name a folder with -o, or say --json."),))
    units = units_of(usual_values().get("units"))
    stock = tuple(stock_of(size, units) for size in request.sheet)
    margin = MARGIN_MM if request.margin is None else length_of("margin", request.margin, units)
    gap = None if request.gap is None else length_of("gap", request.gap, units)
    off_cuts = _off_cuts() if request.off_cuts else ()
    seconds = seconds_of(request.time, _MOST_SECONDS)
    return Asked(stock, gap, margin, seconds, request.even_so, off_cuts, _seeds(request))


def _seeds(request: argparse.Namespace) -> int:
    """How many seeds are tried; where others than this process work, some are, though none are said."""
    if request.seeds is None:
        return _USUAL_SEEDS if request.workers > 1 or request.scheduler is not None else 0
    if not 1 <= request.seeds <= _MOST_SEEDS:
        raise Refused((Problem("seeds", str(request.seeds), f"must be 1 to {_MOST_SEEDS:,}."),))
    return int(request.seeds)


def each_of(request: argparse.Namespace) -> Each:
    """Return what tries seeds.

    Raises:
        Refused: there can't be so many workers, or that is no scheduler's address.
    """
    if not 1 <= request.workers <= _MOST_WORKERS:
        raise Refused((Problem("workers", str(request.workers), f"must be 1 to {_MOST_WORKERS}."),))
    return seeds_on_cluster(request.scheduler) if request.scheduler is not None else in_several(request.workers)


def _off_cuts() -> tuple[OffCut, ...]:
    from parts.laying import as_stock  # noqa: PLC0415 - slow to load

    return as_stock(store.off_cuts())


def told(nested: Nested, request: argparse.Namespace) -> int:
    """Write a layout where that is asked for, tell of it, and return the exit status."""
    for fault in nested.faults:
        tell(str(fault))
    for line in (*nested.notes, *_unplaced(nested)):
        tell(line)
    if request.output:
        write_layout(nested, Path(request.output), exchange=request.replace)
    if request.json:
        sys.stdout.write(json.dumps(nested.content(), ensure_ascii=False, indent=1) + "\n")
    else:
        sys.stdout.writelines(f"{line}\n" for line in _report(nested))
    return nested.exit_status


def _unplaced(nested: Nested) -> Sequence[str]:
    """A line for each row with parts that lie nowhere."""
    counted: dict[tuple[int, str, str], int] = {}
    for _, row, part, why in nested.left:
        counted[row, part, why] = counted.get((row, part, why), 0) + 1
    return [f"row {row}: {part}: {count} not placed: {why.rstrip('.')}." for (row, part, why), count in counted.items()]


def _report(nested: Nested) -> Sequence[str]:
    lines = []
    for number, (sort, laid) in enumerate(nested.sheets, start=1):
        count = len(laid.placements)
        said = f"{count} part{'' if count == 1 else 's'}, {laid.share:.0%} used; left: {left_of(laid, sort)}"
        on = f", off-cut {laid.stock.off_cut}" if laid.stock.off_cut else ""
        lines.append(f"sheet {number}: {_sheet(sort)}{on}: {said}")
    return lines or ["no part is laid out"]


def _sheet(sort: Sort) -> str:
    record = sort.record
    return f"{record.material_title.lower()} {record.job.say(record.job.cut.thickness_mm)}"
