"""Curves as arcs, splines as spans, chords as circles: against numpy, scipy and ezdxf, and by dense sampling."""

import math
from itertools import pairwise

import numpy as np
import pytest
from ezdxf.math import BSpline as Evaluated
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import BSpline as OfScipy
from scipy.interpolate import CubicSpline

from parts.geometry.draft import slot
from parts.geometry.loop import Loop
from parts.geometry.segment import Arc
from parts.read.circles import as_loop, circle_of, round_loop, with_arcs
from parts.read.curve_kinds import Bezier, EllipticArc
from parts.read.curves import fitted
from parts.read.dxf.splines import BSpline, through
from parts.read.limits import Budget
from parts.tolerance import CURVE_FIT_MM
from tests.depth import several, tried

FEW = tried(60)
COORDINATE = st.floats(-300, 300, allow_subnormal=False)
POINT = st.tuples(COORDINATE, COORDINATE)


def bernstein(points, t):
    """A Bezier curve by its definition."""
    n = len(points) - 1
    weights = [math.comb(n, i) * t**i * (1 - t) ** (n - i) for i in range(n + 1)]
    return (
        math.fsum(w * p[0] for w, p in zip(weights, points, strict=True)),
        math.fsum(w * p[1] for w, p in zip(weights, points, strict=True)),
    )


def farthest(segments, points) -> float:
    return max(min(math.dist(s.nearest(p), p) for s in segments) for p in points)


def assert_fits(curve, points) -> list:
    segments = list(fitted(curve, Budget()))
    if not segments:  # a curve of one point
        assert max(math.dist(points[0], p) for p in points) <= CURVE_FIT_MM
        return []
    assert farthest(segments, points) <= CURVE_FIT_MM
    for a, b in pairwise(segments):
        assert a.end == b.start
    return segments


@FEW
@given(points=st.lists(POINT, min_size=3, max_size=4))
def test_a_bezier_span_stays_within_the_tolerance(points):
    assert_fits(Bezier(tuple(points)), [bernstein(points, i / 500) for i in range(501)])


@FEW
@given(points=st.lists(POINT, min_size=4, max_size=4), scale=st.floats(1e-4, 1))
def test_arcs_run_on_into_each_other(points, scale):
    """Where the curve has no cusp, the fitted arcs turn by next to nothing where they join."""
    curve = Bezier(tuple((x * scale, y * scale) for x, y in points))
    speeds = [math.hypot(*np.subtract(curve.at(t + 1e-6), curve.at(t))) * 1e6 for t in np.linspace(0, 0.999, 200)]
    if min(speeds) < 0.2 * max(speeds) or max(speeds) < 1:
        return
    for a, b in pairwise(fitted(curve, Budget())):
        (ax, ay), (bx, by) = a.heading_at_end, b.heading_at_start
        # a bow under STRAIGHT_MM may have been left out: up to 4 bow / chord at either side
        assert abs(math.atan2(ax * by - ay * bx, ax * bx + ay * by)) <= 1e-6 + 4e-4 * (1 / a.length + 1 / b.length)


@pytest.mark.parametrize(
    ("rx", "ry", "most"), [(50, 20, 60), (100, 99, 30), (500, 1, 120), (3, 2, 20), (1000, 500, 140)], ids=str
)
def test_an_ellipse_by_few_arcs(rx, ry, most):
    curve = EllipticArc((7, 8), (rx, 0.0), (0.0, ry))
    points = [(7 + rx * math.cos(a), 8 + ry * math.sin(a)) for a in np.linspace(0, 2 * math.pi, several(1501, 5001))]
    segments = assert_fits(curve, points)
    assert len(segments) <= most
    loop = Loop(tuple(segments))
    assert loop.area == pytest.approx(math.pi * rx * ry, abs=CURVE_FIT_MM * loop.perimeter)


def test_an_exact_arc_needs_no_splitting():
    """A quarter circle as a rational span: arcs of a biarc are that circle's."""
    curve = Bezier(((10, 0), (10, 10), (0, 10)), (1, math.sqrt(0.5), 1))
    segments = list(fitted(curve, Budget()))
    assert len(segments) == 2
    for segment in segments:
        assert isinstance(segment, Arc)
        assert (segment.radius, *segment.centre) == pytest.approx((10, 0, 0), abs=1e-9)


@pytest.mark.parametrize(
    "points",
    [
        [(0, 0), (0, 0), (100, 100), (100, 0)],
        [(0, 0), (100, 100), (0, 100), (100, 0)],
        [(0, 0), (100, 0), (50, 0)],
        [(0, 0), (0, 0), (50, 20), (50, 20)],
        [(0, 0), (120, 100), (-20, 100), (100, 0)],
    ],
    ids=["doubled start", "cusp", "there and back", "both doubled", "loop"],
)
def test_curves_that_stand_still_or_turn_back(points):
    assert_fits(Bezier(tuple(points)), [bernstein(points, i / 3000) for i in range(3001)])


# ------------------------------------------------------------------ splines


@st.composite
def bsplines(draw):
    degree = draw(st.integers(1, 5))
    count = draw(st.integers(degree + 1, degree + 8))
    points = draw(st.lists(POINT, min_size=count, max_size=count))
    steps = draw(st.lists(st.sampled_from([0.0, 0.5, 1.0, 2.0]), min_size=count - degree, max_size=count - degree))
    inner = np.cumsum([max(steps[0], 0.5), *steps[1:]])
    knots = [0.0] * (degree + 1) + list(map(float, inner[:-1])) + [float(inner[-1]) + 1] * (degree + 1)
    weights = draw(st.just(()) | st.lists(st.floats(0.2, 5), min_size=count, max_size=count).map(tuple))
    return BSpline(degree, tuple(knots), tuple(points), weights)


@FEW
@given(spline=bsplines())
def test_spans_are_the_spline(spline):
    """Against scipy where it isn't rational, against ezdxf where it is."""
    assert spline.is_sound
    stops = sorted(set(spline.knots))
    spans = list(spline.spans())
    assert len(spans) == len(stops) - 1
    if spline.weights:
        tool = Evaluated(spline.points, spline.degree + 1, spline.knots, spline.weights)
        due = lambda u: tuple(tool.point(u))[:2]  # noqa: E731
    else:
        due = OfScipy(np.array(spline.knots), np.array(spline.points), spline.degree)
    for span, (low, high) in zip(spans, pairwise(stops), strict=True):
        for t in (0.0, 0.2, 0.5, 0.9):
            assert span.at(t) == pytest.approx(tuple(due(low + t * (high - low))), abs=1e-6)


def test_a_periodic_spline_starts_inside_its_knots():
    points = [(0, 0), (60, -30), (100, 0), (120, 60), (60, 90), (0, 60)]
    wrapped = [*points, *points[:3]]
    spline = BSpline(3, tuple(map(float, range(13))), tuple(wrapped))
    spans = list(spline.spans())
    due = OfScipy(np.arange(13.0), np.array(wrapped, float), 3)
    assert [s.at(0.5) for s in spans] == [pytest.approx(tuple(due(3.5 + i))) for i in range(6)]
    assert math.dist(spans[0].points[0], spans[-1].points[-1]) < 1e-12


@pytest.mark.parametrize(
    "spline",
    [
        BSpline(3, (0, 0, 0, 1, 1, 1), ((0, 0), (1, 1))),
        BSpline(1, (0, 0, 1), ((0, 0), (1, 1))),
        BSpline(1, (0, 0, 1, 0.5), ((0, 0), (1, 1))),
        BSpline(1, (0, 0, 0, 0), ((0, 0), (1, 1))),
        BSpline(1, (0, 0, 1, 1), ((0, 0), (1, 1)), (1, 0)),
        BSpline(0, (0, 1), ((0, 0),)),
        BSpline(12, (0,) * 13 + (1,) * 13, ((0, 0),) * 13),
    ],
    ids=["few points", "few knots", "knots back", "no span", "weight 0", "degree 0", "degree 12"],
)
def test_a_spline_whose_numbers_do_not_go_together(spline):
    assert not spline.is_sound


@FEW
@given(points=st.lists(POINT, min_size=3, max_size=9, unique=True))
def test_the_natural_cubic_is_scipys(points):
    chords = [math.dist(p, q) for p, q in pairwise(points)]
    if min(chords) < 1e-3:
        return
    u = np.concatenate([[0], np.cumsum(chords)])
    due = CubicSpline(u, np.array(points), bc_type="natural")
    for span, low, high in zip(through(points), u, u[1:], strict=False):
        for t in (0.0, 0.25, 0.5, 1.0):
            assert span.at(t) == pytest.approx(tuple(due(low + t * (high - low))), rel=1e-6, abs=1e-6)


# ------------------------------------------------------------------ chords


def regular(count: int, radius: float, turn: float = 0.1) -> Loop:
    step = 2 * math.pi / count
    return Loop.through(
        (radius * math.cos(turn + i * step), radius * math.sin(turn + i * step), 0) for i in range(count)
    )


@pytest.mark.parametrize(
    ("count", "radius", "is_round"),
    # twelve and more bow by r (1 - cos 15 degrees): 0.1 mm at 2.935 mm
    [(6, 1, False), (11, 1, False), (12, 2.93, True), (12, 2.94, False), (12, 5, False), (29, 5, True), (30, 5, True),
     (36, 20, True), (360, 50, True),
     # 36 chords bow by r (1 - cos 5 degrees): 0.25 mm at 65.7 mm
     (36, 65.6, True), (36, 65.8, False), (30, 500, False)],
)  # fmt: skip
def test_many_chords_on_a_circle_are_one(count, radius, is_round):
    known = round_loop(regular(count, radius))
    assert (known is not None) == is_round
    if known:
        circle = known.circle
        assert (*circle.centre, circle.diameter) == pytest.approx((0, 0, 2 * radius), abs=1e-9)


def test_a_corner_off_the_circle_is_no_circle():
    loop = regular(60, 20)
    corners = [(*s.start, 0) for s in loop.segments]
    for off, is_round in ((0.09, True), (0.12, False)):
        corners[7] = (*(v * (20 + off) / 20 for v in loop.segments[7].start), 0)
        assert (round_loop(Loop.through(corners)) is not None) == is_round


def test_round_ends_of_chords_become_arcs():
    exact = slot((0, 0), 60, 20)
    corners = [(50 + 10 * math.cos(a), 10 * math.sin(a), 0) for a in np.linspace(-math.pi / 2, math.pi / 2, 41)]
    corners += [(10 + 10 * math.cos(a), 10 * math.sin(a), 0) for a in np.linspace(math.pi / 2, 3 * math.pi / 2, 41)]
    loop = with_arcs(Loop.through(corners))
    assert len(loop.segments) == 4
    assert loop.area == pytest.approx(exact.area, rel=1e-12)
    assert loop.perimeter == pytest.approx(exact.perimeter, rel=1e-12)


@pytest.mark.parametrize("count", [3, 6, 8, 12, 24])
def test_a_polygon_stays_one(count):
    loop = regular(count, 40)
    assert with_arcs(loop) is loop


def test_a_gentle_line_of_chords_is_no_arc():
    corners = [(x, 0.0005 * (x - 30) ** 2, 0) for x in range(61)] + [(60, 30, 0), (0, 30, 0)]
    loop = Loop.through(corners)
    assert with_arcs(loop) is loop


def test_a_circle_by_three_points():
    points = [(3 + 5 * math.cos(a), 4 + 5 * math.sin(a)) for a in (0.1, 2.0, 4.0)]
    circle = circle_of(points)
    assert (*circle.centre, circle.diameter) == pytest.approx((3, 4, 10))
    assert as_loop(circle).circle.diameter == pytest.approx(10)
    assert circle_of([(0, 0), (1, 1), (2, 2)]) is None
