"""A table as a job: each of its parts a line."""

from collections.abc import Iterator, Mapping
from pathlib import Path

from parts.errors import Problem, Refused
from parts.orders.item import Item
from parts.orders.zipped import TABLE, Sent, order
from parts.shop import usual
from parts.store import MOST_LINES, Content, Kept, Line, digest_of


def as_job(sent: Sent, folder: Path, name: str) -> tuple[Content, Mapping[str, bytes]]:
    """Return what a sent table orders as a job of a name, and its drawings by their digests; wrong rows are left out.

    Args:
        sent: the table, and the drawings beside it.
        folder: into which the drawings are put.
        name: of the job.

    Raises:
        Refused: it orders more different parts than a job has lines, or none that can be read.
        Unreadable: it is no table.
        DataError: the shop's own file is unusable.
    """
    items = order(sent, folder / TABLE).items
    if len(items) > MOST_LINES:
        message = f"orders {len(items):,} different parts; a job may have {MOST_LINES} lines. Split the table."
        raise Refused((Problem("table", sent.name, message),))
    if not items:
        raise Refused((Problem("table", sent.name, "orders nothing that can be drawn."),))
    files: dict[str, bytes] = {}
    lines = tuple(_lines(items, files))
    return Content(name, "", lines), files


def _lines(items: tuple[Item, ...], files: dict[str, bytes]) -> Iterator[Line]:
    for number, item in enumerate(items, start=1):
        if item.drawing is None:
            asked = {name: text for name, text in usual().model_dump().items() if text}
            kept = Kept(item.part, tuple({**asked, **item.values}.items()))
        else:
            data = item.drawing.read_bytes()
            files[digest_of(data)] = data
            kept = Kept(item.drawing.name, tuple(item.values.items()), digest_of(data))
        yield Line(number, kept, item.quantity, item.name[:100], item.turns, item.mirror)
