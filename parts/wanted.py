"""Work that somebody waits for: it is given up between two of its steps once nobody does.

Whoever starts the work says how to tell; what takes long asks `step` now and then. Where nobody says, it is wanted.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar

_gone: ContextVar[Callable[[], bool] | None] = ContextVar("gone", default=None)


class Unwanted(BaseException):
    """Nobody waits for the work; no code on the way may take it for an error of its own."""


@contextmanager
def until_gone(is_gone: Callable[[], bool]) -> Iterator[None]:
    """Have the work within given up once `is_gone` says that whoever asked for it is.

    Raises:
        Unwanted: it was given up.
    """
    before = _gone.set(is_gone)
    try:
        yield
    finally:
        _gone.reset(before)


def step() -> None:
    """Go on with the work, or give it up.

    Raises:
        Unwanted: nobody waits for it.
    """
    is_gone = _gone.get()
    if is_gone and is_gone():
        raise Unwanted
