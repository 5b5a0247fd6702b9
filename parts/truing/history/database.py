"""The tables of a history, and the few statements that read and write them.

The same do in every database: no partial index and no savepoint, which not all have. Primary keys hold that no two
entries have one number, and that none is replaced twice. In SQLite triggers refuse a change by any other program.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict
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
    event,
    insert,
    select,
)
from sqlalchemy.dialects.mysql import MEDIUMTEXT

from parts.database import connected as database_at
from parts.truing.history.entry import LONGEST_NAME, Entry, What
from parts.truing.history.place import PLACE

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
    with database_at(PLACE, METADATA) as connection:
        yield connection
