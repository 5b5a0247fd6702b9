"""Fingers that taper: just under, at and just over, with the whole finding, and however they are drawn."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.finding import Finding
from parts.geometry.draft import Corner, circle, fillet, polygon, rectangle
from parts.geometry.loop import Loop
from parts.geometry.view import polygon as flattened
from parts.profile import Profile, openings
from parts.rules import bridge_width, finger
from tests.depth import tried
from tests.unit.rules.restaged import JOB, assert_same_findings, restagings


def outline(end, half=10.0, length=60.0, corner=fillet, radius=0.0):
    """A plate with a finger of this width at its end, opening by twice the angle `half` in degrees."""
    foot = end / 2 + length * math.tan(math.radians(half))
    tip = [corner(100, y, radius) if radius else (100, y) for y in (-end / 2, end / 2)]
    return [
        (0, -50),
        (100 - length, -50),
        (100 - length, -foot),
        *tip,
        (100 - length, foot),
        (100 - length, 50),
        (0, 50),
    ]


def blunt(end, **kind):
    return Profile((polygon(outline(end, **kind)),))


def rounded(radius, half=10.0, length=60.0):
    """A finger whose end is one arc that its sides run into smoothly."""
    a = math.radians(half)
    x, y = radius * math.sin(a), radius * math.cos(a)
    foot = y + length * math.tan(a)
    up = [(100 - length, foot), (100 - length, 50), (0, 50), (0, -50), (100 - length, -50), (100 - length, -foot)]
    return Profile((Loop.through([(100 + x, -y, math.tan((math.pi - 2 * a) / 4)), (100 + x, y, 0.0),
                                  *((px + x, py, 0.0) for px, py in up)]),))  # fmt: skip


def found(profile, job=JOB):
    return tuple(finger.check(profile, job))


@pytest.mark.parametrize("end", [5.99, 6.0 - 1e-7, 4.0, 2.5])
def test_a_blunt_tip_under_the_limit(end):
    (said,) = found(blunt(end))
    assert said == Finding(
        "finger", "warn", pytest.approx((100, 0)), pytest.approx(end), 6.0,
        f"A finger of the edge tapers to {JOB.say(end, 6)}; air plasma in 6 mm plate wants 6 mm.",
        "End it where it is 6 mm wide, or make it wider.",
    )  # fmt: skip


@pytest.mark.parametrize("end", [6.0 - 1e-10, 6.0, 6.01, 20.0])
def test_a_blunt_tip_at_the_limit_or_over(end):
    assert found(blunt(end)) == ()


@pytest.mark.parametrize(("radius", "measured"), [(2.99, 5.98), (3.0, None), (3.01, None), (1.5, 3.0)])
def test_a_round_tip_is_twice_its_radius_wide(radius, measured):
    assert [f.measured for f in found(rounded(radius))] == ([] if measured is None else [pytest.approx(measured)])


@given(st.floats(0.6, 4.5), st.floats(2, 28))
@tried(60)
def test_a_round_tip_is_found_where_a_disc_of_the_limit_does_not_reach(radius, half):
    """Opening a copy of the part by such a disc (shapely) takes the tip away when it is narrower, else nothing."""
    profile = rounded(radius, half, length=40)
    shape = flattened(profile.outside[0], chord_error=1e-4)
    lost = shape.difference(shape.buffer(-3, quad_segs=64).buffer(3, quad_segs=64))
    tip_lost = sum(piece.area for piece in getattr(lost, "geoms", [lost]) if piece.bounds[2] > 100)
    if abs(radius - 3) > 0.05 and radius >= 1:
        assert bool(found(profile)) == (tip_lost > 0.05)


def test_a_finger_narrower_than_the_kerf_for_long_is_lost():
    (said,) = found(blunt(1.5, half=1))
    assert (said.severity, said.measured) == ("stop", pytest.approx(1.5))
    assert said.message.endswith("wants 6 mm; narrower than the 2 mm kerf, it burns away.")
    # 1.5 mm at the end opening by 20 degrees: 2 mm wide 1.4 mm further, so most of it stays
    assert [f.severity for f in found(blunt(1.5, half=10))] == ["warn"]


def test_the_opening_up_to_sixty_degrees():
    assert len(found(blunt(3, half=29.9, length=30))) == 1
    assert found(blunt(3, half=30, length=30)) == ()
    assert found(blunt(3, half=45, length=30)) == ()


def test_a_warning_sign_with_rounded_corners_is_no_finger():
    assert found(Profile((polygon([fillet(0, 0, 2), fillet(100, 0, 2), fillet(50, 50 * math.sqrt(3), 2)]),))) == ()


def test_parallel_sides_are_a_bridge_and_no_finger():
    profile = blunt(4.0, half=0)
    assert found(profile) == ()
    assert len(tuple(bridge_width.check(profile, JOB))) == 1


@pytest.mark.parametrize("half", [0.01, 1, 20])
def test_what_tapers_is_a_finger_and_no_bridge(half):
    profile = blunt(4.0, half=half)
    assert len(found(profile)) == 1
    assert tuple(bridge_width.check(profile, JOB)) == ()


def test_a_finger_that_grows_towards_its_end_is_a_bridge_at_its_foot():
    profile = blunt(12.0, half=-4)
    assert found(profile) == ()
    assert len(tuple(bridge_width.check(profile, JOB))) == 1


def test_a_stub_no_longer_than_wide_and_a_point_are_not_for_this_rule():
    assert found(blunt(5.0, half=10, length=4)) == ()
    assert found(blunt(0.9)) == ()
    assert found(blunt(1.0)) != ()


def test_a_tongue_in_a_window_and_several_on_one_loop():
    teeth = [(0, 0)]
    for k in range(4):
        x = 10 + 30 * k
        teeth += [(x, 0), (x + 6, 25), (x + 6 + 3 + k, 25), (x + 18, 0)]
    teeth += [(140, 0), (140, 60), (0, 60)]
    profile = Profile((rectangle((-20, -20), 180, 100),), openings([polygon(teeth)], "window", ""))
    (said,) = found(profile)
    assert said.message.startswith("3 fingers of the window taper to tips as narrow as 3 mm;")
    assert [said.at, *said.also] == [pytest.approx((10 + 30 * k + 6 + (3 + k) / 2, 25)) for k in range(3)]


@pytest.mark.parametrize("corner", [fillet, lambda x, y, r: Corner((x, y), r, "chamfer")], ids=["rounded", "chamfered"])
def test_small_treatments_at_the_end_make_no_other_finger(corner):
    (said,) = found(blunt(4.0, corner=corner, radius=0.5))
    assert 4.0 <= said.measured < 4.4


def test_a_round_end_in_chords_is_as_wide_as_in_one_arc():
    arc = rounded(2.0)
    points = [(x, y, 0.0) for x, y in flattened(arc.outside[0], chord_error=0.002).exterior.coords[:-1]]
    (said,) = found(Profile((Loop.through(points),)))
    assert said.measured == pytest.approx(4.0, rel=0.03)  # each chord turns by 5 degrees


@given(st.sampled_from([blunt(3), blunt(5.5, radius=0.4), rounded(1.2), rounded(2.5, half=25), blunt(1.5, half=1)]),
       restagings())  # fmt: skip
@tried(60)
def test_however_it_is_drawn(profile, restaging):
    assert_same_findings(finger.check, profile, restaging)


@pytest.mark.parametrize(
    "loop",
    [circle((0, 0), 3), Loop.through([(0, 0, 0.2), (50, 0, 0.2)]), polygon([(0, 0), (3, 0), (0, 3)]),
     Loop.through([(0, 0, 0), (10, 10, 0), (10, 0, 0), (0, 20, 0)])],
    ids=["small disc", "lens", "small triangle", "bow"],
)  # fmt: skip
def test_odd_shapes_are_looked_at_without_harm(loop):
    assert len(found(Profile((loop,)))) <= 1


def test_inches():
    (said,) = found(blunt(3.175), replace(JOB, units="in"))
    assert said.message == "A finger of the edge tapers to 1/8 in; air plasma in 0.236 in plate wants 0.236 in."
