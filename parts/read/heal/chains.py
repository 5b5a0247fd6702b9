"""Chains: a net's loose ends joined across small gaps, then its edges walked into loops.

Where more than two edges meet, hanging tails are taken off first. An even number left is paired so that loops
touch there and don't cross; with an odd number nothing tells which way the outline runs, and it stays open.
"""

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from parts.geometry import Point, Segment, distance, meeting_points
from parts.read.heal.mend import Mend
from parts.read.heal.net import Edge, Net, corner
from parts.read.limits import Budget


@dataclass(frozen=True, slots=True)
class OpenChain:
    """Segments that close no loop: a tail hangs on a loop's corner; a fork has an end where several meet.

    An empty one comes back to its start, but encloses as much one way round as the other.
    """

    segments: tuple[Segment, ...]
    layer: str
    why: str = "open"
    at: Point = (0.0, 0.0)


@dataclass(slots=True)
class Chained:
    """What became of a net: closed chains with their layers, and the chains that stay open."""

    closed: list[tuple[tuple[Segment, ...], str]] = field(default_factory=list)
    open: list[OpenChain] = field(default_factory=list)


def join_loose_ends(net: Net, reach: float, budget: Budget) -> list[Mend]:
    """Join loose ends up to `reach` mm apart, the nearest first, and those that run past each other by no more.

    Raises:
        Unreadable: if too many ends lie too close together.
    """
    joined: list[Mend] = []
    taken: set[int] = set()
    for gap, a, b in sorted(_near_pairs(net, net.loose(), 2 * reach, budget)):
        if a in taken or b in taken or len(net.at[a]) != 1 or len(net.at[b]) != 1:
            continue
        (first,), (second,) = net.at[a], net.at[b]
        at = None if first == second else _joint(net.edges[first].leaving(a), net.edges[second].leaving(b), reach)
        if at is not None:
            taken |= {a, b}
            moved = max(distance(at, net.points[node]) for node in (a, b))
            net.merge((a, b), at)
            joined.append(Mend("gap", gap if gap <= reach else moved, at))
    return joined


def snap(net: Net, reach: float, budget: Budget) -> list[Mend]:
    """Make all points within `reach` mm of one of them that one, beginning with those where the most lines meet.

    For drawings in which so much was drawn twice or left over in one place that its ends can't be told apart.
    """
    moved: list[Mend] = []
    cells: dict[tuple[int, int], list[int]] = defaultdict(list)
    for node in sorted((n for n, edges in enumerate(net.at) if edges), key=lambda n: -len(net.at[n])):
        x, y = net.points[node]
        cx, cy = math.floor(x / reach), math.floor(y / reach)
        around = [n for dx in (-1, 0, 1) for dy in (-1, 0, 1) for n in cells.get((cx + dx, cy + dy), ())]
        budget.pairs(1 + len(around))
        near = [(gap, n) for n in around if (gap := distance(net.points[n], net.points[node])) <= reach]
        if near:
            gap, target = min(near)
            net.merge((node,), net.points[target])
            moved.append(Mend("gap", gap, net.points[target]))
        else:
            cells[cx, cy].append(node)
    return moved


def _joint(first: Segment, second: Segment, reach: float) -> Point | None:
    """Where two segments walked away from a gap meet: none where the gap is wide and they don't cross near by."""
    if distance(first.start, second.start) <= reach:
        return corner(first, second, reach)
    ends = first.start, second.start
    crossings = [p for p in meeting_points(first, second) if max(distance(p, end) for end in ends) <= reach]
    return min(crossings, key=lambda p: distance(p, ends[0]), default=None)


def _near_pairs(net: Net, nodes: Sequence[int], reach: float, budget: Budget) -> Iterator[tuple[float, int, int]]:
    cells: dict[tuple[int, int], list[int]] = defaultdict(list)
    for node in nodes:
        x, y = net.points[node]
        cx, cy = math.floor(x / reach), math.floor(y / reach)
        for dx in (-1, 0, 1):
            for dy in (-1, 0, 1):
                for other in cells.get((cx + dx, cy + dy), ()):
                    budget.pairs()
                    gap = distance(net.points[node], net.points[other])
                    if gap <= reach:
                        yield gap, other, node
        cells[cx, cy].append(node)


def chain(net: Net, budget: Budget) -> Chained:
    """Walk every edge of the net into a closed or an open chain; the net is left empty."""
    made = Chained()
    _take_off(net, made, net.loose(), budget)
    forks = [node for node, edges in enumerate(net.at) if len(edges) % 2]
    meets = {node for node, edges in enumerate(net.at) if len(edges) > 2}
    while forks:
        fork = forks.pop()
        if len(net.at[fork]) % 2:
            stops = _open_at(net, made, fork, meets, budget)
            forks += _take_off(net, made, stops, budget)
    pairs = {node: _paired(net, node) for node, edges in enumerate(net.at) if len(edges) > 2}
    while net.edges:
        made.closed.append(_loop(net, next(iter(net.edges)), pairs))
        budget.time()
    return made


def _take_off(net: Net, made: Chained, nodes: Sequence[int], budget: Budget) -> list[int]:
    """Take chains off that start where one edge ends, up to where several meet; return all nodes seen."""
    waiting, seen = list(nodes), list(nodes)
    while waiting:
        start = waiting.pop()
        if len(net.at[start]) == 1:
            budget.time()
            segments, layer, stop = _walk(net, start, set())
            why = "tail" if net.at[stop] else "open"
            made.open.append(OpenChain(tuple(segments), layer, why, net.points[start]))
            waiting.append(stop)
            seen.append(stop)
    return seen


def _walk(net: Net, start: int, meets: set[int]) -> tuple[list[Segment], str, int]:
    """Take edges out one after the other from a node, until nothing or more than one goes on, or others meet."""
    number = next(iter(net.at[start]))
    layer, node = net.edges[number].layer, start
    segments: list[Segment] = []
    while True:
        edge = net.drop(number)
        segments.append(edge.leaving(node))
        node = edge.far(node)
        if len(net.at[node]) != 1 or node == start or node in meets:
            return segments, layer, node
        (number,) = net.at[node]


def _open_at(net: Net, made: Chained, fork: int, meets: set[int], budget: Budget) -> list[int]:
    """Take off every chain that starts where an odd number of edges meet; return where they lead."""
    stops: list[int] = []
    while net.at[fork]:
        budget.time()
        segments, layer, stop = _walk(net, fork, meets)
        made.open.append(OpenChain(tuple(segments), layer, "fork", net.points[fork]))
        stops.append(stop)
    return stops


def _paired(net: Net, node: int) -> dict[int, int]:
    """For each edge at a node of four or more the one that goes on from it: neighbours by direction.

    Of the two ways to pair neighbours, the one that closes more loops at once; else the one with the narrower
    angles between them, since a loop's corner is seldom wider than a straight line.
    """
    leaving = sorted((_direction(net.edges[number], node), number) for number in net.at[node])
    back = {number: _comes_back_by(net, node, number) for number in net.at[node]}
    ways = []
    for first in (0, 1):
        pairs = [(leaving[i], leaving[(i + 1) % len(leaving)]) for i in range(first, len(leaving), 2)]
        closed = sum(back[a] == b for (_, a), (_, b) in pairs)
        wedges = math.fsum((to - at) % (2 * math.pi) for (at, _), (to, _) in pairs)
        ways.append((-closed, wedges, first, [(a, b) for (_, a), (_, b) in pairs]))
    return {one: other for a, b in min(ways)[3] for one, other in ((a, b), (b, a))}


def _comes_back_by(net: Net, node: int, number: int) -> int | None:
    """The edge by which a chain that leaves a node by one comes back to it, None where it meets others first."""
    at = net.edges[number].far(node)
    while at != node and len(net.at[at]) == 2:
        (number,) = (other for other in net.at[at] if other != number)
        at = net.edges[number].far(at)
    return number if at == node else None


def _direction(edge: Edge, node: int) -> float:
    x, y = edge.leaving(node).heading_at_start
    return math.atan2(y, x)


def _loop(net: Net, first: int, pairs: dict[int, dict[int, int]]) -> tuple[tuple[Segment, ...], str]:
    """Take out the edges of one loop, from `first` on until it comes round to it."""
    node, layer, number = net.edges[first].a, net.edges[first].layer, first
    segments: list[Segment] = []
    while True:
        edge = net.drop(number)
        segments.append(edge.leaving(node))
        node = edge.far(node)
        following = pairs[node][number] if node in pairs else next(iter(net.at[node]), first)
        if following == first:
            return tuple(segments), layer
        number = following
