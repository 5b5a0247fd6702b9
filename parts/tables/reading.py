"""Reading: bytes to a table, whichever of the two kinds they are."""

from parts.errors import Unreadable
from parts.tables.separated import read_separated
from parts.tables.table import Table
from parts.tables.workbook import ZIP, read_workbook

LARGEST = 64_000_000
"""Bytes of a table's file."""
_OTHERS = {
    b"\xd0\xcf\x11\xe0": "an old workbook (.xls)",
    b"%PDF": "a PDF",
    b"{\\rtf": "a text document",
    b"\x89PNG": "a picture",
    b"\xff\xd8\xff": "a picture",
    b"<!DOCTYPE": "a web page",
    b"<html": "a web page",
}


def read_table(data: bytes, called: str) -> Table:
    """Return the table that a file holds; what it is, CSV or XLSX, is told by its bytes.

    Args:
        data: the file's bytes.
        called: what to call it.

    Raises:
        Unreadable: it is too large, neither of the two, broken or hostile, or its names are wrong.
    """
    if len(data) > LARGEST:
        raise Unreadable(f"{called} is {len(data) // 1_000_000:,} MB; a table may have {LARGEST // 1_000_000}.")
    for head, what in _OTHERS.items():
        if data.startswith(head):
            raise Unreadable(f"{called} is {what}; save the table as CSV or XLSX.")
    return read_workbook(data, called) if data.startswith(ZIP) else read_separated(data, called)
