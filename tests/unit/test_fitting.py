"""Lines and arcs fitted to metal: against closed forms, another library's distances, and a dynamic program."""

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from scipy.ndimage import gaussian_filter
from scipy.special import ellipe

from parts.artwork import curve_points, metal_of
from parts.artwork.fitting import Fit, Outline, Slowing, fitted, short_share, slow_share
from parts.artwork.fitting.rings import Span, cleaned, split
from parts.artwork.fitting.whole_circle import whole_circle
from parts.geometry import Arc, Corner, Line, Loop, circle, fillet, polygon, rectangle, slot
from parts.geometry.view import ring as flat_ring
from parts.profile import Profile, openings
from parts.spec import loop_faults
from tests.depth import DEEP, several
from tests.fitted_outlines import coast, ellipse, fewest, letters, noisy_ring

FINE_MM = 1e-3
SIGN = "Fernhollow Community Workshop 1974 & Sons"
MADE = {
    "ellipse": ellipse(40, 20),
    "letters": letters("S&"),
    "noisy ring": noisy_ring(3, 15, 150),
    "coast": coast(1, 240),
    **({} if not DEEP else {"flat ellipse": ellipse(40, 10), "nearly a circle": ellipse(40, 35)}),
    **({} if not DEEP else {"finer coast": coast(2, 900), "finer ring": noisy_ring(4), "sign": letters(SIGN)}),
}


def apart(made, metal, step):
    """How far the boundaries are apart at places `step` mm apart, by shapely, arcs flattened within a micron."""
    ours = shapely.MultiLineString([shapely.LinearRing(flat_ring(loop, FINE_MM)) for loop in loops(made)])
    pairs = ((shapely.segmentize(ours, step), metal.boundary), (shapely.segmentize(metal.boundary, step), ours))
    return max(float(shapely.distance(shapely.points(shapely.get_coordinates(a)), b).max()) for a, b in pairs)


def loops(made):
    return (*made.outside, *made.inside)


def assert_sound(made, metal):
    """As many loops as rings, the right way round, none of which the tree finds fault with."""
    assert [len(made.outside), len(loops(made))] == [len(metal.geoms), len(shapely.get_rings(metal.geoms))]
    assert all(loop.counter_clockwise for loop in made.outside)
    assert not any(loop.counter_clockwise for loop in made.inside)
    assert list(loop_faults(Profile(made.outside, openings(made.inside, "hole", "")))) == []


@pytest.mark.parametrize(("a", "b"), [(40, 20), (40, 10), (100, 60), (5, 3)])
def test_an_ellipse_has_the_area_and_perimeter_of_one(a, b):
    """Perimeter 4 a E(e²), by scipy's elliptic integral; a loop within 0.05 mm all along differs by no more in area."""
    (loop,) = fitted(ellipse(a, b), Fit()).outside
    perimeter = 4 * a * ellipe(1 - (b / a) ** 2)
    assert abs(loop.area - math.pi * a * b) <= 0.05 * perimeter
    assert loop.perimeter == pytest.approx(perimeter, rel=2e-3)
    assert max(abs(turn) for turn in loop.turns) <= 1e-6


@pytest.mark.parametrize("name", MADE)
def test_no_place_is_further_off_than_is_told_nor_than_the_tolerance(name):
    metal = MADE[name]
    made = fitted(metal, Fit())
    assert apart(made, metal, 0.3) - FINE_MM <= made.deviation_mm <= 0.05
    assert_sound(made, metal)


@pytest.mark.parametrize("name", MADE)
def test_there_are_few_more_segments_than_a_dynamic_program_finds_and_far_fewer_than_lines_alone(name):
    metal = MADE[name]
    made = len(fitted(metal, Fit()).after.lengths)
    least = sum(least_of(cleaned(shapely.get_coordinates(ring)[:-1])) for ring in shapely.get_rings(metal.geoms))
    lines = len(shapely.get_coordinates(shapely.simplify(metal, 0.05))) - len(shapely.get_rings(metal.geoms))
    assert made <= 1.3 * least
    assert made <= 0.6 * lines


def least_of(ring):
    """The fewest segments of a ring whose corners, straight edges and whole circles are as the fit has them."""
    if whole_circle(ring, 0.05):
        return 2
    parts = split(ring, math.radians(20), 0.05)
    return sum(fewest(part.points, 0.05, part.closed) if isinstance(part, Span) else 1 for part in parts)


def test_a_sign_is_fitted_loop_by_loop_and_its_short_segments_are_gone():
    text = SIGN[: several(10, len(SIGN))]
    metal = letters(text)
    made = fitted(metal, Fit())
    assert_sound(made, metal)
    assert made.deviation_mm <= 0.05
    assert made.short_before(2.0) > 0.7 > 0.2 > made.short_after(2.0)
    slowing = Slowing(radius_mm=1.0, turn_deg=2.0, reach_mm=0.5)
    assert made.slow_before(slowing) > 1.5 * made.slow_after(slowing)


def test_straight_edges_and_corners_are_kept_to_the_last_bit_and_whole_circles_are_circles():
    outside = polygon(
        [Corner((0, 0)), fillet(160, 0, 12), (160, 60), (100, 60), fillet(100, 110, 20), (40, 110), (0, 70)]
    )
    holes = (circle((25, 25), 16), slot((75, 30), 40, 12))
    made = fitted(metal_of([outside, *holes]), Fit())
    (loop,) = made.outside
    kept = {frozenset((s.start, s.end)) for s in loop.segments if isinstance(s, Line)}
    assert kept == {frozenset((s.start, s.end)) for s in outside.segments if isinstance(s, Line)}
    assert [len(x.segments) for x in loops(made)] == [9, 2, 4]
    assert made.inside[0].circle.diameter == pytest.approx(16, abs=1e-6)
    radii = sorted(s.radius for s in loop.segments if isinstance(s, Arc))
    assert radii == pytest.approx([12, 20], abs=0.02)


def test_a_polyline_of_coarse_chords_becomes_arcs_and_corners_over_the_angle_stay():
    """36 chords round a circle bow by r (1 - cos 5°), 0.038 mm of 10 mm; 12 chords turn by 30 degrees, corners all."""
    rings = [
        [(10 * math.cos(2 * math.pi * i / n), 10 * math.sin(2 * math.pi * i / n)) for i in range(n)] for n in (36, 12)
    ]
    fine, coarse = (fitted(shapely.MultiPolygon([shapely.Polygon(ring)]), Fit()) for ring in rings)
    assert fine.outside[0].circle
    assert {s.start for s in coarse.outside[0].segments} == set(rings[1])


def test_loops_that_would_meet_are_fitted_tighter():
    """Two outlines 0.03 mm apart, one of chords that bow inwards, the other to be smoothed outwards."""
    hole = shapely.affinity.scale(shapely.Point(0, 0).buffer(19.97, quad_segs=61), 1, 0.8)
    outside = shapely.affinity.scale(shapely.Point(0, 0).buffer(20, quad_segs=64), 1, 0.8)
    metal = shapely.MultiPolygon([shapely.Polygon(outside.exterior.coords, [hole.exterior.coords])])
    made = fitted(metal, Fit())
    assert_sound(made, metal)
    assert made.deviation_mm <= 0.05


@pytest.mark.parametrize("size", [0.02, 0.06, 1e3, 1e5], ids=str)
def test_specks_and_giants_are_fitted_too(size):
    metal = metal_of([polygon([(0, 0), (size, 0), fillet(size, size, size / 3), (0, size)])])
    made = fitted(metal, Fit())
    assert_sound(made, metal)
    assert made.deviation_mm <= 0.05


def test_points_that_repeat_and_lie_on_lines_change_nothing():
    plain = [(0.0, 0.0), (40.0, 0.0), (40.0, 20.0), (0.0, 20.0)]
    more = [
        (0.0, 0.0),
        (1e-5, 0.0),
        (13.0, 0.0),
        (27.0, 0.0),
        (40.0, 0.0),
        (40.0, 20.0),
        (40.0 - 1e-4, 20.0),
        (0.0, 20.0),
    ]
    made = fitted(shapely.MultiPolygon([shapely.Polygon(more)]), Fit())
    assert [s.start for s in made.outside[0].segments] == plain


def test_a_blurred_picture_of_a_bracket_gives_its_lines_arcs_and_holes_back():
    """Drawn with 3 px/mm by distances to its lines and arcs, blurred by 1 px; the level line found by contourpy."""
    loop = polygon([(0, 0), fillet(80, 0, 12), (80, 50), (0, 50)])
    hole = circle((30, 25), 20)
    true = metal_of([loop, hole])
    made = fitted(pictured(true, 3.0), Fit(tolerance_mm=1 / 3, blur_mm=1 / 3))
    assert [len(x.segments) for x in loops(made)] == [5, 2]
    assert sum(isinstance(s, Line) for s in made.outside[0].segments) == 4
    assert made.inside[0].circle.diameter == pytest.approx(20, abs=0.05)
    assert apart(made, true, 0.5) < 0.1
    assert made.outside[0].area == pytest.approx(loop.area, rel=2e-3)


def pictured(metal, px_per_mm):
    """Metal as the half level line of a blurred, slightly noisy picture of it has it."""
    from contourpy import contour_generator

    left, low, right, high = metal.bounds
    x = np.arange(left - 4, right + 4, 1 / px_per_mm)
    y = np.arange(low - 4, high + 4, 1 / px_per_mm)
    sub = (np.arange(4) - 1.5) / 4 / px_per_mm
    covered = (
        sum(shapely.contains_xy(metal, *np.meshgrid(x + dx, y + dy)).astype(float) for dx in sub for dy in sub) / 16
    )
    noise = np.random.default_rng(1).normal(0, 0.02, covered.shape)
    lines = contour_generator(x=x, y=y, z=gaussian_filter(covered + noise, 1.0)).lines(0.5)
    rings = sorted((shapely.Polygon(line) for line in lines if len(line) > 12), key=lambda ring: -ring.area)
    return shapely.MultiPolygon([shapely.Polygon(rings[0].exterior.coords, [r.exterior.coords for r in rings[1:]])])


def test_metal_of_loops_nests_them_and_refuses_what_crosses():
    metal = metal_of([rectangle((0, 0), 50, 30), circle((15, 15), 20), circle((15, 15), 8)])
    assert metal.area == pytest.approx(1500 - math.pi * (100 - 16), rel=1e-3)
    assert [len(piece.interiors) for piece in metal.geoms] == [1, 0]


@pytest.mark.parametrize("number", range(several(20, 400)))
def test_a_curve_is_flattened_within_both_limits(number):
    """Against the curve by de Casteljau's steps, densely; but at a cusp, where the curve itself turns."""
    random = np.random.default_rng(number)
    controls = [tuple(p) for p in random.uniform(0, 30, (random.choice([3, 4]), 2)).tolist()]
    points = np.array([*curve_points(controls), controls[-1]])
    t = np.linspace(0, 1, 2000)[:, None]
    level = [np.array(p) for p in controls]
    while len(level) > 1:
        level = [a * (1 - t) + b * t for a, b in pairwise(level)]
    assert shapely.distance(shapely.LineString(points), shapely.points(level[0])).max() <= 0.005 + 1e-9
    (ax, ay), (bx, by) = np.diff(points, axis=0)[:-1].T, np.diff(points, axis=0)[1:].T
    long = np.maximum(np.hypot(ax, ay), np.hypot(bx, by)) > 1e-4
    assert np.degrees(np.abs(np.arctan2(ax * by - ay * bx, ax * bx + ay * by))[long]).max(initial=0) <= 6 + 1e-9


def test_shares_of_short_and_slow_by_hand():
    """A square of 10 mm with one corner cut off by 1 and 1 mm of side: corners turn by 45 and 90 degrees."""
    square = Loop.through([(0, 0, 0), (10, 0, 0), (10, 9, 0), (9, 10, 0), (0, 10, 0)])
    lengths = tuple(s.length for s in square.segments)
    outline = Outline(lengths, (0.0,) * 5, square.turns, (5,))
    assert short_share(outline, 2.0) == 1 / 5
    assert slow_share(outline, Slowing(1.0, 60.0, 2.0)) == pytest.approx(3 * 4 / sum(lengths))
    assert slow_share(outline, Slowing(1.0, 30.0, 100.0)) == 1
    assert slow_share(outline, Slowing(1.0, 100.0, 2.0)) == 0
