"""Files of one item: drawn, written where nothing else is, and told of."""

import hashlib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from dataclasses import replace as replaced
from pathlib import Path
from typing import Any

from parts.data import replace
from parts.errors import PartsError, Refused
from parts.export import FORMATS, wrote
from parts.orders.item import Item
from parts.orders.making import Made, made
from parts.orders.outcome import KEPT, REFUSED, STOPPED, WRITTEN, Outcome, key_of
from parts.tables import Fault

_LONGEST_STEM = 40
_HALF = re.compile(r"\.(.+)-\w{8}\.(\w+)", re.DOTALL)
"""What `parts.data.replace` calls a file while it is being written."""


@dataclass(frozen=True, slots=True)
class Task:
    """How the files of every item are written: where, which, over a stop finding, over a file that differs."""

    folder: Path
    formats: tuple[str, ...]
    even_so: bool = False
    replace: bool = False


@dataclass(frozen=True, slots=True)
class Prepared:
    """What an item comes to wherever it is drawn: its files' bytes by their names, its findings, what is wrong."""

    status: str
    files: Mapping[str, bytes]
    findings: Sequence[Mapping[str, Any]] = ()
    problems: Sequence[Mapping[str, str]] = ()
    measures: Mapping[str, float] = field(default_factory=dict)


def run_item(item: Item, task: Task) -> Outcome:
    """Draw an item, write its files, and return what became of it; a file is in its place whole or not at all.

    Raises:
        DataError: the shop's own file is unusable.
        OSError: the folder can't be written to.
    """
    return settle(item, prepare(item, task.formats, even_so=task.even_so), task)


def prepare(item: Item, formats: Sequence[str], *, even_so: bool) -> Prepared:
    """Draw an item and make the bytes of its files; nothing is written.

    Raises:
        DataError: the shop's own file is unusable.
    """
    drawn = made(item)
    if not isinstance(drawn, Made):
        return Prepared(REFUSED, {}, problems=[problem_row(fault) for fault in drawn])
    findings, measures = _findings(drawn), _measures(drawn)
    if drawn.part.stopped and not even_so:
        return Prepared(STOPPED, {}, findings, measures=measures)
    try:
        files = {f"{item.name}.{kind}": _data(item, drawn, kind) for kind in formats}
    except _Unwritten as unwritten:
        return Prepared(REFUSED, {}, findings, [problem_row(unwritten.fault)], measures)
    return Prepared(WRITTEN, files, findings, measures=measures)


def settle(item: Item, prepared: Prepared, task: Task) -> Outcome:
    """Write the files of an item that is drawn, unless others are in their way, and return what became of it.

    Raises:
        OSError: the folder can't be written to.
    """
    if in_the_way := [f for name, data in prepared.files.items() if (f := _in_the_way(item, name, data, task))]:
        kept = replaced(prepared, status=KEPT, files={}, problems=[problem_row(fault) for fault in in_the_way])
        return _outcome(item, task, kept)
    for name, data in prepared.files.items():
        if not _is_there(task.folder / name, data):
            replace(task.folder / name, data, on_disk=False)  # a run begun again looks whether it is there
    return _outcome(item, task, prepared)


class _Unwritten(Exception):
    def __init__(self, fault: Fault) -> None:
        super().__init__()
        self.fault = fault


def _data(item: Item, drawn: Made, kind: str) -> bytes:
    if item.drawing and not FORMATS[kind].of_drawings:
        raise _Unwritten(Fault(item.row, "part", item.part, f"is a drawing, which isn't written as {kind.upper()}."))
    try:
        return drawn.file(kind)
    except Refused as refused:
        problem = refused.problems[0]
        raise _Unwritten(Fault(item.row, problem.parameter, problem.value, problem.message)) from refused
    except PartsError as error:
        raise _Unwritten(Fault(item.row, "format", kind, str(error))) from error


def sweep(folder: Path, items: Sequence[Item], formats: Sequence[str]) -> None:
    """Take away what a process that was ended left half written: hidden files named after those of the items."""
    if halves := {path: half.groups() for path in folder.iterdir() if (half := _HALF.fullmatch(path.name))}:
        ours = {(item.name[:_LONGEST_STEM], kind) for item in items for kind in formats}
        for path, named in halves.items():
            if named in ours:
                path.unlink(missing_ok=True)


def _is_there(target: Path, data: bytes) -> bool:
    return target.is_file() and target.stat().st_size == len(data) and target.read_bytes() == data


def _in_the_way(item: Item, name: str, data: bytes, task: Task) -> Fault | None:
    """What keeps a file from being written: one that differs, or that isn't Platewright's, stays."""
    target = task.folder / name
    if not (target.exists() or target.is_symlink()) or _is_there(target, data):
        return None
    if target.is_symlink() or not target.is_file():
        return Fault(item.row, "name", name, "is there already as a folder or a link; move it away.")
    if not task.replace:
        return Fault(item.row, "name", name, "is there already and differs; it stays. --replace exchanges it.")
    if not wrote(target):
        return Fault(item.row, "name", name, "is there already, and Platewright didn't write it; move it away.")
    return None


def _outcome(item: Item, task: Task, of: Prepared) -> Outcome:
    return Outcome(
        row=item.row,
        part=item.part,
        name=item.name,
        quantity=item.quantity,
        status=of.status,
        files={name: hashlib.sha256(data).hexdigest() for name, data in of.files.items()},
        findings=tuple(of.findings),
        problems=tuple(of.problems),
        measures=of.measures,
        key=key_of(item, task.formats, even_so=task.even_so),
    )


def _findings(drawn: Made) -> list[dict[str, Any]]:
    return [
        {"rule": f.rule, "severity": f.severity, "message": f.message, "remedy": f.remedy, "at": list(f.at)}
        for f in drawn.part.findings
    ]


def problem_row(fault: Fault) -> dict[str, str]:
    """Return a fault as a row of the report."""
    return {"column": fault.column, "value": fault.value, "message": fault.message}


def _measures(drawn: Made) -> dict[str, float]:
    m = drawn.part.measures
    return {"mass_kg": m.mass_kg, "cut_length_mm": m.cut_length_mm, "pierces": m.pierces, "area_mm2": m.area_mm2}
