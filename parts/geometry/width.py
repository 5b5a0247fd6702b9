"""Where a region is narrow: its width between two places of its boundary, exact on true arcs.

A *neck* is a chord across the region, from one place of the boundary to another, whose circle (the
chord being its diameter) has no boundary inside, and that gets longer whichever way its ends move a
little: a local minimum of the region's width. A pointed wedge has none. Where two pieces of boundary
run at one distance from each other, the run is one neck, given by the chord in its middle.

The conditions, for a chord of length d from P to Q in direction u, the region on the left of its loops:
- at a point where the boundary is smooth, u is the normal to the left;
- at a corner, the corner turns right (it points into the region), and u leans forward against what
  comes in and backward against what goes out, so the chord grows either way;
- between smooth points with curvatures k and l (positive where the boundary bends away from the
  chord, as a hole does), k + l + d k l >= 0: the second derivative of the distance is not negative.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from parts.geometry.boundary import Boundary, Side
from parts.geometry.loop import Loop
from parts.geometry.run import Run, free_runs, joined, run_between
from parts.geometry.segment import Arc, Line, Point, Segment, cross, distance
from parts.tolerance import LIMIT_SLACK_MM, PARALLEL_RAD, SAME_NECK_MM, SAME_POINT_MM


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
    chords: list[Neck] = []
    runs: list[tuple[Run, int, int]] = []
    for i, j in boundary.pairs:
        a, b = boundary.side(i), boundary.side(j)
        chords += (
            Neck(p, q, a.loop, b.loop)
            for p, q in _chords(a, b)
            if SAME_POINT_MM < distance(p, q) < limit - LIMIT_SLACK_MM and _empty(p, q, boundary.around(i))
        )
        run = run_between(a.segment, b.segment)
        if run and run.width < limit - LIMIT_SLACK_MM:
            runs += ((free, a.loop, b.loop) for free in free_runs(run, boundary.around(i)))
    chords = [chord for chord in chords if not any(_on_run(chord, run) for run, _, _ in runs)]
    return _each_once([*chords, *(Neck(*run.chord, a, b) for run, a, b in joined(runs))])


def _on_run(chord: Neck, run: Run) -> bool:
    """Whether a chord is one of the chords across a run, as happens where a run goes over into a curve."""
    apart = distance(run.path.nearest(chord.middle), chord.middle)
    return abs(chord.width - run.width) <= SAME_NECK_MM and apart <= SAME_NECK_MM


def _chords(a: Side, b: Side) -> Iterator[tuple[Point, Point]]:
    """Yield the single chords between two sides that no small move of their ends shortens."""
    for p, q in _perpendiculars(a.segment, b.segment):
        if distance(p, q) > SAME_POINT_MM and _minimal(a, p, b, q):
            yield p, q
    if a.corner:
        yield from _from_corner(a, b)
    if b.corner:
        yield from ((p, q) for q, p in _from_corner(b, a))
    if a.corner and b.corner:
        p, q = a.segment.start, b.segment.start
        if distance(p, q) > SAME_POINT_MM and _leans(a, _unit(p, q)) and _leans(b, _unit(q, p)):
            yield p, q


def _perpendiculars(a: Segment, b: Segment) -> Iterator[tuple[Point, Point]]:
    """Yield the chords that stand square on both segments, at most four; not those of parallel runs."""
    if isinstance(a, Line) and isinstance(b, Line):
        return
    if isinstance(a, Line) and isinstance(b, Arc):
        foot = a.at(a.fraction_of(b.centre))
        directions = [(a.heading[1], -a.heading[0])]
        pairs = [(foot, q) for q in _on_circle(b, directions)]
    elif isinstance(a, Arc) and isinstance(b, Line):
        pairs = [(p, q) for q, p in _perpendiculars(b, a)]
    elif isinstance(a, Arc) and isinstance(b, Arc) and distance(a.centre, b.centre) > SAME_POINT_MM:
        directions = [_unit(a.centre, b.centre)]
        pairs = [(p, q) for p in _on_circle(a, directions) for q in _on_circle(b, directions)]
    else:
        return
    yield from ((p, q) for p, q in pairs if _within(a, p) and _within(b, q))


def _on_circle(arc: Arc, directions: list[Point]) -> list[Point]:
    (cx, cy), r = arc.centre, arc.radius
    return [(cx + s * r * ux, cy + s * r * uy) for ux, uy in directions for s in (-1, 1)]


def _within(segment: Segment, p: Point) -> bool:
    if isinstance(segment, Arc):
        return segment.covers(p)
    slack = SAME_POINT_MM / segment.length
    return -slack <= segment.fraction_of(p) <= 1 + slack


def _from_corner(a: Side, b: Side) -> Iterator[tuple[Point, Point]]:
    """Yield the chord from the corner at the start of `a` square onto `b`, if there is one."""
    corner = a.segment.start
    foot = b.segment.nearest(corner)
    if distance(corner, foot) <= SAME_POINT_MM:
        return
    u = _unit(corner, foot)
    square = abs(u[0] * _heading(b.segment, foot)[0] + u[1] * _heading(b.segment, foot)[1]) <= PARALLEL_RAD
    if square and _leans(a, u) and _bends(b, foot, (-u[0], -u[1])) is not None:
        yield corner, foot


def _leans(side: Side, u: Point) -> bool:
    """Whether a chord leaving the corner at the start of a side in direction `u` grows either way."""
    (ax, ay), (bx, by) = side.before.heading_at_end, side.segment.heading_at_start
    return u[0] * ax + u[1] * ay > PARALLEL_RAD and u[0] * bx + u[1] * by < -PARALLEL_RAD


def _minimal(a: Side, p: Point, b: Side, q: Point) -> bool:
    """Whether the chord from p on `a` to q on `b`, square on both, is a local minimum of the width."""
    u, d = _unit(p, q), distance(p, q)
    k, m = _bends(a, p, u), _bends(b, q, (-u[0], -u[1]))
    if k is None or m is None:
        return False
    return k + m + d * k * m >= -PARALLEL_RAD * (abs(k) + abs(m))


def _bends(side: Side, p: Point, u: Point) -> float | None:
    """The curvature at `p` away from a chord leaving in direction `u`, the lesser of both at a smooth joint.

    None where the chord doesn't leave into the region, or gets shorter past the end of the segment.
    """
    hx, hy = _heading(side.segment, p)
    if cross(hx, hy, *u) <= 0:
        return None
    bend = -side.segment.curvature
    for end, other, heading, way in (
        (side.segment.start, side.before, side.before.heading_at_end, 1),
        (side.segment.end, side.after, side.after.heading_at_start, -1),
    ):
        if distance(p, end) > SAME_POINT_MM:
            continue
        lean = way * (u[0] * heading[0] + u[1] * heading[1])
        if lean < -PARALLEL_RAD:
            return None
        if lean <= PARALLEL_RAD:
            bend = min(bend, -other.curvature)
    return bend


def _heading(segment: Segment, p: Point) -> Point:
    return segment.heading_at(p) if isinstance(segment, Arc) else segment.heading


def _unit(a: Point, b: Point) -> Point:
    length = distance(a, b)
    return (b[0] - a[0]) / length, (b[1] - a[1]) / length


def _empty(p: Point, q: Point, around: Sequence[Segment]) -> bool:
    """Whether the circle on the chord as its diameter has none of the segments inside."""
    middle, radius = ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2), distance(p, q) / 2
    return all(distance(middle, segment.nearest(middle)) >= radius - SAME_POINT_MM for segment in around)


def _each_once(found: Sequence[Neck]) -> list[Neck]:
    """The necks, narrowest first, without those found again from a neighbouring segment."""
    seen: set[tuple[float, ...]] = set()
    once = []
    for neck in sorted(found, key=lambda neck: (neck.width, neck.start, neck.end)):
        ends = sorted([neck.start, neck.end])
        keys = {tuple(round(c / SAME_NECK_MM + shift) for end in ends for c in end) for shift in (0.0, 0.5)}
        if not keys & seen:
            once.append(neck)
        seen |= keys
    return once
