"""Saved parts in the store: kept under a name, and presets of their templates from then on."""

import json
from collections.abc import Mapping

from parts.database import is_begun
from parts.errors import Problem, Refused
from parts.store.as_text import kept_rows
from parts.store.content import Kept, named
from parts.store.jobs import now
from parts.store.place import PLACE
from parts.store.saved_part import SavedPart

MOST_SAVED = 500


def save_part(name: str, kept: Kept, files: Mapping[str, bytes] | None = None) -> SavedPart:
    """Keep a part under a name, in place of another of this name, and return it.

    Raises:
        Refused: the name can't be.
        DataError: the store can't be reached.
    """
    saved = SavedPart(named(name), now(), kept)
    from parts.store import database  # noqa: PLC0415 - SQLAlchemy, where there is anything to do with it

    with database.connected() as connection:
        for digest, data in (files or {}).items():
            database.keep_file(connection, digest, data)
        database.save_part(connection, saved, json.dumps(kept_rows(kept), ensure_ascii=False))
    return saved


def saved_parts(part: str = "") -> tuple[SavedPart, ...]:
    """Return the saved parts of a template, or all, by their names.

    Raises:
        DataError: the store can't be reached.
    """
    if not is_begun(PLACE):
        return ()
    from parts.store import database  # noqa: PLC0415 - as above

    with database.connected(writes=False) as connection:
        return database.saved_parts(connection, part, MOST_SAVED)


def forget_part(name: str) -> None:
    """Take a saved part out of the store.

    Raises:
        Refused: none is called so.
        DataError: the store can't be reached.
    """
    found = False
    if is_begun(PLACE):
        from parts.store import database  # noqa: PLC0415 - as above

        with database.connected() as connection:
            found = database.forget_part(connection, name)
    if not found:
        raise Refused((Problem("name", name[:100], "isn't the name of a saved part."),))
