"""What a drawing is to be compensated for, from a TOML file: readings, or errors accepted once and for all.

[machine]    name, needed: the files made say for which table they are
[accepted]   scale_x, scale_y (ratios less 1) and out_of_square_deg, as `true --json` names them
"""

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from parts.errors import Problem, Refused
from parts.truing.compensate import Compensation
from parts.truing.entries import Entries, unknown
from parts.truing.file import from_tables, parsed
from parts.truing.model import Errors
from parts.truing.report import report

OR_ACCEPT = "Or write the errors that you accept in [accepted]."
"""What else a file can do that settles too little."""

CONFIRM = 'Confirmed it is with confirmed = "yes" under [machine].'
"""How errors larger than a shop misses are confirmed in a file."""

_ACCEPTED = ("scale_x", "scale_y", "out_of_square_deg")


class TooFew(Refused):
    """Readings that leave a scale or the angle open; `problems` say what would settle each."""


def compensation(text: str) -> Compensation:
    """Return the compensation that a file's text asks for.

    Of readings, what they can't tell from nothing isn't compensated, as it isn't corrected.

    Raises:
        DataError: the text is no TOML.
        Refused: an entry can't be used, the readings disagree or leave a scale or the angle open, or nothing is left
            to compensate.
    """
    data = parsed(text)
    made = _accepted(data) if "accepted" in data else _of_readings(data)
    if made.errors == Errors():
        raise Refused((Problem("compensate", made.label, "has no error that drawings could undo."),))
    return made


def _accepted(data: Mapping[str, Any]) -> Compensation:
    problems = [*unknown("", data, ("units", "machine", "accepted"))]
    if "reading" in data:
        problems = [Problem("accepted", "", "give readings or accepted errors, not both.")]
    entries = Entries(problems, data.get("units", "mm"))
    table, accepted = entries.table(data.get("machine", {})), data["accepted"]
    if not isinstance(accepted, dict):
        entries.refuse("accepted", accepted, "must be a table, [accepted].")
        accepted = {}
    problems += unknown("accepted ", accepted, _ACCEPTED)
    values = {name: entries.number(f"accepted {name}", accepted.get(name, 0.0), plain=True) for name in _ACCEPTED}
    if problems:
        raise Refused(tuple(problems))
    x, y, degrees = (values[name] or 0.0 for name in _ACCEPTED)
    return Compensation(Errors(x, y, math.radians(degrees)), table.name)


def told_by(text: str) -> Errors:
    """Return the errors that a file's readings tell; what they can't tell from nothing isn't one.

    Raises:
        DataError: the text is no TOML.
        Refused: an entry can't be used, or the readings disagree or leave a scale or the angle open.
    """
    return _told(parsed(text))


def _of_readings(data: Mapping[str, Any]) -> Compensation:
    table, readings = from_tables(data)
    try:
        told = _told(data)
        asked = [each.sentence for each in report(table, readings, data.get("units", "mm")).corrections if each.asked]
        if asked and told != Errors():
            raise Refused(tuple(Problem("reading", "", f"{sentence} {CONFIRM}") for sentence in asked))
        return Compensation(told, table.name)
    except TooFew as few:
        raise Refused(tuple(replace(each, message=f"{each.message} {OR_ACCEPT}") for each in few.problems)) from None


def _told(data: Mapping[str, Any]) -> Errors:
    table, readings = from_tables(data)
    found = report(table, readings, data.get("units", "mm"))
    if found.disagreements:
        raise Refused(tuple(Problem("reading", "disagrees", sentence) for sentence in found.disagreements))
    if absent := [why for name, why in found.missing.items() if name in Errors._fields[:3]]:
        raise TooFew(tuple(Problem("reading", "too few", why) for why in absent))
    known = {
        name: each.value
        for name, each in found.solution.estimates.items()
        if each.differs_from_zero and name in ("scale_x", "scale_y", "out_of_square")
    }
    return Errors(**known)
