"""Batch: the items of a table made one after another, or in several processes, with the same files and report."""

import contextlib
from collections import deque
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from typing import Any, TypeAlias

from parts.orders.files import Task, problem_row, run_item, sweep
from parts.orders.item import Item, Ordered
from parts.orders.outcome import KEPT, REFUSED, Outcome, key_of
from parts.orders.report import UNFINISHED, earlier, refuse_foreign, write_report
from parts.shop import held
from parts.tables import Fault

Progress: TypeAlias = Callable[[int, int], None]
"""Told of how many items are done, of how many."""
_CHUNK = 25
_AHEAD = 3
"""Chunks that wait for each process: more would only fill memory."""


@dataclass(frozen=True, slots=True)
class Batch:
    """What became of a table, in the order of its rows."""

    outcomes: tuple[Outcome, ...]
    there_already: int

    def having(self, status: str) -> list[Outcome]:
        """Return the outcomes of one status."""
        return [outcome for outcome in self.outcomes if outcome.status == status]

    @property
    def exit_status(self) -> int:
        """2 where a row is refused or a file that differs is kept, else 1 where a finding says stop, else 0."""
        if self.having(REFUSED) or self.having(KEPT):
            return 2
        return int(any(outcome.stops for outcome in self.outcomes))


def run_batch(ordered: Ordered, task: Task, workers: int = 1, progress: Progress = lambda done, of: None) -> Batch:
    """Make every item of a table and its report; what an earlier run made and is still there isn't made again.

    Raises:
        Refused: the folder's report is somebody else's file.
        DataError: the shop's own file is unusable.
        OSError: the folder can't be written to.
    """
    task.folder.mkdir(parents=True, exist_ok=True)
    refuse_foreign(task.folder)
    sweep(task.folder, ordered.items, task.formats)
    known, done = earlier(task.folder), {}
    todo: list[Item] = []
    for item in ordered.items:
        before = known.get(key_of(item, task.formats, even_so=task.even_so))
        if before and before.stands(task.folder):
            done[item.row, item.name] = before.again(item)
        else:
            todo.append(item)
    there = len(done)
    with (task.folder / UNFINISHED).open("a", encoding="utf-8") as journal:
        for outcome in _made(todo, task, workers):
            journal.write(outcome.to_json() + "\n")
            journal.flush()
            done[outcome.row, outcome.name] = outcome
            progress(len(done) - there, len(todo))
    sweep(task.folder, ordered.items, task.formats)
    outcomes = [done[item.row, item.name] for item in ordered.items] + [_refused(fault) for fault in ordered.faults]
    batch = Batch(tuple(_by_row(outcomes)), there)
    write_report(task.folder, batch.outcomes)
    (task.folder / UNFINISHED).unlink()
    return batch


def _by_row(outcomes: Sequence[Outcome]) -> list[Outcome]:
    """By rows; a row that is wrong in several columns is one outcome."""
    joined: dict[tuple[int, str], Outcome] = {}
    for outcome in sorted(outcomes, key=lambda each: each.row):
        key = outcome.row, outcome.name
        if key in joined:
            problems = (*joined[key].problems, *outcome.problems)
            outcome = _refused_with(outcome.row, problems)
        joined[key] = outcome
    return list(joined.values())


def _refused(fault: Fault) -> Outcome:
    return _refused_with(fault.row, (problem_row(fault),))


def _refused_with(row: int, problems: Sequence[Mapping[str, Any]]) -> Outcome:
    return Outcome(row, "", "", 0, REFUSED, {}, (), tuple(problems), {}, "")


def _made(items: Sequence[Item], task: Task, workers: int) -> Iterator[Outcome]:
    if workers <= 1 or len(items) <= 1:
        with held():
            yield from (run_item(item, task) for item in items)
        return
    chunks = deque(items[i : i + _CHUNK] for i in range(0, len(items), _CHUNK))
    lost: list[Item] = []
    yield from _in_processes(chunks, task, workers, lost)
    for item in lost:  # alone, so that what ends a process is known by its row
        last: list[Item] = []
        yield from _in_processes(deque([[item]]), task, 1, last)
        if last:
            what = Fault(item.row, "part", item.part, "ended the process that drew it, for want of memory or worse.")
            yield _refused(what)


def _run_chunk(items: Sequence[Item], task: Task) -> list[Outcome]:
    with held():
        return [run_item(item, task) for item in items]


def _in_processes(chunks: deque[Sequence[Item]], task: Task, workers: int, lost: list[Item]) -> Iterator[Outcome]:
    """Yield what became of the items; of chunks whose process ended, the items are put to the lost ones."""
    while chunks:
        running: dict[Future[list[Outcome]], Sequence[Item]] = {}
        with ProcessPoolExecutor(workers) as pool, contextlib.suppress(BrokenProcessPool):
            while chunks or running:
                while chunks and len(running) < _AHEAD * workers:
                    chunk = chunks.popleft()
                    try:
                        running[pool.submit(_run_chunk, chunk, task)] = chunk
                    except BrokenProcessPool:
                        chunks.appendleft(chunk)
                        raise
                ready, _ = wait(running, return_when=FIRST_COMPLETED)
                for future in ready:
                    outcomes = future.result()
                    del running[future]
                    yield from outcomes
        for future, chunk in running.items():
            if future.done() and future.exception() is None:
                yield from future.result()
            else:
                lost.extend(chunk)
