"""Long strips: whole parts at any angle and strips between two cuts, by width and by length."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.cutting.process import PROCESSES, cut_for
from parts.finding import Finding
from parts.geometry.draft import circle, polygon, rectangle, slot
from parts.geometry.loop import Loop
from parts.geometry.motion import rotation
from parts.profile import Profile, openings
from parts.rules import long_strip
from tests.depth import tried
from tests.unit.rules.restaged import CUT, JOB, WITHOUT_HEAT, assert_same_findings, restagings


def found(profile, job=JOB):
    return tuple(long_strip.check(profile, job))


def bar(length, width, radius=0.0):
    return Profile((rectangle((0, 0), length, width, radius),))


def slotted(apart, length=400.0):
    """A panel with two slots that leave a strip of this width."""
    slots = [rectangle((50, 100 + y), length, 20) for y in (-20 - apart / 2, apart / 2)]
    return Profile((rectangle((0, 0), length + 100, 200),), openings(slots, "slot", ""))


def test_a_bar_is_told_whole():
    assert found(bar(500, 25)) == (
        Finding(
            "long-strip", "warn", pytest.approx((250, 12.5)), pytest.approx(25), 30.0,
            "The part is a strip 500 mm long and 25 mm wide; air plasma in 6 mm plate bows strips under 30 mm.",
            "Cut it as one of a pair, leave tabs until it is cold, or make it wider.",
        ),
    )  # fmt: skip


def test_a_strip_between_slots_is_told_with_its_place():
    (said,) = found(slotted(20))
    assert (said.severity, said.at, said.measured) == ("warn", pytest.approx((250, 100)), pytest.approx(20))
    assert said.message.startswith("A strip is left, 400 mm long and 20 mm wide;")


SIZES = [
    (300, 29.99, "note"), (300, 30.0, None), (300, 31, None),
    (199.99, 20, None), (200, 20, "note"), (399.9, 20, "note"), (400, 20, "warn"),
    (500, 6, "warn"), (500, 5.9, None),  # narrower than a bridge: `bridge-width` tells of it
]  # fmt: skip


@pytest.mark.parametrize(("length", "width", "severity"), SIZES)
def test_the_limits_of_a_part_and_of_a_strip_are_the_same(length, width, severity):
    expected = [severity] if severity else []
    assert [f.severity for f in found(bar(length, width))] == expected
    assert [f.severity for f in found(slotted(width, length))] == expected


@pytest.mark.parametrize("radius", [5, 12.4])
def test_rounded_ends_change_neither_length_nor_width(radius):
    (said,) = found(bar(500, 25, radius))
    assert said.measured == pytest.approx(25)
    assert "500 mm long and 25 mm wide" in said.message


def test_a_bent_strip_of_two_arcs_is_as_wide_as_its_box():
    """A banana: its arcs bow by 8 mm over 400 mm, so its box is wider than its ends by that."""
    bulge = math.tan(2 * math.atan(8 / 200) / 2)
    arc = Profile((polygon([(0, 0), (400, 0), (400, 15), (0, 15)]),))
    assert found(arc)[0].measured == pytest.approx(15)
    banana = Profile((Loop.through([(0, 0, -bulge), (400, 0, 0), (400, 15, bulge), (0, 15, 0)]),))
    (said,) = found(banana)
    assert said.measured == pytest.approx(15 + 8)


def test_a_hole_in_a_strip_parts_it():
    assert [f.severity for f in found(slotted(24, 300))] == ["note"]
    holed = slotted(24, 300)
    holed = replace(holed, inside=(*holed.inside, *openings([circle((200, 100), 10)], "hole", "")))
    assert found(holed) == ()


def test_a_ladder_is_one_finding_and_a_grill_of_thick_bars_none():
    def grill(bar_width):
        slots = [rectangle((20, 30 + k * (10 + bar_width)), 300, 10) for k in range(5)]
        return Profile((rectangle((0, 0), 340, 400),), openings(slots, "slot", ""))

    (said,) = found(grill(15))
    assert said.message.startswith("4 strips are left, one 300 mm long and 15 mm wide;")
    assert len(said.also) == 3
    assert found(grill(30)) == ()


def test_what_isnt_slender_is_silent():
    assert found(Profile((rectangle((0, 0), 350, 350),))) == ()
    assert found(Profile((circle((0, 0), 20),))) == ()
    angle = polygon([(0, 0), (250, 0), (250, 25), (25, 25), (25, 250), (0, 250)])  # legs of 9 widths each
    assert found(Profile((angle,))) == ()


def test_a_leg_of_an_angle_is_a_strip():
    """Where a disc as wide as the leg still touches both its sides: up to half a width from the corner."""
    angle = polygon([(0, 0), (400, 0), (400, 25), (25, 25), (25, 250), (0, 250)])
    (said,) = found(Profile((angle,)))
    assert "362.5 mm long and 25 mm wide" in said.message


@pytest.mark.parametrize("process", PROCESSES)
def test_the_jet_without_heat_bows_nothing(process):
    cut = cut_for(process, "mild-steel", 6.0)
    assert bool(found(bar(500, 9), replace(JOB, cut=replace(cut, narrowest_bridge_mm=1)))) == (
        process not in WITHOUT_HEAT
    )


@given(st.sampled_from([bar(500, 25), bar(500, 25, 12.5), slotted(20), slotted(12, 300)]), restagings())
@tried(60)
def test_however_it_is_drawn(profile, restaging):
    assert_same_findings(long_strip.check, profile, restaging)


@given(st.floats(-math.pi, math.pi), st.floats(10, 29))
@tried(40)
def test_a_bar_laid_at_any_angle_is_as_wide(angle, width):
    (said,) = found(bar(400, width).moved(rotation(angle)))
    assert said.measured == pytest.approx(width)


def test_a_slot_is_no_strip_of_metal():
    assert found(Profile((rectangle((0, 0), 500, 200),), openings([slot((250, 100), 400, 12)], "slot", ""))) == ()


def test_limits_stay_those_of_the_cut():
    assert found(bar(500, 25), replace(JOB, cut=replace(CUT, straight_strip_mm=25.0))) == ()
    assert len(found(bar(500, 24.99), replace(JOB, cut=replace(CUT, straight_strip_mm=25.0)))) == 1
