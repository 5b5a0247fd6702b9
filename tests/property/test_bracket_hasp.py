"""Hasp and staple plate: area by hand, and that the staple goes through both with the clearance asked for."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

import parts
from parts.errors import Refused
from tests.depth import tried


@tried(60)
@given(st.floats(25, 60), st.floats(4, 9), st.floats(0.3, 2), st.sampled_from([0, 3.3, 8]), st.integers(0, 3))
def test_the_staple_goes_through_both_halves(wide, bar, clearance, radius, holes):
    """A strap less two rounded corners and bolt holes of M8, 9 mm (ISO 273, normal), and slots with round ends."""
    like = {"staple_width": wide, "staple_bar": bar, "clearance": clearance, "slot_in": 50, "corner_radius": radius}
    like |= {"holes": holes, "pitch": 25, "long": 220}
    w, clear = bar + 2 * clearance, {}
    for half in ("hasp", "staple"):
        part = parts.draw("bracket-hasp", half=half, process="laser", **like)
        slots = [o.loop.box for o in part.profile.inside if o.name == "staple slot"]
        clear[half] = slots[0][0], slots[-1][2]
        long = wide + 2 * clearance if half == "hasp" else w
        cut = len(slots) * ((long - w) * w + math.pi * w**2 / 4) + holes * math.pi * 4.5**2
        by_hand = 220 * 45 - 2 * radius**2 * (1 - math.pi / 4) - cut
        assert part.measures.area_mm2 == pytest.approx(by_hand, rel=1e-9)
    assert clear["hasp"] == pytest.approx(clear["staple"])
    assert clear["hasp"] == pytest.approx((170 - wide / 2 - clearance, 170 + wide / 2 + clearance))


@pytest.mark.parametrize(
    ("values", "parameter"),
    [
        ({"staple_bar": 16}, "staple_width"), ({"width": 13, "corner_radius": 4}, "width"),
        ({"slot_in": 17}, "slot_in"),
        ({"long": 52}, "long"), ({"first": 4}, "first"), ({"pitch": 8}, "pitch"), ({"pitch": 70}, "pitch"),
        ({"holes": 1, "first": 90}, "first"), ({"corner_radius": 23}, "corner_radius"),
    ],
)  # fmt: skip
def test_what_has_no_room_is_refused(values, parameter):
    with pytest.raises(Refused) as refused:
        parts.draw("bracket-hasp", **values)
    assert [problem.parameter for problem in refused.value.problems] == [parameter]
