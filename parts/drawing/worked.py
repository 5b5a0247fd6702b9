"""What is done to a hole after it is cut, as a drawing and every other file say it, and as it is drawn.

Abbreviations are those of ASME Y14.5 spelt in small letters: csk, a countersink; cbore, a counterbore; near side, far
side. A thread is drawn as three quarters of a thin circle (ISO 6410-1), a head let in as a thin circle round its hole.
"""

import math
from collections.abc import Iterator

from parts.drawing.frame import Frame
from parts.drawing.primitives import Item, Path
from parts.fasteners import bolts
from parts.geometry import Arc, Point, circle
from parts.profile import Drill, HoleWork, Opening
from parts.record import Record
from parts.units import dimension_text, format_angle, format_size_name

_HEADS = {"countersunk": "csk", "counterbored": "cbore"}
_QUARTERS = math.tan(math.radians(270 / 4))


def said_of_hole(record: Record, cut: str, hole: Opening | Drill) -> str:
    """Return what is told of a hole: the size that is cut or drilled, and what is done afterwards.

    As it is: `Ø6.8, tap M8`, `Ø9, csk Ø17.92 x 90° near side`, `Ø5 pilot, drill Ø9`.
    """
    work = hole.work
    if work is None or work.kind in ("through", "slot"):
        return cut
    if work.kind == "pilot":
        return cut if work.is_marked else f"{cut} pilot, drill Ø{_length(record, work.made)}"
    return f"{cut}, {_after(record, work)}"


def _after(record: Record, work: HoleWork) -> str:
    size = _length(record, work.made)
    side = "far side" if work.is_far else "near side"
    if work.kind == "tapped":
        return f"tap {work.thread}"
    if work.kind == "countersunk":
        return f"{_HEADS[work.kind]} Ø{size} \u00d7 {format_angle(work.angle)} {side}"
    if work.kind == "counterbored":
        return f"{_HEADS[work.kind]} Ø{size}, {_length(record, work.depth)} deep {side}"
    if work.kind == "anchor":
        return f"anchor {format_size_name(work.bolt, bolts()[work.bolt].units)}"
    return "plug weld"


def _length(record: Record, mm: float) -> str:
    return dimension_text(record.number(mm), record.job.units)


def shown(frame: Frame, hole: Opening | Drill) -> Iterator[Item]:
    """Yield what is drawn round a hole for what is done to it."""
    work = hole.work
    ring = hole.loop.circle if isinstance(hole, Opening) else None
    at = hole.at if isinstance(hole, Drill) else ring.centre if ring else None
    if work is None or at is None:
        return
    if work.kind in _HEADS:
        yield Path("dimension", frame.segments(circle(at, work.made).segments), closed=True)
    elif work.kind == "tapped":
        yield Path("dimension", frame.segments((_thread(at, work.made / 2),)))


def _thread(at: Point, radius: float) -> Arc:
    """Three quarters of a circle, open at the upper right."""
    x, y = at
    return Arc((x, y + radius), (x + radius, y), _QUARTERS)
