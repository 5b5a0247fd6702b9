"""Outcome: what became of one item of a batch, as it stands in the report and as a run begun again finds it."""

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from parts import shop
from parts.orders.item import Item
from parts.record import VERSION

STOPPED, REFUSED, KEPT = "stopped", "refused", "kept"
WRITTEN = "written"


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of an item.

    `status` is `written`, `stopped` (a finding says stop, nothing written), `refused` (its values can't be drawn) or
    `kept` (a file of another content is in the place of one of its own, and stays). `files` have the SHA-256 of each
    file by its name; `findings` and `problems` are rows of the report.
    """

    row: int
    part: str
    name: str
    quantity: int
    status: str
    files: Mapping[str, str]
    findings: Sequence[Mapping[str, Any]]
    problems: Sequence[Mapping[str, Any]]
    measures: Mapping[str, float]
    key: str

    @property
    def stops(self) -> bool:
        """Whether a finding says stop."""
        return any(finding["severity"] == "stop" for finding in self.findings)

    def to_json(self) -> str:
        """Return it as one line of JSON."""
        return json.dumps(asdict(self), ensure_ascii=False)

    @classmethod
    def of(cls, known: Mapping[str, Any]) -> "Outcome":
        """Return what was written as JSON.

        Raises:
            TypeError: it isn't one.
        """
        return cls(**known)

    def stands(self, folder: Path) -> bool:
        """Tell whether every file is there as it was written, so that nothing is to be made."""
        return self.status == WRITTEN and all(digest_of(folder / name) == sha for name, sha in self.files.items())

    def again(self, item: Item) -> "Outcome":
        """Return it for the row that orders the same now."""
        return replace(self, row=item.row, quantity=item.quantity)


def digest_of(path: Path) -> str:
    """Return the SHA-256 of a file; nothing where there is none."""
    try:
        return hashlib.sha256(path.read_bytes()).hexdigest()
    except OSError:
        return ""


def key_of(item: Item, formats: Sequence[str], *, even_so: bool) -> str:
    """Return what says whether an item would come out the same: all that its files and findings hang on."""
    on = {
        "version": VERSION,
        "part": item.part,
        "drawing": digest_of(item.drawing) if item.drawing else "",
        "name": item.name,
        "values": sorted(item.values.items()),
        "formats": list(formats),
        "even_so": even_so,
        "shop": digest_of(Path(shop.path())),
    }
    return hashlib.sha256(json.dumps(on).encode()).hexdigest()
