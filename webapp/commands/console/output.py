"""Output: where a command writes what it made, and what it never writes over.

The file that was read is whoever's it is: it is never written over, by whatever name or link it is called. Another
file is written over if Platewright wrote it, or if that is asked for with `--force`.
"""

import argparse
import os
import sys
import unicodedata
from collections.abc import Collection, Sequence
from pathlib import Path

from parts import Problem, Refused, shop
from parts.data import replace
from parts.errors import did_you_mean
from parts.export import wrote
from webapp.commands.console.given import STANDARD_STREAM


def declare_force(command: argparse.ArgumentParser) -> None:
    """Say how a file that somebody else wrote is written over."""
    command.add_argument(
        "--force", action="store_true", help="write over a file that Platewright didn't write; never over one it reads"
    )


def kind_of(output: str, formats: Collection[str]) -> str:
    """Return the format that a file's ending says.

    Raises:
        Refused: if that is none of these.
    """
    kind = Path(output).suffix.lstrip(".").lower()
    if kind in formats:
        return kind
    endings = ", ".join(f".{known}" for known in formats)
    raise _refusal(output, f"must end in one of {endings}{did_you_mean(kind, formats)}")


def folder_at(output: str) -> Path:
    """Return the folder that files go to; whether it is there yet is left open.

    Raises:
        Refused: a file is there.
    """
    folder = Path(output)
    if folder.exists() and not folder.is_dir():
        raise _refusal(output, "is a file; name a folder, which is made where it isn't there.")
    return folder


def write(data: bytes, output: str, read: Sequence[str] = (), *, force: bool = False) -> None:
    """Write a file in one step, or to standard output; `read` are the files that the command read.

    Raises:
        Refused: as `allow`.
        OSError: it can't be written; what was there is still there.
    """
    if output == STANDARD_STREAM:
        sys.stdout.buffer.write(data)
        return
    allow(output, read, force=force)
    target = Path(os.path.realpath(output))  # the place behind a link is written, and the link stays
    try:
        if target.exists() and not target.is_file():  # a device or a pipe
            target.write_bytes(data)
        else:
            replace(target, data)
    except OSError as error:
        raise OSError(error.errno, error.strerror or str(error), output) from error


def allow(output: str, read: Sequence[str] = (), *, force: bool = False) -> None:
    """Pass where a file may be written.

    Raises:
        Refused: if it is a folder, one of those that were read, or one that Platewright didn't write and `force` isn't
            given; the problem's parameter is `output`.
    """
    target = Path(output)
    if output == STANDARD_STREAM:
        return
    if any(_are_one(target, name) for name in (*read, shop.path())):
        raise _refusal(output, "is a file that is read here, which is never written over; name another.")
    if target.is_dir():
        raise _refusal(output, "is a folder; name a file in it.")
    if not force and target.is_file() and target.stat().st_size and not wrote(target):
        raise _refusal(output, "is there, and Platewright didn't write it; name another, or say --force.")


def _are_one(target: Path, name: str) -> bool:
    """Whether two names are of one file: the same, a link, or one that differs in capitals or accents' form alone."""
    try:
        if name == STANDARD_STREAM:
            return target.exists() and os.path.samestat(target.stat(), os.fstat(sys.stdin.fileno()))
        if target.exists() and target.samefile(name):
            return True
    except (OSError, ValueError):
        return False
    return _plain(str(target)) == _plain(name)


def _plain(name: str) -> str:
    """A name as a file system that ignores capitals takes it."""
    return unicodedata.normalize("NFC", os.path.realpath(name)).casefold()


def _refusal(output: str, message: str) -> Refused:
    return Refused((Problem("output", output, message),))
