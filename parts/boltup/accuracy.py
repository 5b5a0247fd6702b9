"""Accuracy: how far holes may be off their places and sizes, as standard deviations, and where that is from.

    position   of a hole's centre along each axis, from where the rest of its part would have it
    size       of a hole's diameter

A limit deviation, plus or minus, is `limits.standard_deviations` of them. From ISO 9013 the limit of the distance
between the two holes that are furthest apart is that of two positions together, so each has it by the root of two;
and a hole's size has the limit of its diameter.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from parts.boltup.assumed import assumed
from parts.boltup.holes import Hole
from parts.boltup.table import TableErrors
from parts.cutting import Expected, expected, iso9013_limit
from parts.errors import Problem, Refused
from parts.geometry import distance
from parts.units import Units, format_fine, format_length

_NO_TABLE = TableErrors()


@dataclass(frozen=True)
class Cutting:
    """How a part's holes are made: process and thickness; a class, limits and a table's errors where they are given.

    Without a process the holes are true unless limits are given. `letter` names the part in a refusal.
    """

    letter: str = "a"
    process: str = ""
    thickness_mm: float = 0.0
    tolerance_class: int | None = None
    position_mm: float | None = None
    size_mm: float | None = None
    table: TableErrors = _NO_TABLE
    units: Units = "mm"

    def say(self, mm: float) -> str:
        """Return a limit deviation in words."""
        return f"\u00b1{format_fine(mm, self.units)}"


@dataclass(frozen=True)
class Accuracy:
    """Standard deviations of position and size of each hole, mm; the table's errors; each source in a sentence."""

    position: tuple[float, ...]
    size: tuple[float, ...]
    table: TableErrors = _NO_TABLE
    sources: tuple[str, ...] = field(default=())


def accuracy_of(cutting: Cutting, holes: Sequence[Hole]) -> Accuracy:
    """Return how true the holes of a part are.

    Raises:
        Refused: ISO 9013 has no limit for the process at this size, and none is given.
    """
    per = assumed().limits.standard_deviations
    position, position_said = _limit(cutting, "position", _span(holes), cutting.position_mm)
    two = math.sqrt(2) if cutting.position_mm is None and not cutting.table.name and len(holes) > 1 else 1.0
    drilled = assumed().drilled.off_mm / per
    sizes = [_limit(cutting, "size", hole.width, cutting.size_mm) for hole in holes]
    return Accuracy(
        tuple(math.hypot(position / per / two, drilled if hole.is_drilled else 0.0) for hole in holes),
        tuple(0.0 if hole.is_drilled else size / per for hole, (size, _) in zip(holes, sizes, strict=True)),
        cutting.table,
        tuple(dict.fromkeys((position_said, *(said for _, said in sizes)))),
    )


def _span(holes: Sequence[Hole]) -> float:
    """How far apart the two outermost holes are; of one hole, how far it is from the origin."""
    if len(holes) == 1:
        return math.hypot(*holes[0].at) or holes[0].width
    return max(distance(a.at, b.at) for a in holes for b in holes)


def _limit(cutting: Cutting, what: str, nominal: float, given: float | None) -> tuple[float, str]:
    """The limit deviation of a position or a size, mm, and where it is from."""
    if given is not None:
        return given, f"{what} {cutting.say(given)}, as given"
    if not cutting.process:
        return 0.0, "places and sizes true, as nothing is said of how it is made"
    if cutting.table.name:
        repeats = assumed().table
        return repeats.repeats_mm, f"{cutting.say(repeats.repeats_mm)} besides the measured errors, {repeats.source}"
    found = _of_standard(cutting, nominal)
    if found is None:
        size, thick = format_length(nominal, cutting.units), format_length(cutting.thickness_mm, cutting.units)
        why = f"has no limit in ISO 9013 for {cutting.process} at a thickness of {thick} and a size of {size}"
        example = format_length(0.3, cutting.units)
        raise Refused((Problem(f"{what}_{cutting.letter}", "", f"{why}; say \u00b1 how much, such as {example}."),))
    about = "distance of the outermost holes" if what == "position" else "diameter"
    words = f"{cutting.say(found.limit_mm)} in the {about}, class {found.tolerance_class} of {found.source}"
    return found.limit_mm, words


def _of_standard(cutting: Cutting, nominal: float) -> Expected | None:
    if cutting.tolerance_class is not None:
        return iso9013_limit(cutting.tolerance_class, cutting.thickness_mm, nominal)
    return expected(cutting.process, cutting.thickness_mm, nominal)
