"""A job laid out on sheets: a first layout at once, better ones as they are found, each with its files.

It is done as a run: what is found so far stands in its folder, the files of each layout in one of their own.
"""

import io
import json
import time
import zipfile
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from parts.errors import Refused
from parts.export import layout_svg
from parts.jobs import Searched
from parts.laying.drawing_lines import Making, ordered
from parts.laying.keeping import kept_of, pinned_of
from parts.orders import Each, Nested, Sort, layout_sheets, nest, one_by_one, unplaced, write_layout
from parts.store import layout_rows

SHEETS, ZIPPED, KEPT = "sheets.json", "sheets.zip", "kept.json"
_LEAST_S = 0.7
"""Between two layouts that are written: a page isn't asked for more often."""
_EARLIEST = (1980, 1, 1, 0, 0, 0)


def search(searched: Searched, folder: Path, tell: Callable[[Mapping[str, Any]], None]) -> Mapping[str, Any]:
    """Lay a job out in a folder, and return how many layouts were written; `tell` is told of each.

    Raises:
        DataError: the shop's own file is unusable.
        OSError: the folder can't be written to.
    """
    found = _Found(folder, tell)
    try:
        _search(searched, found)
    except Refused as refused:  # more parts than are laid out at once
        return {"at": found.count, "refused": [[each.value, each.message] for each in refused.problems]}
    return {"at": found.count}


def laid_out(searched: Searched, each: Each = one_by_one) -> Nested:
    """Return the best layout of a job that is found in the time asked for.

    Raises:
        Refused: there are more parts than are laid out at once.
        DataError: the shop's own file is unusable.
    """
    to_lay = ordered(searched)
    return nest(to_lay, searched.asked, making=Making(searched), pinned=pinned_of(searched.content, to_lay), each=each)


def _search(searched: Searched, found: "_Found") -> None:
    to_lay, making = ordered(searched), Making(searched)
    pinned = pinned_of(searched.content, to_lay)
    first = nest(to_lay, replace(searched.asked, seconds=0.0), making=making, pinned=pinned)
    found.write(first)
    if searched.asked.seconds > 0 and first.sorts:
        best = _Best(first, found)
        last = nest(to_lay, searched.asked, best.better, making, pinned)
        found.write(last)


class _Best:
    """The best layout of every sort of stock, as it comes to be known."""

    def __init__(self, first: Nested, found: "_Found") -> None:
        self._now, self._found = first, found
        count = sum(len(sort.layout.unplaced) for sort in first.sorts)
        self._stopped = first.left[: len(first.left) - count]  # what lies nowhere stands after what isn't laid out

    def better(self, sort: Sort) -> None:
        """Take in a layout of one sort, where it is better than what is known of that."""
        known = list(self._now.sorts)
        at = next(i for i, other in enumerate(known) if other.record is sort.record)
        if sort.layout.cost >= known[at].layout.cost:
            self._found.still_there()
            return
        known[at] = sort
        left = [each for other in known for each in unplaced(self._now.items, other)]
        self._now = replace(self._now, sorts=tuple(known), left=(*self._stopped, *left))
        self._found.write(self._now, at_once=False)


class _Found:
    """Writes layouts into a folder, each whole before it is told of."""

    def __init__(self, folder: Path, tell: Callable[[Mapping[str, Any]], None]) -> None:
        self._folder, self._tell = folder, tell
        self._since = time.monotonic()
        self._last = -_LEAST_S
        self._content: Any = None
        self.count = 0

    def still_there(self) -> None:
        """Tell that it goes on."""
        self._tell({"at": self.count, "passed_s": self._passed})

    @property
    def _passed(self) -> float:
        return round(time.monotonic() - self._since, 1)

    def write(self, nested: Nested, *, at_once: bool = True) -> None:
        """Write a layout, unless it is as the last, or the last was just now and this one can wait."""
        content = nested.content()
        if content == self._content or (not at_once and self._passed - self._last < _LEAST_S):
            return
        self._content, self._last = content, self._passed
        out = self._folder / f"out-{self.count + 1}"
        names = write_layout(nested, out)
        (out / SHEETS).write_text(json.dumps(shown(nested), ensure_ascii=False), encoding="utf-8")
        (out / KEPT).write_text(json.dumps(layout_rows(kept_of(nested))), encoding="utf-8")
        (out / ZIPPED).write_bytes(zipped({name: (out / name).read_bytes() for name in names}))
        self.count += 1
        self.still_there()


def zipped(files: Mapping[str, bytes]) -> bytes:
    """Return files as one ZIP, the same bytes for the same files."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as archive:
        for name, data in files.items():
            archive.writestr(zipfile.ZipInfo(name, _EARLIEST), data, zipfile.ZIP_DEFLATED)
    return stream.getvalue()


def shown(nested: Nested) -> dict[str, Any]:
    """Return what a page shows of a layout."""
    sheets = list(layout_sheets(nested))
    shares = [laid.share for _, laid in nested.sheets]
    unplaced: dict[tuple[int, str, str], int] = {}
    for _, row, part, why in nested.left:
        unplaced[row, part, why] = unplaced.get((row, part, why), 0) + 1
    return {
        "sheets": [
            {
                "number": sheet.number,
                "said": list(sheet.said),
                "svg": layout_svg(sheet),
                "parts": [[part.number, part.name, part.row] for part in sheet.parts],
                "share": share,
            }
            for sheet, share in zip(sheets, shares, strict=True)
        ],
        "unplaced": [[row, part, count, why] for (row, part, why), count in unplaced.items()],
        "faults": [str(fault) for fault in nested.faults],
        "notes": list(nested.notes),
    }
