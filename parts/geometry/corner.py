"""The turning angle at the corner between two segments that follow each other."""

import math

from parts.geometry.segment import Segment
from parts.tolerance import PARALLEL_RAD


def turn_between(before: Segment, after: Segment) -> float:
    """Return the turning angle from the end of one segment to the start of the next, radians, positive to the left.

    Straight back, as at the cusp between two arcs, it is a turn to the right when what comes in runs to the
    left of what goes out: s before the cusp, seen along `before` of curvature k, the one is k s²/2 to the left
    of their common tangent, the other, of curvature l, -l s²/2.
    """
    (ax, ay), (bx, by) = before.heading_at_end, after.heading_at_start
    angle = math.atan2(ax * by - ay * bx, ax * bx + ay * by)
    if math.pi - abs(angle) <= PARALLEL_RAD:
        return -math.pi if before.curvature + after.curvature > 0 else math.pi
    return angle
