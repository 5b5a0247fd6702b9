"""Acts that change a job: each is a revision, kept before it is told of."""

import argparse
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from parts import Problem, Refused, store
from parts.jobs import made, part_of
from parts.store import Content, Job, Kept, Line
from parts.templates import current, template
from webapp.commands.console import tell_found, usual_values, values_of
from webapp.commands.console.own_file import read

_DRAWINGS = (".dxf", ".svg")


def begin(request: argparse.Namespace) -> int:
    """Begin a job."""
    return tell_job(store.begin(Content(store.named(request.name), _reference(request.reference))))


def add(request: argparse.Namespace) -> int:
    """Add a part to a job, drawn and checked first; the exit status is 1 where a finding stops it."""
    quantity, values = store.quantity_in(request.quantity), values_of(request.values)
    kept, data = _kept(request.slug, values)
    part = part_of(made(kept, data))
    tell_found(part.record.rows)
    files = {kept.drawing: data} if data else {}
    job = store.change(
        request.job, lambda job: job.content.with_line(store.new_line(job, kept, quantity, request.name)), files
    )
    tell_job(job, job.content.lines[-1])
    return int(part.stopped)


def _kept(said: str, values: dict[str, str]) -> tuple[Kept, bytes]:
    """What is to be kept of a part that is said by a template, a saved part's name, or a drawing's file."""
    if Path(said).suffix.lower() in _DRAWINGS:
        data, name = read(said)
        return Kept(Path(name).name, tuple({**usual_values(), **values}.items()), store.digest_of(data)), data
    saved = next((each.kept for each in store.saved_parts() if each.name == said), None)
    if saved:
        return replace(saved, values=tuple({**dict(saved.values), **values}.items())), store.drawing_of(saved)
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
        line = replace(line, quantity=store.quantity_in(request.quantity))
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
    return tell_job(store.undo(request.job, store.job(request.job).revision.number))


def redo(request: argparse.Namespace) -> int:
    """Bring back what was undone last."""
    return tell_job(store.redo(request.job, store.job(request.job).revision.number))


def back(request: argparse.Namespace) -> int:
    """Make a job again what it was at a revision."""
    return tell_job(store.put_back(request.job, request.revision, store.job(request.job).revision.number))


def duplicate(request: argparse.Namespace) -> int:
    """Begin a job like another one."""
    return tell_job(store.duplicate(request.job))


def _changed(request: argparse.Namespace, act: Callable[[Job], Content]) -> int:
    return tell_job(store.change(request.job, act))


def tell_job(job: Job, line: Line | None = None) -> int:
    """Say how a job stands after a change."""
    said = f", line {line.number}: {line.quantity} x {line.name or line.kept.part}" if line else ""
    sys.stdout.write(f"job {job.number}: {job.content.name}, revision {job.revision.number}{said}\n")
    return 0


def _reference(text: str) -> str:
    return store.named(text, "reference", store.LONGEST_REFERENCE, may_be_empty=True)
