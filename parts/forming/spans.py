"""Spans: where bend lines run in metal, from edge to edge of the flat, and what is taken of it there."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from parts.errors import GeometryError
from parts.forming.allowance import Fold
from parts.forming.lines import name
from parts.geometry import Line, Loop, Point, Segment, line_crossings, meeting_points
from parts.profile import Bend

_SAME_MM = 1e-6
"""Ends of bend lines and edges this close together are one place: rounding, and less than a file tells."""


class Node(NamedTuple):
    """A place on the edge of the flat: the loop, the segment and the fraction of it as one number, and the point."""

    loop: int
    place: float
    at: Point


@dataclass(frozen=True, slots=True)
class Span:
    """Where a bend line runs in metal: the number of the bend, from where to where along its line, mm, and the edges.

    `points` are its ends, `half` is half of what it takes of the flat across its line.
    """

    bend: int
    start: float
    end: float
    line: Line
    half: float
    ends: tuple[Node, Node]

    @property
    def points(self) -> tuple[Point, Point]:
        """Where its line meets the edges."""
        return self.ends[0].at, self.ends[1].at

    def heading(self, forward: bool) -> Point:
        """The direction of its line, or against it."""
        ux, uy = self.line.heading
        return (ux, uy) if forward else (-ux, -uy)

    def corners(self, *, left: bool, inset: float = 0.0) -> tuple[Point, Point]:
        """The two corners of its oblong on one side, along the line; `inset` draws them in."""
        (x, y), (ux, uy) = self.line.start, self.line.heading
        off = (self.half - inset) * (1 if left else -1)
        start, end = self.start + inset, self.end - inset
        return (x + ux * start - uy * off, y + uy * start + ux * off), (
            x + ux * end - uy * off,
            y + uy * end + ux * off,
        )


def spans_of(loops: Sequence[Loop], bends: Sequence[tuple[Bend, Fold]]) -> Iterator[Span]:
    """Yield the spans of bends, each bend's in the order along its line.

    Raises:
        GeometryError: a bend line ends within the metal, or the metal of a bend isn't cut square to its line.
    """
    edges = [segment for loop in loops for segment in loop.segments]
    for number, (bend, fold) in enumerate(bends):
        called = name([bend for bend, _ in bends], number)
        runs = list(_in_metal(loops, bend.line, called))
        gaps = [(one[1], other[0]) for one, other in pairwise(runs)]
        made = [
            Span(number, start[0], end[0], bend.line, fold.allowance / 2, (start[1], end[1]))
            for start, end in (*runs, *gaps)
        ]
        if any(_runs_into(segment, span) for span in made for segment in edges):
            raise GeometryError(f"an edge or an opening runs into {called}, which isn't cut square there")
        yield from made[: len(runs)]


def _in_metal(
    loops: Sequence[Loop], line: Line, called: str
) -> Iterator[tuple[tuple[float, Node], tuple[float, Node]]]:
    """Yield the places along a line between which it runs in metal."""
    crossings = list(_crossings(loops, line))
    stops = [*(at for at, _ in crossings), 0.0, line.length]
    for first, last in pairwise(sorted(stops)):
        middle = line.at((first + last) / 2 / line.length)
        if last - first <= _SAME_MM or sum(loop.contains(middle) for loop in loops) % 2 == 0:
            continue
        start, end = (_at(crossings, place) for place in (first, last))
        if start is None or end is None:
            raise GeometryError(f"{called} doesn't part it")
        yield start, end


def _at(crossings: Sequence[tuple[float, Node]], place: float) -> tuple[float, Node] | None:
    return next((each for each in crossings if abs(each[0] - place) <= _SAME_MM), None)


def _crossings(loops: Sequence[Loop], line: Line) -> Iterator[tuple[float, Node]]:
    """Yield where a line meets edges: how far along it, and the place on the edge; each place once."""
    (x, y), (ux, uy) = line.start, line.heading
    seen: list[Point] = []
    for number, loop in enumerate(loops):
        for at, segment in enumerate(loop.segments):
            for p in line_crossings(segment, line.start, line.heading):
                along = (p[0] - x) * ux + (p[1] - y) * uy
                if not -_SAME_MM <= along <= line.length + _SAME_MM or math.dist(segment.nearest(p), p) > _SAME_MM:
                    continue
                node = _node(number, at, segment, p, len(loop.segments))
                if all(math.dist(node.at, other) > _SAME_MM for other in seen):
                    seen.append(node.at)
                    yield along, node


def _node(loop: int, at: int, segment: Segment, p: Point, count: int) -> Node:
    if math.dist(p, segment.start) <= _SAME_MM:
        return Node(loop, float(at), segment.start)
    if math.dist(p, segment.end) <= _SAME_MM:
        return Node(loop, float((at + 1) % count), segment.end)
    return Node(loop, at + segment.fraction_of(p), p)


def _runs_into(segment: Segment, span: Span) -> bool:
    """Whether an edge runs into what a span takes of the flat, beyond rounding."""
    (a, b), (d, c) = (span.corners(left=left, inset=_SAME_MM) for left in (True, False))
    x0, y0, x1, y1 = segment.box
    xs, ys = zip(a, b, c, d, strict=True)
    if x1 < min(xs) or x0 > max(xs) or y1 < min(ys) or y0 > max(ys):
        return False
    (x, y), (ux, uy) = span.line.start, span.line.heading
    px, py = segment.start[0] - x, segment.start[1] - y
    along, across = px * ux + py * uy, px * uy - py * ux
    if span.start + _SAME_MM < along < span.end - _SAME_MM and abs(across) < span.half - _SAME_MM:
        return True
    return any(meeting_points(segment, Line(p, q)) for p, q in ((a, b), (b, c), (c, d), (d, a)))
