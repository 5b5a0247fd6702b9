"""Where a region is narrow: its width between two places of its boundary, exact on true arcs.

A *neck* is a chord across the region, from one place of the boundary to another, whose circle (the
chord being its diameter) has no boundary inside, and that gets longer whichever way its ends move a
little: a local minimum of the region's width. A pointed wedge has none. Where two pieces of boundary
run at one distance from each other, the run is one neck, given by the chord in its middle.

An end of a chord can move along the boundary two ways, each a *branch*. The chord is minimal when, for
its length d and each branch of either end,
- it gets no shorter along the branch: at a smooth point it stands square on the boundary, at a corner
  that points into the region it leans forward against what comes in and backward against what goes out;
- along a branch it stands square on, of curvature k (positive where the boundary bends away from the
  chord, as a hole does), 1 + d k >= 0: the second derivative of the distance is not negative;
- along two such branches, of curvatures k and l, that run the same way, k + l + d k l >= 0: nor is it
  when both ends move.
"""

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple, TypeAlias

from parts.geometry.boundary import Boundary, Side, goes_on, turns_right
from parts.geometry.loop import Loop
from parts.geometry.near import near_points
from parts.geometry.run import Run, free_runs, joined, run_between
from parts.geometry.segment import Arc, Box, Line, Point, Segment, cross, distance
from parts.geometry.view import near_boxes_of
from parts.tolerance import LIMIT_SLACK_MM, PARALLEL_RAD, SAME_NECK_MM, SAME_POINT_MM

Pair: TypeAlias = tuple[int, Side, Side]
"""Two sides that may have a neck between them, and the index of the first."""

FEW_COMPARISONS = 400
"""Up to so many, comparing every chord with every run is quicker than to look first which are near."""


@dataclass(frozen=True, slots=True)
class Neck:
    """The narrowest chord of one narrow place, and the indices of the loops that it runs between."""

    start: Point
    end: Point
    loop_a: int
    loop_b: int

    @property
    def width(self) -> float:
        """Length of the chord in mm."""
        return distance(self.start, self.end)

    @property
    def middle(self) -> Point:
        """Middle of the chord."""
        return (self.start[0] + self.end[0]) / 2, (self.start[1] + self.end[1]) / 2


def necks(loops: Sequence[Loop], limit: float) -> list[Neck]:
    """Return each neck narrower than `limit` mm, narrowest first; the region is on the left of every loop."""
    boundary = Boundary(loops, limit)
    pairs = [(i, boundary.side(i), boundary.side(j)) for i, j in boundary.pairs if not boundary.make_one_corner(i, j)]
    runs, rest = _runs(boundary, pairs, limit)
    judged: set[tuple[Point, Point]] = set()
    chords = [(i, Neck(p, q, a.loop, b.loop)) for i, a, b in rest for p, q in _chords(a, b, limit, judged)]
    near = boundary.near([(i, _grown((*chord.middle, *chord.middle), chord.width / 2)) for i, chord in chords])
    empty = [chord for (_, chord), around in zip(chords, near, strict=True) if _empty(chord, around)]
    return _each_once([*_off_runs(empty, [run for run, _, _ in runs]),
                       *(Neck(*run.chord, a, b) for run, a, b in joined(runs))])  # fmt: skip


def _runs(boundary: Boundary, pairs: Sequence[Pair], limit: float) -> tuple[list[tuple[Run, int, int]], list[Pair]]:
    """The runs between sides, with their loops, and the pairs that have none.

    Of a pair that has one no chord is shorter than those across the run, nor minimal elsewhere.
    """
    between = [(pair, run_between(pair[1].segment, pair[2].segment)) for pair in pairs]
    narrow = [(pair, run) for pair, run in between if run and run.width < limit - LIMIT_SLACK_MM]
    near = boundary.near([(i, _grown(run.path.box, run.width / 2)) for (i, _, _), run in narrow])
    runs: list[tuple[Run, int, int]] = []
    rest = [pair for pair, run in between if not run or run.width >= limit - LIMIT_SLACK_MM]
    for ((i, a, b), run), around in zip(narrow, near, strict=True):
        free = [(piece, a.loop, b.loop) for piece in free_runs(run, around)]
        runs += free
        if not free:
            rest.append((i, a, b))
    return runs, rest


def _grown(box: Box, by: float) -> Box:
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by


def _off_runs(chords: Sequence[Neck], runs: Sequence[Run]) -> Iterator[Neck]:
    """Yield the chords that aren't across a run, as happens where a run goes over into a curve."""
    if not chords or not runs:
        yield from chords
        return
    near: Iterable[Iterable[int]] = itertools.repeat(range(len(runs)), len(chords))
    if len(chords) * len(runs) > FEW_COMPARISONS:
        middles = [(*chord.middle, *chord.middle) for chord in chords]
        near = near_boxes_of(middles, [run.path.box for run in runs], 2 * SAME_NECK_MM)
    for chord, indices in zip(chords, near, strict=True):
        if not any(_on_run(chord, runs[index]) for index in indices):
            yield chord


def _on_run(chord: Neck, run: Run) -> bool:
    """Whether a chord is one of the chords across a run."""
    apart = distance(run.path.nearest(chord.middle), chord.middle)
    # at the far end of a piece too short to count as a run it stands one such piece away
    return abs(chord.width - run.width) <= SAME_NECK_MM and apart <= 2 * SAME_NECK_MM


def _chords(a: Side, b: Side, limit: float, judged: set[tuple[Point, Point]]) -> Iterator[tuple[Point, Point]]:
    """Yield the single chords under `limit` between two sides that no small move of their ends shortens.

    Those in `judged` are left out, and all that are looked at go into it: a chord from a corner to a corner
    comes up with each of the segments that meet there, and is the same chord every time.
    """
    corner_a, corner_b = a.segment.start, b.segment.start
    chords = [
        (p, q)
        for p, q in _perpendiculars(a.segment, b.segment)
        if distance(p, q) < limit and _within(a.segment, p) and _within(b.segment, q)
    ]
    if a.corner:
        chords.append((corner_a, b.segment.nearest(corner_a)))
    if b.corner:
        chords.append((a.segment.nearest(corner_b), corner_b))
    if a.corner and b.corner:
        chords.append((corner_a, corner_b))
    for p, q in chords:
        ends = (p, q) if p < q else (q, p)
        if ends in judged or not SAME_POINT_MM < distance(p, q) < limit - LIMIT_SLACK_MM:
            continue
        judged.add(ends)
        if _minimal(a, p, b, q):
            yield p, q


def _perpendiculars(a: Segment, b: Segment) -> list[tuple[Point, Point]]:
    """The chords that stand square on the whole lines or circles of both, at most four; not those of runs."""
    if isinstance(a, Line):
        if isinstance(b, Line):
            return []
        foot = a.at(a.fraction_of(b.centre))
        return [(foot, q) for q in _on_circle(b, (a.heading[1], -a.heading[0]))]
    if isinstance(b, Line):
        return [(p, q) for q, p in _perpendiculars(b, a)]
    if distance(a.centre, b.centre) <= SAME_POINT_MM:
        return []
    way = _unit(a.centre, b.centre)
    return [(p, q) for p in _on_circle(a, way) for q in _on_circle(b, way)]


def _on_circle(arc: Arc, way: Point) -> tuple[Point, Point]:
    (cx, cy), r, (ux, uy) = arc.centre, arc.radius, way
    return (cx - r * ux, cy - r * uy), (cx + r * ux, cy + r * uy)


def _within(segment: Segment, p: Point) -> bool:
    """Whether a point of the whole line or circle is on the segment; its ends are as wide as `_branches` has them."""
    if 0 <= segment.fraction_of(p) <= 1:
        return True
    return min(distance(p, segment.start), distance(p, segment.end)) <= SAME_POINT_MM


class Branch(NamedTuple):
    """A way for an end of a chord to move: forward along the boundary or back.

    `slope` is how the chord's length changes with the move, mm per mm; `bend` is the curvature away from it.
    """

    forward: bool
    slope: float
    bend: float


def _minimal(a: Side, p: Point, b: Side, q: Point) -> bool:
    """Whether no small move of the ends, p on `a` and q on `b`, makes the chord between them shorter."""
    u, d = _unit(p, q), distance(p, q)
    at_p, at_q = _branches(a, p, u), _branches(b, q, (-u[0], -u[1]))
    if at_p is None or at_q is None:
        return False
    square_p, square_q = ([branch for branch in of if branch.slope <= PARALLEL_RAD] for of in (at_p, at_q))
    return all(1 + d * branch.bend >= -PARALLEL_RAD for branch in (*square_p, *square_q)) and all(
        k.bend + m.bend + d * k.bend * m.bend >= -PARALLEL_RAD * (abs(k.bend) + abs(m.bend))
        for k in square_p
        for m in square_q
        if k.forward != m.forward  # the boundary runs opposite ways at the two ends
    )


def _branches(side: Side, p: Point, u: Point) -> tuple[Branch, Branch] | None:
    """The branches at `p` for a chord leaving in direction `u`, back first.

    None where the chord gets shorter along one of them or doesn't leave into the region.
    """
    before = side.before if distance(p, side.segment.start) <= SAME_POINT_MM else side.segment
    after = side.after if distance(p, side.segment.end) <= SAME_POINT_MM else side.segment
    a, b = _heading(before, p), _heading(after, p)
    back = Branch(False, u[0] * a[0] + u[1] * a[1], -before.curvature)
    forward = Branch(True, -u[0] * b[0] - u[1] * b[1], -after.curvature)
    inward = cross(*b, *u) > 0 if before is after or goes_on(before, after) else turns_right(before, after)
    if not inward or min(back.slope, forward.slope) < -PARALLEL_RAD:
        return None
    return back, forward


def _heading(segment: Segment, p: Point) -> Point:
    return segment.heading_at(p) if isinstance(segment, Arc) else segment.heading


def _unit(a: Point, b: Point) -> Point:
    length = distance(a, b)
    return (b[0] - a[0]) / length, (b[1] - a[1]) / length


def _empty(chord: Neck, around: Sequence[Segment]) -> bool:
    """Whether the circle on the chord as its diameter has none of the segments inside."""
    middle, radius = chord.middle, chord.width / 2
    return all(distance(middle, segment.nearest(middle)) >= radius - SAME_POINT_MM for segment in around)


def _each_once(found: Sequence[Neck]) -> list[Neck]:
    """The necks, narrowest first, without those found again from a neighbouring segment."""
    ordered = sorted(found, key=lambda neck: (neck.width, neck.start, neck.end))
    middles = [neck.middle for neck in ordered]
    again = {j for i, j in near_points(middles, SAME_NECK_MM) if _same_ends(ordered[i], ordered[j])}
    return [neck for i, neck in enumerate(ordered) if i not in again]


def _same_ends(a: Neck, b: Neck) -> bool:
    """Whether the ends of two chords are the same, in either order."""
    return any(
        distance(a.start, start) <= SAME_NECK_MM and distance(a.end, end) <= SAME_NECK_MM
        for start, end in ((b.start, b.end), (b.end, b.start))
    )
