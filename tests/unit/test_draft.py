"""Drafting helpers: shapes by hand, and what can't be drawn refused with the room there is."""

import math

import pytest

from parts.errors import GeometryError
from parts.geometry.draft import (
    Corner,
    arched,
    around,
    bolt_circle,
    chamfer,
    circle,
    circles,
    convex_hull,
    fillet,
    grid,
    largest_fillet,
    polygon,
    rectangle,
    relief,
    row,
    slot,
)
from parts.geometry.loop import Circle
from parts.geometry.segment import Arc, Line, distance

SQUARE = [(0, 0), (10, 0), (10, 10), (0, 10)]
L_SHAPE = [(0, 0), (30, 0), (30, 10), (10, 10), (10, 30), (0, 30)]


def treated(make, size, corners=SQUARE):
    return polygon(make(*corner, size) for corner in corners)


@pytest.mark.parametrize(
    ("loop", "area", "perimeter"),
    [
        (polygon(SQUARE), 100, 40),
        (treated(fillet, 2), 100 - (4 - math.pi) * 4, 40 - 16 + 4 * math.pi),
        (treated(fillet, 5), math.pi * 25, math.pi * 10),
        (treated(chamfer, 2), 100 - 8, 40 - 16 + 8 * math.sqrt(2)),
        (treated(chamfer, 5), 50, 20 * math.sqrt(2)),
        (treated(fillet, 0), 100, 40),
        (rectangle((3, 4), 10, 10, 2), 100 - (4 - math.pi) * 4, 24 + 4 * math.pi),
        # a round inside corner adds what a round outside corner takes
        (polygon([*L_SHAPE[:3], fillet(10, 10, 4), *L_SHAPE[4:]]), 500 + (4 - math.pi) * 4, 120 - 8 + 2 * math.pi),
        # a relief at a square corner is half a circle on a chord of 2 r / sqrt 2 along each edge,
        # less the triangle of void inside it: pi r² / 2 - r²
        (polygon([*L_SHAPE[:3], relief(10, 10, 3), *L_SHAPE[4:]]), 500 - 9 * (math.pi / 2 - 1),
         120 - 6 * math.sqrt(2) + 3 * math.pi),
    ],
    ids=["sharp", "fillets", "fillets that meet", "chamfers", "chamfers that meet", "radius 0", "rectangle",
         "inside fillet", "relief"],
)  # fmt: skip
def test_polygon(loop, area, perimeter):
    assert loop.signed_area == pytest.approx(area)
    assert loop.perimeter == pytest.approx(perimeter)


def test_a_relief_seats_a_square_edge():
    """Its circle goes through the corner, and what a square corner fills stays clear of the part."""
    loop = polygon([*L_SHAPE[:3], relief(10, 10, 3), *L_SHAPE[4:]])
    (arc,) = [segment for segment in loop.segments if isinstance(segment, Arc)]
    assert distance(arc.nearest((10, 10)), (10, 10)) < 1e-12
    assert arc.radius == pytest.approx(3)
    assert arc.centre == pytest.approx((10 + 3 / math.sqrt(2), 10 + 3 / math.sqrt(2)))
    assert not loop.contains((10.001, 10.001))
    assert not loop.contains((9.99, 10.5))
    assert loop.contains((8, 8))


@pytest.mark.parametrize("turned", [False, True], ids=["counter-clockwise", "clockwise"])
def test_a_polygon_runs_as_its_corners_do(turned):
    corners = [fillet(*corner, 2) for corner in SQUARE]
    loop = polygon(reversed(corners) if turned else corners)
    assert loop.counter_clockwise is not turned
    assert loop.area == pytest.approx(100 - (4 - math.pi) * 4)


@pytest.mark.parametrize(
    ("size", "drawn"),
    [(4.999, True), (5.0, True), (5.0 + 4e-10, True), (5.001, False)],
    ids=["under", "at", "over by rounding", "over"],
)
def test_fillets_have_the_room_between_corners(size, drawn):
    if drawn:
        assert treated(fillet, size).area == pytest.approx(100 - (4 - math.pi) * size**2)
    else:
        with pytest.raises(GeometryError, match=r"need 10\.\d+ mm of the 10 mm edge between them"):
            treated(fillet, size)


@pytest.mark.parametrize("size", [1e-12, 1e-10, 9e-10, 2e-9, 1e-8])
def test_a_treatment_of_no_size_leaves_the_corner(size):
    assert treated(fillet, size).area == pytest.approx(100)
    assert treated(chamfer, size).area == pytest.approx(100)


def test_a_corner_on_a_straight_edge_stays_straight():
    loop = polygon([(0, 0), fillet(5, 0, 3), (10, 0), (10, 10), (0, 10)])
    assert all(isinstance(segment, Line) for segment in loop.segments)


@pytest.mark.parametrize(
    ("corners", "message"),
    [
        ([(0, 0), (10, 0)], "three corners or more, not 2"),
        ([(0, 0), (10, 0), (5, 0), (5, 5)], r"folds straight back at \(10, 0\)"),
        ([(0, 0), (10, 0), fillet(10, 0, 1), (10, 10)], r"Two corners are at one place, \(10, 0\)"),
        ([(0, 0), fillet(10, 0, 1), (10, 0), (10, 10)], r"Two corners are at one place, \(10, 0\)"),
    ],
    ids=["two corners", "fold", "rounded twice over", "rounded before"],
)
def test_what_is_no_polygon_is_refused(corners, message):
    with pytest.raises(GeometryError, match=message):
        polygon(corners)


def test_a_sharp_corner_given_twice_is_one():
    assert len(polygon([(0, 0), (10, 0), (10, 0), (10, 10)]).segments) == 3


@pytest.mark.parametrize(
    ("corners", "most"),
    [
        ([fillet(*c, 0) for c in SQUARE], 5),
        ([fillet(0, 0, 0), *SQUARE[1:]], 10),
        (SQUARE, math.inf),
        # at 60 degrees the setback is r tan 60: two of them on an edge of 12
        ([Corner((0, 0)), Corner((12, 0)), Corner((6, 6 * math.sqrt(3)))], 6 / math.sqrt(3)),
        ([(0, 0), fillet(5, 0, 0), (10, 0), (10, 10)], math.inf),
    ],
    ids=["square", "one corner", "none", "triangle", "on a straight edge"],
)
def test_largest_fillet(corners, most):
    assert largest_fillet(corners) == pytest.approx(most)


@pytest.mark.parametrize(
    ("length", "segments"), [(30, 4), (10.001, 4), (10, 2), (10 - 5e-10, 2)], ids=["long", "over", "at", "rounding"]
)
def test_slot(length, segments):
    loop = slot((5, 5), length, 10, 0.3)
    assert len(loop.segments) == segments
    assert loop.area == pytest.approx(math.pi * 25 + 10 * (length - 10))
    assert loop.counter_clockwise


def test_a_slot_lies_along_its_angle_and_is_as_long_over_all():
    assert slot((5, 6), 30, 10, math.pi / 2).box == pytest.approx((0, -9, 10, 21))
    assert slot((5, 6), 30, 10).box == pytest.approx((-10, 1, 20, 11))


def test_a_slot_shorter_than_wide_is_refused():
    with pytest.raises(GeometryError, match=r"A slot 10 mm wide can't be 9\.9 mm long"):
        slot((0, 0), 9.9, 10)


def test_a_circle_is_known_as_one():
    assert circle((3, 4), 10).circle == Circle((3, 4), 10)
    assert [loop.circle for loop in circles([(0, 0), (9, 9)], 2)] == [Circle((0, 0), 2), Circle((9, 9), 2)]


def test_patterns_of_holes():
    assert bolt_circle((1, 2), 20, 4) == (
        pytest.approx((11, 2)), pytest.approx((1, 12)), pytest.approx((-9, 2)), pytest.approx((1, -8))
    )  # fmt: skip
    assert bolt_circle((0, 0), 20, 2, math.pi / 2) == (pytest.approx((0, 10)), pytest.approx((0, -10)))
    assert row((0, 0), (6, 3), 4) == ((0, 0), pytest.approx((2, 1)), pytest.approx((4, 2)), (6, 3))
    assert row((0, 0), (6, 3), 1) == ((3, 1.5),)
    assert grid((1, 1), (10, 20), 2, 2) == ((1, 1), (11, 1), (1, 21), (11, 21))


def test_an_edge_arched_inwards_loses_a_half_disc():
    loop = arched(polygon(SQUARE), (10, 10), (0, 10), -1.0)
    assert loop.area == pytest.approx(100 - math.pi * 25 / 2)
    assert [type(segment) for segment in loop.segments] == [Line, Line, Arc, Line]


def test_around_points_is_their_hull_grown():
    """Steiner: area of the hull, its perimeter times the clearance, and a disc."""
    loop = around([*SQUARE, (5, 5), (5, 0), (10, 4)], 3)
    assert loop.area == pytest.approx(100 + 40 * 3 + math.pi * 9)
    assert len(loop.segments) == 8
    assert loop.counter_clockwise


def test_hull_leaves_out_what_lies_inside_or_on_an_edge():
    assert convex_hull([*SQUARE, (5, 0), (5, 5), (0, 0)]) == ((0, 0), (10, 0), (10, 10), (0, 10))


def test_points_on_one_line_have_nothing_to_draw_around():
    with pytest.raises(GeometryError, match="on one line"):
        around([(0, 0), (5, 5), (10, 10)], 3)
