"""Tiles: a pattern in true size cut into the sheets of a paper, with what joins them again.

    field     what a sheet shows of the pattern: the sheet without its margins and the strip at its foot
    overlap   what two sheets side by side both show, so that one can be laid over the other
    join      a place in the middle of an overlap, marked on both sheets: the marks are laid over one another

Rows count from the top, columns from the left. Lengths are mm; places are of the part.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from parts.geometry import Box, Point

MARGIN = 10.0
"""White round a field: more than any desk printer leaves unprinted (common practice: 4 to 6.4 mm)."""
FOOT = 17.0
"""The strip below the field, for the bars and the place of the sheet."""
OVERLAP = 10.0
ROUND = 5.0
"""White round the pattern, within the fields."""


@dataclass(frozen=True, slots=True)
class Tile:
    """One sheet: its row and column from 0, and the field of it, where that is on the part."""

    row: int
    column: int
    field: Box

    @property
    def name(self) -> str:
        """What the sheet is called, its row and its column: `1-4`. Letters would read as sizes of paper."""
        return f"{self.row + 1}-{self.column + 1}"


@dataclass(frozen=True)
class Tiling:
    """A pattern over sheets so wide and high, in rows and columns; `origin` is the lower left of all fields."""

    width: float
    height: float
    rows: int
    columns: int
    origin: Point

    @property
    def across(self) -> float:
        """The width of a field."""
        return self.width - 2 * MARGIN

    @property
    def up(self) -> float:
        """The height of a field."""
        return self.height - 2 * MARGIN - FOOT

    @property
    def tiles(self) -> Iterator[Tile]:
        """Every sheet, row by row from the top."""
        for row in range(self.rows):
            for column in range(self.columns):
                x = self.origin[0] + column * (self.across - OVERLAP)
                y = self.origin[1] + (self.rows - 1 - row) * (self.up - OVERLAP)
                yield Tile(row, column, (x, y, x + self.across, y + self.up))

    def beside(self, tile: Tile) -> Iterator[tuple[str, Point]]:
        """Yield the name of each sheet beside one, and the middle of the overlap with it."""
        x0, y0, x1, y1 = tile.field
        half, (x, y) = OVERLAP / 2, ((x0 + x1) / 2, (y0 + y1) / 2)
        places = ((0, -1, (x0 + half, y)), (0, 1, (x1 - half, y)), (1, 0, (x, y0 + half)), (-1, 0, (x, y1 - half)))
        for down, right, at in places:
            row, column = tile.row + down, tile.column + right
            if 0 <= row < self.rows and 0 <= column < self.columns:
                yield Tile(row, column, tile.field).name, at

    def joins(self, tile: Tile) -> Iterator[Point]:
        """Yield the joins that a sheet shares with those beside it, in the middle of the overlaps, two to a side."""
        x0, y0, x1, y1 = tile.field
        half = OVERLAP / 2
        sides = ((tile.column > 0, x0 + half), (tile.column < self.columns - 1, x1 - half))
        for there, x in sides:
            yield from ((x, y0 + share * (y1 - y0)) for share in (0.25, 0.75) if there)
        for there, y in ((tile.row < self.rows - 1, y0 + half), (tile.row > 0, y1 - half)):
            yield from ((x0 + share * (x1 - x0), y) for share in (0.25, 0.75) if there)


def tiled(box: Box, long: float, short: float) -> Tiling:
    """Return the pattern of a bounding box over sheets of a paper, standing or lying, whichever takes fewer."""
    standing, lying = _tiling(box, short, long), _tiling(box, long, short)
    return standing if standing.rows * standing.columns <= lying.rows * lying.columns else lying


def _tiling(box: Box, width: float, height: float) -> Tiling:
    x0, y0, x1, y1 = box
    made = Tiling(width, height, 1, 1, (0.0, 0.0))
    wide, high = x1 - x0 + 2 * ROUND, y1 - y0 + 2 * ROUND
    columns, rows = _count(wide, made.across), _count(high, made.up)
    whole_x = made.across + (columns - 1) * (made.across - OVERLAP)
    whole_y = made.up + (rows - 1) * (made.up - OVERLAP)
    return Tiling(width, height, rows, columns, ((x0 + x1 - whole_x) / 2, (y0 + y1 - whole_y) / 2))


def _count(length: float, field: float) -> int:
    """How many fields cover a length."""
    return max(1, math.ceil((length - OVERLAP) / (field - OVERLAP) - 1e-9))
