"""The rotations that fit loops into an axis-parallel rectangle, in closed form.

Turned by t to the left, the loops are as wide as they reach, from side to side, along the direction -t, and as high as
along -t + 90 degrees. Between the angles at which one of the four extremes changes, width and height are each
D cos(angle - a) + k, so the angles at which they are just what the rectangle allows follow in closed form. These
angles part the half turn into stretches, each of which fits as a whole or not at all.
"""

import itertools
import math
from collections.abc import Iterator, Sequence
from typing import TypeAlias

import numpy as np

from parts.geometry.loop import Loop
from parts.geometry.reach.support import Envelope, crossings, envelope, extreme_at
from parts.geometry.view import hull
from parts.tolerance import LIMIT_SLACK_MM, PARALLEL_RAD

Span: TypeAlias = tuple[float, float]
"""The least and the greatest turn to the left of a stretch of turns, radians."""

_QUARTER, _HALF = math.pi / 2, math.pi

# What just fits, fits on a stretch of its own, however short, since a turn may be this much too wide: half of what
# passes, so that either side of a stretch's ends is told apart.
_INNER = LIMIT_SLACK_MM / 2


def turns_that_fit(loops: Sequence[Loop], rooms: Sequence[tuple[float, float]]) -> list[Span]:
    """Return the stretches of turns, from -90 to 90 degrees, at which the loops lie within one of the rectangles.

    Each room is a width and a height in mm. A stretch of one single turn has both its ends there.
    """
    low, long = _least_extents(loops)
    wide = [room for room in rooms if low <= min(room) + LIMIT_SLACK_MM and long <= math.hypot(*room) + LIMIT_SLACK_MM]
    if not wide:
        return []
    of = envelope(loops)
    return sorted({span for width, height in wide for span in _turns(of, width, height)})


def _least_extents(loops: Sequence[Loop]) -> tuple[float, float]:
    """What the loops take up at any turn at least: in one direction and, from corner to corner, in the other.

    The corners of loops reach no further than the loops. A convex polygon is narrowest across one of its sides.
    """
    corners = hull([segment.start for loop in loops for segment in loop.segments])
    along = np.roll(corners, -1, axis=0) - corners
    across = np.column_stack([-along[:, 1], along[:, 0]]) / np.hypot(*along.T)[:, None]
    narrowest = float(np.ptp(corners @ across.T, axis=0).min())
    return narrowest - LIMIT_SLACK_MM, float(np.ptp(corners, axis=0).max()) - LIMIT_SLACK_MM


def _turns(of: Envelope, width: float, height: float) -> Iterator[Span]:
    """Yield the stretches for one rectangle; a direction turned one way is a turn the other way."""
    stops = sorted({-_QUARTER, _QUARTER, *(_folded(start - k * _QUARTER) for start, _ in of for k in (0, 1))})
    inner = (_changes(of, low, high, width, height) for low, high in itertools.pairwise(stops))
    cuts = sorted({*stops, *itertools.chain.from_iterable(inner)})
    spans = [(low, high) for low, high in itertools.pairwise(cuts) if _fits(of, (low + high) / 2, width, height)] + [
        (cut, cut) for cut in cuts if _fits(of, cut, width, height)
    ]
    for low, high in _joined(spans):
        yield -high, -low


def _joined(spans: Sequence[Span]) -> list[Span]:
    """The union of spans."""
    made: list[Span] = []
    for low, high in sorted(spans):
        if made and low <= made[-1][1]:
            made[-1] = (made[-1][0], max(high, made[-1][1]))
        else:
            made.append((low, high))
    return made


def _changes(of: Envelope, low: float, high: float, width: float, height: float) -> list[float]:
    """The angles between two stops at which the width or the height is just what is allowed."""
    middle = (low + high) / 2
    found = []
    for off, allowed in ((0.0, width), (_QUARTER, height)):
        ahead, behind = extreme_at(of, middle + off), extreme_at(of, middle + off + _HALF)
        # behind reaches c . (-u) + r: what lies between the two is (ahead.c - behind.c) . u + both radii
        angles = crossings(
            ahead._replace(radius=ahead.radius + behind.radius), behind._replace(radius=0.0), allowed + _INNER
        )
        found += [_folded(angle - off) for angle in angles]
    return sorted(angle for angle in found if low < angle < high)


def _fits(of: Envelope, angle: float, width: float, height: float) -> bool:
    return _extent(of, angle) <= width + LIMIT_SLACK_MM and _extent(of, angle + _QUARTER) <= height + LIMIT_SLACK_MM


def _extent(of: Envelope, angle: float) -> float:
    """How far the loops reach along a direction, from side to side."""
    back = angle + _HALF
    return extreme_at(of, angle).support(angle) + extreme_at(of, back).support(back)


def _folded(angle: float) -> float:
    """The angle of the same line between -90 and 90 degrees."""
    return (angle + _QUARTER) % _HALF - _QUARTER


def roundest(span: Span) -> float:
    """Return the turn within a stretch, in degrees, that is said with the fewest decimals, nearest its middle."""
    low, high = (math.degrees(angle) for angle in span)
    middle, slack = (low + high) / 2, math.degrees(PARALLEL_RAD)
    tried = (round(middle, decimals) for decimals in range(9))
    return next((turn for turn in tried if low - slack <= turn <= high + slack), middle)
