"""One worker as seen from the process that started it."""

import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any, BinaryIO, cast

from parts.errors import Overrun
from parts.workers.child import BROKEN, OVERRUN, READY
from parts.workers.here import surroundings
from parts.workers.wire import receive, send

_START_S = 60.0
"""To start on a busy machine."""


@dataclass(frozen=True, slots=True)
class Bounds:
    """What a worker does, and what one job of it may take.

    `target` is the function that does a job, `module:function`; `processor_s` its work; `wall_s` the time it may take
    on a busy machine; `memory_mb` the data that the worker may hold.
    """

    target: str
    processor_s: float
    wall_s: float
    memory_mb: int


class Worker:
    """A process that does jobs one after the other; `spent` once it should do no more.

    Raises:
        RuntimeError: it doesn't start.
    """

    def __init__(self, bounds: Bounds) -> None:
        self._bounds, self.spent = bounds, False
        order = f"from parts.workers.child import work; work({bounds.target!r}, {bounds.memory_mb})"
        apart: dict[str, Any] = {"start_new_session": True}  # so that Ctrl-C reaches who serves alone
        if sys.platform == "win32":
            kinds = subprocess.CREATE_NEW_PROCESS_GROUP | subprocess.BELOW_NORMAL_PRIORITY_CLASS
            apart = {"creationflags": kinds}
        self._process = subprocess.Popen(  # noqa: S603 - this very project
            [sys.executable, "-P", "-c", order], stdin=subprocess.PIPE, stdout=subprocess.PIPE, env=surroundings(),
            **apart,
        )  # fmt: skip
        try:
            with self._ended_after(_START_S):
                ready = receive(self._out)
        except EOFError:
            ready = None
        if ready != READY:
            self.end()
            raise RuntimeError(f"A worker of {bounds.target} doesn't start; its log says why.")

    @property
    def pid(self) -> int:
        """The number of its process."""
        return self._process.pid

    @property
    def is_there(self) -> bool:
        """Whether it runs and may do another job."""
        return not self.spent and self._process.poll() is None

    def do(self, job: object) -> Any:  # noqa: ANN401 - whatever the function returns
        """Return what the function makes of a job.

        Raises:
            Overrun: it took more time or memory than it may, and has been ended.
            RuntimeError: the function raised an error; its traceback is the text.
        """
        try:
            with self._ended_after(self._bounds.wall_s):
                send(self._in, (self._bounds.processor_s, job))
                said, result, self.spent = receive(self._out)
        except (EOFError, OSError, ValueError):  # the last where another thread has ended it and closed its pipes
            self.spent = True
            raise Overrun from None
        if said == OVERRUN:
            raise Overrun
        if said == BROKEN:
            raise RuntimeError(result)
        return result

    def end(self) -> None:
        """End it, whatever it is about."""
        self.spent = True
        self._process.kill()
        self._process.wait()
        for stream in (self._in, self._out):
            try:
                stream.close()
            except OSError:  # what was still to be sent can't be
                continue

    @property
    def _in(self) -> BinaryIO:
        return cast(BinaryIO, self._process.stdin)

    @property
    def _out(self) -> BinaryIO:
        return cast(BinaryIO, self._process.stdout)

    @contextmanager
    def _ended_after(self, seconds: float) -> Iterator[None]:
        """End the process if what is done within takes longer, which then meets the end of its pipe."""
        timer = threading.Timer(seconds, self._process.kill)
        timer.daemon = True
        timer.start()
        try:
            yield
        finally:
            timer.cancel()
