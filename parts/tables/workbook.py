"""XLSX: the first sheet of a workbook (ECMA-376, part 1, chapter 18) as cells of text, bounded in size.

A formula is read by the result that was saved with it. A date is a fault and not a number: spreadsheets make one of a
size typed as 3/16. Markup that declares a document type, which a workbook never has, isn't read at all.
"""

import io
import re
import zipfile
import zlib
from collections.abc import Iterator, Mapping
from posixpath import join, normpath
from xml.etree.ElementTree import Element, ParseError, TreeBuilder, XMLParser

from parts.errors import Unreadable
from parts.tables.table import MOST_COLUMNS, MOST_ROWS, Cell, Table, table_of

ZIP = b"PK\x03\x04"
_LARGEST_PIECE = 48_000_000
"""Bytes of one unpacked piece of a workbook."""
_REFERENCE = re.compile(r"\$?([A-Z]{1,3})\$?([0-9]{1,7})")
_DATE = re.compile(r"[dmyhs]", re.IGNORECASE)
_NOT_DATE = re.compile(r'"[^"]*"|\\.|\[[^\]]*\]|_.|general', re.IGNORECASE)
_DATES_BUILT_IN = {*range(14, 23), *range(27, 37), *range(45, 48), *range(50, 59)}
"""Number formats of dates and times that have no text in the file (ECMA-376, 18.8.30)."""
_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_STRICT = "http://purl.oclc.org/ooxml/officeDocument/relationships"
_IS_DATE = (
    "is a date or a time, which spreadsheets make of sizes such as 3/16; format the column as text, type it again."
)
_NOT_SAVED = "is a formula without a saved result; open the table in a spreadsheet, save it, or put the value in."


_BROKEN = zipfile.BadZipFile, zlib.error, ParseError, LookupError, ValueError, EOFError, RuntimeError, OSError


class _NoDoctype(TreeBuilder):
    """Builds what an XML file holds, and none that declares a document type: entities are declared in one."""

    def doctype(self, name: str, pubid: str | None, system: str | None) -> None:
        raise ParseError("a document type")


def read_workbook(data: bytes, called: str) -> Table:
    """Return the table on the first sheet of a workbook.

    Raises:
        Unreadable: it isn't one, is broken, hostile, too large or locked, or as `table_of`.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            return table_of(_lines(_Workbook(packed, called)), called)
    except _BROKEN as error:
        if isinstance(error, RuntimeError) and "encrypted" in str(error):
            raise Unreadable(f"{called} is locked with a password; save it without.") from error
        raise Unreadable(f"{called} isn't a workbook that can be read; save the table anew as XLSX or CSV.") from error
    except NotImplementedError as error:
        raise Unreadable(f"{called} is packed in a way that isn't read; save it anew as XLSX or CSV.") from error


class _Workbook:
    """The pieces of a workbook that a table needs."""

    def __init__(self, packed: zipfile.ZipFile, called: str) -> None:
        self.packed, self.called = packed, called
        self.names = set(packed.namelist())
        self.sheet = self._root(self._first_sheet())
        self.shared = [_text_of(item) for item in self._all("xl/sharedStrings.xml", "si")]
        self.dates = self._dates()

    def _root(self, name: str) -> Element:
        with self.packed.open(name) as piece:
            data = piece.read(_LARGEST_PIECE + 1)
        if len(data) > _LARGEST_PIECE:
            raise Unreadable(f"{self.called} unpacks to more than {_LARGEST_PIECE // 1_000_000} MB; split the table.")
        parser = XMLParser(target=_NoDoctype())  # noqa: S314 - bounded, and no document type, so no entities
        parser.feed(data)
        root: Element = parser.close()
        for each in root.iter():
            each.tag = each.tag.rpartition("}")[2]
        return root

    def _all(self, name: str, tag: str) -> list[Element]:
        return self._root(name).findall(tag) if name in self.names else []

    def _first_sheet(self) -> str:
        """The name of the piece that is the first sheet, as the workbook's relations say."""
        if "xl/workbook.xml" not in self.names:
            raise Unreadable(f"{self.called} is a packed file, and no workbook (.xlsx); save the table as XLSX or CSV.")
        sheets = self._root("xl/workbook.xml").findall("sheets/sheet")
        relations = self._all("xl/_rels/workbook.xml.rels", "Relationship")
        targets = {each.get("Id"): each.get("Target", "") for each in relations}
        for sheet in sheets:
            if sheet.get("state", "visible") == "visible":
                target = targets[sheet.get(f"{{{_OFFICE}}}id") or sheet.get(f"{{{_STRICT}}}id")]
                return normpath(target.lstrip("/") if target.startswith("/") else join("xl", target))
        raise Unreadable(f"{self.called} has no sheet that is shown.")

    def _dates(self) -> set[int]:
        """The numbers of the styles that show a date or a time."""
        if "xl/styles.xml" not in self.names:
            return set()
        styles = self._root("xl/styles.xml")
        own = {int(f.get("numFmtId", 0)): f.get("formatCode", "") for f in styles.findall("numFmts/numFmt")}
        used = [int(each.get("numFmtId", 0)) for each in styles.findall("cellXfs/xf")]
        return {i for i, number in enumerate(used) if _shows_date(number, own)}


def _shows_date(number: int, own: Mapping[int, str]) -> bool:
    if number in own:
        return bool(_DATE.search(_NOT_DATE.sub("", own[number])))
    return number in _DATES_BUILT_IN


def _lines(book: _Workbook) -> list[list[Cell]]:
    """The cells by rows and columns, those between that are missing left empty."""
    lines: list[list[Cell]] = []
    for row in book.sheet.findall("sheetData/row"):
        number = int(row.get("r") or len(lines) + 1)
        if not len(lines) < number <= MOST_ROWS + 1:
            raise Unreadable(f"{book.called} has a row {number}; a table may have {MOST_ROWS:,}, each once, in order.")
        lines += [[] for _ in range(number - len(lines) - 1)]
        lines.append(_line(row, book))
    return lines


def _line(row: Element, book: _Workbook) -> list[Cell]:
    line: list[Cell] = []
    for column, cell in _placed(row):
        read = _cell(cell, book)
        if not read.text and not read.fault:
            continue
        if column >= MOST_COLUMNS:
            raise Unreadable(f"{book.called} has something in column {column + 1}; a table may have {MOST_COLUMNS}.")
        line += [Cell("")] * (column + 1 - len(line))
        line[column] = read
    return line


def _placed(row: Element) -> Iterator[tuple[int, Element]]:
    """Yield the cells with the number of the column that each stands in, from 0."""
    column = -1
    for cell in row.findall("c"):
        reference = _REFERENCE.fullmatch(cell.get("r", ""))
        column = _number(reference[1]) if reference else column + 1
        yield column, cell


def _number(letters: str) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - 64
    return number - 1


def _cell(cell: Element, book: _Workbook) -> Cell:
    kind, value = cell.get("t", "n"), cell.findtext("v")
    if kind == "inlineStr":
        return Cell("".join(_text_of(each) for each in cell.findall("is")).strip())
    if value is None or (value == "" and cell.find("f") is not None):
        formula = cell.find("f")
        return Cell("") if formula is None else Cell(f"={formula.text or ''}"[:60], _NOT_SAVED)
    if kind == "s":
        return Cell(book.shared[int(value)].strip())
    if kind == "e":
        return Cell(value, "is what a formula came to; mend the formula, or put the value in.")
    if kind == "b":
        return Cell("yes" if value.strip() in ("1", "true") else "no")
    if kind == "d" or (kind == "n" and int(cell.get("s", 0)) in book.dates):
        return Cell(value.strip(), _IS_DATE)
    return Cell(_plain(value) if kind == "n" else value.strip())


def _plain(value: str) -> str:
    """A number as a spreadsheet shows it: to 15 digits, without an exponent."""
    text = f"{float(value):.15g}"
    return f"{float(value):.12f}".rstrip("0").rstrip(".") if "e" in text and abs(float(value)) < 1e15 else text


def _text_of(item: Element) -> str:
    """The text of a string in one style or several; how it is read aloud (rPh) isn't part of it."""
    return "".join([t.text or "" for t in (*item.findall("t"), *item.findall("r/t"))])
