"""A part for one table: compensated for the errors that its history holds as accepted. Off unless an address asks.

compensate=12    by the readings of entry 12 of the history, where their errors are the accepted ones of a table
"""

from dataclasses import dataclass

from parts import Problem, Refused
from parts.errors import DataError
from parts.part import Part
from parts.truing import Compensation, Errors, history

PIECE = "piece"
"""What names one piece of what is drawn in several, in a file's address: its file alone is sent."""
COMPENSATE = "compensate"
"""The name in the address. It changes what is cut, never what the part shall be, so no template has it."""


@dataclass(frozen=True, slots=True)
class Choice:
    """A table that the page offers, by the entry of its accepted errors."""

    value: str
    title: str
    selected: bool


def choices(chosen: str) -> list[Choice]:
    """Return the tables with accepted errors; none where the history can't be had, which stops no drawing."""
    try:
        known = history.accepted(history.entries())
    except DataError:
        return []
    return [Choice(str(entry.number), machine, chosen == str(entry.number)) for machine, entry in known.items()]


def made_for(chosen: str) -> Compensation:
    """Return the compensation by an entry.

    Raises:
        Refused: its errors aren't the accepted ones of a table, or a drawing can't undo them.
        DataError: the history can't be had.
    """
    known = {str(entry.number): entry for entry in history.accepted(history.entries()).values()}
    entry = known.get(chosen)
    if entry is None:
        there = f"there are {', '.join(known)}" if known else "there is none yet"
        raise Refused((Problem(COMPENSATE, chosen, f"is no entry whose errors a table is left with; {there}."),))
    try:
        made = history.compensation_by(entry)
    except Refused as refused:
        raise Refused((Problem(COMPENSATE, chosen, refused.problems[0].message),)) from refused
    if made.errors == Errors():
        raise Refused((Problem(COMPENSATE, chosen, "has no error that drawings could undo."),))
    return made


def for_table(part: Part, chosen: str) -> Part:
    """Return the part as it is drawn for a table; itself where none is chosen.

    Raises:
        Refused: as `made_for` does.
    """
    if not chosen:
        return part
    made = made_for(chosen)
    return part.compensated(made.errors, made.label)
