"""Where a disk touches a figure from beside: the seats of hanging holes and of what is joined to its edge."""

import math
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from parts.errors import GeometryError
from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Line, Point, Segment
from parts.tolerance import LIMIT_SLACK_MM, PARALLEL_RAD
from parts.units import format_figures

SHARES = (3 / 6, 2 / 6, 4 / 6, 1 / 6, 5 / 6)
"""Of a piece of an upright line in the metal: where its clearance is looked for."""


class Touch(NamedTuple):
    """Where a disc on an upright line touches a loop: height of its centre, which segment, the point touched."""

    height: float
    segment: int
    at: Point


def touches(loop: Loop, x: float, radius: float) -> Iterator[Touch]:
    """Return where a disc centred on the upright line at `x` is as far as its radius from a segment of the loop.

    With a radius of 0, where the line crosses the loop.
    """
    return touches_of(segments_near(loop, x, radius), x, radius)


def segments_near(loop: Loop, x: float, reach: float) -> list[tuple[int, Segment]]:
    """The segments that may come within `reach` of the upright line at `x`, with their indices."""
    return of_them_near(enumerate(loop.segments), x, reach)


def of_them_near(segments: Iterable[tuple[int, Segment]], x: float, reach: float) -> list[tuple[int, Segment]]:
    """As `segments_near`, of some of a loop's segments with their indices."""
    near, found = reach + LIMIT_SLACK_MM, []
    for i, segment in segments:  # as `may_reach`, whose call alone takes as long
        a, b = segment.start[0], segment.end[0]
        if isinstance(segment, Line):
            half = abs(b - a) / 2
        else:
            bow = abs(segment.bulge)
            half = segment.chord * bow / 2 if bow > 1 else segment.chord / 2
        if abs(x - (a + b) / 2) <= half + near:
            found.append((i, segment))
    return found


def highest_touch(loops: Iterable[Loop], x: float, radius: float, least: float) -> float:
    """Return the greatest height at which a disc centred at `x` is its radius away from a loop; at least `least`."""
    highest = least
    for loop in loops:
        near = segments_near(loop, x, radius)
        over = [(i, s) for i, s in near if max(s.start[1], s.end[1]) + _bow(s) + radius > highest]
        highest = max((highest, *(touch.height for touch in touches_of(over, x, radius))))
    return highest


def _bow(segment: Segment) -> float:
    """How far a segment may bow out over its ends, as `may_reach` has it."""
    return max(abs(segment.bulge), 1.0) * segment.chord / 2 if isinstance(segment, Arc) else 0.0


def touches_of(near: Iterable[tuple[int, Segment]], x: float, radius: float) -> Iterator[Touch]:
    """As `touches`, of some of a loop's segments with their indices."""
    for i, segment in near:
        (ex, ey), off = segment.start, x - segment.start[0]
        if abs(off) <= radius:
            rise = math.sqrt(radius**2 - off**2)
            yield from (Touch(ey + s * rise, i, (ex, ey)) for s in (-1, 1))
        beside = _beside_arc(segment, x, radius) if isinstance(segment, Arc) else _beside_line(segment, x, radius)
        yield from (Touch(height, i, at) for height, at in beside)


def may_reach(segment: Segment, axis: int, value: float, reach: float) -> bool:
    """Tell whether a segment may come within `reach` of a place along x (0) or y (1); no is sure, and quickly said.

    An arc lies in the disc about the middle of its chord through its ends, or where it is more than half a
    circle through its furthest point, the bulge times as far away.
    """
    a, b = segment.start[axis], segment.end[axis]
    off, near = abs(value - (a + b) / 2), reach + LIMIT_SLACK_MM
    if off <= abs(b - a) / 2 + near:
        return True
    return isinstance(segment, Arc) and off <= max(abs(segment.bulge), 1.0) * segment.chord / 2 + near


def _beside_line(line: Line, x: float, radius: float) -> Iterator[tuple[float, Point]]:
    (sx, sy), (ux, uy) = line.start, line.heading
    if abs(ux) <= PARALLEL_RAD:
        return
    for away in (-radius, radius):
        along = (x + away * uy - sx) / ux
        if 0 <= along <= line.length:
            foot = sx + along * ux, sy + along * uy
            yield foot[1] + away * ux, foot


def _beside_arc(arc: Arc, x: float, radius: float) -> Iterator[tuple[float, Point]]:
    (cx, cy), r = arc.centre, arc.radius
    for reach in (r - radius, r + radius):
        if reach > 0 and abs(x - cx) <= reach:
            rise = math.sqrt(reach**2 - (x - cx) ** 2)
            for up in (-rise, rise):
                foot = cx + (x - cx) * r / reach, cy + up * r / reach
                if arc.covers(foot):
                    yield cy + up, foot


def first(near: Iterable[tuple[int, Segment]], x: float, radius: float, side: int) -> Touch:
    """The first disc met on the way up, or down where `side` is -1; GeometryError where there is none."""
    found = (min if side > 0 else max)(touches_of(near, x, radius), default=None)
    if found is None:
        raise GeometryError(f"A disc of {format_figures(radius)} at {format_figures(x)} passes beside the outline.")
    return found
