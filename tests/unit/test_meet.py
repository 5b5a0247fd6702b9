"""Where segments meet: crossings, touches and overlaps by hand."""

import math

import pytest

from parts.geometry.draft import circle, fillet, polygon, rectangle, slot
from parts.geometry.intersect import Meeting, meeting_points, meetings
from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Line

ACROSS = Line((0, 0), (10, 0))
TOP = Arc((2, 0), (-2, 0), 1.0)  # the upper half of the circle of radius 2 around the origin
QUARTER = math.tan(math.pi / 8)

CASES = {
    "lines crossing": (ACROSS, Line((4, -3), (4, 3)), [(4, 0)]),
    "lines that would cross further on": (ACROSS, Line((4, 1), (4, 3)), []),
    "an end on a line": (ACROSS, Line((4, 0), (4, 3)), [(4, 0)]),
    "an end a hair off a line": (ACROSS, Line((4, 1e-8), (4, 3)), []),
    "an end on a line but for rounding": (ACROSS, Line((4, 1e-10), (4, 3)), [(4, 0)]),
    "parallel": (ACROSS, Line((0, 1), (10, 1)), []),
    "overlapping": (ACROSS, Line((6, 0), (20, 0)), [(6, 0), (10, 0)]),
    "one within the other": (ACROSS, Line((6, 0), (3, 0)), [(6, 0), (3, 0)]),
    "in line, apart": (ACROSS, Line((11, 0), (20, 0)), []),
    "line through an arc": (Line((0, -5), (0, 5)), TOP, [(0, 2)]),
    "line through the open side": (Line((-1, -5), (-1, -1)), TOP, []),
    "chord": (Line((-5, 1), (5, 1)), TOP, [(-math.sqrt(3), 1), (math.sqrt(3), 1)]),
    "tangent": (Line((-5, 2), (5, 2)), TOP, [(0, 2)]),
    "a hair above": (Line((-5, 2 + 1e-8), (5, 2 + 1e-8)), TOP, []),
    "arcs crossing": (TOP, Arc((4, 0), (0, 0), 1.0), [(1, math.sqrt(3))]),
    "arcs touching": (TOP, Arc((-2, 4), (2, 4), 1.0), [(0, 2)]),
    "arcs apart": (TOP, Arc((-2, 4.1), (2, 4.1), 1.0), []),
    "concentric": (TOP, Arc((3, 0), (-3, 0), 1.0), []),
    "one circle, overlapping": (
        TOP, Arc((math.sqrt(2), math.sqrt(2)), (-math.sqrt(2), -math.sqrt(2)), 1.0),
        [(math.sqrt(2), math.sqrt(2)), (-2, 0)],
    ),
    "one circle, apart": (Arc((2, 0), (0, 2), QUARTER), Arc((-2, 0), (0, -2), QUARTER), []),
    # rises of 5e-6 mm: a radius of 2.5e10 mm, whose centre is known to some 1e-6 mm only
    "shallow arc and line": (Arc((0, 0), (1000, 0), -1e-8), Line((250, -1), (250, 1)), [(250, 3.75e-6)]),
    "shallow arcs": (Arc((0, 0), (1000, 0), -1e-8), Arc((500, -500), (500, 500), 1e-8), [(500, 5e-6)]),
}  # fmt: skip


@pytest.mark.parametrize(("a", "b", "expected"), CASES.values(), ids=CASES.keys())
@pytest.mark.parametrize("swapped", [False, True], ids=["", "swapped"])
def test_meeting_points(a, b, expected, swapped):
    found = meeting_points(b, a) if swapped else meeting_points(a, b)
    assert all(any(math.dist(p, q) < 1e-5 for q in expected) for p in found), found
    assert all(any(math.dist(p, q) < 1e-5 for q in found) for p in expected), found


FIGURE_EIGHT = Loop.through([(0, 0, 0), (10, 10, 0), (10, 0, 0), (0, 10, 0)])
SOUND = {
    "square": [rectangle((0, 0), 10, 10)],
    "rounded": [rectangle((0, 0), 10, 10, 2)],
    "rounded all round": [rectangle((0, 0), 10, 10, 5)],
    "circle": [circle((0, 0), 10)],
    "lens": [Loop.through([(0, 0, 0.5), (2, 0, 0.5)])],
    "slot askew": [slot((1, 2), 30, 7, 0.3)],
    "biarc": [Loop.through([(0, 0, 0.3), (10, 0, 0.2), (18, 4, 0.3), (9, 15, 0)])],
    "hole in a plate": [rectangle((0, 0), 30, 30), circle((15, 15), 10)],
    "sharp fillets": [polygon([(0, 0), fillet(50, 1, 0.5), (0, 2)])],
    "cusp": [Loop.through([(10, 0, -QUARTER), (0, 10, -QUARTER), (-10, 0, -QUARTER), (0, -10, -QUARTER)])],
}


@pytest.mark.parametrize("loops", SOUND.values(), ids=SOUND.keys())
@pytest.mark.parametrize("backwards", [False, True], ids=["", "backwards"])
def test_neighbours_at_their_common_end_are_no_meeting(loops, backwards):
    assert list(meetings([loop.reversed() for loop in loops] if backwards else loops)) == []


def test_a_loop_that_crosses_itself():
    assert list(meetings([FIGURE_EIGHT])) == [Meeting(0, 0, pytest.approx((5, 5)))]


@pytest.mark.parametrize(
    "loop",
    [
        Loop.through([(0, 0, 0), (10, 0, 0), (5, 0, 0), (5, 5, 0)]),
        Loop.through([(0, 0, 0), (10, 0, 0), (10, 10, 0), (5, 0, 0), (0, 10, 0)]),
        Loop.through([(0, 0, 0), (10, 0, 0), (10, 10, 0), (0, 0, 0), (-10, 10, 0), (-10, 0, 0)]),
        Loop.through([(0, 0, 0), (10, 0, 1), (0, 0, -1), (10, 0, 0), (10, -20, 0), (0, -20, 0)]),
        Loop.through([(0, 0, 0), (10, 0, 0)]),
        Loop.through([(0, 0, 0.5), (10, 0, -0.5)]),
        Loop.through([(0, 0, 0), (20, 0, 0), (20, 14, 0), (14, 14, 0), (12, 10, 3), (8, 10, 0), (0, 10, 0)]),
    ],
    ids=["runs back over an edge", "a corner on an edge", "two corners at one point", "an arc run twice",
         "a line there and back", "an arc there and back", "an arc that comes round through its neighbour"],
)  # fmt: skip
def test_a_loop_that_touches_itself(loop):
    assert list(meetings([loop]))
    assert {(m.loop_a, m.loop_b) for m in meetings([loop.reversed()])} == {(0, 0)}


@pytest.mark.parametrize(
    ("gap", "meets"), [(-1e-3, True), (0.0, True), (5e-10, True), (1e-6, False), (1e-3, False)],
    ids=["crossing", "touching", "within rounding", "a hair apart", "apart"],
)  # fmt: skip
@pytest.mark.parametrize("of", ["two holes", "hole and edge"])
def test_loops_that_touch(gap, meets, of):
    hole = circle((20, 5 + gap), 10)
    other = rectangle((0, 0), 40, 40) if of == "hole and edge" else circle((20, -5), 10)
    found = {(m.loop_a, m.loop_b) for m in meetings([other, hole])}
    assert found == ({(0, 1)} if meets else set())
    if meets:
        assert next(meetings([other, hole])).at == pytest.approx((20, 0), abs=0.2)


def test_the_same_circle_twice_however_it_begins():
    turned = Loop.through([(0, 5, 1), (0, -5, 1)])
    assert {(m.loop_a, m.loop_b) for m in meetings([circle((0, 0), 10), turned])} == {(0, 1)}
