"""Circles recognised: points all around that lie on one circle, and chains of chords that stand for arcs.

A program that knows no arcs writes a hole as four curves or as many chords. Cut so, a hole isn't known as
one by any rule, and a torch stutters from chord to chord.
"""

import math
from collections.abc import Sequence
from itertools import pairwise

from parts.geometry import Arc, Circle, Line, Loop, Point, Segment, cross, distance
from parts.tolerance import CHORD_BOW_MM, CURVE_FIT_MM, SAME_POINT_MM

# Points of a circle of r mm may be off by this part of r, so that no small polygon is taken for one.
_ROUNDNESS = 1 / 200
# Chords that turn by more than this from one to the next were drawn as corners: 30 to a full turn.
_MOST_TURN_RAD = math.radians(12.0)
_FEWEST_CHORDS = 8
# Less of a turn than this is no arc that anyone drew: almost any gentle line passes for one.
_LEAST_SWEEP_RAD = math.radians(30.0)
_FEWEST_OF_CIRCLE = 30


def circle_of(points: Sequence[Point], others: Sequence[Point] = ()) -> Circle | None:
    """Return the circle nearest to three or more points if these and the others lie on it; else None.

    Least squares in x² + y² = 2 a x + 2 b y + c (I. Kasa, 1976), taken about the points' middle.
    """
    n = len(points)
    mx, my = math.fsum(p[0] for p in points) / n, math.fsum(p[1] for p in points) / n
    xs, ys = [p[0] - mx for p in points], [p[1] - my for p in points]
    xx, yy = math.fsum(x * x for x in xs), math.fsum(y * y for y in ys)
    xy = math.fsum(x * y for x, y in zip(xs, ys, strict=True))
    xz = math.fsum(x * (x * x + y * y) for x, y in zip(xs, ys, strict=True))
    yz = math.fsum(y * (x * x + y * y) for x, y in zip(xs, ys, strict=True))
    spread = xx * yy - xy * xy
    if spread <= _ROUNDNESS**2 * (xx + yy) ** 2:  # all along a line
        return None
    centre = mx + (xz * yy - yz * xy) / (2 * spread), my + (yz * xx - xz * xy) / (2 * spread)
    radius = math.fsum(distance(centre, p) for p in points) / n
    off = min(CURVE_FIT_MM, radius * _ROUNDNESS)
    if all(abs(distance(centre, p) - radius) <= off for p in (*points, *others)):
        return Circle(centre, 2 * radius)
    return None


def as_loop(circle: Circle) -> Loop:
    """Return a circle as the two arcs of a loop, counter-clockwise."""
    (x, y), r = circle.centre, circle.diameter / 2
    return Loop((Arc((x - r, y), (x + r, y), 1.0), Arc((x + r, y), (x - r, y), 1.0)))


def goes_round_once(points: Sequence[Point], centre: Point) -> bool:
    """Whether a closed row of points goes round a centre once, always the same way."""
    angles = [
        math.atan2(cross(a[0] - centre[0], a[1] - centre[1], b[0] - centre[0], b[1] - centre[1]),
                   (a[0] - centre[0]) * (b[0] - centre[0]) + (a[1] - centre[1]) * (b[1] - centre[1]))
        for a, b in pairwise((*points, points[0]))
    ]  # fmt: skip
    one_way = all(angle > 0 for angle in angles) or all(angle < 0 for angle in angles)
    return one_way and abs(abs(math.fsum(angles)) - 2 * math.pi) < 1


def round_loop(loop: Loop) -> Circle | None:
    """Return the circle that a loop of many chords stands for, or None."""
    corners = [segment.start for segment in loop.segments]
    if len(corners) < _FEWEST_OF_CIRCLE or any(isinstance(segment, Arc) for segment in loop.segments):
        return None
    circle = circle_of(corners)
    if circle is None or not goes_round_once(corners, circle.centre):
        return None
    longest = max(segment.length for segment in loop.segments)
    return circle if _bow(longest, circle.diameter / 2) <= CHORD_BOW_MM else None


def with_arcs(loop: Loop) -> Loop:
    """Return the loop with each chain of many chords that lie on one arc exchanged for that arc."""
    segments = _from_a_corner(loop.segments)
    done: list[Segment] = []
    i = end = 0
    while i < len(segments):
        if i == end:
            end = i + _run_of_chords(segments, i)
        arc, count = _longest_arc(segments[i:end]) or (None, 1)
        if arc is not None and abs(arc.sweep) >= _LEAST_SWEEP_RAD:
            done.append(arc)
        else:
            done += segments[i : i + count]
        i += count
    return Loop(tuple(done)) if 2 <= len(done) < len(segments) else loop


def _from_a_corner(segments: tuple[Segment, ...]) -> tuple[Segment, ...]:
    """The loop's segments starting where no chain of chords runs on."""
    for i in range(len(segments)):
        if not _runs_on(segments[i - 1], segments[i]):
            return segments[i:] + segments[:i]
    return segments


def _runs_on(a: Segment, b: Segment) -> bool:
    if isinstance(a, Arc) or isinstance(b, Arc):
        return False
    turn = _turning(a, b)
    return 0 < abs(turn) <= _MOST_TURN_RAD


def _turning(a: Line, b: Line) -> float:
    (ax, ay), (bx, by) = a.heading, b.heading
    return math.atan2(cross(ax, ay, bx, by), ax * bx + ay * by)


def _run_of_chords(segments: Sequence[Segment], first: int) -> int:
    """How many segments from `first` on are lines that keep turning the same way by little."""
    count, way = 1, 0.0
    for a, b in pairwise(segments[first:]):
        if isinstance(a, Arc) or isinstance(b, Arc) or not _runs_on(a, b):
            break
        turn = _turning(a, b)
        if turn * way < 0:
            break
        way = turn
        count += 1
    return count


def _longest_arc(chords: Sequence[Segment]) -> tuple[Arc, int] | None:
    """An arc from the first chord's start through the ends of as many chords as lie on it, and how many.

    Found by doubling their number while that goes well, then by halving between what did and what didn't.
    """
    good, bad = 0, len(chords) + 1
    best: tuple[Arc, int] | None = None
    count = _FEWEST_CHORDS
    while good < count < bad:
        arc = _arc_of(chords[:count])
        if arc is None:
            bad = count
        else:
            best, good = (arc, count), count
        count = min(2 * good, len(chords)) if bad > len(chords) else (good + bad) // 2
        if best is None:
            break
    return best


def _arc_of(chords: Sequence[Segment]) -> Arc | None:
    """The arc from end to end through the chain's middle, where it passes every corner and bows by little."""
    start, end = chords[0].start, chords[-1].end
    middle = chords[len(chords) // 2].start
    bulge = _bulge_through(start, middle, end)
    if bulge is None:
        return None
    arc = Arc(start, end, bulge)
    if _bow(max(chord.length for chord in chords), arc.radius) > CHORD_BOW_MM:
        return None
    off = min(CURVE_FIT_MM / 2, arc.radius * _ROUNDNESS)
    near = all(distance(arc.nearest(chord.end), chord.end) <= off for chord in chords[:-1])
    return arc if near else None


def _bulge_through(start: Point, middle: Point, end: Point) -> float | None:
    """The bulge of the arc through a middle point, by the angle in which it sees the chord."""
    ax, ay, bx, by = start[0] - middle[0], start[1] - middle[1], end[0] - middle[0], end[1] - middle[1]
    seen = math.atan2(cross(ax, ay, bx, by), ax * bx + ay * by)
    half = math.copysign(math.pi, seen) - seen  # half the sweep; a left turn sees its chord from the right
    bulge = -math.tan(half / 2) if seen else 0.0
    too_flat = abs(bulge) * distance(start, end) <= SAME_POINT_MM
    return None if too_flat or abs(bulge) > 1 or distance(start, end) <= SAME_POINT_MM else bulge


def _bow(chord: float, radius: float) -> float:
    return radius - math.sqrt(max(radius**2 - chord**2 / 4, 0.0))
