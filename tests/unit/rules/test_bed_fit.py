"""Bed fit just under, at and just over, as drawn, turned and slanting, on the bed and on the sheet."""

import math
from dataclasses import replace

import pytest

import parts
from parts.cutting.process import cut_for
from parts.cutting.stock import Bed, Sheet
from parts.finding import Finding
from parts.geometry.draft import circle, polygon, rectangle, slot
from parts.geometry.motion import rotation
from parts.profile import Profile, openings
from parts.rules import bed_fit
from tests.jobs import job

JOB = job(cut_for("air-plasma", "mild-steel", 6.0), bed=Bed(1000, 2000), sheet=Sheet(5000, 5000))
OWN_BED = "Make it smaller, or in pieces to weld; or enter your own bed."
OWN_SHEET = "Make it smaller, or in pieces to weld; or enter your own sheet."
BOTH = "the bed travels 1000 mm by 2000 mm, and the sheet is 600 mm by 1500 mm"
QUARTER = "Turn it a quarter on the sheet: that way it fits."


def check(*outside, job=JOB):
    return tuple(bed_fit.check(Profile(outside), job))


def plate(width, height):
    return rectangle((0, 0), width, height)


SIZES = [
    # width, height, severity, the greater overshoot's size and limit
    (999.99, 2000.0, None),
    (1000.0, 2000.0, None),
    (1000.0 + 1e-10, 2000.0 + 1e-10, None),
    (1000.01, 500.0, ("note", 1000.01, 1000.0)),
    (2000.0, 1000.0, ("note", 2000.0, 1000.0)),
    (2000.01, 1000.0, ("stop", 2000.01, 1000.0)),
    (2000.0, 1000.01, ("stop", 2000.0, 1000.0)),
    (500.0, 2000.01, ("stop", 2000.01, 2000.0)),
    (1200.0, 2500.0, ("stop", 2500.0, 2000.0)),
]


@pytest.mark.parametrize(("width", "height", "expected"), SIZES, ids=lambda value: str(value))
def test_bed_fit(width, height, expected):
    found = check(plate(width, height))
    if expected is None:
        assert found == ()
        return
    severity, measured, limit = expected
    size = f"The part is {JOB.say(width)} by {JOB.say(height)}; the bed travels 1000 mm by 2000 mm."
    remedy = QUARTER if severity == "note" else OWN_BED
    assert found == (Finding("bed-fit", severity, (width / 2, height / 2), measured, limit, size, remedy),)


ON_SHEET = [
    # on a sheet of 600 by 1500, which may lie either way on a bed of 1000 by 2000
    (600.0, 1500.0, None),
    (600.0 + 1e-10, 1500.0, None),
    (1000.0, 600.0, None),
    (1000.01, 600.0, ("note", "the bed travels 1000 mm by 2000 mm", QUARTER, 1000.01, 1000)),
    (600.01, 1500.0, ("stop", "the sheet is 600 mm by 1500 mm", OWN_SHEET, 600.01, 600)),
    (600.01, 900.0, ("stop", "the sheet is 600 mm by 1500 mm", OWN_SHEET, 600.01, 600)),
    (1100.0, 700.0, ("stop", BOTH, OWN_SHEET, 1100, 1000)),
]  # fmt: skip


@pytest.mark.parametrize(("width", "height", "expected"), ON_SHEET, ids=lambda value: str(value)[:12])
def test_sheet(width, height, expected):
    found = check(plate(width, height), job=replace(JOB, sheet=Sheet(600, 1500)))
    if expected is None:
        assert found == ()
        return
    severity, said, remedy, measured, limit = expected
    message = f"The part is {JOB.say(width)} by {JOB.say(height)}; {said}."
    assert found == (Finding("bed-fit", severity, (width / 2, height / 2), measured, limit, message, remedy),)


def turn_of(found):
    """The turn that a finding asks for, in degrees to the left."""
    (one,) = found
    assert one.severity == "note"
    words = one.remedy.removeprefix("Turn it ").removesuffix(" on the sheet: it fits only slanting.").split()
    assert words[1:3] == ["to", "the"]
    return float(words[0].removesuffix("°")) * {"left": 1, "right": -1}[words[3]]


def longest_bar(breadth):
    """The longest bar of a breadth in 1000 by 2000: where L cos t + b sin t = 2000 and L sin t + b cos t = 1000.

    Solved by halving on t, another way than the code: L from the first, put into the second.
    """
    low, high = 0.0, math.atan2(1000, 2000)
    for _ in range(200):
        t = (low + high) / 2
        long = (2000 - breadth * math.sin(t)) / math.cos(t)
        low, high = (t, high) if long * math.sin(t) + breadth * math.cos(t) < 1000 else (low, t)
    return long, math.degrees(t)


@pytest.mark.parametrize("breadth", [1e-3, 20.0, 100.0, 150.0])
@pytest.mark.parametrize("slant", [0.0, 0.3, -1.2, 2.5])
def test_the_longest_bar_that_fits_slanting(breadth, slant):
    long, _ = longest_bar(breadth)
    bar = rotation(slant).loop
    for less in (1.0, 1e-4, 0.0):
        found = check(bar(plate(long - less, breadth)))
        if found:
            turn = math.radians(turn_of(found))
            x0, y0, x1, y1 = rotation(turn).loop(bar(plate(long - less, breadth))).box
            assert x1 - x0 <= 1000 + 1e-5
            assert y1 - y0 <= 2000 + 1e-5
    assert check(bar(plate(long + 1e-4, breadth)))[0].severity == "stop"


def test_round_ends_let_a_longer_bar_fit():
    """A slot of w is a line of L - w with w/2 all round: it fits where the line fits in the rest of the bed."""
    diagonal = math.hypot(1000 - 50, 2000 - 50) + 50
    turn = turn_of(check(slot((0, 0), diagonal - 0.01, 50)))
    assert abs(turn) == pytest.approx(90 - math.degrees(math.atan2(950, 1950)), abs=0.5)
    assert check(slot((0, 0), diagonal + 0.01, 50))[0].severity == "stop"


def test_a_disc_fits_no_better_slanting():
    assert check(circle((0, 0), 1000)) == ()
    assert check(circle((0, 0), 1000 + 1e-6))[0].severity == "stop"


def test_what_is_drawn_slanting_is_turned_upright():
    """A plate that just fits the bed, drawn at 30 degrees, wants 30 to the right, and 30 alone."""
    assert turn_of(check(rotation(math.radians(30)).loop(plate(1000, 2000)))) == pytest.approx(-30, abs=1e-6)


def test_pieces_are_turned_together():
    long, turn = longest_bar(100.0)
    a, b = plate(100, 100), rectangle((long - 101, 0), 100, 100)
    assert abs(turn_of(check(a, b))) == pytest.approx(90 - turn, abs=1)


def test_a_corner_cut_off_counts():
    """Two corners of a triangle of 2100 along the diagonal, the third in the bed."""
    assert turn_of(check(polygon([(0, 0), (2100, 0), (1000, 300)])))


def test_the_sheet_of_a_draw():
    long = parts.draw("bracket-flat-l", leg_a=1500, leg_b=800, sheet_x=600)
    assert [f.severity for f in long.findings if f.rule == "bed-fit"] == ["stop"]
    assert not [f for f in parts.draw("bracket-flat-l", leg_a=1200).findings if f.rule == "bed-fit"]


def test_what_is_pointed_at_is_metal():
    """A frame has none in its middle: its outer edge is pointed at, where that is nearest."""
    frame = Profile((plate(2500, 400),), openings([rectangle((900, 100), 700, 200)], "window", "window"))
    (found,) = bed_fit.check(frame, JOB)
    assert found.at in ((1250, 0), (1250, 400))
