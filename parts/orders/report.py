"""The report of a batch, `report.csv` to read and `report.json` for programs, and what a stopped run leaves of it."""

import csv
import io
import json
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import asdict
from pathlib import Path
from typing import Any

from parts.data import replace
from parts.errors import Problem, Refused
from parts.orders.naming import REPORT
from parts.orders.outcome import Outcome
from parts.record import VERSION

CSV_NAME, JSON_NAME = f"{REPORT}.csv", f"{REPORT}.json"
UNFINISHED = f"{REPORT}.unfinished.jsonl"
"""A line for every item that is done, while others are still being made."""
_HEAD = (
    "row",
    "part",
    "name",
    "quantity",
    "status",
    "files",
    "severity",
    "rule",
    "column",
    "value",
    "message",
    "remedy",
)
_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def refuse_foreign(folder: Path) -> None:
    """Pass where the report may be written.

    Raises:
        Refused: a file of its name is there that no batch wrote.
    """
    heads = {CSV_NAME: ",".join(_HEAD), JSON_NAME: '{\n"platewright_version"', UNFINISHED: '{"row": '}
    for name, head in heads.items():
        path = folder / name
        if path.is_dir() or (path.is_file() and not _begins(path, head)):
            message = "is there already, and no batch wrote it; move it away, or name another folder."
            raise Refused((Problem("output", str(path), message),))


def _begins(path: Path, head: str) -> bool:
    with path.open("rb") as stream:
        begun = stream.read(len(head))
    return head.encode().startswith(begun) if not begun else begun == head.encode()


def earlier(folder: Path) -> dict[str, Outcome]:
    """Return what earlier runs made, by what it hangs on; the last line of a run that was stopped may be half."""
    known: dict[str, Outcome] = {}
    for row in _rows(folder):
        with suppress(TypeError):
            outcome = Outcome.of(row)
            known[outcome.key] = outcome
    return known


def _rows(folder: Path) -> Iterator[Mapping[str, Any]]:
    with suppress(OSError, ValueError, KeyError, TypeError):
        yield from json.loads((folder / JSON_NAME).read_text("utf-8"))["rows"]
    with suppress(OSError, UnicodeDecodeError), (folder / UNFINISHED).open(encoding="utf-8") as journal:
        for line in journal:
            with suppress(ValueError):
                yield json.loads(line)


def write_report(folder: Path, outcomes: Sequence[Outcome]) -> None:
    """Write both reports, each in one step.

    Raises:
        OSError: one can't be written.
    """
    rows = [json.dumps(asdict(outcome), ensure_ascii=False) for outcome in outcomes]
    text = f'{{\n"platewright_version": {json.dumps(VERSION)},\n"rows": [\n' + ",\n".join(rows) + "\n]\n}\n"
    replace(folder / JSON_NAME, text.encode("utf-8"))
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(_HEAD)
    for outcome in outcomes:
        writer.writerows([_inert(cell) for cell in line] for line in _lines(outcome))
    replace(folder / CSV_NAME, out.getvalue().encode("utf-8"))


def _lines(outcome: Outcome) -> Iterator[tuple[object, ...]]:
    """A line for each finding and problem, or one that says there is none."""
    first = (outcome.row, outcome.part, outcome.name, outcome.quantity, outcome.status, " ".join(outcome.files))
    for problem in outcome.problems:
        yield (*first, "", "", problem["column"], problem["value"], problem["message"], "")
    for finding in outcome.findings:
        yield (*first, finding["severity"], finding["rule"], "", "", finding["message"], finding["remedy"])
    if not outcome.problems and not outcome.findings:
        yield (*first, "", "", "", "", "", "")


def _inert(cell: object) -> object:
    """A cell that no spreadsheet takes for a formula."""
    return f"'{cell}" if isinstance(cell, str) and cell.startswith(_FORMULA) else cell
