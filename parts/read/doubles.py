"""Doubles: marks that are drawn twice, and points at the middle of holes that are cut, said and left out."""

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence

from parts.geometry import Point, Segment, distance
from parts.profile import Drill, Mark, Opening, Scribe
from parts.read.counting import counted, worded
from parts.tolerance import OVERLAP_MM


class _Places:
    """Places with what is there, to be asked what is at one, within OVERLAP_MM."""

    def __init__(self) -> None:
        self._cells: dict[tuple[int, int], list[tuple[Point, Mark]]] = defaultdict(list)

    def add(self, at: Point, mark: Mark) -> None:
        self._cells[self._cell(at)].append((at, mark))

    def near(self, at: Point) -> Iterable[Mark]:
        column, row = self._cell(at)
        for cell in ((column + i, row + j) for i in (-1, 0, 1) for j in (-1, 0, 1)):
            yield from (mark for place, mark in self._cells.get(cell, ()) if distance(place, at) <= OVERLAP_MM)

    @staticmethod
    def _cell(at: Point) -> tuple[int, int]:
        return math.floor(at[0] / OVERLAP_MM), math.floor(at[1] / OVERLAP_MM)


def without_doubles(marks: Sequence[Mark], openings: Sequence[Opening]) -> tuple[tuple[Mark, ...], tuple[str, ...]]:
    """Return each mark once, in their order, and sentences of what was left out.

    A centre of unknown diameter at that of a round hole that is cut, or of a centre whose diameter is known, says
    nothing that isn't drawn already. Two diameters at one place both stay, as of a pilot and its hole.
    """
    centres, seen = _Places(), _Places()
    for opening in openings:
        if circle := opening.loop.circle:
            centres.add(circle.centre, Drill(circle.centre, circle.diameter))
    kept: dict[int, Mark] = {}
    of_holes = 0
    for index in sorted(range(len(marks)), key=lambda i: not _is_sized(marks[i])):
        mark = marks[index]
        if isinstance(mark, Drill) and not mark.diameter and any(centres.near(mark.at)):
            of_holes += 1
        elif not any(_is_same(mark, other) for other in seen.near(_middle(mark))):
            kept[index] = mark
            seen.add(_middle(mark), mark)
    doubled = len(marks) - len(kept) - of_holes
    said = [f"dropped {counted(doubled, 'mark')} drawn twice"] if doubled else []
    if of_holes:
        said.append(worded(of_holes, "dropped {n} point[|s] at the middle of [a hole that is|holes that are] cut"))
    return tuple(kept[index] for index in sorted(kept)), tuple(said)


def _is_sized(mark: Mark) -> bool:
    return isinstance(mark, Drill) and mark.diameter > 0


def _path(mark: Mark) -> tuple[Segment, ...]:
    if isinstance(mark, Drill):
        return ()
    return mark.path if isinstance(mark, Scribe) else (mark.line,)


def _middle(mark: Mark) -> Point:
    """A place that a mark has whichever way round it is drawn."""
    if isinstance(mark, Drill):
        return mark.at
    path = _path(mark)
    (ax, ay), (bx, by) = path[0].start, path[-1].end
    return (ax + bx) / 2, (ay + by) / 2


def _is_same(a: Mark, b: Mark) -> bool:
    if isinstance(a, Drill) or isinstance(b, Drill):
        return isinstance(a, Drill) and isinstance(b, Drill) and _is_same_size(a, b)
    one, other = _path(a), _path(b)
    if a.kind != b.kind or len(one) != len(other):
        return False
    there = tuple(segment.reversed() for segment in reversed(other))
    return _lie_on(one, other) or _lie_on(one, there)


def _is_same_size(a: Drill, b: Drill) -> bool:
    return not a.diameter or not b.diameter or abs(a.diameter - b.diameter) <= OVERLAP_MM


def _lie_on(a: Sequence[Segment], b: Sequence[Segment]) -> bool:
    return all(
        distance(p.at(share), q.at(share)) <= OVERLAP_MM for p, q in zip(a, b, strict=True) for share in (0, 0.5, 1)
    )
