"""`platewright batch`: a part for every row of a table, as files, with a report of what was found."""

import argparse
import os
import sys
import time

from parts.errors import Problem, Refused, did_you_mean
from parts.export import FORMATS
from parts.orders import STOPPED, Batch, Outcome, Task, in_processes, on_cluster, read_items, run_batch
from parts.tables import Fault
from parts.units import format_time
from webapp.commands.console import folder_at, own_table, tell, whole_number

_MOST_WORKERS = 256
_EACH_S, _EACH_LINE_S = 0.5, 10.0


def declare(command: argparse.ArgumentParser) -> None:
    """Say what the command is given."""
    command.epilog = (
        "The first row names the columns: part (a template, or a DXF or SVG beside the table), quantity, name, and "
        "parameters such as leg_a. A cell may say a series: 50..200 step 25."
    )
    command.add_argument("table", metavar="TABLE", help="CSV or XLSX, one part a row")
    command.add_argument("-o", "--output", required=True, metavar="FOLDER", help="where the files and the report go")
    command.add_argument("--format", default="dxf", metavar="dxf,pdf", help="one format or several; dxf unless said")
    command.add_argument("--workers", type=whole_number, default=1, metavar="N", help="processes; 1 unless said")
    command.add_argument("--scheduler", metavar="ADDRESS", help="of a running cluster of Dask, such as tcp://host:8786")
    command.add_argument("--replace", action="store_true", help="exchange files in the folder that differ")
    command.add_argument("--even-so", action="store_true", help="write files despite a stop finding")
    command.set_defaults(run=run)


def run(request: argparse.Namespace) -> int:
    """Make what the table orders, tell what is wrong, and return the exit status."""
    formats = _formats(request.format)
    if not 1 <= request.workers <= _MOST_WORKERS:
        message = f"must be 1 to {_MOST_WORKERS}; as many as there are cores is fastest, {os.cpu_count()} here."
        raise Refused((Problem("workers", str(request.workers), message),))
    by = on_cluster(request.scheduler) if request.scheduler is not None else in_processes(request.workers)
    table, folder = own_table(request.table)
    ordered = read_items(table, folder)
    task = Task(folder_at(request.output), formats, request.even_so, request.replace)
    del table
    batch = run_batch(ordered, task, by, _Told())
    _tell(batch, request.output)
    return batch.exit_status


def _formats(text: str) -> tuple[str, ...]:
    asked = tuple(dict.fromkeys(word.strip().lower().lstrip(".") for word in text.split(",") if word.strip()))
    for kind in asked:
        if kind not in FORMATS:
            message = f"must be of {', '.join(FORMATS)}, with commas between them{did_you_mean(kind, FORMATS)}"
            raise Refused((Problem("format", kind, message),))
    if not asked:
        raise Refused((Problem("format", text, f"names none; there are {', '.join(FORMATS)}."),))
    return asked


def _tell(batch: Batch, output: str) -> None:
    written = others = 0
    for outcome in batch.outcomes:
        _tell_of(outcome)
        written += len(outcome.files)
        others += not outcome.files
    there = f", {batch.there_already} parts made before" if batch.there_already else ""
    without = f"; {others} part{'' if others == 1 else 's'} without" if others else ""
    files = f"{written} file{'' if written == 1 else 's'}"
    sys.stdout.write(f"{output}: {files}{there}{without}; report.csv, report.json\n")


def _tell_of(outcome: Outcome) -> None:
    for problem in outcome.problems:
        tell(str(Fault(outcome.row, problem["column"], problem["value"], problem["message"])))
    for finding in outcome.findings:
        if finding["severity"] == "stop":
            said = f"{finding['severity']}: {finding['rule']}: {finding['message']} {finding['remedy']}"
            tell(f"row {outcome.row}: {outcome.name}: {said}")
    if outcome.status == STOPPED:
        tell(f"row {outcome.row}: {outcome.name}: not written; mend what stops it, or say --even-so.")


class _Told:
    """Progress on standard error, with the time that is left: one line on a terminal, elsewhere a line now and then."""

    def __init__(self) -> None:
        self.start = self.last = time.monotonic()
        self.terminal = sys.stderr.isatty()

    def __call__(self, done: int, of: int) -> None:
        now = time.monotonic()
        if now - self.last < (_EACH_S if self.terminal else _EACH_LINE_S) and not (self.terminal and done == of):
            return
        self.last = now
        left = (now - self.start) / done * (of - done)
        said = f"{done:,} of {of:,} parts" + (f", about {format_time(left)} left" if done < of else "")
        sys.stderr.write(f"\r{said:<60}" if self.terminal else f"{said}\n")
        if self.terminal and done == of:
            sys.stderr.write("\r" + " " * 60 + "\r")
        sys.stderr.flush()
