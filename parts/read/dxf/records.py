"""DXF as records: the text's pairs of group code and value, gathered into one record per entity or row.

Reading the pairs ourselves keeps time and memory in bounds whatever a file holds: a record is handed on and
forgotten, and sections without geometry are passed over. Group codes follow the published DXF reference.
"""

import io
from collections.abc import Iterator
from dataclasses import dataclass, field

from parts.errors import Unreadable
from parts.geometry import Point
from parts.read.coordinate import coordinate, plain
from parts.read.dxf.binary import binary_groups, is_binary
from parts.read.dxf.encoding import encoding_of, text_of
from parts.read.limits import MOST_RECORDS, MOST_SEGMENTS, Budget

_READ = ("HEADER", "TABLES", "BLOCKS", "ENTITIES")
# A vertex has up to six groups: two coordinates, two widths, a bulge, a name.
_MOST_GROUPS = 6 * MOST_SEGMENTS
_LOOK_AT_CLOCK = 4096
_MOST_KNOWN = 1000  # ways in which codes are written
_LONGEST_CODE = 9  # digits; a code has four at most


@dataclass(slots=True)
class Rec:
    """One record: what it is (LINE, VERTEX, LAYER), where, and its groups in order."""

    section: str
    kind: str
    groups: list[tuple[int, bytes]] = field(default_factory=list)
    encoding: str = ""

    @property
    def is_read(self) -> bool:
        """Whether it is in a section that matters, or stands before the first one."""
        return self.section in _READ or self.kind == "COMMENT"

    def take(self, code: int, value: bytes) -> None:
        """Take one more group.

        Raises:
            Unreadable: if there are too many.
        """
        if len(self.groups) >= _MOST_GROUPS:
            raise Unreadable(f"one {self.kind} in it has more than {_MOST_GROUPS:,} values")
        self.groups.append((code, value))

    def _first(self, code: int) -> bytes | None:
        for c, value in self.groups:  # a generator would take twice as long
            if c == code:
                return value
        return None

    def text(self, code: int, default: str = "") -> str:
        """Return a group's text."""
        value = self._first(code)
        return default if value is None else text_of(value, self.encoding)

    def number(self, code: int, default: float | None = None) -> float:
        """Return a group's number.

        Raises:
            Unreadable: if it isn't there and has no default, or is no number worth reading.
        """
        value = self._first(code)
        if value is not None:
            return coordinate(value, f"group {code} of a {self.kind}")
        if default is None:
            raise Unreadable(f"a {self.kind} in it lacks its group {code}; it is broken or cut short")
        return default

    def whole(self, code: int, default: int = 0) -> int:
        """Return a group's whole number.

        Raises:
            Unreadable: if it is none.
        """
        number = self.number(code, default)
        if number % 1:
            raise Unreadable(f"group {code} of a {self.kind} should be a whole number and is {number:g}")
        return int(number)

    def variable(self, name: bytes) -> bytes:
        """Return the value of a header variable as it stands; nothing where it isn't given."""
        at = next((i for i, (code, value) in enumerate(self.groups) if code == 9 and value.strip() == name), None)
        following = [] if at is None else self.groups[at + 1 : at + 2]
        return following[0][1].strip() if following and following[0][0] != 9 else b""

    def numbers(self, code: int) -> list[float]:
        """Return the numbers of every group of a code, in order."""
        return [coordinate(value, f"group {c} of a {self.kind}") for c, value in self.groups if c == code]

    def point(self, code: int = 10) -> Point:
        """Return a point of the plane: x in `code`, y in `code + 10`."""
        return self.number(code), self.number(code + 10)

    def points(self, code: int = 10) -> list[Point]:
        """Return every point that starts with `code`."""
        xs, ys = self.numbers(code), self.numbers(code + 10)
        if len(xs) != len(ys):
            raise Unreadable(f"a {self.kind} in it has {len(xs)} x and {len(ys)} y coordinates; it is broken")
        return list(zip(xs, ys, strict=True))


def records(data: bytes, budget: Budget) -> Iterator[Rec]:
    """Yield the records of the sections that matter; comments before the first section come as one COMMENT.

    Raises:
        Unreadable: if the file is broken, ends early, or holds too much.
    """
    current, count = Rec("", "COMMENT"), 0
    for code, value in _groups(data, budget):
        if code == 0:
            count += 1
            if count > MOST_RECORDS:
                raise Unreadable(f"it holds more than {MOST_RECORDS:,} entities; leave only the part's outline in it")
            if current.is_read:
                yield current
            current = _next(current, plain(value).upper())
            if current.kind == "EOF":
                return
        elif code == 2 and current.kind == "SECTION" and not current.section:
            current.section = plain(value).upper()
        elif current.is_read:
            current.take(code, value)
    raise Unreadable("it ends before its end mark (EOF), so part of it is missing; copy or save it again")


def _groups(data: bytes, budget: Budget) -> Iterator[tuple[int, bytes]]:
    return binary_groups(data, budget) if is_binary(data) else _text_groups(_text_lines(data), budget)


def _text_lines(data: bytes) -> bytes:
    for mark, encoding in ((b"\xff\xfe", "utf-16-le"), (b"\xfe\xff", "utf-16-be")):
        if data.startswith(mark):
            data = data[2:].decode(encoding, "replace").encode("utf-8", "replace")
    return data if b"\n" in data else data.replace(b"\r", b"\n")


def _next(before: Rec, kind: str) -> Rec:
    section = "" if kind in ("SECTION", "ENDSEC") or before.kind == "ENDSEC" else before.section
    encoding = encoding_of(before.variable(b"$DWGCODEPAGE")) if before.section == "HEADER" else before.encoding
    return Rec(section, kind, encoding=encoding)


def _text_groups(data: bytes, budget: Budget) -> Iterator[tuple[int, bytes]]:
    lines = io.BytesIO(data)
    if data.startswith(b"\xef\xbb\xbf"):
        lines.seek(3)
    known: dict[bytes, int] = {}  # a file has few codes, written in few ways
    number = 0
    while written := lines.readline():
        value = lines.readline()
        number += 2
        if number % _LOOK_AT_CLOCK == 0:
            budget.time()
        code = known.get(written)
        if code is None:
            if not written.strip() and not value.strip():  # blank lines at the end
                continue
            code = _code(written, number - 1)
            if len(known) < _MOST_KNOWN:
                known[written] = code
        yield code, value


def _code(written: bytes, line: int) -> int:
    digits = written.strip()
    if not digits.removeprefix(b"-").isdigit():  # of bytes, digits are 0 to 9 alone
        raise Unreadable(f"line {line} should be a group code and is {plain(written)[:20]!r}; it is broken")
    return int(digits[:_LONGEST_CODE])
