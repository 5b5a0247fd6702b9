"""A table's files as one ZIP: what a page hands over of it, made as a run."""

import json
import zipfile
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from parts.errors import Unreadable
from parts.orders.batch import run_batch
from parts.orders.files import Task
from parts.orders.item import Ordered, read_items
from parts.tables import read_table

MOST_PARTS = 2_000
"""Parts of a table that a page makes at once; the command makes more."""
FILES, REPORT, TABLE = "files.zip", "report.json", "table"
_EARLIEST = (1980, 1, 1, 0, 0, 0)


@dataclass(frozen=True, slots=True)
class Sent:
    """A table and what goes beside it, as somebody sent them: names and bytes; the formats, and whether over a stop."""

    name: str
    data: bytes
    beside: Sequence[tuple[str, bytes]]
    formats: tuple[str, ...]
    even_so: bool


def order(sent: Sent, folder: Path) -> Ordered:
    """Return what a sent table orders; the drawings that go beside it are put into a folder.

    Raises:
        Unreadable: it is no table, or orders too much.
        DataError: the shop's own file is unusable.
    """
    folder.mkdir(parents=True, exist_ok=True)
    for name, data in sent.beside:
        (folder / name).write_bytes(data)
    ordered = read_items(read_table(sent.data, sent.name), folder)
    if len(ordered.items) > MOST_PARTS:
        raise Unreadable(
            f"{sent.name} orders {len(ordered.items):,} different parts; a page makes {MOST_PARTS:,} at once. "
            "Split the table, or use platewright batch."
        )
    return ordered


def make(sent: Sent, folder: Path, tell: Callable[[Mapping[str, Any]], None]) -> Mapping[str, Any]:
    """Make a table's files and their ZIP in a folder, and return how many parts came out how.

    `tell` is told on the way how many are done.

    Raises:
        Unreadable: as by `order`.
        DataError: the shop's own file is unusable.
        OSError: the folder can't be written to.
    """
    ordered = order(sent, folder / TABLE)
    tell({"done": 0, "of": len(ordered.items)})
    out = folder / "out"
    batch = run_batch(
        ordered, Task(out, sent.formats, sent.even_so), progress=lambda done, of: tell({"done": done, "of": of})
    )
    rows = [asdict(outcome) for outcome in batch.outcomes]
    (folder / REPORT).write_text(json.dumps(rows, ensure_ascii=False), encoding="utf-8")
    with zipfile.ZipFile(folder / FILES, "w", zipfile.ZIP_DEFLATED) as archive:
        for path in sorted(out.iterdir()):
            archive.writestr(zipfile.ZipInfo(path.name, _EARLIEST), path.read_bytes(), zipfile.ZIP_DEFLATED)
    counts: dict[str, int] = {}
    for outcome in batch.outcomes:
        counts[outcome.status] = counts.get(outcome.status, 0) + 1
    return {"counts": counts, "files": sum(len(outcome.files) for outcome in batch.outcomes)}
