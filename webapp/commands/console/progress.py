"""Waiting: a line on a terminal that says how long something has taken, while it takes long."""

import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager

from parts.units import format_time

_FIRST_S, _EACH_S = 1.0, 0.5


@contextmanager
def waiting(what: str) -> Iterator[None]:
    """Say on a terminal, from a second on, that something is being done and for how long; nothing elsewhere."""
    if not sys.stderr.isatty():
        yield
        return
    done = threading.Event()
    line = threading.Thread(target=_tell, args=(what, done), daemon=True)
    line.start()
    try:
        yield
    finally:
        done.set()
        line.join()


def _tell(what: str, done: threading.Event) -> None:
    seconds, width = _FIRST_S, 0
    if done.wait(_FIRST_S):
        return
    while True:
        said = f"{what}, {format_time(seconds)}; Ctrl-C stops it"
        width = max(width, len(said))
        sys.stderr.write(f"\r{said}")
        sys.stderr.flush()
        if done.wait(_EACH_S):
            break
        seconds += _EACH_S
    sys.stderr.write("\r" + " " * width + "\r")
    sys.stderr.flush()
