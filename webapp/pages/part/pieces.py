"""The pieces of what is drawn in several, as a table on its page: how many, how large, and the files of each."""

from collections.abc import Iterator
from dataclasses import dataclass
from urllib.parse import quote, urlencode

from parts.export import FORMATS
from parts.part import Part, address
from parts.pieces import Listed, listed, values_of
from parts.record import Record
from parts.templates import template
from parts.units import format_by
from webapp.forms import PIECE


@dataclass(frozen=True, slots=True)
class PieceRow:
    """One row: pieces that are cut alike. `page` is that of a companion, which has one of its own."""

    names: str
    count: int
    size: str
    plate: str
    page: str
    files: tuple[tuple[str, str], ...]


def piece_rows(part: Part) -> Iterator[PieceRow]:
    """Yield the rows of a part's pieces; none of what is one piece, or still a sketch."""
    record = part.record
    if record.is_sketch:
        return
    for row in listed(record):
        size = format_by(record.number(row.width), record.number(row.height), record.job.units)
        page = _page(record, row)
        files = tuple((kind, _file(page, row, kind)) for kind in FORMATS)
        names = ", ".join(row.names)
        yield PieceRow(names, row.count, size, record.job.say(row.thickness), page if row.companion_of else "", files)


def _page(record: Record, row: Listed) -> str:
    """The address of the page that draws the pieces of a row."""
    if not row.companion_of:
        return record.address
    companion = next(each for each in record.companions if each.name == row.names[0])
    chosen = template(row.companion_of).parameters.read_singly(values_of(record, companion))
    return address(row.companion_of, chosen.texts())


def _file(page: str, row: Listed, kind: str) -> str:
    """The address of a piece's file: the whole's with the piece's name, or a companion's own."""
    path, _, query = page.partition("?")
    named = "" if row.companion_of else urlencode({PIECE: row.names[0]}, quote_via=quote)
    asked = "&".join(filter(None, (query, named)))
    return f"{path}.{kind}" + (f"?{asked}" if asked else "")
