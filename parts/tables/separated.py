"""CSV as programs write it (RFC 4180, and what they do besides).

Cells stand apart by commas, semicolons or tabs, whichever the names use; text is UTF-8 or UTF-16 with a byte-order
mark, or else Windows' western European. A quoted cell may hold anything, ends of lines too.
"""

import codecs
import csv
import io
import re
from collections.abc import Iterator

from parts.errors import Unreadable
from parts.tables.table import MOST_ROWS, Cell, Table, table_of

_SEPARATORS = ",;\t"
_SAID = re.compile(r"""\ufeff?"?sep=([,;\t|])"?\r?\n""", re.IGNORECASE)
_MARKS = {codecs.BOM_UTF8: "utf-8-sig", codecs.BOM_UTF16_LE: "utf-16", codecs.BOM_UTF16_BE: "utf-16"}
_LARGEST_FIELD = 100_000
_UNUSABLE = re.compile(r"[\0-\x08\x0e-\x1f]")


def read_separated(data: bytes, called: str) -> Table:
    """Return the table that bytes hold as CSV.

    Raises:
        Unreadable: they aren't text, a quote isn't closed, or as `table_of`.
    """
    text = _decoded(data, called)
    said = _SAID.match(text)
    if said:
        text = text[said.end() :]
    separator = said[1] if said else _separator(text)
    lines = list(_lines(text, separator, called))
    return table_of(lines, called, decimal_comma=separator != ",")


def _decoded(data: bytes, called: str) -> str:
    encoding = next((name for mark, name in _MARKS.items() if data.startswith(mark)), "utf-8")
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError:
        text = data.decode("cp1252" if encoding == "utf-8" else encoding, "replace")
    if _UNUSABLE.search(text):
        raise Unreadable(f"{called} is neither text nor a workbook; save the table as CSV in UTF-8, or as XLSX.")
    return text


def _separator(text: str) -> str:
    """What parts the names: the one that stands most often in the first line that isn't empty, outside quotes."""
    first = next((line for line in text.splitlines() if line.strip(" ,;\t")), "")
    bare = re.sub(r'"[^"]*"', "", first)
    return max(_SEPARATORS, key=bare.count)


def _lines(text: str, separator: str, called: str) -> Iterator[list[Cell]]:
    csv.field_size_limit(_LARGEST_FIELD)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True, skipinitialspace=True)
    try:
        for number, line in enumerate(reader):
            if number > 2 * MOST_ROWS:
                raise Unreadable(f"{called} has over {MOST_ROWS:,} rows. Split it.")
            yield [Cell(cell.strip()) for cell in line]
    except csv.Error as error:
        why = "a quote isn't closed, or something follows a closed one"
        if "field larger" in str(error):
            why = f"a cell is over {_LARGEST_FIELD:,} characters long; is a quote not closed before it?"
        raise Unreadable(f"{called} can't be read from line {reader.line_num} on: {why}.") from error
