"""A history of measurements by machine: what is entered stays as it was entered.

Each entry holds a file of measurements as text, so its errors are reckoned anew whenever they are asked for. A
correction is a further entry that names the one it replaces, an acceptance one that names the readings accepted.
Nothing is changed or taken out: the code has no statement that does, and in SQLite triggers refuse any other program's.

It is kept in the file or database that the environment variable `PLATEWRIGHT_HISTORY` names, a path or an address such
as `postgresql://...`; else in `history.sqlite` in the user's data folder. The same few statements do in every database:
no partial index and no savepoint, which not all have. Primary keys hold that no two entries have one number, and that
none is replaced twice.
"""

import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import asdict, dataclass, replace
from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path
from typing import Literal, TypeAlias, cast

import platformdirs
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

from parts.errors import DataError, Problem, Refused
from parts.truing.accepted import TooFew, told_by
from parts.truing.compensate import Compensation
from parts.truing.file import read
from parts.truing.report import Report, report
from parts.units import Units

VARIABLE = "PLATEWRIGHT_HISTORY"
LONGEST_NAME, LONGEST_TEXT = 80, 200_000
What: TypeAlias = Literal["readings", "acceptance"]

_TRIES = 8
_METADATA = MetaData()
_ENTRIES = Table(
    "entry",
    _METADATA,
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
    _METADATA,
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


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry; `entered` is UTC in ISO 8601, `measurements` the TOML text, empty for an acceptance.

    `refers_to` is the entry that readings replace, or that an acceptance accepts.
    """

    number: int
    machine: str
    entered: str
    what: What
    refers_to: int | None
    measurements: str

    def report(self, units: Units = "mm") -> Report:
        """Return what its readings say.

        Raises:
            Refused: they settle nothing.
        """
        return report(*read(self.measurements), units)


def keep(machine: str, measurements: str, replaces: int | None = None) -> Entry:
    """Enter the readings of a machine and return the entry.

    Raises:
        Refused: the name can't stand for a machine, the measurements settle nothing, or the entry they replace isn't
            one of readings of this machine, or has been replaced already.
        DataError: the history can't be reached.
    """
    entry = Entry(0, _name(machine), _now(), "readings", replaces, measurements)
    check(entry)

    def sound(known: Sequence[Entry]) -> Entry:
        if replaces is not None:
            _may_replace(entry, known)
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


def compensation_by(entry: Entry) -> Compensation:
    """Return what drawings for a table undo, by the readings of an entry.

    Raises:
        Refused: they settle too little, disagree, or tell of more than is to be drawn around.
    """
    try:
        return Compensation(told_by(entry.measurements), entry.machine)
    except TooFew as few:
        why = " ".join(each.message for each in few.problems)
        said = f"settles too little to compensate by. {why}"
        raise Refused((Problem("entry", str(entry.number), said),)) from few
    except Refused as refused:
        said = f"can't be compensated by. {' '.join(_whole(each) for each in refused.problems)}"
        raise Refused((Problem("entry", str(entry.number), said),)) from refused


def _whole(problem: Problem) -> str:
    """A problem's message as a sentence by itself."""
    message = problem.message
    return message if message[0].isupper() else f"Its {problem.parameter} is {problem.value}; it {message}"


def entries(machine: str = "") -> tuple[Entry, ...]:
    """Return the entries in their order, of one machine or of all.

    Raises:
        DataError: the history can't be reached.
    """
    if not _is_begun():
        return ()
    with _connected() as connection:
        return tuple(entry for entry in _entries(connection) if not machine or entry.machine == machine)


def take_in(given: Sequence[Entry]) -> int:
    """Enter entries with the numbers they have, those that are there already apart, and return how many were new.

    All of them or none.

    Raises:
        Refused: an entry is unsound, refers to none, or another one has its number.
        DataError: the history can't be reached.
    """
    with _connected() as connection:
        known = {entry.number: entry for entry in _entries(connection)}
        new = [entry for entry in given if known.get(entry.number) != entry]
        for entry in new:
            try:
                _may_come_in(entry, known)
            except Refused as refused:
                named = (replace(each, parameter=f"entry {entry.number} {each.parameter}") for each in refused.problems)
                raise Refused(tuple(named)) from refused
            known[entry.number] = entry
            _enter(connection, entry)
    return len(new)


def in_force(known: Sequence[Entry]) -> tuple[Entry, ...]:
    """Return the readings that no correction has replaced."""
    replaced = {entry.refers_to for entry in known if entry.what == "readings"}
    return tuple(entry for entry in known if entry.what == "readings" and entry.number not in replaced)


def accepted(known: Sequence[Entry]) -> Mapping[str, Entry]:
    """Return, for each machine, the readings accepted last, unless they have been corrected since."""
    by_number = {entry.number: entry for entry in in_force(known)}
    latest = {entry.machine: entry.refers_to for entry in known if entry.what == "acceptance"}
    return {machine: by_number[number] for machine, number in latest.items() if number in by_number}


def place() -> str:
    """Return where the history is: a path, or a database's address without its password."""
    url = _address()
    return url.database or "memory" if url.drivername.startswith("sqlite") else url.render_as_string()


def check(entry: Entry) -> None:
    """Refuse an entry that can't stand by itself.

    Raises:
        Refused: each thing wrong with it.
    """
    if _name(entry.machine) != entry.machine:
        raise Refused((Problem("machine name", entry.machine, "has blanks at its ends."),))
    try:
        _ = datetime.fromisoformat(entry.entered).astimezone(UTC)
    except (ValueError, OverflowError) as error:
        raise Refused((Problem("entered", entry.entered, "must be a date and time as in ISO 8601."),)) from error
    if entry.what == "acceptance":
        if entry.measurements or entry.refers_to is None:
            raise Refused((Problem("entry", str(entry.number), "an acceptance names readings and has none itself."),))
        return
    if len(entry.measurements) > LONGEST_TEXT:
        raise Refused((Problem("measurements", "", f"may have {LONGEST_TEXT} characters."),))
    try:
        entry.report()
    except DataError as error:
        raise Refused((Problem("measurements", "", str(error)),)) from error


def _may_replace(entry: Entry, known: Sequence[Entry]) -> None:
    own = [each.number for each in in_force(known) if each.machine == entry.machine]
    if entry.refers_to not in own:
        said = f"holds no readings of {entry.machine} in force, which a correction could replace."
        raise Refused((Problem("replaces", str(entry.refers_to), said),))


def _may_come_in(entry: Entry, known: Mapping[int, Entry]) -> None:
    number = str(entry.number)
    if entry.number in known:
        raise Refused((Problem("number", number, "is another entry here already; nothing was taken in."),))
    check(entry)
    if entry.refers_to is None:
        return
    of = known.get(entry.refers_to)
    if of is None or of.what != "readings" or of.machine != entry.machine:
        raise Refused((Problem("refers_to", number, f"refers to {entry.refers_to}, no readings of its machine."),))
    if entry.what == "readings":
        _may_replace(entry, tuple(known.values()))


def _name(machine: str) -> str:
    name = machine.strip()
    if not name or len(name) > LONGEST_NAME or not name.isprintable() or not name[0].isalnum():
        message = f"must begin with a letter or digit and have up to {LONGEST_NAME} characters on one line."
        raise Refused((Problem("machine name", name[:LONGEST_NAME], message),))
    return name


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="seconds")


def _appended(made: Callable[[Sequence[Entry]], Entry]) -> Entry:
    """Enter what is made in the light of the entries there are, under the next number.

    Another writer may have that number first, which each database says in its own way; then all of it is done again.
    """
    for _ in range(_TRIES):
        last = None
        try:
            with _connected() as connection:
                known = _entries(connection)
                last = _last(known)
                numbered = replace(made(known), number=last + 1)
                _enter(connection, numbered)
        except DataError:
            if last is None or last == _last(entries()):
                raise
        else:
            return numbered
    raise DataError("The history is being written by others all the time; try again.")


def _last(known: Sequence[Entry]) -> int:
    return max((entry.number for entry in known), default=0)


def _enter(connection: Connection, entry: Entry) -> None:
    connection.execute(insert(_ENTRIES).values(**asdict(entry)))
    if entry.what == "readings" and entry.refers_to is not None:
        connection.execute(insert(_REPLACED).values(number=entry.refers_to, by_number=entry.number))


def _entries(connection: Connection) -> tuple[Entry, ...]:
    rows = connection.execute(select(_ENTRIES).order_by(_ENTRIES.c.number))
    return tuple(
        Entry(row.number, row.machine, row.entered, cast(What, row.what), row.refers_to, row.measurements)
        for row in rows
    )


@contextmanager
def _connected() -> Iterator[Connection]:
    """A connection whose changes hold when all went well."""
    url = _address()
    try:
        with _engine(url.render_as_string(hide_password=False)).begin() as connection:
            _METADATA.create_all(connection)
            yield connection
    except (SQLAlchemyError, OSError, ImportError) as error:
        reason = str(getattr(error, "orig", None) or error).splitlines()[0]
        raise DataError(f"The history in {place()} can't be used: {reason}.") from error


def _address() -> URL:
    """Where the history is kept.

    Raises:
        DataError: the environment names no database.
    """
    given = os.environ.get(VARIABLE, "").strip()
    if "://" in given:
        try:
            return make_url(given)
        except SQLAlchemyError as error:
            raise DataError(f"{VARIABLE} is no path and no database's address.") from error
    path = Path(given).expanduser() if given else platformdirs.user_data_path("platewright") / "history.sqlite"
    return URL.create("sqlite", database=str(path))


def _is_begun() -> bool:
    """Whether anything can have been entered: looking at a history makes no file."""
    url = _address()
    return not url.drivername.startswith("sqlite") or not url.database or Path(url.database).exists()


@lru_cache(maxsize=8)
def _engine(address: str) -> Engine:
    url = make_url(address)
    if not url.drivername.startswith("sqlite"):
        return create_engine(url)
    if url.database:
        Path(url.database).parent.mkdir(parents=True, exist_ok=True)
    return create_engine(url, poolclass=NullPool)
