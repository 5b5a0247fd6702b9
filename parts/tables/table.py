"""A table: names over columns, and rows of cells.

row    numbered from 1, the first below the names; an empty one keeps its number and is no row of the table
cell   text without blanks around it, or the reason why nothing can be read from it
fault  what is wrong with one row, by row and column, worded for whoever filled in the table
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from parts.errors import Unreadable
from parts.units import echo

MOST_ROWS = 200_000
"""Rows of one table, empty ones counted."""
MOST_COLUMNS = 400
LONGEST_CELL = 2_000
ASIDE = "#"
"""A column whose name begins so is left aside."""


@dataclass(frozen=True, slots=True)
class Cell:
    """What stands in a cell, and why it can't be used, where it can't."""

    text: str
    fault: str = ""


@dataclass(frozen=True, slots=True)
class Fault:
    """Why a row can't be made: `column` is the name over the cell, `value` what stands in it."""

    row: int
    column: str
    value: str
    message: str

    def __str__(self) -> str:
        return ": ".join(filter(None, (f"row {self.row}", self.column, self.value, self.message)))


@dataclass(frozen=True, slots=True)
class Row:
    """A row that isn't empty; `cells` by the names of their columns, without the empty ones."""

    number: int
    cells: Mapping[str, Cell]


@dataclass(frozen=True, slots=True)
class Table:
    """Names and rows; `decimal_comma` is whether 12,5 may be twelve and a half, since no comma parts the cells."""

    names: tuple[str, ...]
    rows: tuple[Row, ...]
    decimal_comma: bool = False


def table_of(lines: Sequence[Sequence[Cell]], called: str, *, decimal_comma: bool = False) -> Table:
    """Return lines of cells as a table: the first that isn't empty holds the names.

    Raises:
        Unreadable: there are no names or no rows, a name stands twice or over nothing, or it is too large.
    """
    start = next((i for i, line in enumerate(lines) if any(cell.text for cell in line)), None)
    if start is None:
        raise Unreadable(f"{called} is an empty table: its first row should name the columns, part among them.")
    names = [_name(cell) for cell in lines[start]]
    while names and not names[-1]:
        names.pop()
    _refuse_names(names, called)
    below = lines[start + 1 :]
    if len(below) > MOST_ROWS:
        raise Unreadable(f"{called} has {len(below):,} rows; a table may have {MOST_ROWS:,}. Split it.")
    rows = tuple(_rows(names, below, called))
    if not rows:
        raise Unreadable(f"{called} has names and no rows: each row below the names is one part.")
    return Table(tuple(filter(None, names)), rows, decimal_comma)


def _name(cell: Cell) -> str:
    """A column's name as parameters are written: `Leg A` is leg_a."""
    text = cell.text.strip()
    return text if text.startswith(ASIDE) else re.sub(r"[\s\-]+", "_", text.lower())


def _refuse_names(names: Sequence[str], called: str) -> None:
    if len(names) > MOST_COLUMNS:
        raise Unreadable(f"{called} has {len(names):,} columns; a table may have {MOST_COLUMNS}.")
    first: dict[str, int] = {}
    for i, name in enumerate(names):
        if name and not name.startswith(ASIDE) and first.setdefault(name, i) != i:
            places = f"{letters(first[name])} and {letters(i)}"
            raise Unreadable(f"{called}: columns {places} are both called {echo(name)}; each name may stand once.")


def _rows(names: Sequence[str], lines: Sequence[Sequence[Cell]], called: str) -> Iterator[Row]:
    for number, line in enumerate(lines, start=1):
        filled = {i: cell for i, cell in enumerate(line) if cell.text or cell.fault}
        for i, cell in filled.items():
            if i >= len(names) or not names[i]:
                where = f"row {number}, column {letters(i)}"
                raise Unreadable(
                    f"{called}: {where}: {echo(cell.text)} stands under no name. Name the column, or empty the cell; "
                    "a cell with a comma in it has to stand in quotes."
                )
        cells = {names[i]: _shortened(cell) for i, cell in filled.items() if not names[i].startswith(ASIDE)}
        if cells:
            yield Row(number, cells)


def _shortened(cell: Cell) -> Cell:
    if len(cell.text) <= LONGEST_CELL:
        return cell
    return Cell(cell.text[:40] + "\u2026", f"is {len(cell.text):,} characters long; a cell may have {LONGEST_CELL:,}.")


def letters(index: int) -> str:
    """Return what a spreadsheet calls a column: 0 is A, 26 is AA."""
    said = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        said = chr(65 + rest) + said
    return said
