"""Profiles: names, box, marks and dimensions, moved and seated."""

import math

import pytest

from parts.geometry.draft import circle, rectangle
from parts.geometry.motion import mirror, rotation, translation
from parts.geometry.segment import Line
from parts.profile import Bend, Dimension, Drill, Opening, Profile, Scribe, openings

PLATE = rectangle((10, 20), 100, 60)
HOLES = openings([circle((30, 40), 10), circle((60, 40), 10)], "hole in leg A", "holes_a")
WINDOW = Opening(rectangle((80, 40), 20, 20), "window", "window")
MARKS = (Scribe((Line((20, 30), (40, 30)),)), Bend(Line((20, 20), (20, 80))), Drill((50, 70), 6.5))
DIMENSIONS = (
    Dimension("width", (10, 20), (110, 80), "below"),
    Dimension("height", (10, 20), (110, 80), "left"),
    Dimension("span", (10, 20), (40, 60), "along"),
    Dimension("radius", (30, 40), (33, 44), "radius"),
    Dimension("hole", (30, 40), (33, 44), "diameter"),
)
PROFILE = Profile((PLATE,), (*HOLES, WINDOW), MARKS, DIMENSIONS)


def test_names():
    assert [PROFILE.name(i) for i in range(4)] == ["the edge", "hole 1 in leg A", "hole 2 in leg A", "the window"]
    two = Profile((PLATE, rectangle((200, 0), 5, 5)), openings([circle((30, 40), 5), circle((60, 40), 5)], "slot", "s"))
    assert [two.name(i) for i in range(4)] == ["the edge of piece 1", "the edge of piece 2", "slot 1", "slot 2"]


@pytest.mark.parametrize(
    ("style", "length"),
    [("below", 30), ("above", 30), ("left", 40), ("right", 40), ("along", 50), ("radius", 50), ("diameter", 100)],
)
def test_what_a_dimension_shows(style, length):
    assert Dimension("x", (40, 60), (10, 20), style).measured == length


def test_the_boundary_has_the_material_on_its_left_however_loops_were_drawn():
    profile = Profile((PLATE.reversed(),), (Opening(circle((30, 40), 10)), Opening(circle((60, 40), 10).reversed())))
    assert [loop.counter_clockwise for loop in profile.boundary] == [True, False, False]


def test_seated():
    seated = PROFILE.seated()
    assert PROFILE.box == (10, 20, 110, 80)
    assert seated.box == (0, 0, 100, 60)
    assert seated.boundary == (*seated.outside, *(opening.loop for opening in seated.inside))
    assert [(o.name, o.parameter) for o in seated.inside] == [(o.name, o.parameter) for o in PROFILE.inside]
    assert seated.inside[0].loop.circle.centre == (20, 20)
    assert seated.marks == (Scribe((Line((10, 10), (30, 10)),)), Bend(Line((10, 0), (10, 60))), Drill((40, 50), 6.5))
    assert seated.dimensions[0] == Dimension("width", (0, 0), (100, 60), "below")
    assert seated.seated() == seated


def test_the_box_is_that_of_the_outside_loops():
    stray = Profile((rectangle((0, 0), 10, 10),), (Opening(circle((50, 50), 5)),))
    assert stray.box == (0, 0, 10, 10)


@pytest.mark.parametrize(
    ("motion", "kept"),
    [
        (translation(5, 6), ["width", "height", "span", "radius", "hole"]),
        (mirror((0, 0), math.pi / 2), ["width", "height", "span", "radius", "hole"]),
        (rotation(math.pi), ["width", "height", "span", "radius", "hole"]),
        (rotation(math.pi / 2), ["span", "radius", "hole"]),
        (rotation(0.3), ["span", "radius", "hole"]),
    ],
    ids=["shifted", "mirrored", "turned half", "turned a quarter", "askew"],
)
def test_a_dimension_that_no_longer_shows_its_length_is_left_out(motion, kept):
    moved = PROFILE.moved(motion)
    assert [d.parameter for d in moved.dimensions] == kept
    lengths = {d.parameter: d.measured for d in DIMENSIONS}
    assert all(d.measured == pytest.approx(lengths[d.parameter]) for d in moved.dimensions)


def test_a_turned_profile_carries_its_marks_along():
    turned = PROFILE.moved(rotation(math.pi / 2))
    assert turned.marks == (
        Scribe((Line((-30, 20), (-30, 40)),)), Bend(Line((-20, 20), (-80, 20))), Drill((-70, 50), 6.5)
    )  # fmt: skip


@pytest.mark.parametrize(("below", "left"), [(9.99, 2), (10.0, 2), (10.0 + 1e-10, 2), (10.01, 0)])
def test_holes_below_a_diameter_are_drilled(below, left):
    drilled = PROFILE.drilled_below(below)
    assert len(drilled.inside) == left + 1
    assert drilled.inside[-1] == WINDOW
    assert len(drilled.marks) == len(MARKS) + 2 - left
    assert (drilled is PROFILE) == (left == 2)


@pytest.mark.parametrize(
    ("motion", "sides"),
    [
        (mirror((0, 0), math.pi / 2), ["right", "left", "above", "below"]),
        (mirror((0, 0), 0), ["left", "right", "below", "above"]),
        (rotation(math.pi), ["right", "left", "below", "above"]),
        (translation(3, 4), ["left", "right", "above", "below"]),
    ],
)
def test_a_dimension_beside_the_part_stays_on_the_side_that_it_is_of(motion, sides):
    shown = tuple(Dimension(side, (0, 0), (10, 20), side) for side in ("left", "right", "above", "below"))
    moved = Profile((rectangle((0, 0), 10, 20),), dimensions=shown).moved(motion)
    assert [d.style for d in moved.dimensions] == sides
    assert [d.measured for d in moved.dimensions] == [d.measured for d in shown]
