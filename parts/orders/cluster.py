"""A cluster of Dask: the items of a table made by whichever machines work for a scheduler.

Rows go there in chunks, with the drawings and the shop's own numbers that they need, and come back as the bytes of
their files, which this machine writes: so the others need no folder in common with it, and every file is written once,
however often its row was drawn. What a worker that is gone had been given, another one draws.
"""

import logging
import math
import re
import tempfile
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from parts.errors import PartsError, Problem, Refused
from parts.orders.files import Prepared, Task, prepare, settle
from parts.orders.item import Item
from parts.orders.makers import AHEAD, Maker, chunks_of, ended
from parts.orders.outcome import Outcome
from parts.orders.seeds import Each, Try, tried
from parts.record import VERSION
from parts.sheets import Problem as Layable
from parts.sheets import Told
from parts.shop import Edition, carried, held_as

if TYPE_CHECKING:
    from distributed import Client

NOT_INSTALLED = (
    "Dask, which draws on a cluster, isn't installed here: pip install distributed, or begin with python3 start.py."
)
_ADDRESS = re.compile(r"(?:(?:tcp|tls)://)?[^\s/:]+:[0-9]{1,5}|(?:tcp|tls)://\[[0-9a-fA-F:]+\]:[0-9]{1,5}")
_PATIENCE_S = 30
"""For the scheduler to answer, and for the first worker."""
_LEAST_AHEAD = 6
_EACH_S = 2.0


def on_cluster(scheduler: str) -> Maker:
    """Return what makes items on the cluster of a scheduler.

    Raises:
        Refused: that is no address.
        PartsError: Dask isn't there.
    """
    return partial(_made, scheduler=_address(scheduler))


def seeds_on_cluster(scheduler: str) -> Each:
    """Return what tries seeds of a layout on the cluster of a scheduler; what is raised as by `on_cluster`."""
    return partial(_tried, scheduler=_address(scheduler))


def _tried(tries: Sequence[Try], scheduler: str) -> Iterator[Told]:
    """Try seeds on a cluster; one whose worker ends is given to another, and tried here if they end again and again."""
    with _client(scheduler) as client:
        try:
            problems = client.scatter([each.problem for each in tries[:1]], hash=False)
            running = [client.submit(_try_of, problems[0], each.version, each.seed, pure=False) for each in tries]
            for each, future in zip(tries, running, strict=True):
                _wait_for(future)
                if future.status == "finished":
                    yield future.result()
                elif _is_lost(future, scheduler):
                    yield tried(each)
        except (OSError, RuntimeError) as error:
            raise _gone(scheduler, None) from error


def _try_of(problem: Layable, version: str, seed: int) -> Told:
    return tried(Try(version, problem, seed))


def _wait_for(future: Any) -> None:  # noqa: ANN401 - of a library without types
    from distributed import wait  # noqa: PLC0415

    wait([future])


def _address(scheduler: str) -> str:
    if not _ADDRESS.fullmatch(scheduler):
        message = "isn't the address of a scheduler, such as tcp://127.0.0.1:8786."
        raise Refused((Problem("scheduler", scheduler, message),))
    try:
        import distributed  # noqa: F401, PLC0415 - a second to load, and only few need it
    except ImportError:
        raise PartsError(NOT_INSTALLED) from None
    return scheduler if "://" in scheduler else f"tcp://{scheduler}"


@dataclass(frozen=True, slots=True)
class Chunk:
    """Items with all that is needed to draw them on another machine."""

    version: str
    items: tuple[Item, ...]
    drawings: Mapping[Path, bytes]
    shop: Edition
    formats: tuple[str, ...]
    even_so: bool


def draw_chunk(chunk: Chunk) -> list[Prepared]:
    """Return what the items of a chunk come to; on a worker.

    Raises:
        PartsError: it isn't the same Platewright that asks.
    """
    if chunk.version != VERSION:
        raise PartsError(f"it is version {VERSION}, and {chunk.version} asks")
    with tempfile.TemporaryDirectory() as folder, held_as(chunk.shop):
        return [prepare(_brought(item, chunk, Path(folder)), chunk.formats, even_so=chunk.even_so)
                for item in chunk.items]  # fmt: skip


def _brought(item: Item, chunk: Chunk, folder: Path) -> Item:
    """The item, its drawing on this machine, called as it was."""
    if item.drawing is None or item.drawing not in chunk.drawings:
        return item
    here = folder / str(item.row) / item.drawing.name
    here.parent.mkdir(exist_ok=True)
    here.write_bytes(chunk.drawings[item.drawing])
    return replace(item, drawing=here)


def _made(items: Sequence[Item], task: Task, scheduler: str) -> Iterator[Outcome]:
    """Make items on a cluster, and write their files here."""
    if not items:
        return
    shop = carried()
    with _client(scheduler) as client:
        for asked, prepared in _drawn(client, items, partial(_chunk, task=task, shop=shop), scheduler):
            for item, each in zip(asked, prepared, strict=True):
                yield settle(item, each, task) if each else ended(item, task)


def _chunk(items: Sequence[Item], task: Task, shop: Edition) -> Chunk:
    drawings = {}
    for item in items:
        if item.drawing is not None and item.drawing.is_file():
            drawings[item.drawing] = item.drawing.read_bytes()
    return Chunk(VERSION, tuple(items), drawings, shop, task.formats, task.even_so)


def _drawn(
    client: "Client", items: Sequence[Item], chunk_of: Callable[[Sequence[Item]], Chunk], scheduler: str
) -> Iterator[tuple[Sequence[Item], Sequence[Prepared | None]]]:
    """Yield items with what they come to; None of one over which its worker ended again and again, alone too.

    Raises:
        Refused: the scheduler is gone, or its workers can't draw.
    """
    from distributed import as_completed  # noqa: PLC0415

    chunks, ready, ahead = chunks_of(items), as_completed(), _Ahead(client)
    running: dict[Any, Sequence[Item]] = {}
    try:
        while chunks or running:
            while chunks and len(running) < ahead.chunks:
                chunk = chunks.popleft()
                future = client.submit(draw_chunk, chunk_of(chunk), pure=False)
                running[future] = chunk
                ready.add(future)
            future = next(ready)
            chunk = running.pop(future)
            if future.status == "finished":
                yield chunk, future.result()
            elif len(chunk) > 1 and _is_lost(future, scheduler):
                chunks.extendleft([item] for item in reversed(chunk))
            elif _is_lost(future, scheduler):
                yield chunk, [None]
    except (OSError, RuntimeError) as error:
        raise _gone(scheduler, None) from error


class _Ahead:
    """How many chunks may wait on a cluster, asked for anew now and then: workers come and go."""

    def __init__(self, client: "Client") -> None:
        self._client, self._asked, self._chunks = client, -math.inf, 0

    @property
    def chunks(self) -> int:
        """As many as keep every worker busy."""
        if time.monotonic() > self._asked + _EACH_S:
            self._chunks = max(AHEAD * sum(self._client.nthreads().values()), _LEAST_AHEAD)
            self._asked = time.monotonic()
        return self._chunks


def _is_lost(future: Any, scheduler: str) -> bool:  # noqa: ANN401 - of a library without types
    """Tell whether a chunk ended its worker again and again.

    Raises:
        Refused: it failed for another reason, which others would too.
    """
    from distributed.scheduler import KilledWorker  # noqa: PLC0415

    error = None if future.status in ("cancelled", "lost") else future.exception()
    if isinstance(error, KilledWorker):
        return True
    raise _gone(scheduler, error)


def _gone(scheduler: str, error: BaseException | None) -> Refused:
    on = "Give the command again, and it goes on from what is made."
    if error is None:
        return Refused((Problem("scheduler", scheduler, f"is gone amid the work. {on}"),))
    why = str(error).strip().splitlines()
    said = (
        f"has workers that can't draw ({why[-1] if why else type(error).__name__}): each needs this Platewright. {on}"
    )
    return Refused((Problem("scheduler", scheduler, said),))


@contextmanager
def _client(scheduler: str) -> Iterator["Client"]:
    """Have a cluster to oneself within.

    Raises:
        Refused: it doesn't answer, has no workers, or is gone.
    """
    from distributed import Client  # noqa: PLC0415

    logging.getLogger("distributed").setLevel(logging.CRITICAL)  # what is wrong is told in a sentence
    try:
        client = Client(scheduler, timeout=_PATIENCE_S)
    except (OSError, TimeoutError, ValueError, RuntimeError):
        message = "doesn't answer: is a scheduler running there, such as by dask scheduler?"
        raise Refused((Problem("scheduler", scheduler, message),)) from None
    try:
        try:
            client.wait_for_workers(1, timeout=_PATIENCE_S)
        except TimeoutError:
            message = f"has no workers: start one on each machine, such as by dask worker {scheduler} --nthreads 1."
            raise Refused((Problem("scheduler", scheduler, message),)) from None
        yield client
    finally:
        client.close(timeout=1)
