"""Off-cuts in the store: put on the rack, listed, taken out when they are used."""

from dataclasses import replace
from typing import TYPE_CHECKING

from parts.database import is_begun
from parts.errors import Problem, Refused
from parts.store.content import Content, named
from parts.store.jobs import change_and, now
from parts.store.off_cut import OffCut
from parts.store.place import PLACE
from parts.store.revision import Job

if TYPE_CHECKING:
    from sqlalchemy import Connection

MOST_OFF_CUTS = 500
_USED = "isn't in the store any more: it was used or taken out. Lay the job out again."


def keep_off_cut(off_cut: OffCut) -> OffCut:
    """Put an off-cut into the store, and return it with its number.

    Raises:
        Refused: its name can't be, or there are too many.
        DataError: the store can't be reached.
    """
    from parts.store import database  # noqa: PLC0415 - SQLAlchemy, where there is anything to do with it

    new = replace(off_cut, name=named(off_cut.name, may_be_empty=True), made=now())
    with database.connected() as connection:
        if len(database.off_cuts(connection, MOST_OFF_CUTS)) >= MOST_OFF_CUTS:
            message = f"is full: {MOST_OFF_CUTS} off-cuts are in it. Take out what isn't on the rack any more."
            raise Refused((Problem("store", "", message),))
        return database.keep_off_cut(connection, new)


def off_cuts() -> tuple[OffCut, ...]:
    """Return the off-cuts that are there, the oldest first.

    Raises:
        DataError: the store can't be reached.
    """
    if not is_begun(PLACE):
        return ()
    from parts.store import database  # noqa: PLC0415 - as above

    with database.connected(writes=False) as connection:
        return database.off_cuts(connection, MOST_OFF_CUTS)


def take_off_cut(number: int) -> None:
    """Take an off-cut out of the store.

    Raises:
        Refused: none of this number is in it.
        DataError: the store can't be reached.
    """
    found = False
    if is_begun(PLACE):
        from parts.store import database  # noqa: PLC0415 - as above

        with database.connected() as connection:
            found = database.take_off_cut(connection, number, 0, now())
    if not found:
        raise Refused((Problem("off-cut", str(number), "isn't one in the store."),))


def cut_sheet(number: int, seen: int, sheet: int, left: OffCut | None) -> tuple[Job, OffCut | None]:
    """Mark a sheet of a job's kept layout as cut, and return the job, and what was left as it is kept.

    In one transaction the off-cut that it was is taken out of the store, and what is left of it put in.

    Args:
        number: of the job.
        seen: the revision that whoever cuts has before them.
        sheet: its place in the kept layout.
        left: what goes into the store, None where that is scrap.

    Raises:
        NoJob: there is none of this number.
        Refused: the job was changed meanwhile, the sheet was cut already, or its off-cut is gone.
        DataError: the store can't be reached.
    """
    from parts.store import database  # noqa: PLC0415 - as above

    kept: list[OffCut] = []
    used: list[int] = []

    def changed(job: Job) -> Content:
        layout = job.content.layout
        if layout is None or not 0 <= sheet < len(layout.sheets) or layout.sheets[sheet].is_cut:
            raise Refused((Problem("sheet", str(sheet + 1), "isn't one that is still to be cut."),))
        used[:] = [layout.sheets[sheet].off_cut] if layout.sheets[sheet].off_cut else []
        sheets = tuple(replace(each, is_cut=True) if at == sheet else each for at, each in enumerate(layout.sheets))
        return replace(job.content, layout=replace(layout, sheets=sheets))

    def put(connection: "Connection") -> None:
        for gone in used:
            if not database.take_off_cut(connection, gone, number, now()):
                raise Refused((Problem("off-cut", str(gone), _USED),))
        kept[:] = [database.keep_off_cut(connection, replace(left, made=now(), of_job=number))] if left else []

    job = change_and(number, seen, changed, put)
    return job, kept[0] if kept else None
