"""The tables of a history, and the few statements that read and write them.

The same do in every database: no partial index and no savepoint, which not all have. Primary keys hold that no two
entries have one number, and that none is replaced twice. In SQLite triggers refuse a change by any other program.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict
from functools import lru_cache
from pathlib import Path
from typing import cast

from sqlalchemy import (
    DDL,
    Column,
    Connection,
    ForeignKey,
    Integer,
    MetaData,
    String,
    Table,
    Text,
    create_engine,
    event,
    insert,
    select,
)
from sqlalchemy.dialects.mysql import MEDIUMTEXT
from sqlalchemy.engine import URL, Engine, make_url
from sqlalchemy.exc import SQLAlchemyError
from sqlalchemy.pool import NullPool

from parts.errors import DataError
from parts.truing.history import place
from parts.truing.history.entry import LONGEST_NAME, Entry, What

METADATA = MetaData()
_ENTRIES = Table(
    "entry",
    METADATA,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("machine", String(LONGEST_NAME), nullable=False, index=True),
    Column("entered", String(32), nullable=False),
    Column("what", String(16), nullable=False),
    Column("refers_to", Integer, ForeignKey("entry.number"), nullable=True),
    # MySQL's TEXT ends at 64 KiB
    Column("measurements", Text().with_variant(MEDIUMTEXT(), "mysql", "mariadb"), nullable=False),
)
_REPLACED = Table(
    "entry_replaced",
    METADATA,
    Column("number", Integer, ForeignKey("entry.number"), primary_key=True, autoincrement=False),
    Column("by_number", Integer, ForeignKey("entry.number"), nullable=False),
)
"""Which entry of readings another one replaced."""
for _table in (_ENTRIES, _REPLACED):
    for _act in ("UPDATE", "DELETE"):
        _stop = DDL(  # type: ignore[no-untyped-call] # its own type
            f"CREATE TRIGGER {_table.name}_stays_{_act.lower()} BEFORE {_act} ON {_table.name} "
            "BEGIN SELECT RAISE(ABORT, 'entries stay as they were entered'); END"
        )
        event.listen(_table, "after_create", _stop.execute_if(dialect="sqlite"))


def enter(connection: Connection, entry: Entry) -> None:
    """Write an entry."""
    connection.execute(insert(_ENTRIES).values(**asdict(entry)))
    if entry.what == "readings" and entry.refers_to is not None:
        connection.execute(insert(_REPLACED).values(number=entry.refers_to, by_number=entry.number))


def entries(connection: Connection) -> tuple[Entry, ...]:
    """Return the entries in their order."""
    rows = connection.execute(select(_ENTRIES).order_by(_ENTRIES.c.number))
    return tuple(
        Entry(row.number, row.machine, row.entered, cast(What, row.what), row.refers_to, row.measurements)
        for row in rows
    )


@contextmanager
def connected() -> Iterator[Connection]:
    """Give a connection whose changes hold when all went well.

    Raises:
        DataError: the history can't be reached.
    """
    url = _url()
    try:
        with engine_of(url.render_as_string(hide_password=False)).begin() as connection:
            METADATA.create_all(connection)
            yield connection
    except (SQLAlchemyError, OSError, ImportError) as error:
        reason = str(getattr(error, "orig", None) or error).splitlines()[0]
        raise DataError(f"The history in {said()} can't be used: {reason}.") from error


def said() -> str:
    """Return where the history is, without a password.

    Raises:
        DataError: the environment names no database.
    """
    url = _url()
    return url.database or "memory" if url.drivername.startswith("sqlite") else url.render_as_string()


def may_hold() -> bool:
    """Tell whether the database can hold anything: one that is a file has to be there."""
    url = _url()
    return not url.drivername.startswith("sqlite") or not url.database or Path(url.database).exists()


def _url() -> URL:
    given = place.address()
    if not given:
        return URL.create("sqlite", database=str(place.file()))
    try:
        return make_url(given)
    except SQLAlchemyError as error:
        raise DataError(f"{place.VARIABLE} is no path and no database's address.") from error


@lru_cache(maxsize=8)
def engine_of(address: str) -> Engine:
    """Return the engine of a database's address; the folder of a file is made."""
    url = make_url(address)
    if not url.drivername.startswith("sqlite"):
        return create_engine(url)
    if url.database:
        Path(url.database).parent.mkdir(parents=True, exist_ok=True)
    return create_engine(url, poolclass=NullPool)
