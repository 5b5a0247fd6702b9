"""What an axis is set to, other than steps per mm: the new setting makes the table move as far as it is told."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts import Refused
from parts.truing.file import read
from parts.truing.machine import Drive
from parts.truing.report import report
from parts.units import MM_PER_IN

ROWS = "".join(
    f'[[reading]]\nkind = "centres"\ndirection_deg = {way}\nnominal = "300 mm"\nmeasured = "{got} mm"\nu = "0.02 mm"\n'
    for way, got in ((0, 300.3), (90, 299.7))
)

ONE_ALONE = "But measure reading 1 (centres 300 mm at 0°) once more first: a slip there would not show."


def corrected(machine: str, units: str = "mm"):
    return report(*read(f"[machine]\n{machine}\n{ROWS}"), units).corrections


@pytest.mark.parametrize(
    ("machine", "setting", "old", "new", "unit", "said"),
    [
        ("steps_per_inch_x = 2540", "steps_per_inch_x", 2540, 2540 / 1.001, "1/in",
         "Change the steps per inch of X from 2540 to 2537.4625."),
        ('gear_ratio_x = "3"', "gear_ratio_x", 3, 3 / 1.001, "",
         "Change the gear ratio (motor turns to one of the screw or pinion) of X from 3 to 2.997003."),
        ('screw_lead_x = "5 mm"', "screw_lead_x", 5, 5.005, "mm",
         "Change the lead (travel to a turn) of X from 5 mm to 5.005 mm."),
    ],
    ids=["steps per inch", "gear ratio", "lead"],
)  # fmt: skip
def test_the_new_setting_is_said_as_the_controller_asks_for_it(machine, setting, old, new, unit, said):
    first = corrected(machine)[0]
    assert (first.setting, first.old, first.unit) == (setting, old, unit)
    assert first.new == pytest.approx(new, rel=1e-12)
    assert first.sentence.endswith(f"{said} {ONE_ALONE}")


def test_a_lead_is_said_in_inches_where_those_are_spoken():
    first = corrected('screw_lead_x = "0.2 in"', "in")[0]
    assert first.sentence.endswith(f"of X from 0.2 in to 0.2002 in. {ONE_ALONE.replace('300 mm', '11.811 in')}")
    assert first.new == pytest.approx(0.2002 * MM_PER_IN, rel=1e-12)


def moved(told_mm: float, true_steps_per_turn: float, true_lead: float, kind: str, setting: float) -> float:
    """How far a screw goes that is told to go so far, by what the controller believes of it: turns times lead."""
    believed = {"steps_per_mm": setting, "steps_per_inch": setting / MM_PER_IN, "screw_lead": 1000 / setting,
                "gear_ratio": 200 * setting / true_lead}  # fmt: skip
    return told_mm * believed[kind] / true_steps_per_turn * true_lead


@given(
    st.sampled_from(["steps_per_mm", "steps_per_inch", "gear_ratio", "screw_lead"]),
    st.floats(0.97, 1.03),
    st.floats(1, 30),
)
def test_a_mended_drive_goes_as_far_as_it_is_told(kind, wrong, lead):
    right = {
        "steps_per_mm": 1000 / lead,
        "steps_per_inch": 1000 / lead * MM_PER_IN,
        "gear_ratio": 5,
        "screw_lead": lead,
    }
    drive = Drive(kind, right[kind] * wrong)
    scale = moved(100, 1000, lead, kind, drive.value) / 100 - 1
    assert moved(100, 1000, lead, kind, drive.mended(scale)) == pytest.approx(100, rel=1e-12)


@pytest.mark.parametrize(
    ("machine", "parameter", "said"),
    [
        ("steps_per_mm_x = 3\nscrew_lead_x = 5", "machine screw_lead_x", "give one of steps_per_mm_x, screw_lead_x."),
        ('gear_ratio_y = "5:1"', "machine gear_ratio_y", "must be a number."),
        ("steps_per_inch_y = 0", "machine steps_per_inch_y", "must be more than 0."),
    ],
)
def test_a_drive_that_can_not_be_used_is_refused_by_name(machine, parameter, said):
    with pytest.raises(Refused) as refused:
        corrected(machine)
    assert [(p.parameter, p.message) for p in refused.value.problems] == [(parameter, said)]


def test_one_axis_may_have_steps_and_the_other_a_lead():
    settings = [each.setting for each in corrected('steps_per_mm_x = 100\nscrew_lead_y = "5 mm"\ngear_ratio_x = ""')]
    assert settings == ["steps_per_mm_x", "screw_lead_y"]
