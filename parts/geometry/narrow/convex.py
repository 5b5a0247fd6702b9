"""Convex loops: those that turn one way only."""

from collections.abc import Sequence

from parts.geometry.corner import turn_between
from parts.geometry.loop import Loop
from parts.geometry.segment import Segment
from parts.tolerance import PARALLEL_RAD


def is_convex(loop: Loop) -> bool:
    """Tell whether a simple loop turns one way only, so that what it goes round is convex."""
    segments: Sequence[Segment] = loop.segments
    way = 1 if loop.counter_clockwise else -1
    return all(
        way * segment.curvature >= 0 and way * turn_between(segments[k - 1], segment) >= -PARALLEL_RAD
        for k, segment in enumerate(segments)
    )
