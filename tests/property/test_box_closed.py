"""The closed box: sums made by hand, and the panels put together in space."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.box.closed import TEMPLATE
from tests.depth import tried
from tests.property.assembled import by_hand
from tests.strategies import parts_of

many = tried(25)
LIDS = {"tabbed": 6, "loose": 6, "none": 5}


@tried(60)
@given(parts_of(TEMPLATE))
def test_area_and_cut_length_are_those_by_hand(part):
    v = part.record.parameters
    area, edge = by_hand(part)
    rounds = [v["cable"]] + ([v["finger"]] if v["lid"] != "none" else [])
    drawn = [d - v["overcut"] for d in rounds if d]
    assert part.measures.area_mm2 == pytest.approx(area - math.pi / 4 * sum(d**2 for d in drawn), rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge + math.pi * sum(drawn), rel=1e-9)
    assert len(part.profile.outside) == LIDS[v["lid"]]


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"tab": 51}, "tab"),
        ({"sizes": "outside", "height": 45}, "height"),
        ({"sizes": "outside", "width": 75}, "width"),
        ({"finger": 200}, "finger"),
        ({"cable": 100}, "cable"),
        ({"cable": 50, "cable_up": 24}, "cable_up"),
        ({"cable": 50, "cable_up": 76}, "cable_up"),
        ({"lip": 1, "corner_radius": 0, "relief": 2.1}, "lip"),
    ],
)
def test_what_does_not_go_together_is_named(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("box-closed", **values)
    assert named in [problem.parameter for problem in refused.value.problems]


@pytest.mark.parametrize("name", ["finger", "cable"])
def test_a_hole_that_the_overcut_eats_up_is_refused(name):
    with pytest.raises(parts.Refused) as caught:
        parts.draw("box-closed", overcut=2, **{name: 1.5})
    (problem,) = caught.value.problems
    assert problem.parameter == name
    assert "more than 2 mm for the cut to leave a hole so large" in problem.message
