"""Processes forked from this one and kept running: one that ends is forked again, and all end with this one.

This process itself only waits, and starts no thread: what is forked of a process with threads may hold a lock of one
that isn't there. Each forked one waits at a pipe whose other end only this process has, so that it ends however this
one does.
"""

import os
import signal
import sys
import threading
import time
import traceback
from collections.abc import Callable, Sequence
from contextlib import suppress
from typing import TypeAlias

Work: TypeAlias = Callable[[], None]
_SOON_S = 1.0
"""What ends sooner than this after its start isn't started again at once."""
_LONGEST_S = 10.0
"""To end by itself."""


def keep_running(works: Sequence[Work]) -> None:
    """Fork a process for each work, again whenever one ends, until interrupted or told to end; then end them all.

    Raises:
        KeyboardInterrupt: this process was interrupted, or told to end.
    """
    signal.signal(signal.SIGTERM, signal.default_int_handler)
    ends = os.pipe()
    running: dict[int, tuple[Work, float]] = {}
    try:
        for work in works:
            running[_forked(work, ends)] = work, time.monotonic()
        while True:
            pid, status = os.wait()
            if pid not in running:  # of a process that ended before its own did, where this one is everybody's first
                continue
            work, began = running.pop(pid)
            sys.stderr.write(f"A process of the page ended ({_how(status)}); another is started.\n")
            time.sleep(max(_SOON_S - (time.monotonic() - began), 0.0))
            running[_forked(work, ends)] = work, time.monotonic()
    finally:
        for each in (signal.SIGINT, signal.SIGTERM):
            signal.signal(each, signal.SIG_IGN)
        _end(set(running))


def _how(status: int) -> str:
    code = os.waitstatus_to_exitcode(status)
    return f"signal {-code}" if code < 0 else f"status {code}"


def _forked(work: Work, ends: tuple[int, int]) -> int:
    pid = os.fork()
    if pid:
        return pid
    status = 1
    try:
        signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C reaches all of them: the first one tells the others
        os.close(ends[1])
        threading.Thread(target=_end_with, args=(ends[0],), daemon=True).start()
        work()
        status = 0
    except KeyboardInterrupt:
        status = 0
    except BaseException:  # noqa: BLE001 - nothing of the process that forked it may be gone on with
        traceback.print_exc()
    finally:
        sys.stdout.flush()
        os._exit(status)


def _end_with(end: int) -> None:
    os.read(end, 1)  # nothing is ever sent: it comes back when the other end is closed
    os._exit(1)


def _end(left: set[int]) -> None:
    for pid in left:
        with suppress(ProcessLookupError):
            os.kill(pid, signal.SIGTERM)
    until = time.monotonic() + _LONGEST_S
    while left and time.monotonic() < until:
        with suppress(ChildProcessError):
            pid, _ = os.waitpid(-1, os.WNOHANG)
            left.discard(pid)
            if not pid:
                time.sleep(0.02)
            continue
        return
    for pid in left:
        with suppress(ProcessLookupError):
            os.kill(pid, signal.SIGKILL)
