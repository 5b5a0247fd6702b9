"""The order of bends and where the back gauge stands for each: against which edge, and how far to the bend line.

order   from the edges inward, row by row, what lies further out in any row first: common practice. Where that leaves a
        bend without a stop and there is but one row, along it from its first edge, each against the far one
stop    the nearer edge of the flat that runs along the bend line and is still flat up to it; else the outer face of
        the flange bent last beside it, where that stands square; else none: the sheet is laid by its line

Whether what is bent already clears the tools isn't looked at here. Lengths are mm.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from parts.forming.sections import Row, rows_across, sections
from parts.forming.table import BendRow
from parts.geometry import Line, cross
from parts.profile import Profile
from parts.tolerance import PARALLEL_RAD

EDGE_MM = 1e-6
"""An edge this close to where the flat ends beside a bend is the one that ends it: rounding."""
SQUARE_RAD = 1e-9
_NAMES = ("right", "upper right", "upper", "upper left", "left", "lower left", "lower", "lower right")


@dataclass(frozen=True, slots=True)
class Stop:
    """The stop of one bend: the edge of the flat by its side on the drawing, or the bend whose outer face it is.

    `off` is from there to the bend line; None where there is nothing to stop against.
    """

    bend: BendRow
    edge: str = ""
    flange: int = 0
    off: float | None = None


def stops(profile: Profile, table: Sequence[BendRow]) -> tuple[Stop, ...]:
    """Return the stops of the bends in the order of bending; of those in no section there are none."""
    rows = rows_across(profile, table)
    if not sections(profile, table):
        return ()
    edges = [segment for loop in profile.outside for segment in loop.segments if isinstance(segment, Line)]
    places = [_Place(row, tuple(_is_straight(edges, row, end) for end in (True, False))) for row in rows]
    made = list(_stops(places, _inward(rows)))
    if len(rows) == 1 and any(stop.off is None for stop in made):
        along = list(_stops(places, [(0, i) for i in range(len(rows[0].bends))]))
        if sum(stop.off is None for stop in along) < sum(stop.off is None for stop in made):
            return tuple(along)
    return tuple(made)


@dataclass(frozen=True, slots=True)
class _Place:
    """A row, and whether the edge that it begins and the one that it ends at run along its bends."""

    row: Row
    straight: tuple[bool, ...]


def _inward(rows: Sequence[Row]) -> list[tuple[int, int]]:
    """The rows and the places in them in the order of bending; what several rows share comes once."""
    found = []
    for k, row in enumerate(rows):
        count = len(row.bends)
        for i in range(count):
            level = min(i, count - 1 - i)
            found.append((-((count - 1) // 2 - level), k, level, i))
    return [(k, i) for _, k, _, i in sorted(found)]


def _stops(places: Sequence[_Place], order: Sequence[tuple[int, int]]) -> Iterator[Stop]:
    made: set[int] = set()
    for k, i in order:
        bend = places[k].row.bends[i]
        if bend.number not in made:
            yield _stop(places[k], i, made)
            made.add(bend.number)


def _stop(place: _Place, i: int, made: set[int]) -> Stop:
    row = place.row
    bend, at = row.bends[i], row.lines[i]
    ways = []
    for end, off, beside in ((0, at, range(i - 1, -1, -1)), (1, row.length - at, range(i + 1, len(row.bends)))):
        bent = next((j for j in beside if row.bends[j].number in made), None)
        if bent is None and place.straight[end]:
            ways.append((0, off, Stop(bend, _name(row, end), 0, off)))
        elif bent is not None and abs(row.bends[bent].fold.angle - math.pi / 2) <= SQUARE_RAD:
            fold = row.bends[bent].fold
            off = abs(row.lines[bent] - at) - fold.allowance / 2 + fold.setback
            ways.append((1, off, Stop(bend, "", row.bends[bent].number, off)))
    return min(ways, key=lambda way: way[:2])[2] if ways else Stop(bend)


def _name(row: Row, end: int) -> str:
    """Which edge of the drawing it is: the one on its left, say."""
    ux, uy = row.way
    sign = 1 if end else -1
    return _NAMES[round(math.atan2(sign * uy, sign * ux) / (math.pi / 4)) % 8]


def _is_straight(edges: Sequence[Line], row: Row, is_first: bool) -> bool:
    """Whether the edge at one end of a row is a line along its bends, beside the bend next to it."""
    i = 0 if is_first else -1
    line, (ux, uy) = row.bends[i].line, row.way
    off = -row.lines[0] if is_first else row.length - row.lines[-1]
    (x, y), (vx, vy) = line.start, line.heading
    for edge in edges:
        if abs(cross(*edge.heading, vx, vy)) > PARALLEL_RAD:
            continue
        (ax, ay), (bx, by) = edge.start, edge.end
        if abs((ax - x) * ux + (ay - y) * uy - off) > EDGE_MM:
            continue
        along = sorted(((px - x) * vx + (py - y) * vy) for px, py in ((ax, ay), (bx, by)))
        if along[0] < line.length and along[1] > 0:
            return True
    return False
