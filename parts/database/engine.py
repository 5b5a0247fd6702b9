"""Transactions in a database: whole or not at all, and on the disk before they are acknowledged."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache
from pathlib import Path

from sqlalchemy import Connection, MetaData, create_engine, event
from sqlalchemy.engine import URL, Engine, make_url
from sqlalchemy.exc import SQLAlchemyError
from sqlalchemy.pool import ConnectionPoolEntry, NullPool

from parts.database.place import Place
from parts.errors import DataError

PATIENCE_MS = 20_000
"""How long one who writes waits for another, in SQLite."""
WRITES = "writes"
"""The execution option of a transaction that will write: in SQLite it takes its turn at once, not amid its work."""


@contextmanager
def connected(place: Place, tables: MetaData, *, writes: bool = True) -> Iterator[Connection]:
    """Give a connection whose changes hold when all went well, and none of them otherwise; tables are made.

    Raises:
        DataError: the database can't be reached or used.
    """
    url = _url(place)
    try:
        engine = engine_of(url.render_as_string(hide_password=False), place.journal)
        with engine.execution_options(**{WRITES: writes}).begin() as connection:
            _make(tables, connection, url)
            yield connection
    except (SQLAlchemyError, OSError, ImportError) as error:
        reason = str(getattr(error, "orig", None) or error).splitlines()[0]
        raise DataError(f"{place.what} in {said(place)} can't be used: {reason}.") from error


_made: set[tuple[str, int, int]] = set()
"""The databases whose tables are known to be there: address, the file's number, and which tables."""


def _make(tables: MetaData, connection: Connection, url: URL) -> None:
    """Make the tables, unless they were made or seen in this very database."""
    is_file = url.drivername.startswith("sqlite") and url.database
    inode = Path(url.database).stat().st_ino if is_file and url.database else 0
    key = url.render_as_string(hide_password=False), inode, id(tables)
    if key not in _made:
        tables.create_all(connection)
        _made.add(key)


def said(place: Place) -> str:
    """Return where it is, without a password.

    Raises:
        DataError: the environment names no database.
    """
    url = _url(place)
    return url.database or "memory" if url.drivername.startswith("sqlite") else url.render_as_string()


def may_hold(place: Place) -> bool:
    """Tell whether the database can hold anything: one that is a file has to be there."""
    url = _url(place)
    return not url.drivername.startswith("sqlite") or not url.database or Path(url.database).exists()


def _url(place: Place) -> URL:
    given = place.address
    if not given:
        return URL.create("sqlite", database=str(place.file))
    try:
        return make_url(given)
    except SQLAlchemyError as error:
        raise DataError(f"{place.variable} is no path and no database's address.") from error


@lru_cache(maxsize=16)
def engine_of(address: str, journal: bool = False) -> Engine:
    """Return the engine of a database's address; the folder of a file is made.

    Args:
        address: with its password.
        journal: as of a place.
    """
    url = make_url(address)
    if not url.drivername.startswith("sqlite"):
        return create_engine(url, pool_pre_ping=True)
    if url.database:
        Path(url.database).parent.mkdir(parents=True, exist_ok=True)
    engine = create_engine(url, poolclass=NullPool)
    if journal:
        event.listen(engine, "connect", _prepare)
        event.listen(engine, "begin", _begin)
    return engine


def _prepare(connection: sqlite3.Connection, _: ConnectionPoolEntry) -> None:
    """Write by a log that is flushed to the disk with every transaction, and leave beginning one to `_begin`."""
    connection.isolation_level = None
    for said in (f"busy_timeout = {PATIENCE_MS}", "journal_mode = WAL", "synchronous = FULL", "foreign_keys = ON"):
        connection.execute(f"PRAGMA {said}")


def _begin(connection: Connection) -> None:
    writes = connection.get_execution_options().get(WRITES, True)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")
