"""Where the items of a table are made: in this process one after another, or in several beside each other."""

import contextlib
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from functools import partial
from typing import TypeAlias

from parts.orders.files import Prepared, Task, problem_row, run_item, settle
from parts.orders.item import Item
from parts.orders.outcome import REFUSED, Outcome
from parts.shop import held
from parts.tables import Fault

Maker: TypeAlias = Callable[[Sequence[Item], Task], Iterable[Outcome]]
"""Makes items, and yields what became of each, in any order."""
CHUNK, AHEAD = 25, 3
"""Items that are handed over at once, and chunks that wait for each process: more would only fill memory."""


def here(items: Sequence[Item], task: Task) -> Iterator[Outcome]:
    """Make items in this process."""
    with held():
        yield from (run_item(item, task) for item in items)


def in_processes(workers: int) -> Maker:
    """Return what makes items in so many processes."""
    return here if workers <= 1 else partial(_by_processes, workers=workers)


def _by_processes(items: Sequence[Item], task: Task, workers: int) -> Iterator[Outcome]:
    lost: list[Item] = []
    yield from _made(chunks_of(items), task, workers, lost)
    for item in lost:  # alone, so that what ends a process is known by its row
        last: list[Item] = []
        yield from _made(deque([[item]]), task, 1, last)
        if last:
            yield ended(item, task)


def chunks_of(items: Sequence[Item]) -> deque[Sequence[Item]]:
    """Return items in chunks to be handed over."""
    return deque(items[i : i + CHUNK] for i in range(0, len(items), CHUNK))


def ended(item: Item, task: Task) -> Outcome:
    """Return what became of an item over which its process ended, alone too."""
    what = Fault(item.row, "part", item.part, "ended the process that drew it, for want of memory or worse.")
    return settle(item, Prepared(REFUSED, {}, problems=[problem_row(what)]), task)


def _run_chunk(items: Sequence[Item], task: Task) -> list[Outcome]:
    return list(here(items, task))


def _made(chunks: deque[Sequence[Item]], task: Task, workers: int, lost: list[Item]) -> Iterator[Outcome]:
    """Yield what became of the items; of chunks whose process ended, the items are put to the lost ones."""
    while chunks:
        running: dict[Future[list[Outcome]], Sequence[Item]] = {}
        with ProcessPoolExecutor(workers) as pool, contextlib.suppress(BrokenProcessPool):
            while chunks or running:
                while chunks and len(running) < AHEAD * workers:
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
