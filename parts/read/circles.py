"""Circles recognised: points all around that lie on one circle, and chains of chords that stand for arcs.

A program that knows no arcs writes a hole as four curves or as many chords, another as arcs with a hair between, or as
an ellipse that is one by a millionth. Cut so, a hole isn't known as one by any rule, and a torch stutters from chord to
chord.

A loop is a circle where no point of it is further from one than the tolerance of healing, nor than a twentieth of the
radius, whatever it is drawn of; so a slot longer than wide by more than four times the tolerance is a slot. Of lines
alone it needs twelve or more: a hexagon and an octagon are meant, however small. Chords may bow by the tolerance: at
0.1 mm twelve stand for a hole of up to 5.9 mm, and a twelve-sided recess for a nut of M4 or more stays one. Thirty or
more whose corners lie on one circle are a circle as long as nobody sees flats, a bow of CHORD_BOW_MM.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from parts.geometry import Arc, Circle, Line, Loop, Point, Segment, cross, distance
from parts.tolerance import CHORD_BOW_MM, CURVE_FIT_MM, HEAL_MM, SAME_POINT_MM

# Points of a circle of r mm may be off by this part of r, so that no small polygon is taken for one.
_ROUNDNESS = 1 / 200
# Chords that turn by more than this from one to the next were drawn as corners: 30 to a full turn.
_MOST_TURN_RAD = math.radians(12.0)
_FEWEST_CHORDS = 8
# Less of a turn than this is no arc that anyone drew: almost any gentle line passes for one.
_LEAST_SWEEP_RAD = math.radians(30.0)
_FEWEST_SIDES, _MANY_SIDES = 12, 30
# A chord of a circle that spans more of it than a twelfth, and a little for rounding, was drawn as a flat.
_WIDEST_CHORD = 2 * math.sin(math.radians(15.3))
MOST_OFF = 1 / 20
"""Of its radius a circle may be off, however large the tolerance."""
# Points looked at on a full turn of arc.
_POINTS_A_TURN = 32


def circle_of(points: Sequence[Point], others: Sequence[Point] = ()) -> Circle | None:
    """Return the circle nearest to three or more points if these and the others lie on it; else None."""
    circle = nearest_circle(points)
    return circle if circle and _lie_on(circle, (*points, *others)) else None


def nearest_circle(points: Sequence[Point]) -> Circle | None:
    """Return the circle nearest to three or more points; None where they are all along a line.

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
    return Circle(centre, 2 * radius)


def _lie_on(circle: Circle, points: Sequence[Point]) -> bool:
    """Whether points are as near to a circle as a curve that was fitted to it."""
    return _off(circle, points) <= min(CURVE_FIT_MM, circle.diameter / 2 * _ROUNDNESS)


def _off(circle: Circle, points: Sequence[Point]) -> float:
    return max(abs(distance(circle.centre, p) - circle.diameter / 2) for p in points)


def as_loop(circle: Circle) -> Loop:
    """Return a circle as the two arcs of a loop, counter-clockwise."""
    (x, y), r = circle.centre, circle.diameter / 2
    return Loop((Arc((x - r, y), (x + r, y), 1.0), Arc((x + r, y), (x - r, y), 1.0)))


def goes_round_once(points: Sequence[Point], centre: Point, back: float = 0.0) -> bool:
    """Whether a closed row of points goes round a centre once, always the same way but for steps of `back` mm."""
    angles = [
        math.atan2(cross(a[0] - centre[0], a[1] - centre[1], b[0] - centre[0], b[1] - centre[1]),
                   (a[0] - centre[0]) * (b[0] - centre[0]) + (a[1] - centre[1]) * (b[1] - centre[1]))
        for a, b in pairwise((*points, points[0]))
    ]  # fmt: skip
    turned = math.fsum(angles)
    way = math.copysign(1, turned)
    backwards = (distance(centre, p) * abs(a) for p, a in zip(points, angles, strict=True) if a * way <= 0)
    return abs(abs(turned) - 2 * math.pi) < 1 and all(step <= back for step in backwards)


@dataclass(frozen=True, slots=True)
class Known:
    """A circle that a loop was drawn for, and how far the loop is off it, mm."""

    circle: Circle
    off_mm: float


def round_loop(loop: Loop, tolerance: float = HEAL_MM) -> Known | None:
    """Return the circle that a loop stands for, or None; `tolerance` is how far it may be off, mm."""
    segments = loop.segments
    chords = [segment for segment in segments if isinstance(segment, Line)]
    if len(chords) == len(segments) < _FEWEST_SIDES:
        return None
    points = [p for segment in segments for p in _points_of(segment)]
    circle = nearest_circle(points)
    if circle is None or not goes_round_once(points, circle.centre, tolerance):
        return None
    radius = circle.diameter / 2
    off = _off(circle, points)
    bow = max((radius - distance(chord.nearest(circle.centre), circle.centre) for chord in chords), default=0.0)
    if any(chord.length > _WIDEST_CHORD * radius for chord in chords) or off > min(tolerance, radius * MOST_OFF):
        return None
    is_fine = len(chords) == len(segments) >= _MANY_SIDES and _lie_on(circle, points)
    return Known(circle, max(off, bow)) if bow <= (max(CHORD_BOW_MM, tolerance) if is_fine else tolerance) else None


def _points_of(segment: Segment) -> Iterator[Point]:
    """Yield the start of a segment, and of an arc points along it."""
    if isinstance(segment, Line):
        yield segment.start
    else:
        steps = math.ceil(abs(segment.sweep) / (2 * math.pi) * _POINTS_A_TURN)
        yield from segment.points(steps)[:-1]


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
