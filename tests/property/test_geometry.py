"""Exact loops against closed forms derived another way, dense sampling, and shapely on fine polygons."""

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import quad

from parts.errors import GeometryError
from parts.geometry.draft import Corner, chamfer, circle, fillet, largest_fillet, polygon, relief, slot
from parts.geometry.intersect import meeting_points, meetings
from parts.geometry.loop import Loop
from parts.geometry.motion import Motion, mirror, rotation, translation
from parts.geometry.segment import Arc, Line, distance
from tests.depth import tried
from tests.property import regions as shapes
from tests.property.width_reference import Curve

FLAT_MM = 1e-4
"""Chord error of the polygons that loops are compared with."""

COORDINATE = st.floats(-500, 500, allow_subnormal=False)
POINT = st.tuples(COORDINATE, COORDINATE)
ANGLE = st.floats(-7, 7)
MOTION = (
    st.builds(translation, COORDINATE, COORDINATE)
    | st.builds(rotation, ANGLE, POINT)
    | st.builds(mirror, POINT, ANGLE)
    | st.builds(rotation, st.integers(-4, 4).map(lambda n: n * math.pi / 2), POINT)
)
BULGE = st.tuples(st.floats(-12, 3), st.booleans()).map(lambda t: 10 ** t[0] * (1 if t[1] else -1))
LOOPS = shapes.regions().map(lambda loops: loops[0]) | st.builds(
    lambda at, r, more, turn: rotation(turn, at).loop(slot(at, 2 * r + more, 2 * r)),
    POINT, st.floats(0.5, 20), st.floats(0.5, 40), st.sampled_from([0, math.pi / 2, math.pi]) | ANGLE,
)  # fmt: skip
quick = tried(150)


def flat(loop: Loop) -> np.ndarray:
    """Points along a loop with chords within FLAT_MM of its arcs, by the reference's own formulas."""
    curve, points = Curve(loop), []
    for k, segment in enumerate(loop.segments):
        count = 1
        if isinstance(segment, Arc):
            count = math.ceil(abs(segment.sweep) / (2 * math.sqrt(2 * FLAT_MM / segment.radius))) + 1
        points.append(curve.at(curve.stops[k] + np.arange(count) / count * curve.table[k, 0]))
    return np.concatenate(points)


# ------------------------------------------------------------------------- polygons with treated corners


@st.composite
def treated(draw):
    """Corners of a star-shaped polygon, some treated, and the turn at each, which the closed forms use."""
    count = draw(st.integers(3, 9))
    steps = [draw(st.integers(3, 12)) for _ in range(count)]
    assume(max(steps) < sum(steps) / 2)
    around = [2 * math.pi * sum(steps[:i]) / sum(steps) for i in range(count)]
    points = [(r * math.cos(a), r * math.sin(a)) for a in around for r in [draw(st.floats(20, 60))]]
    turns = []
    for i, (x, y) in enumerate(points):
        (px, py), (nx, ny) = points[i - 1], points[(i + 1) % count]
        turn = math.atan2(ny - y, nx - x) - math.atan2(y - py, x - px)
        turns.append((turn + math.pi) % (2 * math.pi) - math.pi)
    corners, kinds = [], []
    for i, point in enumerate(points):
        edge = min(distance(point, points[i - 1]), distance(point, points[(i + 1) % count]))
        room, turn = edge * draw(st.floats(0.05, 0.49)), abs(turns[i])
        kind = draw(st.sampled_from(["sharp", "fillet", "chamfer", *(["relief"] if turns[i] < -0.2 else [])]))
        make, size = {
            "sharp": (fillet, 0.0),
            "fillet": (fillet, room / math.tan(max(turn, 0.02) / 2)),
            "chamfer": (chamfer, room),
            "relief": (relief, room / (2 * math.sin(turn / 2) if turn else 1)),
        }[kind]
        corners.append(make(*point, size))
        kinds.append((kind, size))
    return points, turns, corners, kinds


@quick
@given(treated())
def test_area_and_perimeter_are_those_of_the_sharp_polygon_less_what_its_corners_lose(case):
    """A fillet cuts off a kite of two tangents less a sector; a chamfer a triangle; a relief two caps."""
    points, turns, corners, kinds = case
    assume(all(abs(turn) > 0.02 for turn in turns))
    ring = [*points, points[0]]
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise(ring)) / 2
    perimeter = sum(distance(a, b) for a, b in pairwise(ring))
    for turn, (kind, size) in zip(turns, kinds, strict=True):
        t, side = abs(turn), math.copysign(1, turn)
        if kind == "fillet":
            area -= side * size**2 * (math.tan(t / 2) - t / 2)
            perimeter -= size * (2 * math.tan(t / 2) - t)
        elif kind == "chamfer":
            area -= side * size**2 * math.sin(math.pi - t) / 2
            perimeter -= 2 * size - 2 * size * math.sin((math.pi - t) / 2)
        elif kind == "relief":
            area -= size**2 * (t - math.sin(t))
            perimeter += 2 * size * (t - 2 * math.sin(t / 2))
    loop = polygon(corners)
    assert loop.signed_area == pytest.approx(area, rel=1e-10)
    assert loop.perimeter == pytest.approx(perimeter, rel=1e-10)


@quick
@given(treated())
def test_fillets_and_reliefs_touch_what_they_should(case):
    """Each fillet arc leaves its edges along them; each relief passes through its corner."""
    _, turns, corners, kinds = case
    assume(all(abs(turn) > 0.02 for turn in turns))
    loop = polygon(corners)
    for before, after in zip(loop.segments, (*loop.segments[1:], loop.segments[0]), strict=True):
        arc = before if isinstance(before, Arc) else after
        if isinstance(arc, Arc) and any(kind == "fillet" and size == pytest.approx(arc.radius) for kind, size in kinds):
            (ax, ay), (bx, by) = before.heading_at_end, after.heading_at_start
            assert math.atan2(ax * by - ay * bx, ax * bx + ay * by) == pytest.approx(0, abs=1e-6)
    for corner, (kind, size) in zip(corners, kinds, strict=True):
        if kind == "relief":
            arc = min(
                (s for s in loop.segments if isinstance(s, Arc)),
                key=lambda s: distance(s.nearest(corner.at), corner.at),
            )
            assert distance(arc.nearest(corner.at), corner.at) < 1e-9
            assert arc.radius == pytest.approx(size)


@quick
@given(treated())
def test_the_largest_fillet_is_drawn_and_a_larger_one_refused(case):
    points, turns, _, _ = case
    assume(all(abs(turn) > 0.02 for turn in turns))
    most = largest_fillet([fillet(*p, 0) for p in points])
    polygon(fillet(*p, most) for p in points)
    with pytest.raises(GeometryError, match=r"need .* mm of the .* mm edge between them"):
        polygon(Corner(p, most * 1.0001, "fillet") for p in points)


# ------------------------------------------------------------------------- arcs of any bulge


def cap_of(bulge: float, chord: float) -> float:
    """Area between an arc and its chord: the rational Bezier form of the arc, integrated; more than half a
    turn is the circle less the cap of the rest, whose bulge is the inverse."""
    b = abs(bulge)
    if b > 1:
        return math.pi * (chord * (1 + b * b) / (4 * b)) ** 2 - cap_of(1 / b, chord)
    weight = (1 - b * b) / (1 + b * b)  # cosine of half the sweep
    rise = b * chord / 2

    def area_rate(t: float) -> float:
        # control points (0, 0), apex, (chord, 0); weight * apex height = rise * (1 + weight)
        w = (1 - t) ** 2 + 2 * weight * t * (1 - t) + t * t
        dw = -2 * (1 - t) + 2 * weight * (1 - 2 * t) + 2 * t
        y = 2 * t * (1 - t) * rise * (1 + weight)
        x = chord * (weight * t * (1 - t) + t * t)
        dx = chord * (weight * (1 - 2 * t) + 2 * t)
        return y / w * (dx * w - x * dw) / w**2

    return quad(area_rate, 0, 1, epsabs=0, epsrel=1e-12, limit=200)[0]


@quick
@given(BULGE, st.floats(0.01, 1000))
def test_area_of_an_arc_on_its_chord(bulge, chord):
    assume(abs(bulge) * chord / 2 > 1e-8)
    cap = Arc((0, 0), (chord, 0), bulge).swept_area
    assert cap == pytest.approx(math.copysign(cap_of(bulge, chord), bulge), rel=1e-9)


@quick
@given(BULGE, POINT, POINT, st.floats(0, 1))
def test_points_along_an_arc_see_its_chord_under_one_angle(bulge, start, end, fraction):
    """The inscribed angle theorem; and the two ends are met exactly."""
    chord = distance(start, end)
    assume(chord > 0.1)
    arc = Arc(start, end, bulge)
    size = max(chord, min(arc.radius, 1e6), 500)
    assert arc.at(0) == pytest.approx(start, abs=1e-12 * size)
    assert arc.at(1) == pytest.approx(end, abs=1e-12 * size)
    x, y = arc.at(fraction)
    (ux, uy), (vx, vy) = (start[0] - x, start[1] - y), (end[0] - x, end[1] - y)
    assume(min(math.hypot(ux, uy), math.hypot(vx, vy)) > 1e-3 * chord)
    seen = math.atan2(abs(ux * vy - uy * vx), ux * vx + uy * vy)
    assert seen == pytest.approx(math.pi - 2 * math.atan(abs(bulge)), abs=1e-9)


@quick
@given(BULGE, POINT, POINT, POINT)
def test_box_and_nearest_against_dense_samples(bulge, start, end, p):
    assume(distance(start, end) > 0.1)
    arc = Arc(start, end, bulge)
    assume(arc.radius < 1e5)
    count = 4000
    points = np.array([arc.at(i / count) for i in range(count + 1)])
    sag = arc.length / count * abs(arc.sweep) / count / 8
    slack = 1e-9 + 1e-12 * arc.radius
    x0, y0, x1, y1 = arc.box
    low, high = points.min(axis=0), points.max(axis=0)
    assert x0 <= low[0] + slack
    assert y0 <= low[1] + slack
    assert x1 >= high[0] - slack
    assert y1 >= high[1] - slack
    assert (x0, y0) == pytest.approx(low, abs=sag + slack)
    assert (x1, y1) == pytest.approx(high, abs=sag + slack)
    nearest = distance(arc.nearest(p), p)
    sampled = float(np.hypot(*(points - p).T).min())
    assert nearest <= sampled + slack
    assert nearest >= sampled - arc.length / count


@quick
@given(st.lists(st.tuples(COORDINATE, COORDINATE, BULGE | st.just(0.0)), min_size=2, max_size=6))
def test_a_loop_through_any_vertices_is_closed_and_adds_up(vertices):
    """Area by Green's theorem on the corners plus each arc's cap, computed as above."""
    points = [(x, y) for x, y, _ in vertices]
    assume(all(distance(a, b) > 0.1 for i, a in enumerate(points) for b in points[:i]))
    loop = Loop.through(vertices)
    assert [segment.start for segment in loop.segments] == points
    corners = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1], strict=True)) / 2
    caps = [
        math.copysign(cap_of(bulge, distance(a, b)), bulge)
        for a, b, (_, _, bulge) in zip(points, points[1:] + points[:1], vertices, strict=True)
        if abs(bulge) * distance(a, b) / 2 > 1e-9
    ]
    scale = 1e6 + sum(abs(cap) for cap in caps)
    assert loop.signed_area == pytest.approx(corners + sum(caps), abs=1e-9 * scale)
    back = loop.reversed()
    assert back.signed_area == pytest.approx(-loop.signed_area, abs=1e-9 * scale)
    assert back.perimeter == pytest.approx(loop.perimeter, rel=1e-12)
    assert back.reversed().segments[0].start == loop.segments[0].start


# ------------------------------------------------------------------------- inside, moved, met


@quick
@given(LOOPS, st.lists(st.tuples(st.floats(-0.2, 1.2), st.floats(-0.2, 1.2)), min_size=40, max_size=40))
def test_inside_is_what_shapely_says_of_a_fine_polygon(loop, places):
    """Heights of joints and of tops and bottoms of arcs are tried too: there a ray grazes the loop."""
    ring = flat(loop)
    shape = shapely.Polygon(ring)
    shapely.prepare(shape)
    x0, y0, x1, y1 = loop.box
    points = [(x0 + u * (x1 - x0), y0 + v * (y1 - y0)) for u, v in places]
    heights = [s.start[1] for s in loop.segments]
    heights += [s.centre[1] + r for s in loop.segments if isinstance(s, Arc) for r in (-s.radius, 0, s.radius)]
    points += [(x, y) for y in heights for x, _ in points[:6]]
    there = shapely.points(points)
    near = shapely.distance(shape.exterior, there) <= 2 * FLAT_MM
    inside = shapely.contains(shape, there)
    wrong = [p for p, close, truth in zip(points, near, inside, strict=True) if not close and loop.contains(p) != truth]
    assert not wrong
    back = loop.reversed()
    assert all(close or back.contains(p) == loop.contains(p) for p, close in zip(points, near, strict=True))


@quick
@given(LOOPS, MOTION, POINT, POINT)
def test_motions_keep_area_lengths_distances_and_direction(loop, motion: Motion, p, q):
    moved = motion.loop(loop)
    assert moved.signed_area == pytest.approx(loop.signed_area, rel=1e-9)
    assert moved.perimeter == pytest.approx(loop.perimeter, rel=1e-10)
    assert distance(motion.point(p), motion.point(q)) == pytest.approx(distance(p, q), abs=1e-10)
    for segment in loop.segments:
        a, b = motion.segment(segment), motion.point(segment.at(0.3))
        assert a.at(0.3) == pytest.approx(b, abs=1e-9)


@quick
@given(LOOPS, LOOPS, MOTION)
def test_loops_meet_where_shapely_sees_them_cross(one, other, motion):
    x0, y0, x1, y1 = other.box
    first = one.segments[0].start
    other = translation(first[0] - (x0 + x1) / 2, first[1] - (y0 + y1) / 2).loop(other)
    a, b = shapely.Polygon(flat(one)), shapely.Polygon(flat(other))
    met = any(True for m in meetings([one, other]) if m.loop_a != m.loop_b)
    if a.exterior.distance(b.exterior) > 4 * FLAT_MM:
        assert not met
    elif (
        not b.buffer(4 * FLAT_MM).contains(a)
        and not b.buffer(4 * FLAT_MM).disjoint(a)
        and not b.buffer(-4 * FLAT_MM).disjoint(a)
        and not a.buffer(4 * FLAT_MM).contains(b)
    ):
        assert met
    moved = [motion.loop(one), motion.loop(other)]
    if a.exterior.distance(b.exterior) > 4 * FLAT_MM:
        assert not any(m.loop_a != m.loop_b for m in meetings(moved))


@quick
@given(st.tuples(POINT, POINT, BULGE | st.just(0.0)), st.tuples(POINT, POINT, BULGE | st.just(0.0)))
def test_meeting_points_lie_on_both_and_none_is_missed(first, second):
    """Sign changes of the distance to a's whole carrier along b, found by sampling, are crossings."""
    a, b = (
        Arc(p, q, bulge) if abs(bulge) * distance(p, q) > 2e-9 else Line(p, q)
        for p, q, bulge in (first, second)
        for _ in [assume(distance(p, q) > 1)]
    )
    points = meeting_points(a, b)
    for p in points:
        assert distance(a.nearest(p), p) < 2e-9
        assert distance(b.nearest(p), p) < 2e-9
    samples = [b.at(i / 300) for i in range(301)]
    for p, q in pairwise(samples):
        side_p, side_q = (_side(a, x) for x in (p, q))
        feet = [a.nearest(x) for x in (p, q)]
        clear = all(min(distance(f, a.start), distance(f, a.end)) > distance(p, q) for f in feet)
        if clear and side_p * side_q < 0 and max(abs(side_p), abs(side_q)) > 1e-6:  # not along it
            assert any(distance(x, p) <= 2 * distance(p, q) for x in points)


def _side(a, p) -> float:
    """Signed distance from a segment, positive to its left; where the foot is an end it means nothing."""
    if isinstance(a, Arc):
        foot = a.nearest(p)
        (ux, uy), (x, y) = a.heading_at(foot), foot
        return ux * (p[1] - y) - uy * (p[0] - x)
    (ux, uy), (x, y) = a.heading, a.start
    return ux * (p[1] - y) - uy * (p[0] - x)


@quick
@given(POINT, st.floats(0.01, 500))
def test_a_circle_is_known_again_however_it_is_turned(centre, diameter):
    for turn in (0.0, 1.0, math.pi / 2):
        loop = rotation(turn, (3.0, 4.0)).loop(circle(centre, diameter))
        assert loop.circle is not None
        assert loop.circle.diameter == pytest.approx(diameter, rel=1e-9)
        assert loop.area == pytest.approx(math.pi * diameter**2 / 4, rel=1e-12)
