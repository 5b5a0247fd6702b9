"""The bent part in section: what is seen of it from the end of its bends, found from its bend lines and outline.

section        across one row of parallel bends, from edge to edge of the flat: straight pieces with a bend between
piece          between two mould points, where outside faces would meet, or from one to the edge; measured outside.
               At a bend of half a turn, which has no mould point, to the outermost of the bend
base           the piece that lies level: the middle one of an odd number, else the longest

The face drawn is on top of the base. A part with bends across each other has a section for each direction; sections
alike are one. Lengths are mm, angles radians.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from parts.cached import cached_property
from parts.forming.allowance import Fold, Strip
from parts.forming.bent_strip import BentStrip, moved
from parts.forming.lines import bend_lines
from parts.forming.sides import Side, sides
from parts.forming.table import BendRow
from parts.geometry import Box, Loop, Point
from parts.profile import Bend, Profile
from parts.tolerance import LIMIT_SLACK_MM, PARALLEL_RAD

MOST_SECTIONS = 6
"""More sections than these are of bends that fan out, as on a cone, of which none shows the part."""
_SAME_MM = 1e-6
"""Pieces that differ by less are alike: rounding of where lines and edges are."""


@dataclass(frozen=True, slots=True)
class Row:
    """Bends side by side across a flat, from its left edge to its right, or from below: see `rows_across`.

    `lines` is where each bend line is from the first edge, `length` where the other edge is, both along `way`.
    """

    bends: tuple[BendRow, ...]
    lines: tuple[float, ...]
    length: float
    way: Point

    @property
    def strip(self) -> Strip:
        """Its straight pieces and bends."""
        folds = tuple(bend.fold for bend in self.bends)
        ends = [0.0, *self.lines, self.length]
        half = [0.0, *(fold.allowance / 2 for fold in folds), 0.0]
        pieces = (ends[i + 1] - ends[i] - half[i] - half[i + 1] for i in range(len(ends) - 1))
        return Strip(tuple(pieces), folds)


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of a section: where it is measured on its outer face, the way that face looks, and how long it is."""

    start: Point
    end: Point
    outward: Point
    outside: float


@dataclass(frozen=True)
class Section:
    """The bent part across one row of bends; `alike` are the numbers of the bends of rows that bend the same."""

    row: Row
    alike: tuple[tuple[int, ...], ...] = ()

    @property
    def numbers(self) -> tuple[int, ...]:
        """The numbers of its bends in the bend table, from the first edge on."""
        return tuple(bend.number for bend in self.row.bends)

    @property
    def folds(self) -> tuple[Fold, ...]:
        """Its bends, from the first edge on."""
        return self.row.strip.folds

    @property
    def thickness(self) -> float:
        """The thickness of the sheet."""
        return self.folds[0].thickness

    @cached_property
    def bent(self) -> BentStrip:
        """Its strip as it is bent, the base level."""
        strip = self.row.strip
        middle, odd = divmod(len(strip.straights), 2)
        base = middle if odd else max(range(len(strip.straights)), key=lambda i: round(strip.straights[i], 6))
        return BentStrip(strip, -BentStrip(strip).headings[base])

    @property
    def centres(self) -> tuple[Point, ...]:
        """The middle of each bend's round."""
        return self.bent.centres

    @cached_property
    def outline(self) -> Loop:
        """What is seen of it: both faces in true thickness, joined at the edges."""
        return self.bent.outline

    @property
    def box(self) -> Box:
        """The bounding box of the section."""
        return self.outline.box

    @property
    def size(self) -> tuple[float, float]:
        """How wide and how high it is over all, mm."""
        x0, y0, x1, y1 = self.box
        return x1 - x0, y1 - y0

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """Its pieces with their outside sizes, from the first edge on; measured where most of its bends turn away."""
        return tuple(self._pieces())

    def _pieces(self) -> Iterator[Piece]:
        folds = self.folds
        for i, ((start, end), heading) in enumerate(zip(self.bent.straights, self.bent.headings, strict=True)):
            beside = folds[max(i - 1, 0) : i + 1]
            before, after = _taken(folds[i - 1]) if i else 0.0, _taken(folds[i]) if i < len(folds) else 0.0
            below = sum(1 if fold.up else -1 for fold in beside) >= 0
            off = 0.0 if below else self.thickness
            up = heading + math.pi / 2
            yield Piece(
                moved(moved(start, heading, -before), up, off),
                moved(moved(end, heading, after), up, off),
                moved((0.0, 0.0), up, -1.0 if below else 1.0),
                math.dist(start, end) + before + after,
            )


def sections(profile: Profile, table: Sequence[BendRow]) -> tuple[Section, ...]:
    """Return the sections of a part by its bend table; none for bends that fan out, or that no section is found for."""
    found: list[Section] = []
    for row in rows_across(profile, table):
        for i, other in enumerate(found):
            if _alike(row, other.row):
                found[i] = Section(other.row, (*other.alike, tuple(bend.number for bend in row.bends)))
                break
        else:
            found.append(Section(row))
    return tuple(found) if len(found) <= MOST_SECTIONS else ()


def rows_across(profile: Profile, table: Sequence[BendRow]) -> tuple[Row, ...]:
    """Return each row of bends side by side, every bend in one; in none where its sides aren't known."""
    lines = bend_lines(profile)
    if not table or len(table) != len(lines):
        return ()
    beside, seen, rows = sides(profile, lines), set[int](), []
    for first in range(len(lines)):
        if first not in seen and (row := _row_across(lines, table, beside, first)):
            seen.update(bend.number - 1 for bend in row.bends)
            rows.append(row)
    return tuple(row for row in rows if min(row.strip.straights) > -LIMIT_SLACK_MM)


def _row_across(
    lines: Sequence[Bend], table: Sequence[BendRow], beside: Sequence[tuple[Side | None, Side | None]], first: int
) -> Row | None:
    """The row of a bend: the bends met to its left and its right, each by the one before it, and the edges."""
    ux, uy = lines[first].line.heading
    way = (-uy, ux)
    if way[0] < -PARALLEL_RAD or (abs(way[0]) <= PARALLEL_RAD and way[1] < 0):
        way = (uy, -ux)
    places = {first: 0.0}
    ends = []
    for sign in (-1, 1):
        at, off = first, 0.0
        while True:
            vx, vy = lines[at].line.heading
            is_left = (-vy * way[0] + vx * way[1] > 0) == (sign > 0)
            side = beside[at][0 if is_left else 1]
            if side is None:
                return None
            off += side.off
            if side.bend is None:
                ends.append(sign * off)
                break
            if side.bend in places:
                return None
            at = side.bend
            places[at] = sign * off
    order = sorted(places, key=places.__getitem__)
    low, high = ends
    return Row(tuple(table[i] for i in order), tuple(places[i] - low for i in order), high - low, way)


def _alike(one: Row, other: Row) -> bool:
    """Whether two rows bend to the same section, seen from the same end or from the other."""
    if len(one.bends) != len(other.bends):
        return False
    a, b = one.strip, other.strip
    return any(
        all(abs(p - q) <= _SAME_MM for p, q in zip(a.straights, straights, strict=True)) and a.folds == folds
        for straights, folds in ((b.straights, b.folds), (b.straights[::-1], b.folds[::-1]))
    )


def _taken(fold: Fold) -> float:
    """What a bend takes of the piece beside it, as it is measured outside."""
    return fold.setback if fold.angle < math.pi - PARALLEL_RAD else fold.radius + fold.thickness
