"""Drop-outs and parts that tip between slats 75 mm apart, cut with a kerf of 2 mm in 6 mm plate."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.finding import Finding
from parts.geometry.draft import circle, circles, polygon, rectangle, slot
from parts.geometry.loop import Loop
from parts.profile import Profile, openings
from parts.rules import slat_tip
from tests.depth import tried
from tests.unit.rules.restaged import JOB, assert_same_findings, restagings

PLATE = rectangle((0, 0), 600, 400)


def found(profile):
    return tuple(slat_tip.check(profile, JOB))


def opened(*loops):
    return Profile((PLATE,), openings(loops, "window", ""))


def test_a_drop_out_that_tips():
    assert found(opened(circle((300, 200), 60))) == (
        Finding(
            "slat-tip", "note", pytest.approx((300, 200)), pytest.approx(58), 150.0,
            "A drop-out 58 mm long can tip up on slats 75 mm apart and stand in the torch's way.",
            "Clear them as they drop, leave a tab, or cut them where the torch doesn't pass again.", is_routine=True,
        ),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("diameter", "is_found"),
    [(11, False), (33, False), (39.49, False), (39.5, True), (100, True), (151.99, True), (152, False), (250, False)],
)
def test_round_drop_outs(diameter, is_found):
    """Half a pitch is 37.5 mm, two are 150 mm; a drop-out is a kerf less than its opening."""
    assert bool(found(opened(circle((300, 200), diameter)))) == is_found


@pytest.mark.parametrize(
    ("length", "width", "is_found"),
    [
        # under a pitch long: a quarter of a pitch, 18.75 mm, and a kerf more as drawn, in the mean
        (60, 11, False), (60, 20.7, False), (60, 20.8, True), (76.9, 20.7, False), (77, 20.7, True),
        # longer ones: thickness and two kerfs, 10 mm
        (100, 9.9, False), (100, 10.0, False), (100, 10.01, True),
    ],
)  # fmt: skip
def test_narrow_ones_fall_through(length, width, is_found):
    """A sheared strip: as long as its longer diagonal, its area that of a rectangle so long and so wide."""
    half, over = length / 2, width
    strip = [
        (300 - half, 200),
        (300, 200 - over),
        (300 + half, 200),
        (300, 200 + over),
    ]  # a rhombus: area length x width
    assert bool(found(opened(polygon(strip)))) == is_found


def test_bolt_holes_and_slots_of_a_bracket_are_silent():
    assert found(opened(*circles([(100, 100), (200, 100), (300, 100)], 18), slot((400, 200), 60, 11))) == ()


def test_many_drop_outs_are_one_note():
    (said,) = found(opened(*circles([(100, 100), (300, 100), (500, 100)], 80), circle((300, 300), 60)))
    assert said.message.startswith("4 drop-outs, 58 mm long and more, can tip")
    assert said.at == pytest.approx((300, 300))
    assert len(said.also) == 3


@pytest.mark.parametrize(("size", "is_found"), [(74.99, True), (75.0, False), (90, False)])
def test_a_part_shorter_than_the_pitch(size, is_found):
    profile = Profile((rectangle((0, 0), size * 0.8, size * 0.6),))  # its diagonal is `size`
    said = found(profile)
    assert [(f.severity, f.limit) for f in said] == ([("note", 75.0)] if is_found else [])
    if is_found:
        assert said[0].message == (
            "The part is no longer than 74.99 mm and the slats stand 75 mm apart; cut free, it tips or falls through."
        )


@pytest.mark.parametrize(
    ("size", "severity"),
    [
        ((60, 40), "warn"), ((37.5, 0.1), "note"), ((30, 20), "note"),  # half a pitch is 37.5 mm, measured across
        ((60, 18.7), "note"), ((60, 21), "warn"),  # a quarter of one is 18.75 mm, in the mean
    ],
)  # fmt: skip
def test_a_small_part_beside_others_stands_in_the_torchs_way_unless_it_falls_through(size, severity):
    (said,) = found(Profile((rectangle((0, 0), *size), rectangle((100, 0), 300, 200))))
    assert (said.severity, said.limit, said.is_routine) == (severity, 75.0, severity == "note")


def test_a_washer_is_routine():
    washer = Profile((circle((0, 0), 40),), openings([circle((0, 0), 13)], "hole", ""))
    assert [f.severity for f in found(washer)] == ["note"]


def test_the_greatest_length_is_taken_on_true_arcs():
    half = Loop.through([(0, 0, 1.0), (60, 0, 0.0)])  # a half disc: as long as its diameter
    (said,) = found(opened(half.running(counter_clockwise=True)))
    assert said.measured == pytest.approx(58)
    (said,) = found(opened(slot((300, 200), 90, 40, 0.3)))
    assert said.measured == pytest.approx(88)
    lens = Loop.through([(0, 0, 0.4), (100, 0, 0.4)])
    assert found(opened(lens))[0].measured == pytest.approx(98)


@given(
    st.sampled_from(
        [
            opened(circle((300, 200), 60), rectangle((100, 100), 50, 40, 8)),
            Profile((polygon([(0, 0), (50, 0), (20, 40)]),)),
            Profile((slot((0, 0), 70, 20),)),
            opened(slot((300, 200), 120, 40), Loop.through([(20, 20, 0.4), (90, 20, 0.3)])),
        ]
    ),
    restagings(),
)
@tried(60)
def test_however_it_is_drawn(profile, restaging):
    assert_same_findings(slat_tip.check, profile, restaging)
