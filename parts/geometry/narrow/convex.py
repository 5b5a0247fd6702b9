"""Convex loops: those that turn one way only."""

from parts.geometry.loop import Loop
from parts.tolerance import PARALLEL_RAD


def is_convex(loop: Loop) -> bool:
    """Tell whether a simple loop is convex: it turns one way only."""
    way = 1 if loop.counter_clockwise else -1
    if not all(way * segment.curvature >= 0 for segment in loop.segments):
        return False
    return all(way * turn >= -PARALLEL_RAD for turn in loop.turns)
