"""Bend clearance just under, at and just over its limit, reliefs, and whatever way the part is drawn."""

import math
from dataclasses import replace

import pytest
from hypothesis import given

from parts.cutting.process import cut_for
from parts.finding import Finding
from parts.geometry.draft import circle, rectangle, slot
from parts.geometry.segment import Line
from parts.profile import Bend, Drill, Opening, Profile
from parts.rules import bend_clearance
from tests.depth import tried
from tests.jobs import BRAKE, job
from tests.property.same_drawing import assert_same, drawings

SQUARE = math.pi / 4 * (5 + 2 * 0.64 / math.pi * 4)  # half the allowance of a square bend, 4 mm to 5 mm inside
FROM_BEND = (15 - 5 - SQUARE) / 4  # so that a radius of 5 comes to 15 mm from the line, for every opening
JOB = job(cut_for("air-plasma", "mild-steel", 4.0), brake=replace(BRAKE, hole_ratio=FROM_BEND, slot_ratio=FROM_BEND))
PLATE = rectangle((0, 0), 200, 100)
BEND = Bend(Line((0, 50), (200, 50)), radius=5.0)


def check(*inside, marks=(BEND,)):
    return tuple(bend_clearance.check(Profile((PLATE,), inside, tuple(marks)), JOB))


def hole(x, y, diameter=10.0):
    return Opening(circle((x, y), diameter), "hole")


NEAR = {
    "over": (70.01, ()),
    "at": (70.0, ()),
    "at but for rounding": (70.0 - 1e-10, ()),
    "under": (69.99, (Finding(
        "bend-clearance", "warn", pytest.approx((80, 64.99)), pytest.approx(14.99), 15.0,
        "The hole comes within 14.99 mm of the bend line; 4 mm plate bent to 5 mm inside wants 15 mm.",
        "Move it 0.01 mm further off, or cut or drill it after bending."),)),
}  # fmt: skip


@pytest.mark.parametrize(("y", "expected"), NEAR.values(), ids=NEAR.keys())
def test_a_hole_by_the_bend(y, expected):
    assert check(hole(80, y)) == expected


def test_without_its_own_radius_it_is_the_brakes():
    """0.16 x 8 x 4 = 5.12 mm: 0.12 more of the radius, and pi/4 of that more of the allowance."""
    (one,) = check(hole(80, 70), marks=[Bend(BEND.line)])
    assert (one.measured, one.limit) == (15, pytest.approx(15.12 + math.pi / 4 * 0.12))


@pytest.mark.parametrize(("degrees", "half"), [(0, SQUARE), (90, SQUARE), (30, SQUARE / 3)])
def test_by_common_practice_two_thicknesses_for_a_hole_and_half_a_one_more_for_a_slot(degrees, half):
    """2 T + R from the hole's edge to where the bend begins, 2.5 T + R for slots (common practice)."""
    plain = job(JOB.cut)
    bend = replace(BEND, angle=math.radians(degrees))
    for opening, limit in (
        (hole(80, 56), half + 8 + 5),
        (Opening(slot((80, 56), 30, 10), "slot"), half + 10 + 5),
        (Opening(rectangle((70, 51), 20, 20), "window"), half + 10 + 5),
    ):
        (one,) = bend_clearance.check(Profile((PLATE,), (opening,), (bend,)), plain)
        assert (one.measured, one.limit) == (pytest.approx(1), pytest.approx(limit))


def test_no_bend_no_finding():
    assert check(hole(80, 50), marks=()) == ()


def test_a_drilled_hole_and_an_opening_are_one_finding_of_the_bend():
    (one,) = check(hole(80, 66), hole(120, 60), marks=[BEND, Drill((30, 40), 8)])
    assert (one.measured, one.at) == (5, pytest.approx((120, 55)))
    assert len(one.also) == 2
    assert one.message.startswith("Hole 2 comes within 5 mm of the bend line;")
    assert one.message.endswith(" The same at 2 more.")


def test_each_bend_has_its_own():
    found = check(hole(80, 35), marks=[BEND, Bend(Line((0, 20), (200, 20)), radius=5.0)])
    assert [f.message.split(";")[0] for f in found] == [
        "The hole comes within 10 mm of bend line 1", "The hole comes within 10 mm of bend line 2"
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("low", "high", "measured"),
    [(35, 65, None), (35.01, 65, 14.99), (20, 64, 14), (49, 90, 1), (50, 90, 0)],
    ids=["reaches clear on both sides", "just not", "on one side", "a sliver", "along the line"],
)
def test_an_opening_across_the_bend(low, high, measured):
    one = check(Opening(rectangle((80, low), 30, high - low), "window"))
    assert [f.measured for f in one] == ([] if measured is None else [pytest.approx(measured)])
    if measured:
        assert one[0].message.startswith(
            f"The bend line runs across the window, which reaches only {JOB.say(measured)}"
        )
        assert one[0].at == pytest.approx((95, 50))


def test_a_relief_at_the_end_of_a_bend_is_none():
    relief = Opening(circle((60, 50), 10), "relief")
    for end in (60, 65, 58):  # in its centre, on its rim, through it
        assert check(relief, marks=[Bend(Line((end, 50), (200, 50)), radius=5.0)]) == ()
    (short,) = check(relief, marks=[Bend(Line((66, 50), (200, 50)), radius=5.0)])
    assert short.measured == pytest.approx(1)


def test_a_bend_beyond_its_end_is_as_far_as_it_is_drawn():
    """From the end of the line at (100, 50) the hole at (130, 50) is 25 off."""
    assert check(hole(130, 50), marks=[Bend(Line((0, 50), (100, 50)), radius=5.0)]) == ()
    (one,) = check(hole(118, 50), marks=[Bend(Line((0, 50), (100, 50)), radius=5.0)])
    assert one.measured == pytest.approx(13)


def test_a_bend_in_pieces_is_one_bend():
    pieces = [
        Bend(Line((0, 50), (70, 50)), radius=5.0),
        Bend(Line((200, 50), (120, 50)), radius=5.0),
        Bend(Line((70, 50), (120, 50)), radius=5.0),
    ]
    (one,) = check(hole(40, 60), hole(150, 60), marks=pieces)
    assert "the bend line;" in one.message


MIXED = Profile(
    (PLATE,),
    (
        hole(30, 62), Opening(slot((70, 66), 30, 8, 0.3), "slot"), Opening(rectangle((100, 44), 30, 40, 3), "window"),
        Opening(circle((200 - 12, 40), 9), "hole"), Opening(circle((20, 20), 9), "vent"),
    ),
    (BEND, Bend(Line((20, 30), (20, 50)), radius=3.0), Drill((150, 60), 7)),
)  # fmt: skip


@tried(80)
@given(drawings())
def test_however_it_is_drawn(drawing):
    drawn, place = drawing
    found = tuple(bend_clearance.check(MIXED, JOB))
    assert [len(f.also) for f in found] == [4, 1]
    assert_same(found, tuple(bend_clearance.check(drawn(MIXED), JOB)), place)
