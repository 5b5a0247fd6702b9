"""How a boundary turns from one segment into the next, and where it turns one way only."""

import math
from collections.abc import Sequence

from parts.geometry.loop import Loop
from parts.geometry.segment import Segment, cross
from parts.tolerance import PARALLEL_RAD


def turn_between(before: Segment, after: Segment) -> float:
    """Return the turn from one segment into the next, radians, positive to the left; straight back is to the right."""
    (ax, ay), (bx, by) = before.heading_at_end, after.heading_at_start
    turn = math.atan2(cross(ax, ay, bx, by), ax * bx + ay * by)
    return -math.pi if math.pi - turn <= PARALLEL_RAD else turn


def is_convex(loop: Loop) -> bool:
    """Tell whether a simple loop turns one way only, so that what it goes round is convex."""
    segments: Sequence[Segment] = loop.segments
    way = 1 if loop.counter_clockwise else -1
    return all(
        way * segment.curvature >= 0 and way * turn_between(segments[k - 1], segment) >= -PARALLEL_RAD
        for k, segment in enumerate(segments)
    )
