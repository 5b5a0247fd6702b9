"""More healing: the tolerance that would mend what is open or drawn twice, where more may be healed than was.

It is found by reading the drawing again, so what is offered was seen to do it; and it is never more than a third of
the kerf (`parts.checking.tolerance`).
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from parts.checking.tolerance import TOLERANCE
from parts.errors import Refused, Unreadable
from parts.finding import Finding
from parts.geometry import Point, distance
from parts.read import Mend, ReadDrawing
from parts.tolerance import LIMIT_SLACK_MM, SAME_END_MM
from parts.units import MM_PER_IN, Units, exact_text, format_figures, format_length

LOOPS = "loops"
_STEP_MM: dict[Units, float] = {"mm": 0.05, "in": 0.002 * MM_PER_IN}
"""A tolerance is offered in steps that a person would type."""
_FINE_MM = 0.001
_TWICE = ("double", "outline")
Again = Callable[[float], ReadDrawing]
"""Reads the drawing again with another tolerance, mm."""


def with_more_healing(
    reading: ReadDrawing, found: Sequence[Finding], most_mm: float, again: Again
) -> tuple[Finding, ...]:
    """Return findings of a drawing, with the tolerance to heal up to where that would mend them.

    What is drawn twice, and near enough to be dropped by it, is told in a finding of its own.
    """
    if reading.tolerance_mm >= most_mm - LIMIT_SLACK_MM or not _may_gain(reading, found, most_mm):
        return tuple(found)
    try:
        better = _least(reading, most_mm, again)
    except (Unreadable, Refused):
        return tuple(found)
    if better is None:
        return tuple(found)
    offered = [_offered(each, reading, better) if _is_mended(each, reading, better) else each for each in found]
    return (*_doubled(reading, better), *offered)


def _may_gain(reading: ReadDrawing, found: Sequence[Finding], most_mm: float) -> bool:
    """Whether anything is open, runs into itself, or is so near to something that it may be drawn twice."""
    if reading.open or any(finding.rule == LOOPS for finding in found):
        return True
    return any(f.severity != "note" and f.measured is not None and f.measured <= most_mm for f in found)


def _least(reading: ReadDrawing, most_mm: float, again: Again) -> ReadDrawing | None:
    """The drawing read with the least tolerance, as a person would type it, that mends as much as the most does."""
    most = math.floor(most_mm / _FINE_MM + LIMIT_SLACK_MM) * _FINE_MM
    full = again(most)
    new = _new(reading, full)
    if not new or not _is_better(full, reading):
        return None
    step = _STEP_MM[reading.units]
    enough = math.ceil(max(mend.size_mm for mend in new) / step - LIMIT_SLACK_MM) * step
    for tolerance in (enough, math.ceil(enough * math.sqrt(2) / step) * step):  # a corner is off by so much more
        less = again(tolerance) if tolerance < most else full
        if _opened(less) == _opened(full) and len(_new(reading, less)) == len(new):
            return less
    return full


def _new(reading: ReadDrawing, other: ReadDrawing) -> list[Mend]:
    return [mend for mend in other.mends if mend.kind != "circle" and mend.size_mm > reading.tolerance_mm + SAME_END_MM]


def _opened(reading: ReadDrawing) -> int:
    return sum(finding.rule == LOOPS and finding.severity == "stop" for finding in reading.findings)


def _is_better(other: ReadDrawing, reading: ReadDrawing) -> bool:
    """Whether less is open, or no more than before and something dropped that is drawn twice."""
    opened, before = _opened(other), _opened(reading)
    return opened < before or (opened == before and any(mend.kind in _TWICE for mend in _new(reading, other)))


def _is_mended(finding: Finding, reading: ReadDrawing, better: ReadDrawing) -> bool:
    """Whether a finding of an open place is gone where more is healed."""
    if finding.rule != LOOPS or finding not in reading.findings:
        return False
    shift = _shift(better, reading)
    left = ((each.at[0] + shift[0], each.at[1] + shift[1]) for each in better.findings if each.rule == LOOPS)
    return all(distance(finding.at, place) > better.tolerance_mm for place in left)


def _offered(finding: Finding, reading: ReadDrawing, better: ReadDrawing) -> Finding:
    said = format_figures(better.tolerance_mm, reading.units, 3)
    remedy = f"Healing up to {said} would mend it. {finding.remedy}"
    return replace(finding, remedy=remedy, changes=_changes(reading, better))


def _changes(reading: ReadDrawing, better: ReadDrawing) -> tuple[tuple[str, str], ...]:
    return ((TOLERANCE, exact_text(round(better.tolerance_mm, 6), reading.units)),)


def _doubled(reading: ReadDrawing, better: ReadDrawing) -> Iterator[Finding]:
    """Yield a finding where closed outlines, or lines beside them, are drawn twice."""
    twice = [mend for mend in _new(reading, better) if mend.kind in _TWICE]
    if not twice or _opened(better) < _opened(reading):
        return
    worst = max(twice, key=lambda mend: mend.size_mm)
    x, y = _shift(better, reading)
    thing = "An outline is" if len(twice) == 1 else f"{len(twice)} outlines or lines are"
    apart = format_length(worst.size_mm, reading.units)
    yield Finding(
        LOOPS, "stop", (worst.at[0] + x, worst.at[1] + y), worst.size_mm, reading.tolerance_mm,
        f"{thing} drawn twice, up to {apart} apart, and would be cut twice.",
        f"Healing up to {format_figures(better.tolerance_mm, reading.units, 3)} drops the second; or delete it in the "
        "drawing.",
        _changes(reading, better),
    )  # fmt: skip


def _shift(of: ReadDrawing, to: ReadDrawing) -> Point:
    """What takes a point beside the part as one reading has it to where another has it, mm."""
    return (of.own.e - to.own.e) / to.own.a, (of.own.f - to.own.f) / to.own.d
