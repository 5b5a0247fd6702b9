"""A revision: a job as it was after one change. Every one stays; to undo one is a further one.

back      the revision that undoing leads to, 0 where there is none
forward   the revision that redoing leads to, 0 where nothing was undone last
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from parts.store.content import Content, Line
from parts.store.layout import layout_said

What: TypeAlias = Literal["begun", "changed", "undone", "redone", "put back", "duplicated", "taken in"]


@dataclass(frozen=True, slots=True)
class Revision:
    """A job after one change: which it is, when (UTC), what was done, what that refers to, and all of the job.

    `of` is the revision that was undone, redone or put back, or the job that was duplicated; 0 of anything else.
    """

    number: int
    made: str
    what: What
    of: int
    back: int
    forward: int
    content: Content


@dataclass(frozen=True, slots=True)
class Job:
    """A job as it stands; `lines_ever` is the greatest number that a line of it has had."""

    number: int
    revision: Revision
    lines_ever: int

    @property
    def content(self) -> Content:
        """What it is now."""
        return self.revision.content

    @property
    def next_line(self) -> int:
        """The number for a new line."""
        return self.lines_ever + 1


@dataclass(frozen=True, slots=True)
class JobRow:
    """A job as a list shows it; `changed` is when, UTC."""

    number: int
    name: str
    reference: str
    lines: int
    is_archived: bool
    changed: str


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that differs between two contents: of a line, or of the job where `line` is 0.

    `what` is `added`, `removed`, or the name of what has another value: `name`, `reference`, `archived`, `layout`,
    `quantity`, `turns`, `mirror`, `part`, `drawing`, `layers`, `outlines`, or of a parameter. `part` is the line's.
    """

    line: int
    part: str
    what: str
    before: str = ""
    after: str = ""


def differences(before: Content, after: Content) -> tuple[Difference, ...]:
    """Return what differs, the job's own first, then by line in the order of the later one, then what is gone."""
    found = [
        Difference(0, "", name, old, new)
        for name, old, new in (
            ("name", before.name, after.name),
            ("reference", before.reference, after.reference),
            ("archived", _yes(before.is_archived), _yes(after.is_archived)),
            ("layout", *layout_said(before.layout, after.layout)),
        )
        if old != new
    ]
    earlier = {line.number: line for line in before.lines}
    for line in after.lines:
        was = earlier.pop(line.number, None)
        if was is None:
            found.append(Difference(line.number, line.kept.part, "added", after=str(line.quantity)))
            continue
        old, new = (dict(_facts(each)) for each in (was, line))
        names = dict.fromkeys((*old, *new))
        found += [
            Difference(line.number, line.kept.part, name, old.get(name, ""), new.get(name, ""))
            for name in names
            if old.get(name) != new.get(name)
        ]
    gone: Sequence[Difference] = [
        Difference(line.number, line.kept.part, "removed", before=str(line.quantity)) for line in earlier.values()
    ]
    return (*found, *gone)


def _facts(line: Line) -> Sequence[tuple[str, str]]:
    kept = line.kept
    return [
        ("part", kept.part),
        ("drawing", kept.drawing),
        ("quantity", str(line.quantity)),
        ("name", line.name),
        ("turns", line.turns),
        ("mirror", _yes(line.mirror)),
        ("layers", ", ".join(kept.layers)),
        ("outlines", ", ".join(kept.outlines)),
        *kept.values,
    ]


def _yes(is_so: bool) -> str:
    return "yes" if is_so else "no"
