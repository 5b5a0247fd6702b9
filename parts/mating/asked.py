"""Asked: two parts as somebody says them, with values beside, to whether they bolt up.

A side is a bolt pattern (`6 on 120`), a template with values (`plate-base?bolt=M12`, the address of its page), or a
file: one of Platewright's that opens again, or a drawing of one's own, which is read as `parts.check` reads it.
Values that aren't a bolt-up's own are of the stock, and go to whichever side doesn't say them itself.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import parse_qsl, urlsplit

from parts.boltup import (
    Cutting,
    Setting,
    TableErrors,
    accuracy_of,
    answer,
    as_holes,
    holes_of,
    joint_of,
    pattern,
    table_errors,
)
from parts.checking import check
from parts.errors import PartsError, Problem, Refused, did_you_mean
from parts.fasteners import bolts, clearance_hole_mm
from parts.mating.outcome import BoltUp, Mate
from parts.mating.values import NAMES, Asked, read
from parts.part import Part, draw
from parts.reopen import reopen
from parts.spec import Parameters
from parts.tolerance import LIMIT_SLACK_MM
from parts.units import Units, units_of

BESIDE = ("units", "thickness", "material", "process", "tolerance", "dpi", "strokes")
"""What may be said of the stock and the files of either side."""


@dataclass(frozen=True)
class Side:
    """One of the two, as it is said: in words, or as a file with its name; `table` are readings of what cuts it."""

    text: str = ""
    data: bytes = b""
    table: str = ""


@dataclass(frozen=True)
class _Read:
    """A side once read: what it is, and how its holes are made."""

    mate: Mate
    cutting: Cutting


def bolt_up(a: Side, b: Side, values: Mapping[str, str]) -> BoltUp:
    """Return whether two parts bolt up.

    Raises:
        UnknownTemplate: a side names a template that there isn't.
        Unreadable: a side's file can't be read.
        DataError: readings are no TOML.
        Refused: a value can't be, a part is refused, or no holes lie over one another.
    """
    known = (*NAMES, *BESIDE)
    if wrong := [name for name in values if name not in known]:
        raise Refused(tuple(Problem(name, values[name], f"is not known{did_you_mean(name, known)}") for name in wrong))
    units = _units(values)
    asked = read({name: text for name, text in values.items() if name in NAMES}, units)
    stock = {name: text for name, text in values.items() if name in BESIDE and text.strip()}
    sides = [_read(letter, side, asked, stock) for letter, side in (("a", a), ("b", b))]
    joint = joint_of(sides[0].mate.holes, sides[1].mate.holes, asked.bolt, flipped=asked.is_flipped)
    one, other = [pair.a for pair in joint.pairs], [pair.own for pair in joint.pairs]
    accuracies = accuracy_of(sides[0].cutting, one), accuracy_of(sides[1].cutting, other)
    is_one_table = bool(a.table) and a.table == b.table and sides[1].mate.record is not None
    setting = Setting(joint, *accuracies, asked.is_held, asked.is_fixed, is_one_table)
    found = answer(setting, asked.wanted, asked.trials, asked.seed)
    return BoltUp(sides[0].mate, sides[1].mate, asked, joint, accuracies, found, is_one_table)


def _units(values: Mapping[str, str]) -> Units:
    text = values.get("units", "").strip()
    if text not in ("", "mm", "in"):
        raise Refused((Problem("units", text, "must be mm or in."),))
    return units_of(text)


def _read(letter: str, side: Side, asked: Asked, stock: Mapping[str, str]) -> _Read:
    if not side.data and not side.text.strip():
        raise Refused((Problem(letter, "", "isn't given: name a template, a bolt pattern or a file."),))
    if not side.data and (places := pattern(side.text, letter, asked.units)):
        return _pattern(letter, side.text, places, asked)
    part, address = _file(side, stock) if side.data else _template(letter, side.text, stock)
    record = part.record
    k = "ab".index(letter)
    cutting = Cutting(
        letter,
        record.job.cut.process,
        record.job.cut.thickness_mm,
        asked.classes[k],
        asked.positions[k],
        asked.sizes[k],
        table_errors(side.table) if side.table else TableErrors(),
        asked.units,
    )
    return _Read(Mate(record.template.title, holes_of(record.profile, asked.bolt), record, address), cutting)


def _pattern(letter: str, text: str, places: tuple[tuple[float, float], ...], asked: Asked) -> _Read:
    if not asked.bolt:
        raise Refused((Problem("bolt", "", f"isn't given: say what bolts {text} takes, such as M10."),))
    size = next(each.size for each in bolts().values() if abs(each.diameter_mm - asked.bolt) <= LIMIT_SLACK_MM)
    width = asked.hole or clearance_hole_mm(size)
    k = "ab".index(letter)
    cutting = Cutting(letter, position_mm=asked.positions[k], size_mm=asked.sizes[k], units=asked.units)
    return _Read(Mate(text.strip(), as_holes(places, width, asked.bolt)), cutting)


def _template(letter: str, text: str, stock: Mapping[str, str]) -> tuple[Part, str]:
    try:
        split = urlsplit(text.strip())
        given = dict(parse_qsl(split.query, keep_blank_values=True, max_num_fields=500))
    except ValueError as error:
        raise Refused((Problem(letter, text, "isn't an address: write plate-base?bolt=M12 or the like."),)) from error
    own = {name: value for name, value in stock.items() if name in Parameters.specs()}
    part = draw(split.path.rstrip("/").rsplit("/", 1)[-1], **{**own, **given})
    return part, part.record.address


def _file(side: Side, stock: Mapping[str, str]) -> tuple[Part, str]:
    """The part that a file is of: as Platewright wrote it and nobody edited it, else as a drawing of one's own."""
    try:
        opened = reopen(side.data, side.text)
        if not opened.edited:
            return opened.part, opened.address
    except PartsError:
        pass  # it is read as anybody's
    return check(side.data, side.text, **stock).part, ""
