"""What two processes send each other through a pipe: pickled values, one after the other."""

import pickle
from typing import Any, BinaryIO


def send(stream: BinaryIO, value: object) -> None:
    """Send a value.

    Raises:
        OSError: the other process has ended.
    """
    pickle.dump(value, stream, protocol=pickle.HIGHEST_PROTOCOL)
    stream.flush()


def receive(stream: BinaryIO) -> Any:  # noqa: ANN401 - whatever was sent
    """Return the next value.

    Raises:
        EOFError: the other process has ended.
    """
    try:
        return pickle.load(stream)  # noqa: S301 - of a process that this one started, or was started by
    except pickle.UnpicklingError:
        raise EOFError from None
