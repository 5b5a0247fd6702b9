"""The clock of the main thread's own work: rings once it has spent so many seconds of processor time.

It rings between two steps of Python, by a signal. So it can't end one long step of a library, which `process` does from
outside; nor can it ring beside the main thread, or where the system has no such signal, as Windows.
"""

import math
import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from time import thread_time

_AGAIN_S = 0.05  # until it rings again: where Python can't raise, as in a finalizer, a ring is lost
_LEAST_S = 1e-4  # 0 would stop the clock
_until: list[float] = []


class TimeUp(BaseException):
    """The time is spent; no code under the clock may take it for an error of its own."""


@contextmanager
def clock(seconds: float) -> Iterator[None]:
    """Ring within once the main thread has worked so long; a clock within another rings no later than that one.

    An error that comes once the time is spent may be a ring that a library took for its own: it counts as one.

    Raises:
        TimeUp: the time is spent.
    """
    if not hasattr(signal, "setitimer") or threading.current_thread() is not threading.main_thread():
        yield
        return
    _until.append(thread_time() + seconds)
    try:
        _wind()
        yield
    except Exception as error:
        if left_s() <= 0:
            raise TimeUp from error
        raise
    finally:
        _until.pop()
        _wind()


def left_s() -> float:
    """Return how long the main thread may still work before a clock rings; without end where none is set."""
    return min(_until) - thread_time() if _until else math.inf


def _wind() -> None:
    if _until and signal.getsignal(signal.SIGPROF) is not _ring:
        signal.signal(signal.SIGPROF, _ring)
    left = max(min(_until) - thread_time(), _LEAST_S) if _until else 0.0
    signal.setitimer(signal.ITIMER_PROF, left, _AGAIN_S if _until else 0.0)


def _ring(*_: object) -> None:
    if _until and thread_time() >= min(_until):
        raise TimeUp
