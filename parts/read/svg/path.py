"""SVG path data -> strokes: every command of SVG 1.1, section 8.3, in user units, y downward."""

import math
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from parts.errors import Unreadable
from parts.geometry import Point
from parts.read.coordinate import coordinate
from parts.read.curve_kinds import Bezier, EllipticArc
from parts.read.limits import Budget
from parts.read.pieces import Piece, bulged, line
from parts.read.svg.numbers import NUMBER

_GAP = re.compile(r"[\s,]*")
_FLAG = re.compile(r"[01]")
# Numbers that each command takes; it may be repeated without its letter.
_COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
_FLAGS = (3, 4)  # places of an arc's flags, which need no gap after them
# Half a chord and a radius that differ by less than this part make half a turn: rounding of both.
_HALF_TURN = 1e-12


def subpaths(data: str, budget: Budget) -> Iterator[tuple[list[Piece], bool]]:
    """Yield each subpath's pieces and whether it is closed.

    Raises:
        Unreadable: if it isn't path data; a browser would draw it up to there, and leave the rest out.
    """
    pen = _Pen()
    for letter, values in _commands(data):
        budget.segments()
        if letter in "Mm" and (pen.pieces or pen.closed):
            yield pen.pieces, pen.closed
        elif letter not in "Mm" and pen.closed:  # after Z a new subpath starts where the old one did
            yield pen.pieces, True
            pen.move(pen.start)
        pen.take(letter, values)
    if pen.pieces:
        yield pen.pieces, pen.closed


def _commands(data: str) -> Iterator[tuple[str, list[float]]]:
    at, letter = _skip(data, 0), ""
    if at < len(data) and data[at] not in "Mm":
        raise _broken(data, at)
    while at < len(data):
        if data[at].isalpha():
            letter = data[at]
            at = _skip(data, at + 1)
        elif letter in "Zz":  # no letter yet, or numbers after Z
            raise _broken(data, at)
        if letter.upper() not in _COUNTS:
            raise _broken(data, at)
        values, at = _values(data, at, letter.upper())
        yield letter, values
        if letter in "Mm":
            letter = "L" if letter == "M" else "l"


def _values(data: str, at: int, letter: str) -> tuple[list[float], int]:
    values = []
    for i in range(_COUNTS[letter]):
        pattern = _FLAG if letter == "A" and i in _FLAGS else NUMBER
        match = pattern.match(data, at)
        if match is None:
            raise _broken(data, at)
        values.append(coordinate(match[0], "a coordinate of a path"))
        at = _skip(data, match.end())
    return values, at


def _skip(data: str, at: int) -> int:
    match = _GAP.match(data, at)
    return match.end() if match else at


def _broken(data: str, at: int) -> Unreadable:
    return Unreadable(f"a path in it can't be followed from {data[at : at + 20]!r} on")


@dataclass(slots=True)
class _Pen:
    """Where the path is, what it has drawn since it was last moved, and what a smooth curve goes on from."""

    at: Point = (0.0, 0.0)
    start: Point = (0.0, 0.0)
    pieces: list[Piece] = field(default_factory=list)
    closed: bool = False
    cubic: Point | None = None
    quadratic: Point | None = None

    def move(self, to: Point) -> None:
        """Start a new subpath."""
        self.at = self.start = to
        self.pieces, self.closed = [], False

    def take(self, letter: str, values: Sequence[float]) -> None:
        """Follow one command."""
        x, y = self.at if letter.islower() else (0.0, 0.0)
        cubic, quadratic, self.cubic, self.quadratic = self.cubic, self.quadratic, None, None
        kind = letter.upper()
        if kind == "Z":
            self._line(self.start)
            self.closed = True
        elif kind in "HV":
            here = self.at
            self._line((values[0] + x, here[1]) if kind == "H" else (here[0], values[0] + y))
        elif kind == "A":
            rx, ry, turn, large, sweep, ex, ey = values
            end = ex + x, ey + y
            self.pieces += arc(self.at, end, (abs(rx), abs(ry), turn), (large > 0, sweep > 0))
            self.at = end
        else:
            given = [(a + x, b + y) for a, b in zip(values[::2], values[1::2], strict=True)]
            _TAKE[kind](self, given, cubic, quadratic)

    def _line(self, end: Point) -> None:
        self.pieces += line(self.at, end)
        self.at = end

    def _curve(self, points: Sequence[Point]) -> None:
        if any(p != self.at for p in points):
            self.pieces.append(Bezier((self.at, *points)))
        self.at = points[-1]

    def _mirrored(self, control: Point | None) -> Point:
        return self.at if control is None else (2 * self.at[0] - control[0], 2 * self.at[1] - control[1])

    def move_to(self, given: list[Point], _cubic: Point | None, _quadratic: Point | None) -> None:
        """M."""
        self.move(given[0])

    def line_to(self, given: list[Point], _cubic: Point | None, _quadratic: Point | None) -> None:
        """L."""
        self._line(given[0])

    def cubic_to(self, given: list[Point], cubic: Point | None, _quadratic: Point | None) -> None:
        """C, or S whose first control point mirrors the last one."""
        full = given if len(given) == 3 else [self._mirrored(cubic), *given]
        self._curve(full)
        self.cubic = full[1]

    def quadratic_to(self, given: list[Point], _cubic: Point | None, quadratic: Point | None) -> None:
        """Q, or T whose control point mirrors the last one."""
        full = given if len(given) == 2 else [self._mirrored(quadratic), *given]
        self._curve(full)
        self.quadratic = full[0]


_TAKE: dict[str, Callable[[_Pen, list[Point], Point | None, Point | None], None]] = {
    "M": _Pen.move_to, "L": _Pen.line_to, "C": _Pen.cubic_to, "S": _Pen.cubic_to,
    "Q": _Pen.quadratic_to, "T": _Pen.quadratic_to,
}  # fmt: skip


def arc(start: Point, end: Point, size: tuple[float, float, float], flags: tuple[bool, bool]) -> tuple[Piece, ...]:
    """Return an elliptical arc by its ends: SVG 1.1, appendix F.6.5, out-of-range radii as F.6.6 says.

    Args:
        start: first point.
        end: last point.
        size: the radii, and the turn of their axes in degrees.
        flags: whether it is the larger arc, and whether its angle grows (turns left where y is up).
    """
    rx, ry, turn = size
    large, grows = flags
    if start == end or rx == 0 or ry == 0:
        return line(start, end)
    if rx == ry:
        return bulged(start, end, (1 if grows else -1) * _bulge(math.dist(start, end) / 2 / rx, large))
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    hx, hy = (start[0] - end[0]) / 2, (start[1] - end[1]) / 2
    x, y = (c * hx + s * hy) / rx, (c * hy - s * hx) / ry  # half the chord where the ellipse is a unit circle
    half = math.hypot(x, y)
    if not math.isfinite(half):  # a radius of next to nothing
        return line(start, end)
    grown = max(half, 1.0)
    rx, ry, x, y, half = rx * grown, ry * grown, x / grown, y / grown, half / grown
    if half == 0:
        return line(start, end)
    off = math.sqrt(max(1 - half * half, 0.0)) / half * (1 if large != grows else -1)
    cx, cy = off * y, -off * x
    centre = (
        c * rx * cx - s * ry * cy + (start[0] + end[0]) / 2,
        s * rx * cx + c * ry * cy + (start[1] + end[1]) / 2,
    )
    first, last = math.atan2(y - cy, x - cx), math.atan2(-y - cy, -x - cx)
    sweep = (last - first) % (2 * math.pi) if grows else -((first - last) % (2 * math.pi))
    if sweep == 0:
        return line(start, end)
    return (EllipticArc(centre, (c * rx, s * rx), (-s * ry, c * ry), first, sweep),)


def _bulge(half_chord: float, large: bool) -> float:
    """The bulge of an arc of radius 1 over twice `half_chord`; a radius too small for it is made to fit."""
    if half_chord >= 1 - _HALF_TURN:
        return 1.0
    half = math.asin(half_chord)
    return math.tan((math.pi - half if large else half) / 2)
