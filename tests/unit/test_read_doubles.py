"""Marks drawn twice, and points in the middle of holes: left out once, and said."""

import pytest

from parts.profile import Bend, Drill, Scribe
from tests.files.foreign import circle, dxf, line, read


def point(x, y, layer="0"):
    return f"0\nPOINT\n8\n{layer}\n10\n{x}\n20\n{y}\n"


PLATE = circle(0, 0, 100)


def marks(text):
    reading = read(dxf(PLATE + text))
    assert [f.message for f in reading.findings if "closed outline" not in f.message] == []
    return reading.profile.marks, reading.healed


@pytest.mark.parametrize("off", [0, 0.0009, -0.0009])
def test_a_point_drawn_twice_is_one(off):
    assert marks(point(20, 20) + point(20 + off, 20) + point(40, 20)) == (
        (Drill(pytest.approx((120, 120)), 0.0), Drill(pytest.approx((140, 120)), 0.0)),
        ("dropped 1 mark drawn twice",),
    )


def test_points_further_apart_than_rounding_are_two():
    found, said = marks(point(20, 20) + point(20.002, 20))
    assert (len(found), said) == (2, ())


def test_a_centre_with_a_diameter_says_more_than_a_point_at_it():
    found, said = marks(point(20, 20) + circle(20, 20, 3, "DRILL") + point(20, 20, "DRILL"))
    assert (found, said) == ((Drill(pytest.approx((120, 120)), pytest.approx(6)),), ())


def test_two_diameters_at_one_place_both_stay():
    found, said = marks(circle(20, 20, 3, "DRILL") + circle(20, 20, 5, "DRILL"))
    assert (sorted(mark.diameter for mark in found), said) == ([6, 10], ())


def test_points_in_the_middle_of_holes_that_are_cut():
    found, said = marks(circle(20, 20, 8) + circle(50, 20, 8) + point(20, 20) + point(50, 20) + point(0, 0))
    assert found == (Drill(pytest.approx((100, 100)), 0.0),)
    assert said == ("dropped 2 points at the middle of holes that are cut",)


def test_lines_to_scribe_or_bend_drawn_twice_either_way():
    twice = line(0, 0, 30, 10, "SCRIBE") + line(30, 10, 0, 0, "SCRIBE") + line(0, 0, 30, 10.0005, "SCRIBE")
    found, said = marks(twice + line(0, 0, 30, 10, "BEND"))
    assert [type(mark) for mark in found] == [Scribe, Bend]
    assert said == ("dropped 2 marks drawn twice",)


def test_circles_to_scribe_drawn_twice():
    found, said = marks(circle(20, 20, 8, "SCRIBE") * 2 + circle(20, 20, 9, "SCRIBE"))
    assert (len(found), said) == (2, ("dropped 1 mark drawn twice",))
