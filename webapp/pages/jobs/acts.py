"""The forms that change a job: its name, its lines, undone, put back, archived, duplicated."""

from collections.abc import Callable
from dataclasses import replace

from flask import Response, request

from parts import Refused, store
from parts.store import TURNS, Content, Job, Line
from webapp.pages.jobs.blueprint import bp, content_named, number_in, to_job
from webapp.pages.jobs.page import shown_job

REMOVE = "remove"
"""The button that takes a line out: its value is the line's number."""


@bp.post("/<int:number>/named")
def rename(number: int) -> Response:
    """Give a job another name and reference."""

    def named(job: Job) -> Content:
        said = content_named(request.form)
        return replace(job.content, name=said.name, reference=said.reference)

    return _changed(number, lambda: store.change(number, named))


@bp.post("/<int:number>/lines")
def change_lines(number: int) -> Response:
    """Change quantities and names, and how parts may lie; take a line out."""

    def changed(job: Job) -> Content:
        lines = tuple(_line(line) for line in job.content.lines)
        content = replace(job.content, lines=lines)
        out = number_in(request.form.get(REMOVE, ""))
        return content.without_line(out) if out is not None else content

    return _changed(number, lambda: store.change(number, changed))


def _line(line: Line) -> Line:
    """A line as the form has it; what isn't in the form, since another one has added it, stays."""
    said = {name: request.form.get(f"{name}-{line.number}") for name in ("quantity", "name", "turns", "mirror")}
    quantity = line.quantity if said["quantity"] is None else store.quantity_in(said["quantity"], f"line {line.number}")
    name = line.name if said["name"] is None else store.named(said["name"], "line name", may_be_empty=True)
    turns = next((each for each in TURNS if each == said["turns"]), line.turns)
    mirror = line.mirror if said["mirror"] is None else said["mirror"] == "yes"
    return replace(line, quantity=quantity, name=name, turns=turns, mirror=mirror)


@bp.post("/<int:number>/undo")
def undo(number: int) -> Response:
    """Bring back what was before the last change."""
    return _changed(number, lambda: store.undo(number, _seen()))


@bp.post("/<int:number>/redo")
def redo(number: int) -> Response:
    """Bring back what was undone last."""
    return _changed(number, lambda: store.redo(number, _seen()))


@bp.post("/<int:number>/back")
def back(number: int) -> Response:
    """Make a job again what it was at a revision."""
    return _changed(number, lambda: store.put_back(number, number_in(request.form.get("to", "")) or 0, _seen()))


def _seen() -> int:
    return number_in(request.form.get("seen", "")) or 0


@bp.post("/<int:number>/archive")
def archive(number: int) -> Response:
    """Put a job aside, or take it up again."""
    is_archived = request.form.get("archived") == "yes"
    return _changed(number, lambda: store.change(number, lambda job: replace(job.content, is_archived=is_archived)))


@bp.post("/<int:number>/duplicate")
def duplicate(number: int) -> Response:
    """Begin a job like this one."""
    return _changed(number, lambda: store.duplicate(number))


def _changed(number: int, act: Callable[[], Job]) -> Response:
    """The way to the changed job, or its page with why that can't be."""
    try:
        return to_job(act())
    except Refused as refused:
        return shown_job(number, refused)
