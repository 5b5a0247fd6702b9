"""Net: the loose segments of a drawing by the points where they end.

node   a point where ends of segments lie within SAME_END_MM of each other
edge   a segment between two nodes
loose  a node where only one edge ends
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from parts.geometry import Line, Point, Segment, distance
from parts.read.outlines import with_ends
from parts.tolerance import SAME_END_MM


@dataclass(frozen=True, slots=True)
class Edge:
    """A segment from node `a` to node `b`, on a layer."""

    segment: Segment
    a: int
    b: int
    layer: str

    def far(self, node: int) -> int:
        """Return the other node."""
        return self.b if node == self.a else self.a

    def leaving(self, node: int) -> Segment:
        """Return the segment walked away from one of its nodes."""
        return self.segment if node == self.a else self.segment.reversed()


class Net:
    """Edges and nodes; edges are known by a number that stays theirs."""

    def __init__(self) -> None:
        self.points: list[Point] = []
        self.edges: dict[int, Edge] = {}
        self.at: list[dict[int, None]] = []  # dicts as sets that keep their order
        self._cells: dict[tuple[int, int], list[int]] = {}
        self._next = 0

    def node(self, p: Point) -> int:
        """Return the node at a point, a new one where there is none."""
        cx, cy = round(p[0] / SAME_END_MM), round(p[1] / SAME_END_MM)
        for cell in _around(cx, cy):
            for node in self._cells.get(cell, ()):
                if distance(self.points[node], p) <= SAME_END_MM:
                    return node
        node = len(self.points)
        self.points.append(p)
        self.at.append({})
        self._cells.setdefault((cx, cy), []).append(node)
        return node

    def add(self, segment: Segment, layer: str) -> int | None:
        """Add a segment between the nodes at its ends; None where both are one."""
        return self.link(segment, self.node(segment.start), self.node(segment.end), layer)

    def link(self, segment: Segment, a: int, b: int, layer: str) -> int | None:
        """Add a segment between two nodes, its ends moved onto them; None where nothing is left of it."""
        fitted = None if a == b else with_ends(segment, self.points[a], self.points[b])
        if fitted is None:
            return None
        number = self._next
        self._next += 1
        self.edges[number] = Edge(fitted, a, b, layer)
        self.at[a][number] = self.at[b][number] = None
        return number

    def drop(self, number: int) -> Edge:
        """Take an edge out."""
        edge = self.edges.pop(number)
        del self.at[edge.a][number], self.at[edge.b][number]
        return edge

    def loose(self) -> list[int]:
        """Return the nodes where only one edge ends."""
        return [node for node, edges in enumerate(self.at) if len(edges) == 1]

    def merge(self, nodes: Sequence[int], to: Point) -> int:
        """Make one of nodes near a point, and of the node that is there already; return it."""
        gone = [self.drop(number) for node in nodes for number in list(self.at[node])]
        target = self.node(to)
        for edge in gone:
            a, b = (target if node in nodes else node for node in (edge.a, edge.b))
            self.link(edge.segment, a, b, edge.layer)
        return target


def net_of(segments: Iterable[tuple[Segment, str]]) -> Net:
    """Return the net of segments with their layers."""
    net = Net()
    for segment, layer in segments:
        net.add(segment, layer)
    return net


def corner(first: Segment, second: Segment, reach: float) -> Point:
    """Return where two segments that nearly meet at the starts should: at the end of an arc, else at the crossing.

    Both are walked away from the gap. Two lines meet where they cross, when that is within `reach` of both
    ends; whatever else meets in the middle.
    """
    p, q = first.start, second.start
    if isinstance(first, Line) and isinstance(second, Line):
        (ux, uy), (vx, vy) = first.heading, second.heading
        sine = ux * vy - uy * vx
        if abs(sine) > _SLANT:
            along = ((q[0] - p[0]) * vy - (q[1] - p[1]) * vx) / sine
            crossing = p[0] + along * ux, p[1] + along * uy
            if distance(crossing, p) <= reach and distance(crossing, q) <= reach:
                return crossing
    elif isinstance(first, Line):
        return q
    elif isinstance(second, Line):
        return p
    return (p[0] + q[0]) / 2, (p[1] + q[1]) / 2


_SLANT = 0.1  # two lines that turn by less than this, about 6 degrees, go on into each other: no corner


def _around(x: int, y: int) -> Iterable[tuple[int, int]]:
    yield x, y
    for dx in (-1, 0, 1):
        for dy in (-1, 0, 1):
            if dx or dy:
                yield x + dx, y + dy
