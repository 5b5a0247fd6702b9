"""Files replaced in one step: what fails half-way leaves the file that was there, or none."""

import contextlib
import os
import tempfile
from collections.abc import Iterator
from pathlib import Path


@contextlib.contextmanager
def beside(target: Path, data: bytes = b"", *, on_disk: bool = True) -> Iterator[Path]:
    """Yield a file with this data in the folder of `target`, on the disk before it is used; gone afterwards.

    Where `on_disk` is false the system writes it when it will, which is many times as quick: for what is looked at
    before anything hangs on it.

    Raises:
        OSError: it can't be written.
    """
    handle, name = tempfile.mkstemp(prefix=f".{target.stem[:40]}-", suffix=target.suffix, dir=target.parent)
    path = Path(name)
    try:
        with os.fdopen(handle, "wb") as out:
            out.write(data)
            if on_disk:
                out.flush()
                os.fsync(out.fileno())
        yield path
    finally:
        path.unlink(missing_ok=True)


def replace(target: Path, data: bytes, *, on_disk: bool = True) -> None:
    """Put data in the place of a file, which keeps its permissions, or make it; in one step; `on_disk` as `beside`.

    Raises:
        OSError: it can't be written; what was there is still there.
    """
    with beside(target, data, on_disk=on_disk) as path:
        put(path, target)


def put(path: Path, target: Path) -> None:
    """Put a file in the place of another one, whose permissions it takes, in one step."""
    path.chmod(target.stat().st_mode & 0o777 if target.exists() else 0o666 & ~_umask())
    os.replace(path, target)  # noqa: PTH105 - named for what it promises: one step or none


def _umask() -> int:
    """What the system takes off the permissions of a new file; there is no asking for it without setting it."""
    umask = os.umask(0o077)
    os.umask(umask)
    return umask
