"""A strip as short as can be, asked of solvers in processes of their own while there is time."""

import json
import math
import queue
import subprocess
import sys
import threading
import time
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import IO, TypeAlias

from parts.geometry import Point
from parts.wanted import step
from parts.workers import surroundings

_CHILD = Path(__file__).with_name("child.py")
_EACH_S = 0.2
"""How often it is asked whether the strip is still wanted."""


@cache
def is_there() -> bool:
    """Tell whether there is a solver: it isn't offered for every system, and layouts go without."""
    return find_spec("spyrrow") is not None


@dataclass(frozen=True, slots=True)
class Item:
    """So many of one outline, mm, which may be turned about the origin by these degrees."""

    ring: tuple[Point, ...]
    count: int
    turns: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Lying:
    """One of an item, by its place in the list, turned and then moved."""

    item: int
    turn_deg: float
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Strip:
    """What is asked for: items on a strip of a height, and the seed of the solver's chance."""

    items: tuple[Item, ...]
    height: float
    seed: int


@dataclass(frozen=True, slots=True)
class Packed:
    """An answer: of which strip by its place in the list, how long, and where everything lies."""

    strip: int
    length: float
    placed: tuple[Lying, ...]


_Answers: TypeAlias = "queue.SimpleQueue[Packed | None]"


def packed(strips: Sequence[Strip], end: float) -> Iterator[Packed]:
    """Yield each shorter way to pack any of the strips as it is found, until the time is up or every solver has ended.

    Args:
        strips: solved beside each other, by a process each.
        end: by `time.monotonic`.

    Raises:
        Unwanted: nobody waits for it any more.
    """
    answers: _Answers = queue.SimpleQueue()
    with _solving(strips, end, answers):
        left = len(strips)
        while left and (until := end - time.monotonic()) > 0:
            step()
            with suppress(queue.Empty):
                answer = answers.get(timeout=min(_EACH_S, until))
                if answer is None:
                    left -= 1
                else:
                    yield answer


@contextmanager
def _solving(strips: Sequence[Strip], end: float, answers: _Answers) -> Iterator[None]:
    """Have a solver for each strip within, whose answers are put to the queue: None once it has ended."""
    seconds = max(math.floor(end - time.monotonic()), 1)  # of which the last fifth goes to closing up
    with ExitStack() as solvers:
        for number, strip in enumerate(strips):
            solvers.enter_context(_solver(number, _question(strip, seconds), answers))
        yield


@contextmanager
def _solver(number: int, question: str, answers: _Answers) -> Iterator[None]:
    process = subprocess.Popen(  # noqa: S603 - this very project
        [sys.executable, "-P", str(_CHILD)], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL, text=True, env=surroundings(), start_new_session=sys.platform != "win32",
    )  # fmt: skip
    listening = threading.Thread(target=_listen, args=(number, process, question, answers), daemon=True)
    listening.start()
    try:
        yield
    finally:
        process.kill()
        process.wait()
        listening.join()
        for stream in (process.stdin, process.stdout):
            with suppress(OSError):  # what was still to be sent can't be
                stream.close() if stream else None


def _question(strip: Strip, seconds: int) -> str:
    items = [(each.ring, each.count, each.turns) for each in strip.items]
    return json.dumps({"items": items, "height": strip.height, "seed": strip.seed, "seconds": seconds}) + "\n"


def _listen(number: int, process: "subprocess.Popen[str]", question: str, answers: _Answers) -> None:
    asked, told = process.stdin, process.stdout
    try:
        if asked and told:
            _ask(asked, question)
            for line in told:
                with suppress(ValueError):  # half a line of one that was ended
                    found = json.loads(line)
                    placed = tuple(Lying(*each) for each in found["placed"])
                    answers.put(Packed(number, found["length"], placed))
    finally:
        answers.put(None)


def _ask(stream: IO[str], question: str) -> None:
    with suppress(OSError):  # it has ended
        stream.write(question)
        stream.flush()
