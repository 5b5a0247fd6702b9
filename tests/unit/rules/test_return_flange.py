"""Return flanges just under, at and just over what a straight punch clears, by hand, and what doesn't lean in."""

import math

import pytest
from hypothesis import given

import parts
from parts.cutting.process import cut_for
from parts.geometry import Line, rectangle
from parts.profile import Bend, Profile
from parts.rules import return_flange
from tests.depth import tried
from tests.jobs import job
from tests.property.same_drawing import assert_same, drawings

JOB = job(cut_for("air-plasma", "mild-steel", 3.0))
SQUARE = math.pi / 2
KT = 3 * 2 * 0.64 / math.pi  # soft steel, Machinery's Handbook
INSIDE = 3.84 - math.pi / 4 * (3.84 + KT)  # from a bend line to where the inside faces meet: R - A (R + K T) / 2


def flat(leg, base, other=None, angles=(SQUARE, SQUARE), ups=(True, True)):
    """Legs and base measured inside, as bent square; the flat of a U."""
    other = leg if other is None else other
    first, second = leg - INSIDE, leg - INSIDE + base - 2 * INSIDE
    lines = (Line((0, y), (80, y)) for y in (first, second))
    bends = tuple(Bend(line, angle, up=up) for line, angle, up in zip(lines, angles, ups, strict=True))
    return Profile((rectangle((0, 0), 80, second + other - INSIDE),), (), bends)


def check(*given, **more):
    return tuple(return_flange.check(flat(*given, **more), JOB))


CLEARS = 60 - 10 * math.sqrt(2)
"""At half of a square bend base and leg lean 45 degrees: (base - leg) / sqrt 2 must be half the punch, 10 mm."""


@pytest.mark.parametrize(("leg", "found"), [
    (CLEARS + 0.01, True), (CLEARS + 1e-10, False), (CLEARS, False), (CLEARS - 0.01, False),
])  # fmt: skip
def test_a_square_u(leg, found):
    assert [(f.severity, f.measured, f.limit) for f in check(leg, 60)] == (
        [("warn", pytest.approx(leg), pytest.approx(CLEARS))] if found else []
    )


def test_its_words():
    (one,) = check(60, 60)
    assert one.message == (
        "The leg beyond bend line 2 stands 60 mm inside and meets a straight punch 20 mm thick as bend line 1 is made; "
        "it clears up to 45.858 mm."
    )
    assert one.remedy.startswith("Make the leg 14.142 mm lower or the base wider, bend it with a gooseneck punch,")


def test_over_a_base_narrower_than_the_punch_none_clears():
    (one,) = check(30, 12)
    assert one.limit == pytest.approx(0)
    assert "as bend line 1 is made; over so narrow a base none clears." in one.message


def test_the_shorter_leg_is_bent_first():
    assert check(200, 60, other=40) == check(40, 60, other=200) == ()


def test_bends_that_turn_opposite_ways_lean_out():
    assert check(100, 60, ups=(True, False)) == ()


def test_what_the_drawing_doesnt_tell_is_a_note():
    (one,) = check(60, 60, angles=(0.0, 0.0))
    assert one.severity == "note"
    assert one.message.startswith("Bent square and the same way, the leg beyond bend line 2 stands 60 mm inside")


@pytest.mark.parametrize("degrees", [30, 60, 75, 100])
def test_other_angles_against_points_turned(degrees):
    """The leg's inside tip, turned with its base about the tip of the punch, is half the punch off at the limit."""
    turn = math.radians(degrees)
    found = check(400, 60, angles=(turn, turn))
    if 1.5 * turn <= math.pi / 2:
        assert found == ()
        return
    (one,) = found
    allowance = turn * (3.84 + KT)
    flat_base = 60 - 2 * INSIDE
    base = flat_base + 2 * (math.tan(turn / 2) * 3.84 - allowance / 2)
    x = base * math.cos(turn / 2) + one.limit * math.cos(turn / 2 + turn)
    assert x == pytest.approx(10)


def test_a_hat_whose_feet_turn_out_is_judged_by_its_sides_alone():
    assert parts.draw("bracket-bent-hat").findings == ()
    (one,) = parts.draw("bracket-bent-hat", top=60, side=80, thickness=3).findings
    assert (one.rule, one.measured) == ("return-flange", pytest.approx(77))


@tried(40)
@given(drawings())
def test_however_it_is_drawn(drawing):
    drawn, place = drawing
    profile = flat(70, 60, other=80)
    found = tuple(return_flange.check(profile, JOB))
    assert len(found) == 1
    assert_same(found, tuple(return_flange.check(drawn(profile), JOB)), place)
