"""The closed box: sums made by hand, and the panels put together in space."""

import math

import pytest
from hypothesis import HealthCheck, given, settings

import parts
from parts.templates.box_closed import TEMPLATE
from tests.property.assembled import assert_goes_together, assert_tabs_lie_in_their_slots, by_hand
from tests.property.scribed import assert_marks_clear
from tests.strategies import parts_of

many = settings(deadline=None, max_examples=25, suppress_health_check=list(HealthCheck))
some = settings(deadline=None, max_examples=5, suppress_health_check=list(HealthCheck))
LIDS = {"tabbed": 6, "loose": 6, "none": 5}


@settings(many, max_examples=60)
@given(parts_of(TEMPLATE))
def test_area_and_cut_length_are_those_by_hand(part):
    v = part.record.parameters
    area, edge = by_hand(part)
    rounds = [v["cable"]] + ([v["finger"]] if v["lid"] != "none" else [])
    drawn = [d - v["overcut"] for d in rounds if d]
    assert part.measures.area_mm2 == pytest.approx(area - math.pi / 4 * sum(d**2 for d in drawn), rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge + math.pi * sum(drawn), rel=1e-9)
    assert len(part.profile.outside) == LIDS[v["lid"]]


@some
@given(parts_of(TEMPLATE, overcut=0.0, tab_every=500.0))
def test_the_panels_go_together(part):
    assert_goes_together(part)


@many
@given(parts_of(TEMPLATE))
def test_names_stand_on_their_panels_clear_of_the_cuts(part):
    assert_marks_clear(part, 0.45 * part.record.parameters["names"])


def test_every_panel_bears_its_name_and_none_without_room():
    whole, small, bare = (parts.draw("box-closed", **v) for v in ({}, {"height": 26, "tab": 13}, {"names": 0}))
    assert len(whole.profile.marks) > len(small.profile.marks) > 0 == len(bare.profile.marks)
    assert len(whole.profile.pieces) == 6 == len(whole.profile.outside)


@many
@given(parts_of(TEMPLATE))
def test_every_tab_lies_in_its_slot_with_the_clearance_asked_as_cut(part):
    assert_tabs_lie_in_their_slots(part)


@pytest.mark.parametrize("preset", TEMPLATE.presets, ids=lambda preset: preset.name)
def test_the_presets_go_together(preset):
    part = parts.draw("box-closed", **preset.values)
    assert_goes_together(part)
    assert_tabs_lie_in_their_slots(part)


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
