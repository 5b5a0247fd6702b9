"""Where something is kept for good: a file of SQLite, or the database that an address names; and transactions there.

SQLAlchemy, which is slow to load, is loaded when there is anything to do with it.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from parts.database.place import Place

if TYPE_CHECKING:
    from sqlalchemy import Connection, MetaData

__all__ = ["Place", "connected", "is_begun", "kept_at"]


@contextmanager
def connected(place: Place, tables: "MetaData", *, writes: bool = True) -> "Iterator[Connection]":
    """Give a connection whose changes hold when all went well, and none of them otherwise; tables are made.

    Raises:
        DataError: the database can't be reached or used.
    """
    from parts.database.engine import connected as begun  # noqa: PLC0415 - SQLAlchemy

    with begun(place, tables, writes=writes) as connection:
        yield connection


def kept_at(place: Place) -> str:
    """Return a path, or a database's address without its password.

    Raises:
        DataError: the environment names no database.
    """
    if not place.address:
        return str(place.file)
    from parts.database.engine import said  # noqa: PLC0415 - SQLAlchemy, which reads addresses

    return said(place)


def is_begun(place: Place) -> bool:
    """Tell whether anything can have been kept there: to look makes no file.

    Raises:
        DataError: the environment names no database.
    """
    if not place.address:
        return place.file.exists()
    from parts.database.engine import may_hold  # noqa: PLC0415 - as above

    return may_hold(place)
