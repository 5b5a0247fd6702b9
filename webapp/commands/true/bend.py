"""A test bend on the command line: what the strips say of the brake, and with `--keep` into the shop's own file."""

import argparse
import sys
from collections.abc import Iterator, Mapping
from datetime import UTC, datetime
from typing import Any

from parts.shop import parse
from parts.shop.editing import edited, read_file, save
from parts.truing.bend import BendReport, keep_as, true_bend
from parts.units import Units
from webapp.commands.console import tell
from webapp.wording import HOLDS, kept_said, results, what_was_bent


def run(data: Mapping[str, Any], request: argparse.Namespace) -> int:
    """Print what the strips say, keep it where that is asked for, and return the exit status."""
    units: Units | None = request.units
    report = true_bend(data, units)
    if request.json:
        sys.stdout.write(report.to_json())
    else:
        sys.stdout.writelines(f"{line}\n" for line in lines(report))
    sys.stdout.flush()
    if request.keep:
        tell(_kept(report))
    for caution in report.cautions:
        tell(f"caution: {caution}")
    return 0


def lines(report: BendReport) -> Iterator[str]:
    """Yield the report for a person, a line each."""
    yield what_was_bent(report)
    if report.left_out:
        yield f"left out, not measured yet: {', '.join(report.left_out)}"
    yield from (f"assumed: {sentence}" for sentence in report.assumed)
    told = "confirmed" if report.test.confirmed else "asked"
    yield from (f"{told}: {question}" for question in report.suspicions)
    yield from (f"doubt: {sentence}" for sentence in report.doubts)
    yield ""
    yield "Your brake, each with the interval it lies in with 95 % confidence"
    yield from (f"    {each.title + ':':<18} {each.value} ({each.interval})" for each in results(report))
    yield f"    {report.correlated}"
    yield f"    {report.compared}"
    if report.keepable:
        yield ""
        yield "What --keep writes"
        own = read_file()
        kept, _ = keep_as(report, parse(own.text, own.path), today())
        yield from (f"    {sentence}" for sentence in kept_said(kept, report.units))
        yield f"    {HOLDS}"


def _kept(report: BendReport) -> str:
    """Write what is kept, and say where.

    Raises:
        Refused: something has to be looked at first.
        DataError: the shop's file can't be read, changed or written.
    """
    file = read_file()
    _, change = keep_as(report, parse(file.text, file.path), today())
    save(edited(file.text, [change]), file.stamp)
    return f"Kept in {file.path}."


def today() -> str:
    """Return the date of a test that tells none."""
    return datetime.now(tz=UTC).astimezone().date().isoformat()
