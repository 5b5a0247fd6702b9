"""The history as CSV (RFC 4180), one line an entry, and back: what is read again is what was written.

After the entry itself stand the errors that its readings tell, for a spreadsheet; they are not read back, being
reckoned from the readings.
"""

import csv
import io
import re
from collections.abc import Iterator, Sequence
from typing import cast, get_args

from parts.errors import Problem, Refused, did_you_mean
from parts.truing.history.entry import Entry, What
from parts.truing.report import FIELDS, content

COLUMNS = ("number", "machine", "entered", "what", "refers_to", "measurements")
ERRORS = tuple(f"{name}{ending}" for name in FIELDS.values() for ending in ("", "_standard_uncertainty"))
HEAD = ",".join((*COLUMNS, *ERRORS))
"""The first line."""
LARGEST = 20_000_000
"""Characters of a file that is read."""


def write(entries: Sequence[Entry]) -> str:
    """Return the entries as CSV."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow((*COLUMNS, *ERRORS))
    for entry in entries:
        refers = "" if entry.refers_to is None else entry.refers_to
        first = (entry.number, entry.machine, entry.entered, entry.what, refers, entry.measurements)
        writer.writerow((*first, *_errors(entry)))
    return out.getvalue()


def read(text: str) -> tuple[Entry, ...]:
    """Return the entries of a CSV file.

    Raises:
        Refused: with what isn't as it is written, and in which line.
    """
    if len(text) > LARGEST:
        raise Refused((Problem("file", "", f"may have {LARGEST} characters."),))
    csv.field_size_limit(LARGEST)
    text = text.removeprefix("\ufeff")
    if re.match(r'"?number"?[;\t]', text):
        message = "has semicolons or tabs between its values; save it as CSV with commas."
        raise Refused((Problem("file", "", message),))
    try:
        rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    except csv.Error as error:
        raise Refused((Problem("file", "", f"can't be read as CSV: {error}."),)) from error
    if not rows or tuple(rows[0][: len(COLUMNS)]) != COLUMNS:
        raise Refused((Problem("file", "", f"must begin with the columns {', '.join(COLUMNS)}."),))
    return tuple(_entry(number, row) for number, row in enumerate(rows[1:], start=1) if row)


def _entry(line: int, row: Sequence[str]) -> Entry:
    if len(row) < len(COLUMNS):
        raise Refused((Problem(f"entry {line}", "", f"has {len(row)} values; there are {len(COLUMNS)} columns."),))
    number, machine, entered, what, refers, measurements = row[: len(COLUMNS)]
    if what not in get_args(What):
        known = get_args(What)
        message = f"must be one of {', '.join(known)}{did_you_mean(what[:40], known)}"
        raise Refused((Problem(f"entry {line} what", what[:40], message),))
    refers_to = _whole(f"entry {line} refers_to", refers) if refers else None
    return Entry(
        _whole(f"entry {line} number", number), machine, entered[:32], cast(What, what), refers_to, measurements
    )


def _whole(name: str, text: str) -> int:
    if not (text.isascii() and text.isdecimal() and 0 < len(text) <= 9 and int(text)):
        raise Refused((Problem(name, text[:40], "must be a whole number from 1."),))
    return int(text)


def _errors(entry: Entry) -> Iterator[str]:
    if entry.what == "acceptance":
        yield from ("" for _ in ERRORS)
        return
    found = content(entry.report())
    for name in FIELDS.values():
        each = found[name]
        yield from ("", "") if each is None else (repr(each["value"]), repr(each["standard_uncertainty"]))
