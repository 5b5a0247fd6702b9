"""Points that burn away: 30 degrees on either side, blunt, rounded and curved ones, however they are drawn."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.finding import Finding
from parts.geometry.draft import circle, polygon, rectangle
from parts.geometry.loop import Loop
from parts.profile import Profile, openings
from parts.rules import finger, outside_tip
from tests.depth import tried
from tests.unit.rules.restaged import JOB, assert_same_findings, restagings

KERF = 2.0
AT_LIMIT = KERF / (2 * math.tan(math.radians(15)))


def arrow(degrees, blunt=0.0, length=80.0):
    """A wedge with its point at (length, 0), cut off where it is `blunt` mm wide."""
    half = length * math.tan(math.radians(degrees) / 2)
    x, y = length - blunt / 2 / math.tan(math.radians(degrees) / 2), blunt / 2
    return Profile((polygon([(0, -half), *([(x, -y), (x, y)] if blunt else [(length, 0)]), (0, half)]),))


def rounded(degrees, radius):
    a = math.radians(degrees) / 2
    x, y, foot = radius * math.sin(a), radius * math.cos(a), 80 * math.tan(a)
    return Profile((Loop.through([(x, -y, math.tan((math.pi - 2 * a) / 4)), (x, y, 0), (x - 80, y + foot, 0),
                                  (x - 80, -y - foot, 0)]),))  # fmt: skip


def found(profile):
    return tuple(outside_tip.check(profile, JOB))


@pytest.mark.parametrize("degrees", [29.99, 20.0, 5.0])
def test_a_point_under_thirty_degrees(degrees):
    length = KERF / (2 * math.tan(math.radians(degrees) / 2))
    (said,) = found(arrow(degrees))
    assert said == Finding(
        "outside-tip", "warn", pytest.approx((80, 0)), pytest.approx(length, rel=1e-9), pytest.approx(AT_LIMIT),
        f"A point of the edge is narrower than the 2 mm kerf over {JOB.say(length)} of its length; "
        "that much burns away.",
        "Cut it off where it is 6 mm wide, or make it blunter than 30 degrees.",
    )  # fmt: skip


@pytest.mark.parametrize("degrees", [30.0, 30.01, 45, 90])
def test_a_point_of_thirty_degrees_or_more(degrees):
    assert found(arrow(degrees)) == ()


@pytest.mark.parametrize(("blunt", "is_found"), [(0.3, True), (0.99, True), (1.0, False), (3.0, False)])
def test_a_point_cut_off_by_less_than_half_a_kerf_is_still_one(blunt, is_found):
    profile = arrow(20, blunt)
    said = found(profile)
    assert bool(said) == is_found
    assert bool(tuple(finger.check(profile, JOB))) != is_found  # one of the two rules tells of it
    if is_found:
        assert said[0].measured == pytest.approx((KERF - blunt) / (2 * math.tan(math.radians(10))))
        assert said[0].limit == pytest.approx((KERF - blunt) / (2 * math.tan(math.radians(15))))


@pytest.mark.parametrize(("radius", "is_found"), [(0.2, True), (0.99, True), (1.0, False), (2.0, False)])
def test_a_point_rounded_to_less_than_half_a_kerf_is_still_one(radius, is_found):
    profile = rounded(24, radius)
    assert bool(found(profile)) == is_found
    assert bool(tuple(finger.check(profile, JOB))) != is_found


def test_a_point_made_of_tiny_segments():
    half = 80 * math.tan(math.radians(10))
    tiny = [(80.0, -0.1), (80.05, -0.06), (80.07, 0.0), (80.05, 0.06), (80.0, 0.1)]
    assert len(found(Profile((polygon([(0, -half), *tiny, (0, half)]),)))) == 1


def lens(radius, apart):
    """Two arcs of one radius, their centres so far apart, and the depth at which the point is 2 mm wide."""
    tip = math.sqrt(radius**2 - (apart / 2) ** 2)
    bulge = math.tan(math.asin(tip / radius) / 2)
    depth = tip - math.sqrt(radius**2 - (apart / 2 + KERF / 2) ** 2)
    return Profile((Loop.through([(0, -tip, bulge), (0, tip, bulge)]),)), depth


@pytest.mark.parametrize(("radius", "apart"), [(200, 396), (50, 97), (30, 57), (300, 580), (60, 100)])
def test_a_leaf_of_two_arcs_by_the_circles_own_formula(radius, apart):
    profile, depth = lens(radius, apart)
    said = found(profile)
    assert bool(said) == (depth > AT_LIMIT)
    for finding in said:
        assert finding.measured == pytest.approx(depth)
        assert len(finding.also) == 1


def test_a_thorn_between_two_hollow_arcs_is_sharper_than_its_corner():
    """Two arcs that touch where they meet: a cusp, of no angle at all."""
    thorn = Loop.through(
        [(-20, 0, math.tan(math.pi / 8)), (0, 20, math.tan(math.pi / 8)), (20, 0, 0), (20, -20, 0), (-20, -20, 0)]
    )
    (said,) = found(Profile((thorn,)))
    assert said.at == pytest.approx((0, 20))
    # the arcs are quarters of circles of 20 about (-20, 20) and (20, 20): 2 mm apart where x = 1
    assert said.measured == pytest.approx(math.sqrt(20**2 - 19**2))
    assert said.limit == pytest.approx(AT_LIMIT)


def test_a_point_into_a_window_is_material_and_a_notch_is_not():
    plate = rectangle((-20, -40), 140, 80)
    notched = [(0, -30), (100, -30), (100, 30), (0, 30), (0, 4), (60, 0), (0, -4)]  # the last is a point of material
    (said,) = found(Profile((plate,), openings([polygon(notched)], "window", "")))
    assert said.at == pytest.approx((60, 0))
    assert found(Profile((plate,), openings([polygon([(0, -4), (60, 0), (0, 4)])], "window", ""))) == ()


def test_a_star_is_one_finding():
    corners = []
    for k in range(10):
        r, t = (60, 16)[k % 2], math.pi * k / 5
        corners.append((r * math.cos(t), r * math.sin(t)))
    (said,) = found(Profile((polygon(corners),)))
    assert said.message.startswith("5 points of the edge are narrower than the 2 mm kerf over up to ")
    assert len(said.also) == 4


@given(st.sampled_from([arrow(12), arrow(29), arrow(20, 0.5), rounded(15, 0.4), lens(200, 396)[0]]), restagings())
@tried(60)
def test_however_it_is_drawn(profile, restaging):
    assert_same_findings(outside_tip.check, profile, restaging)


def test_a_sliver_ends_and_is_told_as_long_as_it_is_followed():
    (said,) = found(Profile((polygon([(0, 0), (400, 0), (0, 0.5)]),)))
    assert said.severity == "warn"
    assert found(Profile((circle((0, 0), 1),))) == ()
