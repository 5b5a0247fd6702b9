"""The shop's own file as a whole: read with its stamp, and replaced in one step where it is still that edition.

A *stamp* is a digest of the bytes. Who changes the file says which stamp it was read with, so that a change made
by hand meanwhile is never written over unseen.
"""

import os
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

from parts.data import beside, read
from parts.errors import DataError
from parts.shop import numbers as shop
from parts.shop.schema import ShopData
from parts.shop.tree import as_table

LARGEST = 256 * 1024
"""Bytes a shop's file may have: some fifty times what a shop with every number of its own needs."""

NONE_YET = "none"
"""The stamp of a file that isn't there."""

_saving = threading.Lock()


class OtherEdition(DataError):
    """The file is no longer the one that was read; nothing was written."""


@dataclass(frozen=True, slots=True)
class ShopFile:
    """The file as it was read; without text where it isn't there."""

    path: str
    text: str
    stamp: str

    @property
    def is_there(self) -> bool:
        """Whether there is a file."""
        return self.stamp != NONE_YET


def read_file() -> ShopFile:
    """Return the shop's own file as it stands, whether or not its numbers can be used.

    Raises:
        DataError: it is there and can't be read as text.
    """
    path = shop.path()
    try:
        raw = Path(path).read_bytes()
    except FileNotFoundError:
        return ShopFile(path, "", NONE_YET)
    except (OSError, ValueError) as error:
        raise DataError(f"{path} can't be read ({error}).") from None
    return ShopFile(path, _text(raw, path), sha256(raw).hexdigest()[:16])


def text_of(raw: bytes, name: str) -> str:
    """Return the text of a file handed over to become the shop's own.

    Raises:
        DataError: it is too large or no UTF-8 text.
    """
    if len(raw) > LARGEST:
        raise DataError(f"{name} has {len(raw)} bytes; a shop's file has at most {LARGEST}.")
    return _text(raw, name)


def save(text: str, stamp: str) -> ShopFile:
    """Put `text` in the place of the file that had this stamp, in one step, and return the file as it is then.

    Raises:
        OtherEdition: the file has changed since.
        DataError: the text would not load, or can't be written.
    """
    with _saving:
        present = read_file()
        if present.stamp != stamp:
            raise OtherEdition(f"{present.path} has been changed since this page was opened; nothing was saved.")
        # the place behind a link is written, and the link stays
        target = Path(os.path.realpath(present.path))
        try:
            target.parent.mkdir(parents=True, exist_ok=True)
            with beside(target, text.encode("utf-8")) as path:
                found = shop.checked(read(path))
                if not isinstance(found, ShopData):
                    raise DataError(f"{present.path}: {found[0].sentence}; nothing was saved.")
                if present.is_there:
                    path.chmod(target.stat().st_mode & 0o777)
                os.replace(path, target)  # noqa: PTH105 - named for what it promises: one step or none
        except OSError as error:
            raise DataError(
                f"{present.path} can't be written ({error.strerror or error}); nothing was saved."
            ) from None
        return read_file()


def set_in(own: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """Yield each entry of a shop's tree and its value in a few words, for a list of what is set."""
    yield from _set_in(own, "")


def _set_in(table: dict[str, Any], before: str) -> Iterator[tuple[str, str]]:
    for key, value in table.items():
        name = f"{before}{key}"
        if isinstance(value, dict):
            yield from _set_in(value, f"{name}.")
        elif key == "rows" and isinstance(value, list) and value:
            ends = [next((str(v) for k, v in as_table(row).items() if k.startswith("thickness")), "?") for row in value]
            span = f", {ends[0]} to {ends[-1]}" if len(ends) > 1 else f", {ends[0]}"
            yield before.rstrip("."), f"{len(value)} row{'s' * (len(value) != 1)}{span}"
        else:
            yield name, repr(value) if isinstance(value, str) else str(value)


def _text(raw: bytes, name: str) -> str:
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError:
        raise DataError(f"{name} is no UTF-8 text; save it as UTF-8.") from None
