"""Workers of one process lent to others on the same machine, so that all together have no more than one would."""

import socket
import threading
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any, BinaryIO, cast

from parts.errors import Busy, Overrun
from parts.workers.child import BROKEN, DONE, OVERRUN
from parts.workers.pool import Pool
from parts.workers.wire import receive, send

BUSY = "busy"
_WAITING = 256
_TRIES = 2
"""A job whose lender ended is asked for once more: whatever was half done of it has ended too."""


def line_at(path: Path) -> socket.socket:
    """Return a socket at a path, where jobs are asked for; several processes may come by it."""
    line = socket.socket(socket.AF_UNIX)
    line.bind(str(path))
    line.listen(_WAITING)
    return line


def lend(line: socket.socket, pools: Mapping[str, Pool]) -> None:
    """Have whoever asks at the line do jobs by the workers of a kind, without end."""
    while True:
        connection, _ = line.accept()
        threading.Thread(target=_serve, args=(connection, pools), daemon=True).start()


def _serve(connection: socket.socket, pools: Mapping[str, Pool]) -> None:
    with connection, connection.makefile("rwb") as stream, suppress(OSError, EOFError):
        kind, job = receive(cast(BinaryIO, stream))
        send(cast(BinaryIO, stream), _done(pools[kind], job))


def _done(pool: Pool, job: object) -> tuple[str, Any]:
    try:
        with pool.turn() as worker:
            return DONE, worker.do(job)
    except Busy as busy:
        return BUSY, busy.waiting
    except Overrun:
        return OVERRUN, None
    except RuntimeError as error:
        return BROKEN, str(error)


class Borrowed:
    """A kind of workers of another process, asked for at its line; used as a pool is."""

    def __init__(self, path: Path, kind: str) -> None:
        self._path, self._kind = path, kind

    @contextmanager
    def turn(self) -> Iterator["Borrowed"]:
        """Have a worker within; the lender sees to whose turn it is, when there is a job."""
        yield self

    def do(self, job: object) -> Any:  # noqa: ANN401 - whatever the worker's function returns
        """Return what a worker makes of a job.

        Raises:
            Busy: as many wait as may.
            Overrun: it took more time or memory than it may.
            RuntimeError: the worker's function raised an error; its traceback is the text.
        """
        for _ in range(_TRIES):
            with suppress(EOFError, OSError):
                said, result = self._asked(job)
                if said == BUSY:
                    raise Busy(result)
                if said == BROKEN:
                    raise RuntimeError(result)
                if said == DONE:
                    return result
                break
        raise Overrun

    def close(self) -> None:
        """Leave the workers to their lender."""

    def _asked(self, job: object) -> tuple[str, Any]:
        with socket.socket(socket.AF_UNIX) as connection:
            connection.connect(str(self._path))
            with connection.makefile("rwb") as stream:
                send(cast(BinaryIO, stream), (self._kind, job))
                found: tuple[str, Any] = receive(cast(BinaryIO, stream))
                return found
