"""Acts that change a job: each is a revision, kept before it is told of."""

import argparse
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from parts import Part, Problem, Refused, store
from parts.checking import Checked
from parts.errors import UnitsError
from parts.jobs import made
from parts.store import Content, Job, Kept, Line
from parts.templates import current, template
from parts.units import parse_count
from webapp.commands.console import tell, usual_values, values_of
from webapp.commands.console.own_file import read

_DRAWINGS = (".dxf", ".svg")


def begin(request: argparse.Namespace) -> int:
    """Begin a job."""
    return _told(store.begin(Content(store.named(request.name), _reference(request.reference))))


def add(request: argparse.Namespace) -> int:
    """Add a part to a job, drawn and checked first; the exit status is 1 where a finding stops it."""
    quantity, values = _count(request.quantity), values_of(request.values)
    kept, data = _kept(request.slug, values)
    found = made(kept, data)
    part = found.part if isinstance(found, Checked) else found
    for row in part.record.rows:
        tell(f"{row.first.severity}: {row.first.rule}: {row.first.message} {row.first.remedy} {row.rest}".rstrip())
    files = {kept.drawing: data} if data else {}
    job = store.change(
        request.job, lambda job: job.content.with_line(store.new_line(job, kept, quantity, request.name)), files
    )
    _told(job, job.content.lines[-1])
    return int(_is_stopped(part))


def _is_stopped(part: Part) -> bool:
    return any(finding.severity == "stop" for finding in part.findings)


def _kept(said: str, values: dict[str, str]) -> tuple[Kept, bytes]:
    """What is to be kept of a part that is said by a template, a saved part's name, or a drawing's file."""
    if Path(said).suffix.lower() in _DRAWINGS:
        data, name = read(said)
        return Kept(Path(name).name, tuple({**usual_values(), **values}.items()), store.digest_of(data)), data
    saved = next((each.kept for each in store.saved_parts() if each.name == said), None)
    if saved and saved.drawing:
        return replace(saved, values=tuple({**dict(saved.values), **values}.items())), store.file(saved.drawing)
    if saved:
        return Kept(saved.part, tuple({**dict(saved.values), **values}.items())), b""
    slug, every = current(said, {**usual_values(), **values})
    return Kept(template(slug).slug, tuple((name, str(value)) for name, value in every.items())), b""


def set_line(request: argparse.Namespace) -> int:
    """Change a line of a job."""
    said = {name: getattr(request, name) for name in ("quantity", "name", "turns", "mirror")}
    if all(value is None for value in said.values()):
        message = f"has nothing to change: say --{', --'.join(said)}."
        raise Refused((Problem("line", str(request.line), message),))
    return _changed(request, lambda job: job.content.with_line(_line(job.content.line(request.line), request)))


def _line(line: Line, request: argparse.Namespace) -> Line:
    if request.quantity is not None:
        line = replace(line, quantity=_count(request.quantity))
    if request.name is not None:
        line = replace(line, name=store.named(request.name, "line name", may_be_empty=True))
    if request.mirror is not None:
        line = replace(line, mirror=request.mirror == "yes")
    return replace(line, turns=request.turns or line.turns)


def remove(request: argparse.Namespace) -> int:
    """Take a line out of a job."""
    return _changed(request, lambda job: job.content.without_line(request.line))


def rename(request: argparse.Namespace) -> int:
    """Give a job another name, and another reference where one is said."""

    def renamed(job: Job) -> Content:
        reference = job.content.reference if request.reference is None else _reference(request.reference)
        return replace(job.content, name=store.named(request.name), reference=reference)

    return _changed(request, renamed)


def archive(request: argparse.Namespace) -> int:
    """Put a job aside, or take it up again."""
    return _changed(request, lambda job: replace(job.content, is_archived=not request.resume))


def undo(request: argparse.Namespace) -> int:
    """Bring back what was before the last change."""
    return _told(store.undo(request.job, store.job(request.job).revision.number))


def redo(request: argparse.Namespace) -> int:
    """Bring back what was undone last."""
    return _told(store.redo(request.job, store.job(request.job).revision.number))


def back(request: argparse.Namespace) -> int:
    """Make a job again what it was at a revision."""
    return _told(store.put_back(request.job, request.revision, store.job(request.job).revision.number))


def duplicate(request: argparse.Namespace) -> int:
    """Begin a job like another one."""
    return _told(store.duplicate(request.job))


def _changed(request: argparse.Namespace, act: Callable[[Job], Content]) -> int:
    return _told(store.change(request.job, act))


def _told(job: Job, line: Line | None = None) -> int:
    """Say how a job stands after a change."""
    said = f", line {line.number}: {line.quantity} x {line.name or line.kept.part}" if line else ""
    print(f"job {job.number}: {job.content.name}, revision {job.revision.number}{said}")
    return 0


def _reference(text: str) -> str:
    return store.named(text, "reference", store.LONGEST_REFERENCE, may_be_empty=True)


def _count(text: str) -> int:
    """How many a word says.

    Raises:
        Refused: it says no number.
    """
    try:
        return parse_count(text)
    except UnitsError as error:
        raise Refused((Problem("quantity", text[:40], f"{error} Give a whole number, such as 12."),)) from error
