"""A history of measurements by machine: what is entered stays as it was entered.

Each entry holds a file of measurements as text, so its errors are reckoned anew whenever they are asked for. A
correction is a further entry that names the one it replaces, an acceptance one that names the readings accepted.
Nothing is changed or taken out: the code has no statement that does, and in SQLite triggers refuse any other program's.

It is kept in the file or database that the environment variable `PLATEWRIGHT_HISTORY` names, a path or an address such
as `postgresql://...`; else in `history.sqlite` in the user's data folder.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import UTC, datetime

from parts.database import is_begun
from parts.database import kept_at as at
from parts.errors import DataError, Problem, Refused
from parts.truing.history.entry import (
    Entry,
    check,
    check_coming_in,
    check_replacing,
    compensation_by,
    in_force,
    name_of,
)
from parts.truing.history.place import PLACE

_TRIES = 8


def keep(machine: str, measurements: str, replaces: int | None = None) -> Entry:
    """Enter the readings of a machine and return the entry.

    Raises:
        Refused: the name can't stand for a machine, the measurements settle nothing, or the entry they replace isn't
            one of readings of this machine, or has been replaced already.
        DataError: the history can't be reached.
    """
    entry = Entry(0, name_of(machine), _now(), "readings", replaces, measurements)
    check(entry)

    def sound(known: Sequence[Entry]) -> Entry:
        if replaces is not None:
            check_replacing(entry, known)
        return entry

    return _appended(sound)


def accept(number: int) -> Entry:
    """Enter that the errors which an entry's readings tell are the table's accepted ones.

    Raises:
        Refused: no readings in force have this number, or drawings couldn't be compensated by what they tell.
        DataError: the history can't be reached.
    """

    def taken(known: Sequence[Entry]) -> Entry:
        found = next((entry for entry in in_force(known) if entry.number == number), None)
        if found is None:
            raise Refused((Problem("entry", str(number), "holds no readings in force that could be accepted."),))
        compensation_by(found)
        return Entry(0, found.machine, _now(), "acceptance", number, "")

    return _appended(taken)


def entries(machine: str = "") -> tuple[Entry, ...]:
    """Return the entries in their order, of one machine or of all.

    Raises:
        DataError: the history can't be reached.
    """
    if not is_begun(PLACE):
        return ()
    from parts.truing.history import database  # noqa: PLC0415 - SQLAlchemy, where there is anything to read

    with database.connected() as connection:
        return tuple(entry for entry in database.entries(connection) if not machine or entry.machine == machine)


def take_in(given: Sequence[Entry]) -> int:
    """Enter entries with the numbers they have, those that are there already apart, and return how many were new.

    All of them or none.

    Raises:
        Refused: an entry is unsound, refers to none, or another one has its number.
        DataError: the history can't be reached.
    """
    from parts.truing.history import database  # noqa: PLC0415 - SQLAlchemy, where there is anything to read

    with database.connected() as connection:
        known = {entry.number: entry for entry in database.entries(connection)}
        new = [entry for entry in given if known.get(entry.number) != entry]
        for entry in new:
            try:
                check_coming_in(entry, known)
            except Refused as refused:
                named = (replace(each, parameter=f"entry {entry.number} {each.parameter}") for each in refused.problems)
                raise Refused(tuple(named)) from refused
            known[entry.number] = entry
            database.enter(connection, entry)
    return len(new)


def kept_at() -> str:
    """Return where the history is: a path, or a database's address without its password.

    Raises:
        DataError: the environment names no database.
    """
    return at(PLACE)


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="seconds")


def _appended(made: Callable[[Sequence[Entry]], Entry]) -> Entry:
    """Enter what is made in the light of the entries there are, under the next number.

    Another writer may have that number first, which each database says in its own way; then all of it is done again.
    """
    from parts.truing.history import database  # noqa: PLC0415 - SQLAlchemy, where there is anything to read

    for _ in range(_TRIES):
        last = None
        try:
            with database.connected() as connection:
                known = database.entries(connection)
                last = _last(known)
                numbered = replace(made(known), number=last + 1)
                database.enter(connection, numbered)
        except DataError:
            if last is None or last == _last(entries()):
                raise
        else:
            return numbered
    raise DataError("The history is being written by others all the time; try again.")


def _last(known: Sequence[Entry]) -> int:
    return max((entry.number for entry in known), default=0)
