"""An entry of the history, what makes it sound, and which entries hold."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Literal, TypeAlias

from parts.errors import DataError, Problem, Refused
from parts.truing.accepted import TooFew, told_by
from parts.truing.compensate import Compensation
from parts.truing.file import parsed, read
from parts.truing.report import Report, report
from parts.units import Units

LONGEST_NAME, LONGEST_TEXT = 80, 200_000
What: TypeAlias = Literal["readings", "acceptance"]


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

    @property
    def units(self) -> Units:
        """The units that its readings are in, mm of an acceptance."""
        return "in" if self.measurements and parsed(self.measurements).get("units") == "in" else "mm"

    def report(self, units: Units = "mm") -> Report:
        """Return what its readings say.

        Raises:
            Refused: they settle nothing.
        """
        return report(*read(self.measurements), units)


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


def in_force(known: Sequence[Entry]) -> tuple[Entry, ...]:
    """Return the readings that no correction has replaced."""
    replaced = {entry.refers_to for entry in known if entry.what == "readings"}
    return tuple(entry for entry in known if entry.what == "readings" and entry.number not in replaced)


def accepted(known: Sequence[Entry]) -> Mapping[str, Entry]:
    """Return, for each machine, the readings accepted last, unless they have been corrected since."""
    by_number = {entry.number: entry for entry in in_force(known)}
    latest = {entry.machine: entry.refers_to for entry in known if entry.what == "acceptance"}
    return {machine: by_number[number] for machine, number in latest.items() if number in by_number}


def check(entry: Entry) -> None:
    """Refuse an entry that can't stand by itself.

    Raises:
        Refused: each thing wrong with it.
    """
    if name_of(entry.machine) != entry.machine:
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


def check_replacing(entry: Entry, known: Sequence[Entry]) -> None:
    """Refuse readings that replace what can't be replaced.

    Raises:
        Refused: the entry they replace isn't one of readings of this machine, or has been replaced already.
    """
    own = [each.number for each in in_force(known) if each.machine == entry.machine]
    if entry.refers_to not in own:
        said = f"holds no readings of {entry.machine} in force, which a correction could replace."
        raise Refused((Problem("replaces", str(entry.refers_to), said),))


def check_coming_in(entry: Entry, known: Mapping[int, Entry]) -> None:
    """Refuse an entry that can't come in beside those there are.

    Raises:
        Refused: it is unsound, refers to none, or another one has its number.
    """
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
        check_replacing(entry, tuple(known.values()))


def name_of(machine: str) -> str:
    """Return the name of a machine without blanks at its ends.

    Raises:
        Refused: it can't stand for a machine.
    """
    name = machine.strip()
    if not name or len(name) > LONGEST_NAME or not name.isprintable() or not name[0].isalnum():
        message = f"must begin with a letter or digit and have up to {LONGEST_NAME} characters on one line."
        raise Refused((Problem("machine name", name[:LONGEST_NAME], message),))
    return name
