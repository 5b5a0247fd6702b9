"""Bends apart just under, at and just over their limit, worked out by hand, and what asks nothing."""

import math
import sys

import pytest
from hypothesis import given

from parts.cutting.process import cut_for
from parts.finding import Finding
from parts.geometry import Line, polygon, rectangle
from parts.geometry.search import Vicinity
from parts.profile import Bend, Profile
from parts.rules import bends_apart, return_flange
from tests.depth import tried
from tests.jobs import job
from tests.property.same_drawing import assert_same, drawings

JOB = job(cut_for("air-plasma", "mild-steel", 3.0))
K = 2 * 0.64 / math.pi
HALF = math.pi / 4 * (3.84 + K * 3)  # half the allowance of a square bend over a V of 24 mm
LIMIT = 0.7 * 24 - (3.84 + 3) + HALF + HALF  # an outside flange of 0.7 V less its setback, and the flat of both bends


def flat(*offs, angles=(math.pi / 2,) * 9, width=100.0):
    bends = (Bend(Line((0, y), (width, y)), angle) for y, angle in zip(offs, angles, strict=False))
    return Profile((rectangle((0, 0), width, 200),), (), tuple(bends))


def check(*offs, **more):
    return tuple(bends_apart.check(flat(*offs, **more), JOB))


APART = {
    "over": (LIMIT + 0.01, ()),
    "at": (LIMIT, ()),
    "at but for rounding": (LIMIT - 1e-10, ()),
    "under": (LIMIT - 0.01, (Finding(
        "bends-apart", "warn", pytest.approx((50, 80 + (LIMIT - 0.01) / 2)), pytest.approx(LIMIT - 0.01),
        pytest.approx(LIMIT),
        "Bend lines 1 and 2 are 17.902 mm apart; over a V opening of 24 mm the second of them wants 17.912 mm in 3 mm "
        "plate.",
        "Make what is between them 0.01 mm longer, or bend it over a narrower die or with offset tools."),)),
}  # fmt: skip


@pytest.mark.parametrize(("apart", "expected"), APART.values(), ids=APART.keys())
def test_two_bends(apart, expected):
    assert check(80, 80 + apart) == expected


def test_angles_that_arent_told_are_square():
    assert check(80, 95) == check(80, 95, angles=(0.0, 0.0))


def test_each_two_are_told_once():
    assert [(f.measured, f.at[1]) for f in check(80, 90, 102)] == [(10, 85), (12, 96)]


def test_a_bend_round_a_bar_asks_nothing():
    assert check(80, 90, angles=(math.pi / 2, math.pi)) == ()


def test_bends_that_dont_face_each_other_or_have_a_gap_between():
    plate = rectangle((0, 0), 200, 200)
    beside = Profile((plate,), (), (Bend(Line((0, 80), (90, 80))), Bend(Line((110, 90), (200, 90)))))
    assert tuple(bends_apart.check(beside, JOB)) == ()
    slotted = polygon([(0, 0), (100, 0), (100, 84), (10, 84), (10, 86), (100, 86), (100, 200), (0, 200)])
    parted = Profile((slotted,), (), (Bend(Line((12, 80), (100, 80))), Bend(Line((12, 90), (100, 90)))))
    assert tuple(bends_apart.check(parted, JOB)) == ()


@tried(40)
@given(drawings())
def test_however_it_is_drawn(drawing):
    drawn, place = drawing
    profile = flat(80, 90, 103)
    (first, second) = bends_apart.check(profile, JOB)
    assert_same((first, second), tuple(bends_apart.check(drawn(profile), JOB)), place)


def test_what_lies_beside_the_bends_is_found_once_for_all_rules(monkeypatch):
    built = []

    class Counted(Vicinity):
        def __init__(self, loops):
            built.append(loops)
            super().__init__(loops)

    monkeypatch.setattr(sys.modules["parts.forming.sides"], "Vicinity", Counted)
    profile = flat(41.25, 80, 133)
    for rule in (bends_apart, return_flange):
        list(rule.check(profile, JOB))
    assert len(built) == 1
