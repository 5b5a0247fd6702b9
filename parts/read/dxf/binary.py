"""Binary DXF: its groups, handed on as the text that the same file would hold.

Group codes have one byte before release 13 of the format, 255 standing before one of two bytes, and two bytes since.
What kind of value follows a code is told by the code's range, as the published DXF reference lists them.
"""

import itertools
import struct
from bisect import bisect_right
from collections.abc import Callable, Iterator

from parts.errors import Unreadable
from parts.read.limits import Budget

_MARK = b" Binary DXF\r\n\x1a\x00"
_LONGEST_MAKER = 20
"""Bytes of a program's name before the mark."""

_WIDE_STARTS = (b"\x00\x00", b"\xe7\x03")
"""A first group code of two bytes: 0, or 999 of a comment. Of one byte, the first letter follows a 0."""
_LONG_CODE = 255
_LOOK_AT_CLOCK = 2048


def is_binary(data: bytes) -> bool:
    """Return whether a file begins as binary DXF does."""
    return _MARK in data[: _LONGEST_MAKER + len(_MARK)]


def binary_groups(data: bytes, budget: Budget) -> Iterator[tuple[int, bytes]]:
    """Yield each group's code and its value as text.

    Raises:
        Unreadable: if it takes too long, the file ends within a group, or holds a code that the format doesn't know.
    """
    at = data.find(_MARK) + len(_MARK)
    wide = data[at : at + 2] in _WIDE_STARTS
    for number in itertools.count(1):
        if at >= len(data):
            return
        if number % _LOOK_AT_CLOCK == 0:
            budget.time()
        try:
            code, at = _code(data, at, wide)
            value, at = _reader(code)(data, at)
        except (struct.error, IndexError, ValueError):
            raise Unreadable("it ends within an entry, so part of it is missing; copy or save it again") from None
        yield code, value


def _code(data: bytes, at: int, wide: bool) -> tuple[int, int]:
    if wide:
        return _two_bytes(data, at), at + 2
    if data[at] == _LONG_CODE:
        return _two_bytes(data, at + 1), at + 3
    return data[at], at + 1


def _two_bytes(data: bytes, at: int) -> int:
    return data[at] | data[at + 1] << 8


_Reader = Callable[[bytes, int], tuple[bytes, int]]


def _number(form: str) -> _Reader:
    packed = struct.Struct(f"<{form}")

    def read(data: bytes, at: int) -> tuple[bytes, int]:
        return repr(packed.unpack_from(data, at)[0]).encode(), at + packed.size

    return read


def _text(data: bytes, at: int) -> tuple[bytes, int]:
    end = data.index(0, at)
    return data[at:end], end + 1


def _chunk(data: bytes, at: int) -> tuple[bytes, int]:
    """Bytes by their count; they draw nothing."""
    return b"", at + 1 + data[at]


_INT16, _INT32, _INT64, _DOUBLE, _BYTE = (_number(form) for form in "hiqdB")

_RANGES: tuple[tuple[int, _Reader | None], ...] = (
    (0, _text), (10, _DOUBLE), (60, _INT16), (80, None), (90, _INT32), (100, _text), (106, None), (110, _DOUBLE),
    (150, None), (160, _INT64), (170, _INT16), (180, None), (210, _DOUBLE), (240, None), (270, _INT16), (290, _BYTE),
    (300, _text), (310, _chunk), (320, _text), (370, _INT16), (390, _text), (400, _INT16), (410, _text),
    (420, _INT32), (430, _text), (440, _INT32), (460, _DOUBLE), (470, _text), (482, None), (999, _text),
    (1004, _chunk), (1005, _text), (1010, _DOUBLE), (1060, _INT16), (1071, _INT32), (1072, None),
)  # fmt: skip
"""From which code on values are of which kind; None for codes that there aren't."""
_STARTS = [start for start, _ in _RANGES]


def _reader(code: int) -> _Reader:
    reader = _RANGES[bisect_right(_STARTS, code) - 1][1]
    if reader is None:
        raise Unreadable(f"it holds an entry by the code {code}, which binary DXF doesn't know; it is broken")
    return reader
