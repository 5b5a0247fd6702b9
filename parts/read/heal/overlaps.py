"""Overlaps: lines and arcs drawn twice, or over part of one another, left once.

Two segments that leave a node on the same course are cut where the shorter one ends; what then lies between
the same two nodes on the same course is there twice, and one of it is dropped. What ends loosely and lies
wholly on another segment is dropped too. Nothing else is: loops that share part of an edge are a fault of the
drawing, which the rules find.
"""

import math
from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from parts.geometry import Line, Segment, distance
from parts.read.heal.mend import Mend, off_by
from parts.read.heal.net import Net
from parts.read.limits import Budget
from parts.read.outlines import split
from parts.tolerance import OVERLAP_MM

# Segments that leave a node in one direction are next to each other when sorted by it; arcs and lines on the
# same tangent may come between two that overlap.
_NEIGHBOURS = 3
_COURSE_RAD = 0.05
# A segment lies on another when it is off by no more than this part of its length: what leaves at a wider angle is a
# short line of its own.
_LIES_ON = 1 / 3
# A loose segment that lies on another is dropped where it is longer by no more than this part of its length.
_LONGER = 1 / 20
# Comparisons of loose ends with boxes, done all at once.
_MOST_BOX_TESTS = 50_000_000
_MOST_PASSES = 10


def drop_overlaps(net: Net, loops: Sequence[Segment], reach: float, budget: Budget) -> list[Mend]:
    """Drop what is drawn twice from the net; return the segments, or parts of them, that were.

    Args:
        net: the loose segments.
        loops: segments of loops that are closed already, on which loose ones may lie.
        reach: how far off another line a double may be, mm.
        budget: what may be spent.

    Raises:
        Unreadable: if too much lies too close together.
    """
    dropped = _drop_lying_on_others(net, loops, reach, budget)
    waiting = [node for node, edges in enumerate(net.at) if len(edges) > 1]
    waiting += _cut_at_loose_ends(net, reach, budget)
    while waiting:
        node = waiting.pop()
        ends = _settle_at(net, node, reach, dropped, budget)
        waiting += ends
    return dropped + _drop_lying_on_others(net, loops, reach, budget)


def _settle_at(net: Net, node: int, reach: float, dropped: list[Mend], budget: Budget) -> list[int]:
    """Settle all edges that leave a node on the same course; return where those that were cut go on from."""
    within = reach if len(net.at[node]) > 2 else min(OVERLAP_MM, reach)
    leaving = sorted((_course(net.edges[number].leaving(node)), number) for number in net.at[node])
    ends: list[int] = []
    for i, (course, number) in enumerate(leaving):
        others = 0
        for j in range(i + 1, i + len(leaving)):
            other_course, other = leaving[j % len(leaving)]
            if number not in net.edges or others == _NEIGHBOURS:
                break
            if abs(math.remainder(other_course - course, 2 * math.pi)) > _COURSE_RAD:
                break
            if other in net.edges:
                budget.pairs()
                end = _settle(net, node, (number, other), within, dropped)
                others += end is None
                ends += [] if end is None else [end]
    return ends


def _course(segment: Segment) -> float:
    x, y = segment.heading_at_start
    return math.atan2(y, x)


def _settle(net: Net, node: int, pair: tuple[int, int], within: float, dropped: list[Mend]) -> int | None:
    """Of two edges at a node of which the shorter lies on the longer, leave of that only what is beyond.

    Returns the node where the shorter ends, None where it doesn't lie so.
    """
    a, b = sorted(pair, key=lambda n: net.edges[n].segment.length)
    short, long = net.edges[a], net.edges[b]
    if not lies_on(short.segment, long.segment, min(within, short.segment.length * _LIES_ON)):
        return None
    dropped.append(Mend("double", off_by(short.segment, (long.segment,)), short.segment.at(0.5)))
    end, away = short.far(node), long.leaving(node)
    net.drop(b)
    if long.far(node) != end:
        at = net.points[end]
        _, beyond = split(away, at, min(max(away.fraction_of(at), 0.0), 1.0))
        net.link(beyond, end, long.far(node), long.layer)
    return end


def lies_on(segment: Segment, other: Segment, within: float) -> bool:
    """Tell whether a segment's ends and middle lie on another."""
    return all(distance(other.nearest(p), p) <= within for p in (segment.start, segment.at(0.5), segment.end))


def _cut_at_loose_ends(net: Net, reach: float, budget: Budget) -> list[int]:
    """Cut segments where a loose end lies on them and what ends there runs on along them; return the nodes."""
    cut: list[int] = []
    numbers = list(net.edges)
    lines = [net.edges[n].segment for n in numbers]
    for node, index in list(_near_loose_ends(net, lines, reach, budget)):
        budget.pairs()
        (own,) = net.at[node] if len(net.at[node]) == 1 else (None,)
        edge, p = net.edges.get(numbers[index]), net.points[node]
        if edge is None or own is None or node in (edge.a, edge.b):
            continue
        if distance(edge.segment.nearest(p), p) <= reach and _shares_course(net, own, node, edge.segment, reach):
            net.drop(numbers[index])
            first, second = split(edge.segment, p, edge.segment.fraction_of(p))
            net.link(first, edge.a, node, edge.layer)
            net.link(second, node, edge.b, edge.layer)
            cut.append(node)
    return cut


def _shares_course(net: Net, own: int, node: int, other: Segment, reach: float) -> bool:
    """Whether an edge runs from its loose end along another segment until one of the two ends."""
    mine = net.edges[own].leaving(node)
    for end in (mine.end, other.start, other.end):
        if distance(end, mine.start) <= reach or distance(mine.nearest(end), end) > reach:
            continue
        middle = mine.at(min(max(mine.fraction_of(end), 0.0), 1.0) / 2)
        if all(distance(other.nearest(p), p) <= reach for p in (end, middle)):
            return True
    return False


def _drop_lying_on_others(net: Net, loops: Sequence[Segment], reach: float, budget: Budget) -> list[Mend]:
    """Drop each loose edge that lies wholly on another, and what this leaves loose and lying so.

    What is loose at both ends goes first: it is the double, and what it lies on may only have a gap.
    """
    dropped: list[Mend] = []
    for _ in range(_MOST_PASSES):
        before = len(dropped)
        numbers = list(net.edges)
        segments = [*(net.edges[n].segment for n in numbers), *loops]
        pairs = list(_near_loose_ends(net, segments, reach, budget))
        for node, index in sorted(pairs, key=lambda pair: not _is_alone(net, pair[0])):
            budget.pairs()
            gone = index < len(numbers) and numbers[index] not in net.edges
            if not gone and net.at[node]:
                (own,) = net.at[node]
                segment = net.edges[own].segment
                if _is_spare(segment, segments[index], reach):
                    dropped.append(Mend("double", off_by(segment, (segments[index],)), segment.at(0.5)))
                    net.drop(own)
        if len(dropped) == before:
            break
    return dropped


def _is_alone(net: Net, node: int) -> bool:
    """Whether the edge at a loose node is loose at its other end too."""
    return all(len(net.at[net.edges[number].far(node)]) == 1 for number in net.at[node])


def _is_spare(segment: Segment, other: Segment, reach: float) -> bool:
    """Whether a segment lies on another that is as long or longer."""
    if other is segment or other.length < segment.length * (1 - _LONGER):
        return False
    return lies_on(segment, other, min(reach, segment.length * _LIES_ON))


def _near_loose_ends(net: Net, segments: Sequence[Segment], reach: float, budget: Budget) -> Iterator[tuple[int, int]]:
    """Yield pairs of a loose node and the index of a segment within reach of it; of an arc's box, for an arc."""
    loose = net.loose()
    if not loose or len(loose) * len(segments) > _MOST_BOX_TESTS:
        return
    boxes: NDArray[np.float64] = np.array([segment.box for segment in segments])
    lows, highs = boxes[:, :2] - reach, boxes[:, 2:] + reach
    courses: NDArray[np.float64] = np.array([_line_through(segment) for segment in segments])
    for node in loose:
        budget.time()
        p = np.array(net.points[node])
        inside = np.flatnonzero(((lows <= p) & (p <= highs)).all(axis=1))
        x, y, ux, uy = courses[inside].T
        off = np.abs(ux * (p[1] - y) - uy * (p[0] - x))
        yield from ((node, int(i)) for i in inside[off <= reach])


def _line_through(segment: Segment) -> tuple[float, float, float, float]:
    """A point and a direction of a line; no direction for an arc, so that everything is near it."""
    return (*segment.start, *(segment.heading if isinstance(segment, Line) else (0.0, 0.0)))
