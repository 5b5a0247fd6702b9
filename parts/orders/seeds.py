"""Seeds of a layout, tried where there are workers: here, in processes, on a cluster; the best is the same anywhere."""

from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from functools import partial
from typing import TypeAlias

from parts.errors import PartsError
from parts.record import VERSION
from parts.sheets import Layout, Problem, Told, of_seed, told, untold
from parts.wanted import step


@dataclass(frozen=True, slots=True)
class Try:
    """A seed to be tried of a problem, by the same Platewright."""

    version: str
    problem: Problem
    seed: int


Each: TypeAlias = Callable[[Sequence[Try]], Iterable[Told]]
"""Has seeds tried, and gives what each comes to in their order."""


def tried(one: Try) -> Told:
    """Return what a seed comes to; on whatever machine.

    Raises:
        PartsError: it isn't the same Platewright that asks.
    """
    if one.version != VERSION:
        raise PartsError(f"it is version {VERSION}, and {one.version} asks")
    return told(one.problem, of_seed(one.problem, one.seed))


def one_by_one(tries: Sequence[Try]) -> Iterable[Told]:
    """Try seeds in this process."""
    for each in tries:
        step()
        yield tried(each)


def in_several(workers: int) -> Each:
    """Return what tries seeds in so many processes."""
    return one_by_one if workers <= 1 else partial(_by_processes, workers=workers)


def _by_processes(tries: Sequence[Try], workers: int) -> Iterable[Told]:
    """Try seeds in processes; of one that ended with its process, here."""
    with ProcessPoolExecutor(workers) as pool:
        running = []
        for each in tries:
            try:
                running.append(pool.submit(tried, each))
            except BrokenProcessPool:
                break
        for number, each in enumerate(tries):
            try:
                yield running[number].result() if number < len(running) else tried(each)
            except BrokenProcessPool:
                yield tried(each)


def best_of_seeds(problem: Problem, seeds: int, each: Each = one_by_one) -> Layout:
    """Return the best layout of seeds 0 to `seeds`, of several as good the one of the lowest."""
    tries = [Try(VERSION, problem, seed) for seed in range(seeds + 1)]
    best = min(each(tries), key=lambda found: found.cost)
    return untold(problem, best)
