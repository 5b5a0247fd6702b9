"""Loops: closed or refused, and what is known of them."""

import math

import pytest

from parts.errors import GeometryError
from parts.geometry.draft import circle, rectangle
from parts.geometry.loop import Circle, Loop
from parts.geometry.segment import Arc, Line
from tests.property.random_profiles import region

SQUARE = Loop.through([(0, 0, 0), (2, 0, 0), (2, 2, 0), (0, 2, 0)])
HOUSE = Loop.through([(0, 0, 0), (4, 0, 0), (4, 3, 1), (0, 3, 0)])


@pytest.mark.parametrize(
    ("segments", "message"),
    [
        ((Line((0, 0), (1, 0)),), "needs two segments or more, not 1"),
        ((), "needs two segments or more, not 0"),
        ((Line((0, 0), (1, 0)), Line((1, 0), (1, 1))), r"open between \(1, 1\) and \(0, 0\)"),
        ((Line((0, 0), (1, 0)), Line((1, 1e-12), (0, 0))), r"open between \(1, 0\) and \(1, 1e-12\)"),
        ((Line((0, 0), (1e-10, 0)), Line((1e-10, 0), (0, 0))), r"no length at \(0, 0\)"),
    ],
    ids=["one", "none", "open", "open by a hair", "no length"],
)
def test_what_is_no_loop_is_refused(segments, message):
    with pytest.raises(GeometryError, match=message):
        Loop(segments)


def test_measures_of_a_house_with_a_round_gable():
    assert HOUSE.area == pytest.approx(12 + 2 * math.pi)
    assert HOUSE.perimeter == pytest.approx(10 + 2 * math.pi)
    assert HOUSE.box == pytest.approx((0, 0, 4, 5))
    assert HOUSE.counter_clockwise
    assert HOUSE.signed_area == HOUSE.area
    assert HOUSE.reversed().signed_area == -HOUSE.area
    assert not HOUSE.reversed().counter_clockwise


def test_a_loop_walked_back_has_the_area_of_its_own_segments():
    for loop in (loop for seed in range(40) for loop in region(seed)[0]):
        back = loop.reversed()
        assert back == Loop(back.segments)
        assert hash(back) == hash(Loop(back.segments))
        assert back.signed_area == Loop(back.segments).signed_area


def test_running_turns_a_loop_only_where_it_has_to():
    assert SQUARE.running(counter_clockwise=True) is SQUARE
    assert SQUARE.running(counter_clockwise=False) == SQUARE.reversed()
    assert SQUARE.reversed().reversed() == SQUARE


@pytest.mark.parametrize(
    "vertices",
    [
        [(0, 0, 0), (2, 0, 0), (2, 0, 0), (2, 2, 0), (0, 2, 0)],
        [(0, 0, 0), (0, 0, 0), (2, 0, 0), (2, 2, 0), (0, 2, 0)],
        [(0, 0, 0), (2, 0, 0), (2, 2, 0), (0, 2, 0), (0, 0, 0)],
        [(0, 0, 0), (2, 0, 0), (2 + 1e-10, 0, 0), (2, 2, 0), (0, 2, 0)],
        [(0, 0, 0), (2, 0, 1e-11), (2, 2, 0), (0, 2, 0)],
        [(0, 0, 0), (2, 0, 0.4), (2, 1e-10, 0), (2, 2, 0), (0, 2, 0)],
    ],
    ids=["twice", "first twice", "closed again", "all but twice", "no rise", "an arc of no size"],
)
def test_a_vertex_that_repeats_is_left_out(vertices):
    loop = Loop.through(vertices)
    assert len(loop.segments) == 4
    assert all(isinstance(segment, Line) for segment in loop.segments)
    assert loop.area == pytest.approx(4)


def test_through_keeps_arcs():
    kinds = [type(segment) for segment in HOUSE.segments]
    assert kinds == [Line, Line, Arc, Line]


@pytest.mark.parametrize("vertices", [[], [(0, 0, 0)], [(0, 0, 0), (0, 0, 0)], [(0, 0, 0), (1e-10, 0, 0)]])
def test_too_few_vertices_are_refused(vertices):
    with pytest.raises(GeometryError, match="two segments or more"):
        Loop.through(vertices)


THIRD = math.tan(math.pi / 6)
CIRCLES = {
    "two halves": (circle((3, 4), 10), Circle((3, 4), 10)),
    "backwards": (circle((3, 4), 10).reversed(), Circle((3, 4), 10)),
    "three thirds": (
        Loop.through([(5 * math.cos(a), 5 * math.sin(a), THIRD) for a in (0, 2 * math.pi / 3, 4 * math.pi / 3)]),
        Circle((0, 0), 10),
    ),
    "lens": (Loop.through([(0, 0, 0.5), (2, 0, 0.5)]), None),
    "crescent": (Loop.through([(0, 0, 1.0), (2, 0, -0.5)]), None),
    "square": (SQUARE, None),
    "half disc": (Loop.through([(0, 0, 0), (2, 0, 1)]), None),
    "all but round": (Loop.through([(0, 0, 1.0), (2, 0, 1.0 + 1e-6)]), None),
    "line before arcs": (HOUSE, None),
    "twice round": (Loop.through([(0, 0, 1.0), (2, 0, 1.0), (0, 0, 1.0), (2, 0, 1.0)]), None),
}


@pytest.mark.parametrize(("loop", "expected"), CIRCLES.values(), ids=CIRCLES.keys())
def test_a_full_circle_is_known(loop, expected):
    if expected is None:
        assert loop.circle is None
    else:
        assert loop.circle.centre == pytest.approx(expected.centre, abs=1e-12)
        assert loop.circle.diameter == pytest.approx(expected.diameter)


@pytest.mark.parametrize(
    ("p", "inside"),
    [((2, 1), True), ((2, 4.9), True), ((2, 5.1), False), ((0.2, 4.9), False), ((3, 3), True), ((-1, 3), False),
     ((2, -0.1), False), ((5, 3), False)],
)  # fmt: skip
def test_inside_a_house(p, inside):
    """The height 3, where wall and gable join, is tried too."""
    assert HOUSE.contains(p) is inside
    assert HOUSE.reversed().contains(p) is inside


def test_a_hole_of_a_loop_is_told_apart_by_turns_not_by_boxes():
    hook = rectangle((0, 0), 10, 10)
    assert hook.contains((5, 5))
    u = Loop.through([(0, 0, 0), (10, 0, 0), (10, 10, 0), (8, 10, 0), (8, 2, 0), (2, 2, 0), (2, 10, 0), (0, 10, 0)])
    assert not u.contains((5, 5))
    assert u.contains((1, 5))
    assert u.contains((9, 5))
