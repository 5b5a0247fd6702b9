"""Jobs in the store: begun, changed, undone, found. What is acknowledged is on the disk.

A change is a transaction: a new revision of its job, with the files that it needs. Those who change one job at the same
time do so one after the other, each in the light of what the others did; only undoing asks that nothing happened
meanwhile, since it would undo that instead.
"""

import hashlib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from typing import TYPE_CHECKING, TypeAlias

from parts.database import is_begun
from parts.errors import DataError, Problem, Refused
from parts.store.content import Content, Kept, Line, check, named
from parts.store.layout import KeptLayout
from parts.store.place import PLACE
from parts.store.revision import Job, JobRow, Revision, What

if TYPE_CHECKING:
    from sqlalchemy import Connection

LARGEST_FILE = 20_000_000
"""Bytes of one drawing."""
MOST_LISTED = 200
MOST_REVISIONS = 50
"""Revisions that are read at once."""
_TRIES = 8
Read: TypeAlias = Callable[[int], Revision]
"""Reads a revision of a job within the transaction at hand."""
_WORDS = 8


class NoJob(Refused, LookupError):
    """No job has this number."""

    def __init__(self, number: int) -> None:
        super().__init__((Problem("job", str(number), "isn't in this store; the list has all there are."),))


def now() -> str:
    """Return the time as the store writes it, UTC."""
    return datetime.now(UTC).isoformat(timespec="milliseconds")


def digest_of(data: bytes) -> str:
    """Return what a drawing's file is known by."""
    return hashlib.sha256(data).hexdigest()


def begin(content: Content, files: Mapping[str, bytes] | None = None, what: What = "begun", of: int = 0) -> Job:
    """Begin a job and return it.

    Args:
        content: what it is.
        files: of its drawings, by their digests, as far as they aren't kept already.
        what: how it begins.
        of: the job that it is a duplicate of.

    Raises:
        Refused: it can't be kept so.
        DataError: the store can't be reached.
    """
    check(content)
    first = Revision(1, now(), what, of, 0, 0, content)

    def begun(connection: "Connection") -> Job:
        from parts.store import database  # noqa: PLC0415 - SQLAlchemy, where there is anything to do with it

        _keep(connection, files or {})
        return database.begin(connection, first, max((line.number for line in content.lines), default=0))

    return _tried(begun)


def change(number: int, act: Callable[[Job], Content], files: Mapping[str, bytes] | None = None) -> Job:
    """Change a job by a function that is told how it stands, and return it; what changes nothing is no revision.

    Raises:
        NoJob: there is none of this number.
        Refused: it can't be kept so, or the function refuses.
        DataError: the store can't be reached.
    """

    def changed(job: Job, _: Read) -> Revision:
        return replace(job.revision, content=check(act(job)), what="changed", of=0, back=job.revision.number, forward=0)

    return _next(number, changed, files)


def change_and(
    number: int, seen: int, act: Callable[[Job], Content], also: "Callable[[Connection], None] | None" = None
) -> Job:
    """Change a job that nobody else has changed meanwhile, and return it; `also` is done in the same transaction.

    Raises:
        NoJob: there is none of this number.
        Refused: it can't be kept so, it was changed meanwhile, or a function refuses.
        DataError: the store can't be reached.
    """

    def changed(job: Job, _: Read) -> Revision:
        _unchanged(job, seen)
        return replace(job.revision, content=check(act(job)), what="changed", of=0, back=job.revision.number, forward=0)

    return _next(number, changed, also=also)


def undo(number: int, seen: int) -> Job:
    """Bring back what was before the last change that isn't undone, and return the job.

    Args:
        number: of the job.
        seen: the revision that whoever undoes has before them.

    Raises:
        NoJob: there is none of this number.
        Refused: there is nothing to undo, or the job was changed meanwhile.
        DataError: the store can't be reached.
    """
    return _stepped(number, seen, "undone", lambda at: at.back)


def redo(number: int, seen: int) -> Job:
    """Bring back what was undone last, and return the job; arguments and refusals as of `undo`."""
    return _stepped(number, seen, "redone", lambda at: at.forward)


def _stepped(number: int, seen: int, what: What, way: Callable[[Revision], int]) -> Job:
    def stepped(job: Job, known: Read) -> Revision:
        at = job.revision
        _unchanged(job, seen)
        if not way(at):
            raise Refused((Problem("revision", str(at.number), f"has nothing before it to be {what}."),))
        to = known(way(at))
        forward = at.number if what == "undone" else to.forward
        return replace(to, what=what, of=at.number if what == "undone" else to.number, forward=forward)

    return _next(number, stepped)


def put_back(number: int, to: int, seen: int) -> Job:
    """Make a job again what it was at a revision, and return it; arguments and refusals as of `undo`."""

    def back(job: Job, known: Read) -> Revision:
        _unchanged(job, seen)
        return replace(
            job.revision, content=known(to).content, what="put back", of=to, back=job.revision.number, forward=0
        )

    return _next(number, back)


def _unchanged(job: Job, seen: int) -> None:
    if job.revision.number != seen:
        message = f"was changed meanwhile, to revision {job.revision.number}: look at it, then say again."
        raise Refused((Problem("job", str(job.number), message),))


def duplicate(number: int) -> Job:
    """Begin a job like another one and return it.

    Raises:
        NoJob: there is none of this number.
        DataError: the store can't be reached.
    """
    known = job(number).content
    copy = replace(known, name=f"{known.name[:90]} (copy)", is_archived=False, layout=_again(known.layout))
    return begin(copy, what="duplicated", of=number)


def _again(layout: KeptLayout | None) -> KeptLayout | None:
    """A layout for a job that is cut once more; none where it was on off-cuts, of which there is one each."""
    if layout is None or any(sheet.off_cut for sheet in layout.sheets):
        return None
    return replace(layout, sheets=tuple(replace(sheet, is_cut=False) for sheet in layout.sheets))


def job(number: int) -> Job:
    """Return a job as it stands.

    Raises:
        NoJob: there is none of this number.
        DataError: the store can't be reached.
    """
    found = None
    if is_begun(PLACE):
        from parts.store import database  # noqa: PLC0415 - as above

        with database.connected(writes=False) as connection:
            found = database.job(connection, number)
    if found is None:
        raise NoJob(number)
    return found


def jobs(sought: str = "", *, is_archived: bool = False) -> tuple[JobRow, ...]:
    """Return the jobs in which every word of a search stands, those changed last first, MOST_LISTED of them.

    Raises:
        DataError: the store can't be reached.
    """
    if not is_begun(PLACE):
        return ()
    from parts.store import database  # noqa: PLC0415 - as above

    with database.connected(writes=False) as connection:
        return database.jobs(connection, sought.split()[:_WORDS], is_archived=is_archived, most=MOST_LISTED)


def revision(number: int, at: int) -> Revision:
    """Return a job's revision.

    Raises:
        NoJob: there is no job of this number.
        Refused: it has no such revision.
        DataError: the store can't be reached.
    """
    job(number)
    from parts.store import database  # noqa: PLC0415 - as above

    with database.connected(writes=False) as connection:
        return _revision(connection, number, at)


def _revision(connection: "Connection", number: int, at: int) -> Revision:
    from parts.store import database  # noqa: PLC0415 - as above

    found = database.revision(connection, number, at)
    if found is None:
        raise Refused((Problem("revision", str(at), f"isn't one of job {number}."),))
    return found


def revisions(number: int, below: int = 10**9) -> Sequence[Revision]:
    """Return the last revisions of a job under a number, in their order, MOST_REVISIONS of them.

    Raises:
        NoJob: there is none of this number.
        DataError: the store can't be reached.
    """
    job(number)
    from parts.store import database  # noqa: PLC0415 - as above

    with database.connected(writes=False) as connection:
        return database.revisions(connection, number, MOST_REVISIONS, below)


def file(digest: str) -> bytes:
    """Return a drawing's file.

    Raises:
        Refused: it isn't kept.
        DataError: the store can't be reached.
    """
    data = None
    if is_begun(PLACE):
        from parts.store import database  # noqa: PLC0415 - as above

        with database.connected(writes=False) as connection:
            data = database.file(connection, digest)
    if data is None:
        raise Refused((Problem("drawing", digest[:12], "isn't kept here: choose the file again."),))
    return data


def drawing_of(kept: Kept) -> bytes:
    """Return the file of a part that is a drawing, nothing of a template's; refusals as of `file`."""
    return file(kept.drawing) if kept.drawing else b""


def drawings_of(content: Content) -> dict[str, bytes]:
    """Return the files that the lines of a job need, by their digests; refusals as of `file`."""
    return {digest: file(digest) for digest in dict.fromkeys(line.kept.drawing for line in content.lines) if digest}


def new_line(job: Job, kept: Kept, quantity: int, name: str) -> Line:
    """Return a line that can be added to a job.

    Raises:
        Refused: its name can't be.
    """
    return Line(job.next_line, kept, quantity, named(name, "line name", may_be_empty=True))


def _keep(connection: "Connection", files: Mapping[str, bytes]) -> None:
    from parts.store import database  # noqa: PLC0415 - as above

    for digest, data in files.items():
        if len(data) > LARGEST_FILE:
            message = f"is over {LARGEST_FILE // 1_000_000} MB, more than is kept of one drawing."
            raise Refused((Problem("drawing", "", message),))
        database.keep_file(connection, digest, data)


def _next(
    number: int,
    made: Callable[[Job, Read], Revision],
    files: Mapping[str, bytes] | None = None,
    also: "Callable[[Connection], None] | None" = None,
) -> Job:
    """Write what is made of a job as its next revision; of what is as it was, nothing."""

    def gone_on(connection: "Connection") -> Job:
        from parts.store import database  # noqa: PLC0415 - as above

        known = database.job(connection, number)
        if known is None:
            raise NoJob(number)
        new = made(known, lambda at: _revision(connection, number, at))
        if new.what == "changed" and new.content == known.content:
            return known
        _keep(connection, files or {})
        if also:
            also(connection)
        ever = max((known.lines_ever, *(line.number for line in new.content.lines)))
        return database.go_on(connection, number, replace(new, number=known.revision.number + 1, made=now()), ever)

    if not is_begun(PLACE):
        raise NoJob(number)
    return _tried(gone_on)


def _tried(act: Callable[["Connection"], Job]) -> Job:
    """Do it in a transaction; again, where another one took the number first, which each database says in its way."""
    from parts.store import database  # noqa: PLC0415 - as above

    for left in reversed(range(_TRIES)):
        try:
            with database.connected() as connection:
                return act(connection)
        except DataError as error:
            if not left or "IntegrityError" not in type(error.__cause__).__name__:
                raise
    raise DataError("The store of jobs is being written by others all the time; try again.")
