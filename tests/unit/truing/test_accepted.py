"""What drawings are compensated for, by a file: its limits, and errors that were never confirmed."""

import math

import pytest

from parts.errors import Refused
from parts.truing.accepted import compensation

NAMED = '[machine]\nname = "Fernhollow table"\n'


def accepted(entry, value):
    return compensation(f"{NAMED}[accepted]\n{entry} = {value}\n").errors


@pytest.mark.parametrize("degrees", ["3.0", "3", "-3.0", "2.9999999999", "0.1", "2.7", "2.3"])
def test_an_angle_up_to_3_degrees_is_taken(degrees):
    assert math.degrees(accepted("out_of_square_deg", degrees).out_of_square) == pytest.approx(float(degrees))


@pytest.mark.parametrize("scale", ["0.05", "-0.05"])
@pytest.mark.parametrize("axis", ["x", "y"])
def test_a_scale_up_to_5_percent_is_taken(axis, scale):
    assert getattr(accepted(f"scale_{axis}", scale), f"scale_{axis}") == float(scale)


@pytest.mark.parametrize(
    ("entry", "value"),
    [
        ("out_of_square_deg", "3.000001"),
        ("out_of_square_deg", "-3.000001"),
        ("scale_x", "0.0500001"),
        ("scale_y", "-0.06"),
    ],
)
def test_more_is_refused_by_its_name(entry, value):
    with pytest.raises(Refused) as caught:
        accepted(entry, value)
    assert [problem.parameter for problem in caught.value.problems] == [entry]


READINGS = "".join(
    f'[[reading]]\nkind = "centres"\ndirection_deg = {way}\nnominal = 300\nmeasured = {got}\nu = 0.02\n'
    for way, got in ((0, 303), (0, 303), (90, 300), (90, 300), (45, 301.5), (135, 301.5))
)
"""A table that makes X 1 % long, or a drawing that was stretched by as much."""


def test_readings_that_no_shop_misses_are_not_drawn_around_until_confirmed():
    with pytest.raises(Refused, match=r"more than a shop misses.*confirmed = "):
        compensation(NAMED + READINGS)
    made = compensation(f'{NAMED}confirmed = "yes"\n{READINGS}')
    assert made.errors.scale_x == pytest.approx(0.01, abs=1e-4)
