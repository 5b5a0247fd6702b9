"""Bend taper just under, at and just over its limit, and edges that are none."""

import math

import pytest
from hypothesis import given

from parts.cutting.process import cut_for
from parts.finding import Finding
from parts.geometry import Line, polygon, rectangle
from parts.profile import Bend, Profile
from parts.rules import bend_taper
from tests.depth import tried
from tests.jobs import job
from tests.property.same_drawing import assert_same, drawings

JOB = job(cut_for("air-plasma", "mild-steel", 3.0))
LIMIT = math.pi / 4 * (3.84 + 3 * 2 * 0.64 / math.pi) + 2 * 3 + 3.84
"""Half the allowance of a square bend, 2 T + R: common practice."""


def flat(begins):
    corners = [(0, 0), (90, 0), (90, 40 + begins), (65, 100), (0, 100)]
    return Profile((polygon(corners),), (), (Bend(Line((0, 40), (90, 40)), math.pi / 2),))


def check(profile):
    return tuple(bend_taper.check(profile, JOB))


SLANTS = {
    "over": (LIMIT + 0.01, ()),
    "at": (LIMIT, ()),
    "under": (LIMIT - 0.01, (Finding(
        "bend-taper", "note", pytest.approx((90, 40 + LIMIT - 0.01)), pytest.approx(LIMIT - 0.01), pytest.approx(LIMIT),
        "An edge slants off 13.806 mm from the bend line: it bends out of shape there, in 3 mm plate up to 13.816 mm "
        "from the line.",
        "Run the edge square to the bend that far before it slants, or trim it after bending."),)),
}  # fmt: skip


@pytest.mark.parametrize(("begins", "expected"), SLANTS.values(), ids=SLANTS.keys())
def test_an_edge_that_slants_off(begins, expected):
    assert check(flat(begins)) == expected


def test_one_that_slants_across_the_bend_is_nought_off():
    wedge = Profile((polygon([(0, 0), (90, 0), (60, 90), (0, 90)]),), (), (Bend(Line((0, 45), (75, 45))),))
    (one,) = check(wedge)
    assert (one.measured, one.at) == (pytest.approx(0), pytest.approx((75, 45)))


def test_edges_along_and_square_and_small_corners_are_none():
    assert check(Profile((rectangle((0, 0), 90, 90),), (), (Bend(Line((0, 80), (90, 80))),))) == ()
    chamfered = polygon([(0, 0), (90, 0), (90, 48), (88.5, 50), (1.5, 50), (0, 48)])
    assert check(Profile((chamfered,), (), (Bend(Line((0, 40), (90, 40))),))) == ()


@tried(40)
@given(drawings())
def test_however_it_is_drawn(drawing):
    drawn, place = drawing
    profile = flat(5)
    assert_same(check(profile), check(drawn(profile)), place)
