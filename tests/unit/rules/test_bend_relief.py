"""Bend relief: ends at inside corners with and without one, ends at free edges, lines drawn short."""

import math

import pytest
from hypothesis import given

import parts
from parts.cutting.process import cut_for
from parts.geometry import Line, circle, polygon, rectangle
from parts.profile import Bend, Opening, Profile
from parts.rules import bend_relief
from tests.depth import tried
from tests.jobs import job
from tests.property.same_drawing import drawings

JOB = job(cut_for("air-plasma", "mild-steel", 3.0))
HALF = math.pi / 4 * (3.84 + 3 * 2 * 0.64 / math.pi)  # 3.97 mm to each side of the line
BEND = Bend(Line((30, 60), (90, 60)), math.pi / 2)


def tab(body, deep=0.0, wide=4.0):
    """A tab 30 to 90 on a plate whose edge beside it is at `body`; slots of this depth and width beside the tab."""
    right = [(90 + wide, body), (90 + wide, body - deep), (90, body - deep)] if deep else [(90, body)]
    left = [(30, body - deep), (30 - wide, body - deep), (30 - wide, body)] if deep else [(30, body)]
    return polygon([(0, 0), (120, 0), (120, body), *right, (90, 95), (30, 95), *left, (0, body)])


def check(outline, *inside, marks=(BEND,)):
    return tuple(bend_relief.check(Profile((outline,), inside, tuple(marks)), JOB))


@pytest.mark.parametrize("body", [60, 61, 62, 60 + HALF, 58, 60 - 0.5 * HALF])
def test_a_tab_without_a_relief_tears_at_both_ends(body):
    (one,) = check(tab(body))
    assert (one.severity, one.at, one.also) == ("warn", (30, 60), ((90, 60),)) or one.at == (90, 60)
    assert one.message == (
        "The bend line ends at an inside corner without a relief: the metal beside it stays flat, and tears there. "
        "The same at its other end."
    )
    assert "6.84 mm past its line" in one.remedy  # R + T


@pytest.mark.parametrize("body", [60 - HALF, 55, 40])
def test_an_edge_that_lies_before_the_bend_is_its_own_relief(body):
    assert check(tab(body)) == ()


@pytest.mark.parametrize("wide", [0.3, 1, 4])
@pytest.mark.parametrize(("deep", "found"), [(2 + HALF, 0), (2 + HALF + 3, 0), (2 + 0.5 * HALF, 1), (1, 1)])
def test_slots_have_to_reach_past_the_bend(wide, deep, found):
    assert len(check(tab(62, deep, wide))) == found


def test_a_hole_at_the_corner_is_a_relief_where_it_is_large_enough():
    holes = [Opening(circle((x, 60), 2 * HALF), "relief") for x in (30, 90)]
    window = rectangle((0, 0), 120, 95)
    assert check(window, *holes) == ()
    assert check(tab(60, 1.9 * HALF / 2 + 0.3, 3 * HALF)) == ()


@pytest.mark.parametrize("short", [0, 1, 5])
def test_a_bend_from_edge_to_edge_needs_none_however_short_it_is_drawn(short):
    assert check(rectangle((0, 0), 120, 95), marks=[Bend(Line((short, 60), (120 - short, 60)))]) == ()
    slanted = polygon([(0, 0), (120, 0), (120, 40), (90, 95), (30, 95), (0, 40)])
    assert check(slanted, marks=[Bend(Line((0 + 11 + short, 60), (109 - short, 60)))]) == ()


def test_templates_with_reliefs_have_what_it_asks():
    for values in ({}, {"thickness": 3, "shoulder": 20}, {"thickness": 4, "shoulder": 30, "bend_radius": 6}):
        rules = {f.rule for f in parts.draw("bracket-bent-u", **values).findings}
        assert "bend-relief" not in rules
    assert "bend-relief" not in {f.rule for f in parts.draw("gusset-flange-brace").findings}


@tried(40)
@given(drawings())
def test_however_it_is_drawn(drawing):
    drawn, place = drawing
    profile = Profile((tab(62, 8, 4),), (), (BEND,))
    torn = Profile((tab(62),), (), (Bend(Line((30, 60), (88, 60)), math.pi / 2),))
    assert tuple(bend_relief.check(drawn(profile), JOB)) == ()
    found = tuple(bend_relief.check(torn, JOB))
    assert [len(f.also) for f in found] == [1]
    again = tuple(bend_relief.check(drawn(torn), JOB))
    assert {round(c, 6) for f in again for p in (f.at, *f.also) for c in p} == {
        round(c, 6) for f in found for p in (f.at, *f.also) for c in place(p)
    }
