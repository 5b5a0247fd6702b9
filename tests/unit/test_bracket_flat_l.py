"""Flat L bracket: each limit just under, at and just over, and what a default gives."""

import math

import pytest

import parts
from parts.errors import Problem
from parts.templates.bracket.flat_l import TEMPLATE
from tests.property.flattened import assert_can_be_cut, assert_measured
from tests.unit import limits

SQUARE = {"corner_radius": 0, "heel_radius": 0, "inside_radius": 0}
BARE = {"holes_a": 0, "holes_b": 0}
LARGE = BARE | {"leg_a": 500, "leg_b": 500}
RELIEF = {"inside": "relief", "corner_radius": 0, "heel_radius": 0}
LONG_A = {"holes_a": 3}  # the third hole at the heel, at x = 25

# Each limit worked out by hand. UNDER: must be less; MOST: may be as much; OVER: must be more.
UNDER = [
    (SQUARE | BARE, "width_a", 120, "120 mm so that leg B stands out"),
    (SQUARE | BARE, "width_b", 150, "150 mm so that leg A stands out"),
    # it goes (1 - sqrt 1/2) r deep into the narrower leg
    (LARGE | RELIEF, "inside_radius", 50 / (1 - math.sqrt(0.5)), "170.71 mm to leave metal behind the relief"),
    # the circle on both outer edges that holds the inside one: 50 + 50 + 8 + sqrt(2 x 50 x 50)
    (LARGE, "heel_radius", 108 + math.sqrt(5000), "178.71 mm to leave metal at the inside corner"),
    # the circle through a sharp inside corner, on both edges: 50 (2 + sqrt 2)
    (
        LARGE | {"inside_radius": 0},
        "heel_radius",
        50 * (2 + math.sqrt(2)),
        "170.71 mm to leave metal at the inside corner",
    ),
    # 150 - 11 / 2 - 25, on one spacing
    ({}, "pitch_a", 119.5, "119.5 mm for 2 holes on leg A"),
    ({"holes_a": 1}, "first_a", 144.5, "144.5 mm on leg A"),
    ({"holes_a": 1, "first_a": 75}, "slot_a", 150, "150 mm on leg A"),
    ({"rows_a": 2}, "gauge_a", 39, "39 mm on leg A"),
    ({}, "back_mark_a", 44.5, "44.5 mm on leg A"),
    ({"rows_a": 2}, "back_mark_a", 22.5, "22.5 mm on leg A"),
    ({"bolt_a": "by-diameter", "holes_a": 1, "first_a": 75}, "hole_a", 50, "50 mm in leg A"),
    # leg B's hole beside leg A's in the heel: 120 - (25 + 11)
    (LONG_A | {"holes_b": 1}, "first_b", 84, "84 mm to clear the holes of leg A"),
]
MOST = [
    ({"corner_radius": 0}, "corner_radius", 25, "25 mm at the ends"),
    ({"leg_b": 70, "inside_radius": 0} | BARE, "corner_radius", 20, "20 mm at the ends"),
    ({}, "inside_radius", 64, "64 mm beside the radius at the ends"),
    # the relief's circle meets a leg r sqrt 2 from the corner: 64 / sqrt 2
    ({"inside": "relief"}, "inside_radius", 64 / math.sqrt(2), "45.254 mm beside the radius at the ends"),
    ({}, "heel_radius", 114, "114 mm beside the radius at the ends"),
]
OVER = [
    ({"rows_a": 2}, "gauge_a", 11, "11 mm to keep metal between the rows"),
    ({}, "pitch_a", 11, "11 mm to keep metal between the holes"),
    ({"slot_a": 30}, "pitch_a", 30, "30 mm to keep metal between the holes"),
    ({}, "first_a", 5.5, "5.5 mm to stay inside the end"),
    ({"slot_a": 30}, "first_a", 15, "15 mm to stay inside the end"),
    ({}, "back_mark_b", 5.5, "5.5 mm to stay inside the outer edge"),
]


def draw(**values):
    return parts.draw("bracket-flat-l", **values)


def refusal(**values):
    return limits.refusal("bracket-flat-l", **values)


@pytest.mark.parametrize("case", UNDER, ids=limits.name_of)
def test_must_be_less(case):
    limits.must_be_less("bracket-flat-l", case)


@pytest.mark.parametrize("case", MOST, ids=limits.name_of)
def test_may_be_as_much(case):
    limits.may_be_as_much("bracket-flat-l", case)


@pytest.mark.parametrize("case", OVER, ids=limits.name_of)
def test_must_be_more(case):
    limits.must_be_more("bracket-flat-l", case)


def test_a_slot_is_as_long_as_wide_or_more():
    assert [o.loop.circle is not None for o in draw(slot_a=11, holes_b=0).profile.inside] == [True, True]
    assert_can_be_cut(draw(slot_a=11.001))
    assert refusal(slot_a=10.999) == (Problem("slot_a", "10.999 mm", "must be 0, or at least the hole's 11 mm."),)


def test_a_bolt_too_large_for_the_leg():
    values = {"bolt_a": "M36", "holes_a": 1, "first_a": 75}  # 39 mm by ISO 273
    assert_can_be_cut(draw(width_a=39.001, **values))
    problem = Problem("bolt_a", "M36", "wants a hole of 39 mm; leg A has room for 39 mm.")
    assert refusal(width_a=39, **values) == (problem,)


def test_more_holes_than_the_leg_is_long():
    assert_can_be_cut(draw(holes_a=11, pitch_a=11.9))  # ten of 11 mm and more in 150 - 25 - 5.5
    assert_can_be_cut(draw(holes_a=3))
    assert refusal(holes_a=20) == (Problem("holes_a", "20", "must be at most 3 at this spacing on leg A."),)
    assert refusal(holes_a=12, pitch_a=11.9) == (
        Problem("holes_a", "12", "must be at most 11 at this spacing on leg A."),
    )


def test_more_rows_than_the_leg_is_wide():
    values = {"bolt_a": "by-diameter", "rows_a": 2, "gauge_a": 25, "holes_a": 1}
    assert_can_be_cut(draw(hole_a=24.999, **values))
    problem = Problem("rows_a", "2", "must be 1: two rows of these holes don't fit leg A.")
    assert refusal(hole_a=25, **values) == (problem,)


def test_holes_of_both_legs_in_the_heel():
    assert_can_be_cut(draw(holes_b=2, **LONG_A))
    message = "must be at most 2 at this spacing, to clear the holes of leg A."
    assert refusal(holes_b=3, **LONG_A) == (Problem("holes_b", "3", message),)


def test_a_hole_in_the_round_heel_is_named():
    values = {"holes_a": 1, "first_a": 140, "holes_b": 0}
    assert_can_be_cut(draw(heel_radius=20, **values))
    way = "make “Leg A, outside” 154 mm or more, or make it 0"  # the hole stays at 140 mm from A's end
    problem = Problem("holes_a", "1", f"the hole in leg A runs over the edge: {way}.")
    assert refusal(heel_radius=50, **values) == (problem,)
    assert_can_be_cut(draw(heel_radius=50, leg_a=154, **values))


def test_in_inches_the_limit_is_in_inches():
    assert refusal(
        units="in", leg_a="6", leg_b="5", width_a="2", width_b="2", heel_radius="4-7/8", corner_radius="1/4"
    ) == (Problem("heel_radius", "4-7/8 in", "must be at most 4-3/4 in beside the radius at the ends."),)


def test_the_default_can_be_cut_as_it_is():
    part = draw()
    assert part.findings == ()
    assert [o.name for o in part.profile.inside] == ["hole in leg A"] * 2 + ["hole in leg B"] * 2
    assert [o.parameter for o in part.profile.inside] == ["holes_a"] * 2 + ["holes_b"] * 2
    centres = [o.loop.circle.centre for o in part.profile.inside]
    assert centres == [(125, 25), (75, 25), (25, 95), (25, 55)]  # on the middle of each leg, from its end
    assert_measured(part)


def test_slots_run_along_their_legs():
    a, b = (opening.loop.box for opening in draw(holes_a=1, holes_b=1, slot_a=30, slot_b=30).profile.inside)
    assert a == pytest.approx((110, 19.5, 140, 30.5))
    assert b == pytest.approx((19.5, 80, 30.5, 110))


def test_two_rows_stand_astride_the_middle_or_from_the_back_mark():
    astride = draw(rows_a=2, holes_a=1, holes_b=0).profile.inside
    assert [o.loop.circle.centre for o in astride] == [(125, 14), (125, 36)]
    marked = draw(rows_b=2, holes_b=1, holes_a=0, back_mark_b=18).profile.inside
    assert [o.loop.circle.centre for o in marked] == [(18, 95), (40, 95)]


def test_it_is_found_and_cautions():
    assert TEMPLATE.family == "bracket"
    assert "qualified person" in " ".join(draw().cautions)
