"""A worker: takes jobs from whoever started it, one after the other, and ends with it.

It listens all the time, so that it ends even amid a job once the process that started it is gone, however that went.
"""

import importlib
import os
import queue
import sys
import threading
import traceback
from collections.abc import Callable
from typing import Any, BinaryIO

from parts.workers.clock import TimeUp, clock
from parts.workers.here import become_worker, limit_memory, limit_processor, peak_mb
from parts.workers.wire import receive, send

READY, DONE, OVERRUN, BROKEN = "ready", "done", "overrun", "broken"
"""What a worker answers with: that it has started; a result; that a job took too much; the traceback of an error."""
_GRACE_S = 1.0  # beyond a job's time for the step under way to come to its end
_SPENT = 0.95  # of its memory, once held, and it asks to be ended: what was freed may not all have been given back


def work(target: str, memory_mb: int) -> None:
    """Do jobs by the function `target`, a `module:function`, until the process that started this one is gone."""
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # what anything prints goes where errors go
    jobs: queue.SimpleQueue[tuple[float, Any]] = queue.SimpleQueue()
    become_worker()
    limit_memory(memory_mb)
    module, _, name = target.partition(":")
    function = getattr(importlib.import_module(module), name)
    threading.Thread(target=_listen, args=(sys.stdin.buffer, jobs), daemon=True).start()
    send(answers, READY)
    while True:
        seconds, job = jobs.get()
        said, result = _done(function, job, seconds)
        send(answers, (said, result, said != DONE or peak_mb() > _SPENT * memory_mb))


def _listen(stream: BinaryIO, jobs: "queue.SimpleQueue[tuple[float, Any]]") -> None:
    try:
        while True:
            jobs.put(receive(stream))
    except (EOFError, OSError):
        os._exit(0)  # at once, whatever the main thread is about


def _done(function: Callable[[Any], Any], job: object, seconds: float) -> tuple[str, Any]:
    limit_processor(seconds + _GRACE_S)
    try:
        with clock(seconds):
            return DONE, function(job)
    except (TimeUp, MemoryError):
        return OVERRUN, None
    except Exception:  # noqa: BLE001 - told to whoever asked, who raises it
        return BROKEN, traceback.format_exc()
