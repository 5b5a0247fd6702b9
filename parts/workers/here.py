"""What a process that works for another is like: its surroundings, how much memory it may have, that it gives way."""

import contextlib
import os
import sys
from pathlib import Path

_role = {"worker": False}
_GIVE_WAY = 10
"""Niceness of a worker: whoever asks for a page comes first."""


def is_worker() -> bool:
    """Tell whether this process works for another one, which watches over it."""
    return _role["worker"]


def surroundings() -> dict[str, str]:
    """Return the environment in which a process finds this project's modules as this one does."""
    here = str(Path(__file__).parents[2])
    return {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, (here, os.environ.get("PYTHONPATH"))))}


def limit_memory(megabytes: int) -> None:
    """Let this process hold no more data, where the system can see to it: what wants more gets a MemoryError."""
    with contextlib.suppress(ImportError, ValueError, OSError):  # not on every system, or not to be had there
        import resource  # noqa: PLC0415 - not on every system

        resource.setrlimit(resource.RLIMIT_DATA, (megabytes * 2**20, megabytes * 2**20))


def limit_processor(seconds: float) -> None:
    """Have this process ended by the system once it has worked so much longer, in one long step of a library too."""
    with contextlib.suppress(ImportError, ValueError, OSError):
        import resource  # noqa: PLC0415 - not on every system

        spent = resource.getrusage(resource.RUSAGE_SELF)
        until = int(spent.ru_utime + spent.ru_stime + seconds) + 1
        resource.setrlimit(resource.RLIMIT_CPU, (until, resource.getrlimit(resource.RLIMIT_CPU)[1]))


def peak_mb() -> float:
    """Return the most memory that this process has held, MB; 0 where the system doesn't tell.

    Linux counts in `ru_maxrss` what the process that started this one held, so its own peak is read elsewhere.
    """
    with contextlib.suppress(OSError, StopIteration):
        status = Path("/proc/self/status").read_text("ascii", "replace").splitlines()
        return int(next(line for line in status if line.startswith("VmHWM:")).split()[1]) / 2**10
    with contextlib.suppress(ImportError):
        import resource  # noqa: PLC0415 - not on every system

        most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        return most / (2**20 if sys.platform == "darwin" else 2**10)
    return 0.0


def become_worker() -> None:
    """Say of this process that it works for another, and let others have the processor first."""
    _role["worker"] = True
    with contextlib.suppress(AttributeError, OSError):
        os.nice(_GIVE_WAY)
