"""Merging collinear and concentric pieces of a closed chain, as they were before something cut them in two.

A drawing often holds one line as two that follow each other, or one arc as two of its circle. Where what
counts is how long a segment is or what follows it, the two are one.
"""

import math
from collections.abc import Sequence

from parts.geometry.segment import Arc, Line, Segment, cross, distance
from parts.tolerance import SAME_POINT_MM

# Two whose directions differ by more than this aren't looked at further: far above rounding.
_CLEARLY_RAD = 1e-3
# An arc can't be a whole turn; what comes this near stays in two.
_NEARLY_WHOLE_TURN = 2 * math.pi - 0.01


def unsplit(segments: Sequence[Segment]) -> tuple[Segment, ...]:
    """Return the segments of a closed chain in order, collinear lines and arcs of one circle merged."""
    whole: list[Segment] = [segments[0]]
    for segment in segments[1:]:
        one = _as_one(whole[-1], segment)
        if one is None:
            whole.append(segment)
        else:
            whole[-1] = one
    if len(whole) > 2 and (one := _as_one(whole[-1], whole[0])):
        whole[0] = one
        whole.pop()
    return tuple(whole)


def _as_one(before: Segment, after: Segment) -> Segment | None:
    """The one line or arc that two are, where they are collinear or concentric and of one radius."""
    a, b = before.heading_at_end, after.heading_at_start
    if abs(cross(*a, *b)) > _CLEARLY_RAD or a[0] * b[0] + a[1] * b[1] < 0:
        return None
    if isinstance(before, Line) and isinstance(after, Line):
        line = Line(before.start, after.end)
        return line if distance(line.nearest(after.start), after.start) <= SAME_POINT_MM else None
    if isinstance(before, Arc) and isinstance(after, Arc) and (before.bulge > 0) == (after.bulge > 0):
        return _one_arc(before, after)
    return None


def _one_arc(before: Arc, after: Arc) -> Arc | None:
    sweep = before.sweep + after.sweep
    if abs(sweep) > _NEARLY_WHOLE_TURN or distance(before.start, after.end) <= SAME_POINT_MM:
        return None
    arc = Arc(before.start, after.end, math.tan(sweep / 4))
    through = (after.start, before.at(0.5), after.at(0.5))
    return arc if all(distance(arc.nearest(p), p) <= SAME_POINT_MM for p in through) else None
