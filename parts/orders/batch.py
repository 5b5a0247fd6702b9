"""Batch: the items of a table made, wherever that is, with the same files and report."""

import heapq
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path
from typing import Any, TypeAlias

from parts.orders.files import Task, problem_row, sweep
from parts.orders.item import Item, Ordered
from parts.orders.makers import Maker, here
from parts.orders.outcome import KEPT, REFUSED, Outcome, key_of
from parts.orders.report import UNFINISHED, Journal, outcomes_of, refuse_foreign, write_report
from parts.tables import Fault

Progress: TypeAlias = Callable[[int, int], None]
"""Told of how many items are done, of how many."""


@dataclass(frozen=True, slots=True)
class Batch:
    """What became of a table: in the folder of its files, and in few words."""

    folder: Path
    there_already: int
    exit_status: int
    """2 where a row is refused or a file that differs is kept, else 1 where a finding says stop, else 0."""

    @property
    def outcomes(self) -> Iterator[Outcome]:
        """What became of every item, in the order of the rows, as the report has it."""
        return outcomes_of(self.folder)

    def having(self, status: str) -> list[Outcome]:
        """Return the outcomes of one status."""
        return [outcome for outcome in self.outcomes if outcome.status == status]


def run_batch(ordered: Ordered, task: Task, by: Maker = here, progress: Progress = lambda done, of: None) -> Batch:
    """Make every item of a table and its report; what an earlier run made and is still there isn't made again.

    Args:
        ordered: the items.
        task: how their files are written.
        by: makes items, and yields what became of each, in any order.
        progress: told how far it is.

    Raises:
        Refused: the folder's report is somebody else's file.
        DataError: the shop's own file is unusable.
        OSError: the folder can't be written to.
    """
    task.folder.mkdir(parents=True, exist_ok=True)
    refuse_foreign(task.folder)
    sweep(task.folder, ordered.items, task.formats)
    journal, status = Journal(task.folder), _Status()
    todo: list[Item] = []
    with journal:
        for item in ordered.items:
            before = journal.before(key_of(item, task.formats, even_so=task.even_so))
            if before and before.stands(task.folder):
                journal.add(before.again(item))
                status.add(before)
            else:
                todo.append(item)
        there = len(ordered.items) - len(todo)
        for number, outcome in enumerate(by(todo, task), start=1):
            journal.add(outcome)
            status.add(outcome)
            progress(number, len(todo))
    sweep(task.folder, ordered.items, task.formats)
    refused = [_refused(fault) for fault in sorted(ordered.faults, key=lambda fault: fault.row)]
    for outcome in refused:
        status.add(outcome)
    write_report(task.folder, _joined(heapq.merge(journal.of(ordered.items), refused, key=lambda each: each.row)))
    (task.folder / UNFINISHED).unlink()
    return Batch(task.folder, there, status.exit_status)


@dataclass(slots=True)
class _Status:
    exit_status: int = 0

    def add(self, outcome: Outcome) -> None:
        worst = 2 if outcome.status in (REFUSED, KEPT) else int(outcome.stops)
        self.exit_status = max(self.exit_status, worst)


def _joined(outcomes: Iterable[Outcome]) -> Iterator[Outcome]:
    """Yield outcomes; a row that is wrong in several columns is one of them."""
    for (row, _), same in groupby(outcomes, key=lambda each: (each.row, each.name)):
        first, *others = same
        if others:
            problems = [problem for outcome in (first, *others) for problem in outcome.problems]
            first = _refused_with(row, problems)
        yield first


def _refused(fault: Fault) -> Outcome:
    return _refused_with(fault.row, (problem_row(fault),))


def _refused_with(row: int, problems: Sequence[Mapping[str, Any]]) -> Outcome:
    return Outcome(row, "", "", 0, REFUSED, {}, (), tuple(problems), {}, "")
