"""The cap of a round tube against sums made by hand, and against the tube it is for."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.plate.cap_round import TEMPLATE
from tests.depth import tried
from tests.strategies import parts_of

many = tried(200)


@many
@given(parts_of(TEMPLATE))
def test_area_and_cut_length_are_those_by_hand(part):
    v = part.record.parameters
    bore = v["tube"] - 2 * v["wall"]
    disc = {
        "over": v["tube"] + 2 * v["step"],
        "inside": bore - 2 * v["step"],
        "back": v["tube"] - 2 * v["step"],
    }[v["seat"]]
    assert part.measures.area_mm2 == pytest.approx(math.pi / 4 * (disc**2 - v["vent"] ** 2), rel=1e-9, abs=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(math.pi * (disc + v["vent"]), rel=1e-9)
    assert part.profile.box == pytest.approx((0, 0, disc, disc), abs=1e-9)
    if v["seat"] != "inside":
        assert disc >= bore - 1e-9, "it would fall into the tube"
    for vent in part.profile.inside:
        assert vent.loop.circle.centre == pytest.approx((disc / 2, disc / 2 - v["vent_down"]), abs=1e-9)


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"seat": "inside", "wall": 44.45}, "wall"),
        ({"seat": "inside", "step": 41.45}, "step"),
        ({"seat": "back", "step": 3.1}, "step"),
        ({"vent": 88.9}, "vent"),
        ({"vent": 10, "vent_down": 39.45}, "vent_down"),
    ],
    ids=["no bore", "no disc", "beside the wall", "no ring", "hole over the edge"],
)
def test_what_does_not_go_together_is_named(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("plate-cap-round", **values)
    assert [problem.parameter for problem in refused.value.problems] == [named]
