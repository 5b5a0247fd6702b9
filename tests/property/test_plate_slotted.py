"""The slotted plate against sums made by hand."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.plate.slotted import TEMPLATE
from tests.depth import tried
from tests.property.flattened import points, published_hole
from tests.strategies import parts_of

many = tried(200)
FIXED = {"none": 0, "two": 2, "four": 4}


@many
@given(parts_of(TEMPLATE))
def test_area_cut_length_and_box_are_those_by_hand(part):
    v = part.record.parameters
    w, h, r = v["width"], v["height"], v["corner_radius"]
    slot, fixed = published_hole(v, "bolt", "hole"), published_hole(v, "fixed_bolt", "fixed_hole")
    slots, rounds = v["slots_x"] * v["slots_y"], FIXED[v["fixed"]]
    voids = slots * (slot * v["travel"] + math.pi / 4 * slot**2)
    voids += math.pi / 4 * (rounds * fixed**2 + v["middle"] ** 2)
    edges = slots * (2 * v["travel"] + math.pi * slot) + math.pi * (rounds * fixed + v["middle"])
    assert part.measures.area_mm2 == pytest.approx(w * h - (4 - math.pi) * r**2 - voids, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(2 * (w + h) - (8 - 2 * math.pi) * r + edges, rel=1e-9)
    assert part.profile.box == pytest.approx((0, 0, w, h), abs=1e-9)


@many
@given(parts_of(TEMPLATE))
def test_slots_are_as_long_as_hole_and_travel_the_way_asked_and_symmetric(part):
    v = part.record.parameters
    hole = published_hole(v, "bolt", "hole")
    boxes = []
    for opening in part.profile.inside:
        if opening.name == "slot":
            x0, y0, x1, y1 = opening.loop.box
            along, across = (x1 - x0, y1 - y0) if v["way"] == "width" else (y1 - y0, x1 - x0)
            assert along == pytest.approx(hole + v["travel"], abs=1e-6)
            assert across == pytest.approx(hole, abs=1e-6)
            boxes.append((x0, y0, x1, y1))
    turned = [(v["width"] - x1, v["height"] - y1, v["width"] - x0, v["height"] - y0) for x0, y0, x1, y1 in boxes]
    assert all(min(math.dist(one, other) for other in boxes) < 1e-6 for one in turned)


def test_a_slot_without_travel_is_a_round_hole():
    part = parts.draw("plate-slotted", travel=0)
    assert all(opening.loop.circle for opening in part.profile.inside)
    assert len(points(part.profile.inside[0].loop)) > 8


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"corner_radius": 71}, "corner_radius"),
        ({"spacing_x": 36}, "spacing_x"),
        ({"spacing_x": 165}, "spacing_x"),
        ({"spacing_y": 130}, "spacing_y"),
        ({"slots_x": 1, "travel": 190}, "travel"),
        ({"fixed_x": 8}, "fixed_x"),
        ({"fixed_y": 135}, "fixed_y"),
        ({"middle": 140}, "middle"),
        ({"middle": 80}, "middle"),
        ({"fixed_x": 130, "fixed_y": 100}, "fixed_x"),
    ],
)
def test_what_does_not_go_together_is_named(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("plate-slotted", **values)
    assert [problem.parameter for problem in refused.value.problems] == [named]
