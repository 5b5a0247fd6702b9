"""Short flange just under, at and just over its limit, what is no flange, and whatever way the part is drawn."""

import math
from dataclasses import asdict

import pytest
from hypothesis import given

from parts.cutting.process import cut_for
from parts.finding import Finding
from parts.forming.brake import Brake
from parts.geometry.draft import circle, fillet, polygon, rectangle
from parts.geometry.segment import Line
from parts.profile import Bend, Opening, Profile
from parts.rules import short_flange
from tests.depth import tried
from tests.jobs import BRAKE, job
from tests.property.same_drawing import assert_same, drawings


class Plain(Brake):
    """A brake that wants 20 mm on the flat over a V of 24 mm, so that a change of the data changes no expectation."""

    def least_flange(self, thickness, radius):
        return 20.0


JOB = job(cut_for("air-plasma", "mild-steel", 3.0), brake=Plain(**asdict(BRAKE)))


def check(*outline, bends=(((0, 50), (100, 50)),), inside=()):
    profile = Profile((polygon(outline),), tuple(inside), tuple(Bend(Line(*ends)) for ends in bends))
    return tuple(short_flange.check(profile, JOB))


def tray(flange):
    return (0, 0), (100, 0), (100, 50 + flange), (0, 50 + flange)


FLANGES = {
    "over": (20.01, ()),
    "at": (20.0, ()),
    "at but for rounding": (20.0 - 1e-10, ()),
    "under": (19.99, (Finding(
        "short-flange", "warn", pytest.approx((50, 50 + 19.99 / 2)), pytest.approx(19.99), 20.0,
        "The flange at the bend line is 19.99 mm on the flat; over a V opening of 24 mm the brake wants 20 mm in 3 mm "
        "plate.",
        "Make it 0.01 mm longer, and trim it after bending where it has to be short; or bend it over a narrower "
        "die."),)),
}  # fmt: skip


@pytest.mark.parametrize(("flange", "expected"), FLANGES.values(), ids=FLANGES.keys())
def test_a_flange(flange, expected):
    assert check(*tray(flange)) == expected


def test_both_sides_are_looked_at():
    above, below = check((0, 38), (100, 38), (100, 60), (0, 60))
    assert (above.measured, below.measured) == (10, 12)
    assert (above.at, below.at) == ((50, 55), (50, 44))


def test_an_edge_that_is_not_parallel_is_no_flange():
    assert check((0, 0), (100, 0), (100, 60), (0, 65)) == ()


def test_rounded_ends_take_nothing_from_it():
    (one,) = check((0, 0), (100, 0), fillet(100, 60, 8), fillet(0, 60, 8))
    assert one.measured == 10


@pytest.mark.parametrize(("width", "flagged"), [(23.9, False), (24, False), (24.1, True)])
def test_a_notch_no_longer_than_the_v_opening_is_carried(width, flagged):
    notch = (50 + width / 2, 90), (50 + width / 2, 60), (50 - width / 2, 60), (50 - width / 2, 90)
    assert bool(check((0, 0), (100, 0), (100, 90), *notch, (0, 90))) == flagged


def test_a_short_bend_is_never_carried_by_itself():
    (one,) = check((0, 0), (15, 0), (15, 60), (0, 60), bends=[((0, 50), (15, 50))])
    assert one.measured == 10


def test_an_opening_is_no_edge_of_a_flange():
    assert check(*tray(40), inside=[Opening(rectangle((10, 55), 80, 10), "window")]) == ()


def test_an_edge_beyond_a_gap_is_no_flange():
    """Seen from the bend along the lower arm of a U, the upper arm's far edge lies beyond its slit."""
    outline = (0, 0), (100, 0), (100, 30), (10, 32), (10, 33), (100, 34), (100, 40), (0, 40)
    assert check(*outline, bends=[((30, 25), (100, 25))], inside=[]) == ()


def test_one_bend_beside_another_has_its_own_flange():
    (one,) = check(*tray(40), bends=[((0, 50), (100, 50)), ((0, 80), (100, 80))])
    assert one.measured == 10
    assert one.message.startswith("The flange at bend line 2 is 10 mm")


def test_a_bend_on_the_edge_or_of_no_length_is_no_crash():
    assert check(*tray(40), bends=[((0, 0), (100, 0)), ((5, 5), (5, 5))]) == ()


MIXED = Profile(
    (polygon([(0, 0), (60, 0), (60, 12), (100, 12), (100, 64), fillet(0, 64, 5)]),),
    (Opening(circle((30, 30), 8), "hole"),),
    (Bend(Line((0, 50), (100, 50))), Bend(Line((60, 30), (100, 30)), radius=2.0), Bend(Line((12, 0), (12, 40)))),
)


@tried(80)
@given(drawings())
def test_however_it_is_drawn(drawing):
    drawn, place = drawing
    found = tuple(short_flange.check(MIXED, JOB))
    assert [f.measured for f in found] == [pytest.approx(14), pytest.approx(18), pytest.approx(12)]
    assert_same(found, tuple(short_flange.check(drawn(MIXED), JOB)), place)


@pytest.mark.parametrize(("degrees", "found"), [(90, 1), (150, 1), (151, 0), (180, 0)])
def test_a_bend_no_die_can_make_is_formed_round_a_bar(degrees, found):
    bend = Bend(Line((0, 50), (100, 50)), math.radians(degrees), 12.0)
    profile = Profile((polygon(tray(12)),), (), (bend,))
    assert len(tuple(short_flange.check(profile, JOB))) == found
