"""The shop's own mark on its drawings: a PNG or an SVG beside the shop's own file, bounded before it is opened.

It is named in `[title_block]` by its file's name alone, so that nothing outside that folder is read. What a file is, is
told by its bytes. A PNG may have so many pixels as its head says; an SVG is read as any drawing is, by `parts.read`.
"""

import struct
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from parts.errors import DataError
from parts.shop.numbers import edition, load

LARGEST_BYTES, MOST_PIXELS = 300_000, 2000
"""Of the file; along each side of a PNG."""
ENDINGS = (".png", ".svg")
_PNG = b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR"


@dataclass(frozen=True, slots=True)
class Mark:
    """The bytes of a mark, what it is called, and what it is."""

    data: bytes
    name: str
    kind: Literal["png", "svg"]


def mark() -> Mark | None:
    """Return the shop's mark, None where it has none.

    Raises:
        DataError: the shop's own file is unusable, or the mark that it names isn't there, is too large, or is neither.
    """
    at = edition()
    name = load(at).title_block.mark
    if not name:
        return None
    return Mark(*_read(Path(at.path).parent / name))


def _read(path: Path) -> tuple[bytes, str, Literal["png", "svg"]]:
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST_BYTES + 1)
    except OSError as error:
        raise _unusable(path.name, f"can't be read beside the shop's own file: {error.strerror or error}") from error
    if len(data) > LARGEST_BYTES:
        raise _unusable(path.name, f"has more than {LARGEST_BYTES // 1000} kB")
    if data.startswith(_PNG):
        wide, high = struct.unpack(">II", data[16:24]) if len(data) >= 24 else (0, 0)
        if not (0 < wide <= MOST_PIXELS and 0 < high <= MOST_PIXELS):
            raise _unusable(path.name, f"has {wide} by {high} pixels; up to {MOST_PIXELS} by {MOST_PIXELS} are read")
        return data, path.name, "png"
    if data.lstrip(b"\xef\xbb\xbf \t\r\n").startswith((b"<?xml", b"<svg", b"<!--")):
        return data, path.name, "svg"
    raise _unusable(path.name, "is neither PNG nor SVG")


def _unusable(name: str, why: str) -> DataError:
    return DataError(f"title_block.mark: {name} {why}.")
