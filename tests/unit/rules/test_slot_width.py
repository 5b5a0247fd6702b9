"""Slot width just under, at and just over its limits, and what is no slot."""

import math
from dataclasses import replace

import pytest

from parts.cutting.process import cut_for
from parts.finding import Finding
from parts.geometry.draft import circle, polygon, rectangle, relief, slot
from parts.geometry.loop import Loop
from parts.geometry.motion import rotation
from parts.profile import Opening, Profile
from parts.rules import slot_width
from tests.jobs import job

CUT = replace(cut_for("air-plasma", "mild-steel", 6.0), kerf_mm=2.0, narrowest_slot_mm=6.0, smallest_hole_mm=0.0)
# so that `hole-to-thickness`, which has the first word on openings, has none here
JOB = job(CUT)
PLATE = rectangle((0, 0), 100, 60)


def check(*inside, outside=(PLATE,)):
    return tuple(slot_width.check(Profile(tuple(outside), tuple(Opening(loop, "slot") for loop in inside)), JOB))


def finding(severity, at, measured, limit, message, remedy, also=()):
    return Finding("slot-width", severity, pytest.approx(at), pytest.approx(measured), limit, message, remedy, (), also)


WIDTHS = {
    "under the limit": (5.99, finding(
        "warn", (50, 30), 5.99, 6.0, "The slot is only 5.99 mm wide; air plasma in 6 mm plate wants 6 mm.",
        "Make it 0.01 mm wider, or cut it another way.")),
    "at the limit": (6.0, None),
    "at it but for rounding": (6.0 - 1e-10, None),
    "over the limit": (6.01, None),
    "over the kerf": (2.01, finding(
        "warn", (50, 30), 2.01, 6.0, "The slot is only 2.01 mm wide; air plasma in 6 mm plate wants 6 mm.",
        "Make it 3.99 mm wider, or cut it another way.")),
    "at the kerf": (2.0, finding(
        "warn", (50, 30), 2.0, 6.0, "The slot is only 2 mm wide; air plasma in 6 mm plate wants 6 mm.",
        "Make it 4 mm wider, or cut it another way.")),
    "under the kerf": (1.99, finding(
        "stop", (50, 30), 1.99, 2.0,
        "The slot is only 1.99 mm wide; one pass of air plasma in 6 mm plate takes 2 mm.",
        "Make it 6 mm wide or more, or scribe it as a line.")),
}  # fmt: skip


@pytest.mark.parametrize("shape", [lambda w: slot((50, 30), 40, w), lambda w: rectangle((30, 30 - w / 2), 40, w)],
                         ids=["round ends", "square ends"])  # fmt: skip
@pytest.mark.parametrize(("width", "expected"), WIDTHS.values(), ids=WIDTHS.keys())
def test_a_slot(shape, width, expected):
    assert check(shape(width)) == ((expected,) if expected else ())


def test_an_opening_that_is_nowhere_wide_enough_is_left_to_hole_to_thickness():
    """A keyhole has room at its eye, and its slit is told of; a slot has none."""
    job_ = replace(JOB, cut=replace(CUT, smallest_hole_mm=9.0))
    keyhole = polygon([(20, 20), (40, 20), (40, 28), (70, 28), (70, 32), (40, 32), (40, 40), (20, 40)])
    for opening, found in ((slot((50, 30), 40, 5.9), 0), (rectangle((40, 20), 4, 4), 0), (keyhole, 1)):
        said = [*slot_width.check(Profile((PLATE,), (Opening(opening, "slot"),)), job_)]
        assert len(said) == found


@pytest.mark.parametrize(("width", "found"), [(5.99, True), (6.0, False), (6.01, False)])
def test_a_notch_open_to_the_outside(width, found):
    notched = polygon([(0, 0), (100, 0), (100, 60), (50 + width, 60), (50 + width, 20), (50, 20), (50, 60), (0, 60)])
    said = check(outside=[notched])
    assert [(f.measured, f.message) for f in said] == (
        [(pytest.approx(width), "A notch in the edge is only 5.99 mm wide; air plasma in 6 mm plate wants 6 mm.")]
        if found else []
    )  # fmt: skip


@pytest.mark.parametrize(("gap", "found"), [(5.99, True), (6.0, False), (6.01, False)])
def test_the_gap_between_two_pieces(gap, found):
    said = check(outside=[rectangle((0, 0), 40, 30), rectangle((40 + gap, 0), 40, 30)])
    assert said == ((finding(
        "warn", (40 + gap / 2, 15), gap, 6.0,
        "The gap between the edge of piece 2 and the edge of piece 1 is only 5.99 mm wide; "
        "air plasma in 6 mm plate wants 6 mm.", "Move them 0.01 mm further apart."),) if found else ())  # fmt: skip


def test_several_places_of_one_loop_are_one_finding_the_narrowest_first():
    comb = polygon(
        [(0, 0), (100, 0), (100, 60), (65, 60), (65, 20), (62, 20), (62, 60), (25, 60), (25, 20), (20, 20), (20, 60),
         (0, 60)])  # fmt: skip
    (found,) = check(outside=[comb])
    assert found.measured == pytest.approx(3)
    assert [x for x, _ in (found.at, *found.also)] == pytest.approx([63.5, 22.5])
    assert found.message.startswith("A notch in the edge is only 3 mm wide at the narrowest of 2 places;")


def test_a_gap_between_a_piece_and_the_opening_it_lies_in():
    (found,) = check(circle((50, 30), 40), outside=[PLATE, rectangle((47, 12), 6, 36)])
    corner = math.hypot(3, 18)  # from the middle to the piece's corner
    assert found.measured == pytest.approx(20 - corner)
    assert found.message.startswith("The gap between the slot and the edge of piece 2 is only 1.75")
    assert len(found.also) == 3


def waist(width, radius):
    """Two rooms with a passage between two bosses of a radius."""
    y = width / 2 + radius
    return Loop.through(
        [(-20, -y, 0), (-radius, -y, -1), (radius, -y, 0), (20, -y, 0), (20, y, 0), (radius, y, -1), (-radius, y, 0),
         (-20, y, 0)])  # fmt: skip


@pytest.mark.parametrize("angle", [0.0, 0.3, 2.0])
def test_a_waist_between_two_arcs(angle):
    turned = rotation(angle).loop(waist(5, 6))
    (found,) = check(turned, outside=[circle((0, 0), 100)])
    assert found.at == pytest.approx((0, 0), abs=1e-9)
    assert found.measured == pytest.approx(5)


def eared(radius, sweep=270.0):
    """A window of 40 by 30 with an ear of a radius about each corner."""
    bulge, r = math.tan(math.radians(sweep) / 4), radius
    return Loop.through(
        [(30 + r, 15, 0), (70 - r, 15, bulge), (70, 15 + r, 0), (70, 45 - r, bulge),
         (70 - r, 45, 0), (30 + r, 45, bulge), (30, 45 - r, 0), (30, 15 + r, bulge)])  # fmt: skip


NO_SLOTS = {
    "round hole": circle((50, 30), 3),
    "hole in four arcs": Loop.through([(52, 30, math.tan(math.pi / 8)), (50, 32, math.tan(math.pi / 8)),
                                       (48, 30, math.tan(math.pi / 8)), (50, 28, math.tan(math.pi / 8))]),
    "wide window": rectangle((30, 15), 40, 30),
    "reliefs through the corners": polygon(relief(x, y, 1.2) for x, y in ((30, 15), (70, 15), (70, 45), (30, 45))),
    "ears about the corners": eared(1.2),
    "wedge": polygon([(30, 20), (70, 30), (30, 40)]),
}  # fmt: skip


@pytest.mark.parametrize("opening", NO_SLOTS.values(), ids=NO_SLOTS.keys())
def test_what_is_no_slot(opening):
    assert check(opening) == ()


def test_a_hook_is_no_ear():
    """A round notch of the same arc in a straight edge has no corner to relieve: its mouth is a gap."""
    r, half = 2.5, 2.5 * math.sin(math.radians(55))
    hook = Loop.through(
        [(0, 0, 0), (100, 0, 0), (100, 60, 0), (50 + half, 60, -math.tan(math.radians(250) / 4)), (50 - half, 60, 0),
         (0, 60, 0)])  # fmt: skip
    (found,) = check(outside=[hook])
    assert found.measured == pytest.approx(2 * r * math.sin(math.radians(55)))


def test_inches_are_said_in_inches():
    profile = Profile((PLATE,), (Opening(slot((50, 30), 40, 25.4 / 8), "slot"),))
    (found,) = slot_width.check(profile, replace(JOB, units="in"))
    assert found.message == "The slot is only 1/8 in wide; air plasma in 0.236 in plate wants 0.236 in."


def test_loops_that_cross_are_no_reason_to_fall_over():
    bow = Loop.through([(0, 0, 0), (10, 10, 0), (10, 0, 0), (0, 20, 0)])
    for outside in ([bow], [PLATE, PLATE], [PLATE, rectangle((100, 0), 10, 10)]):
        assert isinstance(check(slot((99, 30), 40, 4), slot((90, 30), 40, 4), outside=outside), tuple)
