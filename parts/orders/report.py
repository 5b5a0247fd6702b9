"""The report of a batch, `report.csv` to read and `report.json` for programs, and what a stopped run leaves of it."""

import csv
import json
import os
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

from parts.data import beside, put
from parts.errors import Problem, Refused
from parts.orders.item import Item
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


class Journal:
    """What has become of items so far, kept in a file of the folder: a line each, so that memory holds none of it.

    Lines of earlier runs, finished or stopped, are read as the report has them; the last one may be half.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._known: dict[str, tuple[str, int]] = {}
        for name in (JSON_NAME, UNFINISHED):
            for at, row in _rows(folder / name):
                self._known[row.get("key", "")] = name, at
        self._places: dict[tuple[int, str], int] = {}

    def __enter__(self) -> "Journal":
        self._file = (self._folder / UNFINISHED).open("a+b")
        self._file.seek(0, os.SEEK_END)
        self._file.write(b"\n" if self._file.tell() else b"")  # after a line that may be half
        return self

    def __exit__(self, *_: object) -> None:
        self._file.close()

    def before(self, key: str) -> Outcome | None:
        """Return what became of an item in an earlier run."""
        if key not in self._known:
            return None
        name, at = self._known[key]
        return _outcome_at(self._folder / name, at)

    def add(self, outcome: Outcome) -> None:
        """Write down what became of an item, before anything else is done."""
        self._places[outcome.row, outcome.name] = self._file.tell()
        self._file.write(f"{outcome.to_json()}\n".encode())
        self._file.flush()

    def of(self, items: Iterable[Item]) -> Iterator[Outcome]:
        """Yield what became of items in this run, in their order."""
        with (self._folder / UNFINISHED).open("rb") as lines:
            for item in items:
                lines.seek(self._places[item.row, item.name])
                yield Outcome.of(json.loads(lines.readline()))


def _rows(path: Path) -> Iterator[tuple[int, Mapping[str, Any]]]:
    """Yield each line of a report that is an outcome, and where it begins."""
    with suppress(OSError), path.open("rb") as lines:
        at = 0
        for line in lines:
            if line.startswith(b'{"row": '):
                with suppress(ValueError):
                    yield at, json.loads(line.rstrip(b",\n"))
            at += len(line)


def _outcome_at(path: Path, at: int) -> Outcome | None:
    with suppress(OSError, ValueError, TypeError), path.open("rb") as lines:
        lines.seek(at)
        return Outcome.of(json.loads(lines.readline().rstrip(b",\n")))
    return None


def outcomes_of(folder: Path) -> Iterator[Outcome]:
    """Yield the rows of a report."""
    for _, row in _rows(folder / JSON_NAME):
        yield Outcome.of(row)


def write_report(folder: Path, outcomes: Iterable[Outcome]) -> None:
    """Write both reports, each in one step.

    Raises:
        OSError: one can't be written.
    """
    with beside(folder / JSON_NAME) as whole, beside(folder / CSV_NAME) as table:
        with whole.open("w", encoding="utf-8") as text, table.open("w", encoding="utf-8", newline="") as lines:
            writer = csv.writer(lines, lineterminator="\n")
            writer.writerow(_HEAD)
            text.write(f'{{\n"platewright_version": {json.dumps(VERSION)},\n"rows": [\n')
            for number, outcome in enumerate(outcomes):
                text.write((",\n" if number else "") + outcome.to_json())
                writer.writerows([_inert(cell) for cell in line] for line in _lines(outcome))
            text.write("\n]\n}\n")
        put(whole, folder / JSON_NAME)
        put(table, folder / CSV_NAME)


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
