"""The tables of the store, and the few statements that read and write them.

The same do in every database: numbers are given by the store, never by the database. A revision is written once; that
two writers can't both write the next one of a job is held by its primary key.
"""

import json
import zlib
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from typing import cast

from sqlalchemy import (
    Boolean,
    Column,
    Connection,
    Float,
    ForeignKey,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
    func,
    insert,
    select,
    update,
)
from sqlalchemy.dialects.mysql import LONGBLOB, MEDIUMTEXT

from parts.database import connected as database_at
from parts.errors import DataError, Unreadable
from parts.store.as_text import kept_of, parsed, read, written
from parts.store.content import LONGEST_NAME, LONGEST_REFERENCE, Content, Kept
from parts.store.layout_text import rings_in
from parts.store.off_cut import OffCut
from parts.store.place import PLACE
from parts.store.revision import Job, JobRow, Revision, What
from parts.store.saved_part import SavedPart

METADATA = MetaData()
_BYTES = LargeBinary().with_variant(LONGBLOB, "mysql", "mariadb")
_TEXT = Text().with_variant(MEDIUMTEXT(), "mysql", "mariadb")
_MOST_BYTES = 4_000_000
"""Of a content's text, which 500 lines of the largest template don't come to."""

_JOBS = Table(
    "job",
    METADATA,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("revision", Integer, nullable=False),
    Column("name", String(LONGEST_NAME), nullable=False),
    Column("reference", String(LONGEST_REFERENCE), nullable=False),
    Column("lines", Integer, nullable=False),
    Column("lines_ever", Integer, nullable=False),
    Column("is_archived", Boolean, nullable=False),
    Column("changed", String(32), nullable=False),
    Column("sought", _TEXT, nullable=False),
)
_REVISIONS = Table(
    "job_revision",
    METADATA,
    Column("job", Integer, ForeignKey("job.number"), primary_key=True, autoincrement=False),
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("made", String(32), nullable=False),
    Column("what", String(16), nullable=False),
    Column("of_number", Integer, nullable=False),
    Column("back", Integer, nullable=False),
    Column("forward", Integer, nullable=False),
    Column("content", _BYTES, nullable=False),
)
_FILES = Table(
    "kept_file",
    METADATA,
    Column("digest", String(64), primary_key=True),
    Column("data", _BYTES, nullable=False),
)
_SAVED = Table(
    "saved_part",
    METADATA,
    Column("sought", String(2 * LONGEST_NAME), primary_key=True),
    Column("name", String(LONGEST_NAME), nullable=False),
    Column("part", String(200), nullable=False, index=True),
    Column("made", String(32), nullable=False),
    Column("content", _TEXT, nullable=False),
)
_OFF_CUTS = Table(
    "off_cut",
    METADATA,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("made", String(32), nullable=False),
    Column("material", String(60), nullable=False, index=True),
    Column("thickness_mm", Float, nullable=False),
    Column("name", String(LONGEST_NAME), nullable=False),
    Column("of_job", Integer, nullable=False),
    Column("gone", String(32), nullable=False),
    Column("for_job", Integer, nullable=False),
    Column("outline", _TEXT, nullable=False),
)


@contextmanager
def connected(*, writes: bool = True) -> Iterator[Connection]:
    """Give a connection whose changes hold when all went well.

    Raises:
        DataError: the store can't be reached.
    """
    with database_at(PLACE, METADATA, writes=writes) as connection:
        yield connection


def begin(connection: Connection, first: Revision, lines_ever: int) -> Job:
    """Write a new job under the next number."""
    number = (connection.execute(select(func.max(_JOBS.c.number))).scalar() or 0) + 1
    row = _row(number, first, lines_ever)
    connection.execute(insert(_JOBS).values(number=number, **row))
    return _with(connection, number, first, lines_ever)


def go_on(connection: Connection, number: int, revision: Revision, lines_ever: int) -> Job:
    """Write the next revision of a job."""
    connection.execute(update(_JOBS).where(_JOBS.c.number == number).values(**_row(number, revision, lines_ever)))
    return _with(connection, number, revision, lines_ever)


def _row(number: int, revision: Revision, lines_ever: int) -> dict[str, object]:
    content = revision.content
    words = [str(number), content.name, content.reference]
    words += [f"{line.name} {line.kept.part}" for line in content.lines]
    return {
        "revision": revision.number,
        "name": content.name,
        "reference": content.reference,
        "lines": len(content.lines),
        "lines_ever": lines_ever,
        "is_archived": content.is_archived,
        "changed": revision.made,
        "sought": "\n".join(words).casefold(),
    }


def _with(connection: Connection, number: int, revision: Revision, lines_ever: int) -> Job:
    connection.execute(
        insert(_REVISIONS).values(
            job=number,
            number=revision.number,
            made=revision.made,
            what=revision.what,
            of_number=revision.of,
            back=revision.back,
            forward=revision.forward,
            content=zlib.compress(written(revision.content).encode()),
        )
    )
    return Job(number, revision, lines_ever)


def job(connection: Connection, number: int) -> Job | None:
    """Return a job as it stands, None where there is none of this number."""
    found = connection.execute(
        select(_JOBS.c.revision, _JOBS.c.lines_ever).where(_JOBS.c.number == number)
    ).one_or_none()
    if found is None:
        return None
    at = revision(connection, number, found.revision)
    if at is None:
        raise DataError(f"The store of jobs holds job {number} without its revision {found.revision}.")
    return Job(number, at, found.lines_ever)


def revision(connection: Connection, job_number: int, number: int) -> Revision | None:
    """Return one revision of a job."""
    of = (_REVISIONS.c.job == job_number, _REVISIONS.c.number == number)
    return next(_revisions(connection, *of), None)


def revisions(connection: Connection, job_number: int, most: int, below: int) -> Sequence[Revision]:
    """Return so many of the revisions of a job under a number, the last ones, in their order."""
    of = (_REVISIONS.c.job == job_number, _REVISIONS.c.number < below)
    return [*_revisions(connection, *of, most=most)][::-1]


def _revisions(connection: Connection, *where: object, most: int = 1) -> Iterator[Revision]:
    asked = select(_REVISIONS).where(*where).order_by(_REVISIONS.c.number.desc()).limit(most)  # type: ignore[arg-type] # conditions
    for row in connection.execute(asked):
        content = _content(row.content, row.job)
        yield Revision(row.number, row.made, cast(What, row.what), row.of_number, row.back, row.forward, content)


def _content(data: bytes, job_number: int) -> Content:
    try:
        text = zlib.decompressobj().decompress(data, _MOST_BYTES)
        return read(text.decode())
    except (zlib.error, UnicodeDecodeError, Unreadable) as error:
        raise DataError(f"The store of jobs holds a revision of job {job_number} that is damaged: {error}") from error


def jobs(connection: Connection, words: Sequence[str], *, is_archived: bool, most: int) -> tuple[JobRow, ...]:
    """Return jobs in which all words stand, those changed last first."""
    columns = [_JOBS.c[name] for name in ("number", "name", "reference", "lines", "is_archived", "changed")]
    asked = select(*columns).where(_JOBS.c.is_archived == is_archived)
    for word in words:
        asked = asked.where(_JOBS.c.sought.contains(word.casefold(), autoescape=True))
    rows = connection.execute(asked.order_by(_JOBS.c.changed.desc(), _JOBS.c.number.desc()).limit(most))
    return tuple(JobRow(*row) for row in rows)


def keep_file(connection: Connection, digest: str, data: bytes) -> None:
    """Keep a drawing's file, once."""
    there = connection.execute(select(_FILES.c.digest).where(_FILES.c.digest == digest)).first()
    if there is None:
        connection.execute(insert(_FILES).values(digest=digest, data=data))


def file(connection: Connection, digest: str) -> bytes | None:
    """Return the bytes of a drawing's file, None where it isn't kept."""
    data = connection.execute(select(_FILES.c.data).where(_FILES.c.digest == digest)).scalar()
    return None if data is None else bytes(data)


def save_part(connection: Connection, saved: SavedPart, text: str) -> None:
    """Keep a part under its name, in place of the one of this name before."""
    row = {"name": saved.name, "part": saved.kept.part, "made": saved.made, "content": text}
    sought = saved.name.casefold()
    if not connection.execute(update(_SAVED).where(_SAVED.c.sought == sought).values(**row)).rowcount:
        connection.execute(insert(_SAVED).values(sought=sought, **row))


def saved_parts(connection: Connection, part: str, most: int) -> tuple[SavedPart, ...]:
    """Return saved parts by name: those of a template, or all."""
    asked = select(_SAVED).order_by(_SAVED.c.sought).limit(most)
    if part:
        asked = asked.where(_SAVED.c.part == part)
    return tuple(SavedPart(row.name, row.made, _kept(row.content)) for row in connection.execute(asked))


def forget_part(connection: Connection, name: str) -> bool:
    """Take a saved part away, and tell whether it was there."""
    gone = connection.execute(_SAVED.delete().where(_SAVED.c.sought == name.casefold()))
    return bool(gone.rowcount)


def keep_off_cut(connection: Connection, off_cut: OffCut) -> OffCut:
    """Write a new off-cut under the next number, and return it with that."""
    number = (connection.execute(select(func.max(_OFF_CUTS.c.number))).scalar() or 0) + 1
    row = {name: getattr(off_cut, name) for name in ("made", "material", "thickness_mm", "name", "of_job")}
    outline = json.dumps(off_cut.outline)
    connection.execute(insert(_OFF_CUTS).values(number=number, gone="", for_job=0, outline=outline, **row))
    return replace(off_cut, number=number)


def off_cuts(connection: Connection, most: int) -> tuple[OffCut, ...]:
    """Return the off-cuts that are there, the oldest first."""
    asked = select(_OFF_CUTS).where(_OFF_CUTS.c.gone == "").order_by(_OFF_CUTS.c.number).limit(most)
    found = []
    for row in connection.execute(asked):
        try:
            outline = rings_in(parsed(row.outline), "outline")
        except Unreadable as error:
            raise DataError(f"The store of jobs holds off-cut {row.number}, which is damaged: {error}") from error
        said = (row.material, row.thickness_mm, outline, row.name, row.of_job, row.made)
        found.append(OffCut(*said, row.number))
    return tuple(found)


def take_off_cut(connection: Connection, number: int, for_job: int, at: str) -> bool:
    """Take an off-cut out, and tell whether it was there."""
    is_it = (_OFF_CUTS.c.number == number) & (_OFF_CUTS.c.gone == "")
    return bool(connection.execute(update(_OFF_CUTS).where(is_it).values(gone=at, for_job=for_job)).rowcount)


def _kept(text: str) -> Kept:
    try:
        return kept_of(parsed(text), "part")
    except Unreadable as error:
        raise DataError(f"The store of jobs holds a saved part that is damaged: {error}") from error
