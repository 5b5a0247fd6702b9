"""Bolt spacing just under, at and just over its limit, and whatever way the part is drawn."""

import pytest
from hypothesis import given

from parts.cutting.process import cut_for
from parts.finding import Finding
from parts.geometry.draft import circle, rectangle, slot
from parts.profile import Drill, Opening, Profile, openings
from parts.rules import bolt_spacing
from tests.depth import tried
from tests.jobs import job
from tests.property.same_drawing import assert_same, drawings

JOB = job(cut_for("air-plasma", "mild-steel", 6.0))
PLATE = rectangle((0, 0), 300, 200)


def check(*inside, marks=()):
    return tuple(bolt_spacing.check(Profile((PLATE,), inside, tuple(marks)), JOB))


def holes(*centres, bolt=12.0, name="hole"):
    return openings([circle(at, 13.5) for at in centres], name, "", bolt)


@pytest.mark.parametrize(
    ("pitch", "expected"),
    [
        (31.99, (Finding(
            "bolt-spacing", "warn", pytest.approx((50 + 31.99 / 2, 50)), pytest.approx(31.99), 32.0,
            "Hole 1 and hole 2 are 31.99 mm apart, centre to centre; in a structural steel connection the M12 bolt "
            "wants 32 mm (AISC 360-22 section J3.3).",
            "Move them 0.01 mm further apart, better to 36 mm, or take smaller bolts."),)),
        (32.0 - 1e-10, ()),
        (32.0, ()),
        (32.01, ()),
    ],
    ids=["under", "at but for rounding", "at", "over"],
)  # fmt: skip
def test_two_holes(pitch, expected):
    assert check(*holes((50, 50), (50 + pitch, 50))) == expected


def test_a_row_is_one_finding_at_the_worst():
    (one,) = check(*holes((50, 50), (81, 50), (110, 50), (150, 50)))
    assert (one.measured, one.at, one.also) == (29, (95.5, 50), ((65.5, 50),))
    assert one.message.startswith("Hole 2 and hole 3 are 29 mm apart")
    assert one.message.endswith(" The same between 1 more.")


def test_the_larger_bolt_counts():
    (one,) = check(*holes((50, 50)), *holes((85, 50), bolt=16.0, name="pin hole"))
    assert (one.measured, one.limit) == (35, pytest.approx(16 * 8 / 3))
    assert one.message.startswith("The hole and the pin hole are 35 mm apart")


def test_holes_without_bolts_are_left_alone():
    assert check(*holes((50, 50)), *holes((60, 50), bolt=0.0)) == ()


def test_a_drilled_hole_counts():
    (one,) = check(*holes((50, 50)), marks=[Drill((80, 50), 11, "hole in leg B", "", 10.0)])
    assert one.measured == 30


def test_slots_are_measured_from_their_middle_lines():
    """A bolt may sit anywhere along a slot: 10 to the side of its middle, or beyond its end."""
    level = Opening(slot((100, 50), 60, 13.5), "slot", "", 12.0)
    (beside,) = check(level, *holes((105, 80)))
    assert beside.measured == pytest.approx(30)
    (ahead,) = check(level, *holes((100 + 23.25 + 25, 50)))
    assert ahead.measured == pytest.approx(25)
    (parallel,) = check(level, Opening(slot((130, 78), 60, 13.5), "slot", "", 12.0))
    assert parallel.measured == pytest.approx(28)
    assert check(level, Opening(slot((130, 82), 60, 13.5), "slot", "", 12.0)) == ()


MIXED = Profile(
    (PLATE,),
    (
        *holes((30, 30), (60, 30), (85, 30)),
        Opening(slot((200, 100), 60, 13.5, 0.4), "slot", "", 12.0),
        Opening(slot((200, 72), 60, 13.5, 0.5), "slot", "", 12.0),
    ),
    (Drill((30, 58), 11, bolt=10.0),),
)


@tried(80)
@given(drawings())
def test_however_it_is_drawn(drawing):
    drawn, place = drawing
    found = tuple(bolt_spacing.check(MIXED, JOB))
    assert len(found) == 3
    assert_same(found, tuple(bolt_spacing.check(drawn(MIXED), JOB)), place)
