"""Parting: the flat of a bent part cut along its bend lines, each bend taken out of it, exactly.

span    where a bend line runs in metal, from edge to edge; where an opening lies across the line there are several
oblong  what a span takes of the flat: as wide as the neutral line through the bend is long, as long as the span
piece   what is left of the flat between oblongs; it is moved by bending, and not changed
seam    the side of a piece along an oblong

What the metal has beyond the end of an oblong, beside a round relief, stays with its piece.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from parts.forming.allowance import Fold
from parts.forming.spans import Node, Span, spans_of
from parts.geometry import Line, Loop, Point, Segment, cross
from parts.profile import Bend, Profile

_BACK_MM = 1e-6
"""A side that runs back on the one before within this goes nowhere: an edge square to the end of a bend line."""


class Edge(NamedTuple):
    """A segment of a piece's outline, and the number of the span of which it is a seam; None of any other."""

    segment: Segment
    seam: int | None = None


@dataclass(frozen=True, slots=True)
class FlatPiece:
    """A piece: its outline counter-clockwise, and the outlines within it clockwise."""

    outside: tuple[Edge, ...]
    inside: tuple[tuple[Edge, ...], ...] = ()

    @property
    def area(self) -> float:
        """Area in mm²."""
        return math.fsum(edge.segment.swept_area for chain in (self.outside, *self.inside) for edge in chain)


@dataclass(frozen=True, slots=True)
class Parted:
    """The pieces, the spans, and of each span the pieces left and right of its bend line."""

    pieces: tuple[FlatPiece, ...]
    spans: tuple[Span, ...]
    beside: tuple[tuple[int, int], ...]


def parted(profile: Profile, bends: Sequence[tuple[Bend, Fold]]) -> Parted:
    """Return the flat cut along bends, numbered as they are given.

    Raises:
        GeometryError: a bend line ends within the metal, or the metal of a bend isn't cut square to its line.
    """
    loops = profile.boundary
    spans = tuple(spans_of(loops, bends))
    walk = _Walk(loops, spans)
    chains = [tuple(_without_spikes(chain)) for chain in walk.chains()]
    chains += [tuple(map(Edge, loops[i].segments)) for i in walk.whole]
    outlines = [chain for chain in chains if _area(chain) > 0]
    within: list[list[tuple[Edge, ...]]] = [[] for _ in outlines]
    for chain in chains:
        if _area(chain) <= 0:
            within[_around(chain, outlines)].append(chain)
    pieces = tuple(FlatPiece(outline, tuple(holes)) for outline, holes in zip(outlines, within, strict=True))
    return Parted(pieces, spans, tuple(_beside(pieces, spans)))


class _Path(NamedTuple):
    """Edge of the flat from one node to the next, metal on its left."""

    segments: tuple[Segment, ...]
    end: Node


class _Walk:
    """Around each piece: along an edge of the flat to a bend line, along that to the next edge, and so on."""

    def __init__(self, loops: Sequence[Loop], spans: Sequence[Span]) -> None:
        self.spans = spans
        nodes = sorted({node for span in spans for node in span.ends})
        self.whole = [i for i in range(len(loops)) if all(node.loop != i for node in nodes)]
        self.paths: dict[Node, _Path] = {}
        for i, loop in enumerate(loops):
            own = [node for node in nodes if node.loop == i]
            for at, node in enumerate(own):
                after = own[(at + 1) % len(own)]
                self.paths[node] = _Path(tuple(_between(loop, node, after)), after)
        self.lines: dict[Node, list[tuple[int, bool]]] = {}
        for number, span in enumerate(spans):
            for node, forward in zip(span.ends, (True, False), strict=True):
                self.lines.setdefault(node, []).append((number, forward))

    def chains(self) -> Iterator[list[Edge]]:
        """Yield the edges around each piece, or within one, that bends run to."""
        left = dict.fromkeys(self.paths)
        while left:
            start = node = next(iter(left))
            chain: list[Edge] = []
            while True:
                left.pop(node, None)
                path = self.paths[node]
                chain += map(Edge, path.segments)
                node = self._over(path.end, chain)
                if node == start:
                    break
            yield chain

    def _over(self, node: Node, chain: list[Edge]) -> Node:
        """Go along the bend lines from a node to where the edge of the flat goes on, and tell where that is."""
        came: int | None = None
        while True:
            heading = chain[-1].segment.heading_at_end if came is None else self._heading(came, chain)
            ways = [each for each in self.lines[node] if each[0] != came]
            on = self.paths[node].segments[0].heading_at_start
            best = max(ways, key=lambda way: _turn(heading, self.spans[way[0]].heading(way[1])), default=None)
            if best is None or (
                came is not None and _turn(heading, on) > _turn(heading, self.spans[best[0]].heading(best[1]))
            ):
                return node
            number, forward = best
            span = self.spans[number]
            chain += _detour(span, number, forward)
            node, came = span.ends[1 if forward else 0], number

    def _heading(self, came: int, chain: Sequence[Edge]) -> Point:
        seam = next(edge for edge in reversed(chain) if edge.seam == came)
        return seam.segment.heading_at_end


def _turn(heading: Point, other: Point) -> float:
    """How far left one turns from a heading to another, radians."""
    return math.atan2(cross(*heading, *other), heading[0] * other[0] + heading[1] * other[1])


def _between(loop: Loop, start: Node, end: Node) -> Iterator[Segment]:
    """Yield the segments of a loop from one node to the next, which may be the same once around."""
    count = len(loop.segments)
    first, last = start.place, end.place
    if last <= first:
        last += count
    at = int(first)
    while at < last:
        segment = loop.segments[at % count]
        low, high = max(first - at, 0.0), min(last - at, 1.0)
        ends = (start.at if low > 0 else segment.start, end.at if high < 1 else segment.end)
        if at == int(first):
            ends = (start.at, ends[1])
        if high > low:
            yield _share(segment, low, high, ends)
        at += 1


def _share(segment: Segment, low: float, high: float, ends: tuple[Point, Point]) -> Segment:
    """The share of a segment between two fractions of it, with just these ends."""
    if isinstance(segment, Line):
        return Line(*ends)
    return type(segment)(*ends, math.tan((high - low) * segment.sweep / 4))


def _detour(span: Span, number: int, forward: bool) -> Iterator[Edge]:
    """Yield the way around what a span takes, on the left of whoever goes along its line."""
    (a, b), (c, d) = (span.points, span.corners(left=True)) if forward else (
        span.points[::-1], span.corners(left=False)[::-1]
    )  # fmt: skip
    yield Edge(Line(a, c))
    yield Edge(Line(c, d), number)
    yield Edge(Line(d, b))


def _without_spikes(chain: Sequence[Edge]) -> list[Edge]:
    """The edges without what runs out along a line and back on it."""
    kept = list(chain)
    at = 0
    while at < len(kept):
        a, b = kept[at - 1].segment, kept[at].segment
        if isinstance(a, Line) and isinstance(b, Line) and _runs_back(a, b):
            longer = kept[at - 1] if a.length > b.length else kept[at]
            rest = Line(a.start, b.end)
            kept[at] = Edge(rest, longer.seam)
            kept.pop(at - 1)
            if rest.length <= _BACK_MM:
                at = kept.index(Edge(rest, longer.seam))
                before, after = kept[at - 1], kept[(at + 1) % len(kept)]
                kept[at - 1] = Edge(_ending(before.segment, after.segment.start), before.seam)
                kept.pop(at)
            at = max(at - 2, 0)
            continue
        at += 1
    return kept


def _runs_back(a: Line, b: Line) -> bool:
    """Whether a line runs back on the one before it."""
    (ux, uy), (vx, vy) = a.heading, b.heading
    off = abs(cross(ux, uy, vx, vy)) * min(a.length, b.length)
    return ux * vx + uy * vy < 0 and off <= _BACK_MM


def _ending(segment: Segment, end: Point) -> Segment:
    return Line(segment.start, end) if isinstance(segment, Line) else type(segment)(segment.start, end, segment.bulge)


def _area(chain: Sequence[Edge]) -> float:
    return math.fsum(edge.segment.swept_area for edge in chain)


def _around(chain: Sequence[Edge], outlines: Sequence[Sequence[Edge]]) -> int:
    """Which outline is the least of those around a chain."""
    p = chain[0].segment.at(0.5)
    loops = [Loop(tuple(edge.segment for edge in outline)) for outline in outlines]
    return min((i for i, loop in enumerate(loops) if loop.contains(p)), key=lambda i: loops[i].area)


def _beside(pieces: Sequence[FlatPiece], spans: Sequence[Span]) -> Iterator[tuple[int, int]]:
    found: dict[tuple[int, bool], int] = {}
    for i, piece in enumerate(pieces):
        for segment, seam in (edge for chain in (piece.outside, *piece.inside) for edge in chain):
            if seam is not None:
                (ux, uy), (vx, vy) = spans[seam].heading(forward=True), segment.heading_at_start
                found[seam, ux * vx + uy * vy > 0] = i
    for number in range(len(spans)):
        yield found[number, True], found[number, False]
