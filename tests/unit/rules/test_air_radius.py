"""Air radius just under, at and just over what the V leaves, and where a test bend says better."""

import json
import math

import pytest
from hypothesis import given

import parts
from parts.cutting.process import cut_for
from parts.finding import Finding
from parts.forming.brake import brake_at
from parts.geometry import Line, rectangle
from parts.profile import Bend, Profile
from parts.rules import air_radius
from parts.shop.numbers import BUILT_IN_EDITION
from tests.depth import tried
from tests.jobs import job
from tests.property.same_drawing import assert_same, drawings

PLATE = rectangle((0, 0), 200, 100)
LINES = tuple(Line((0, y), (200, y)) for y in (20, 50, 80))
ANGLE = math.pi / 2


def stock(material="stainless-steel", thickness=3.0):
    return job(cut_for("waterjet", material, thickness), brake=brake_at(BUILT_IN_EDITION, material))


def flat(*radii, angle=ANGLE):
    return Profile((PLATE,), (), tuple(Bend(line, angle, r) for line, r in zip(LINES, radii, strict=False)))


def check(*radii, angle=ANGLE, **of):
    return tuple(air_radius.check(flat(*radii, angle=angle), stock(**of)))


LIMIT = 0.85 * 0.2 * 8 * 3
"""3 mm stainless steel over a V of 8 thicknesses, which leaves a fifth of it; 0.85 of that (common practice)."""


def test_just_under_at_and_just_over():
    assert check(LIMIT) == check(LIMIT + 0.01) == check(LIMIT - 1e-10) == ()
    assert check(4.0) == (
        Finding(
            "air-radius", "note", (100, 20), 4.0, pytest.approx(4.8),
            "A V of 24 mm leaves about 4.8 mm inside, not 4 mm: bent over it, the legs come out long.",
            "Bend it over a narrower die, or set the radius to what your brake leaves."),
    )  # fmt: skip


def test_each_radius_is_told_once_with_its_bends():
    assert [(f.measured, f.at, f.also) for f in check(3, 4, 3)] == [
        (3, (100, 20), ((100, 80),)), (4, (100, 50), ()),
    ]  # fmt: skip


def test_a_radius_left_to_the_brake_or_wider_and_a_bend_round_a_bar_have_none():
    for material in ("mild-steel", "stainless-steel", "aluminium", "copper", "brass"):
        for thickness in (0.6, 1.0, 3.0, 6.0, 12.0, 20.0):
            assert check(0, material=material, thickness=thickness) == ()
    assert check(30) == check(1, angle=math.radians(170)) == ()


def test_it_is_told_in_json_and_the_shops_own_radius_per_v_is_followed(own_file):
    told = parts.draw("bracket-bent-angle", material="stainless-steel", thickness=3, bend_radius=3)
    (note,) = [f for f in json.loads(told.to_json())["findings"] if f["rule"] == "air-radius"]
    assert (note["severity"], note["measured"], note["limit"]) == ("note", 3, pytest.approx(4.8))
    own_file.write_text("[brake]\ninside_radius_per_v = 0.12\n")
    after = parts.draw("bracket-bent-angle", material="stainless-steel", thickness=3, bend_radius=3)
    assert [f for f in after.findings if f.rule == "air-radius"] == []


def test_a_test_bend_that_left_the_radius_says_better(own_file):
    own_file.write_text(
        "[[test_bends.stainless-steel.rows]]\nthickness_mm = 3\nmeasured_mm = 2.98\nmeasured_u_mm = 0.01\n"
        "v_opening_mm = 20\nangle_deg = 90\ninside_radius_mm = 3\ninside_radius_u_mm = 0.2\ndeduction_mm = 5.2\n"
        'deduction_u_mm = 0.05\ndate = "2026-11-02"\n'
    )
    part = parts.draw("bracket-bent-angle", material="stainless-steel", thickness=3, bend_radius=3.1)
    assert [f for f in part.findings if f.rule == "air-radius"] == []


@tried(40)
@given(drawings())
def test_however_it_is_drawn(drawing):
    drawn, place = drawing
    profile = flat(3, 3, 6)
    assert_same(tuple(air_radius.check(profile, stock())), tuple(air_radius.check(drawn(profile), stock())), place)
