"""What differs between two revisions of a job, in words."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from parts.errors import PartsError
from parts.spec import Parameters
from parts.store import TURNS, Content, Difference, Kept, Revision, differences
from parts.templates import modules
from parts.templates import template as find

TURNS_SAID: dict[str, str] = dict(
    zip(TURNS, ("at any angle", "by quarter turns", "by half turns, along the grain", "as it is drawn"), strict=True)
)

_OF_LINES = {
    "quantity": "Quantity", "name": "Name", "turns": "May lie", "mirror": "On either face", "part": "Part",
    "drawing": "Drawing", "layers": "Layers", "outlines": "Outlines",
}  # fmt: skip
_OF_JOBS = {"name": "Name", "reference": "Customer's reference", "layout": "Layout"}
_WHAT = {
    "begun": "Begun", "undone": "Revision {of} undone", "redone": "Revision {of} again",
    "put back": "Put back to revision {of}", "duplicated": "Copied from job {of}", "taken in": "Taken in from a file",
}  # fmt: skip
_MOST_SAID = 3


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that differs: the line that it is of, what, what it was and what it is; empty where there is none."""

    line: str
    what: str
    before: str
    after: str

    def __str__(self) -> str:
        head = f"{self.line}: {self.what}" if self.line else self.what
        if not self.before or not self.after:
            return f"{head} {self.after or self.before}".strip()
        return f"{head} {self.before} \u2192 {self.after}"


def changes(before: Content, after: Content) -> Iterator[Change]:
    """Yield what differs between two contents, in words."""
    kept = {line.number: line for line in (*before.lines, *after.lines)}
    for each in differences(before, after):
        if each.what == "archived" and not each.line:
            yield Change("", "Archived" if each.after == "yes" else "Taken up again", "", "")
        elif not each.line:
            yield Change("", _OF_JOBS[each.what], each.before or "none", each.after or "none")
        else:
            line = kept[each.line]
            called = f"Line {each.line}, {line.name or each.part}"
            yield _of_line(called, each, labels(line.kept))


def _of_line(called: str, each: Difference, named: Mapping[str, str]) -> Change:
    if each.what in ("added", "removed"):
        what = "added" if each.what == "added" else "taken out"
        return Change(called, what, *(f"{count} of it" if count else "" for count in (each.before, each.after)))
    if each.what == "drawing":
        return Change(called, "Drawing", "another file", "this file")
    title = named.get(each.what) or _OF_LINES.get(each.what, each.what)
    before, after = (TURNS_SAID.get(text, text) if each.what == "turns" else text for text in (each.before, each.after))
    return Change(called, title, before or "as it comes", after or "as it comes")


def said(revisions: Sequence[Revision]) -> list[tuple[Revision, str]]:
    """Return revisions in their order, each with what was done, in words; of the first no more than that."""
    found = []
    for before, at in zip((None, *revisions), revisions, strict=False):
        if at.what != "changed":
            found.append((at, _WHAT[at.what].format(of=at.of)))
        elif before is None:
            found.append((at, "Changed"))
        else:
            every = [str(change) for change in changes(before.content, at.content)]
            more = f"; {len(every) - _MOST_SAID} more" if len(every) > _MOST_SAID else ""
            found.append((at, "; ".join(every[:_MOST_SAID]) + more))
    return found


def labels(kept: Kept) -> dict[str, str]:
    """Return what the parameters of a part are called, by name."""
    specs = Parameters.specs()
    if not kept.drawing and kept.part in modules():
        try:
            specs = find(kept.part).parameters.specs()
        except PartsError:
            return {}
    return {name: spec.label for name, spec in specs.items()}
