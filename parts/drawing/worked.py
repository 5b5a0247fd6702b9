"""What is drawn round a hole for what is done to it after it is cut.

A thread is three quarters of a thin circle (ISO 6410-1), a head let in a thin circle round its hole.
"""

import math
from collections.abc import Iterator

from parts.drawing.frame import Frame
from parts.drawing.primitives import Item, Path
from parts.geometry import Arc, Point, circle
from parts.profile import Drill, Opening

_HEADS = ("countersunk", "counterbored")
_QUARTERS = math.tan(math.radians(270 / 4))


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
