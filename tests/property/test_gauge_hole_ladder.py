"""Hole ladder: area and edge as a plate less discs, the holes' diameters, marks off the cuts, labels apart."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.gauge.hole_ladder import TEMPLATE
from tests.depth import tried
from tests.property.scribed import assert_labels_apart, assert_marks_clear
from tests.strategies import parts_of

many = tried(200)


@many
@given(parts_of(TEMPLATE))
def test_area_and_edge_are_those_worked_out_by_hand(part):
    v = part.record.parameters
    n, d, s, r = v["steps"], v["smallest"], v["step"], v["corner_radius"]
    across = n * d + s * n * (n - 1) / 2
    squares = n * d**2 + d * s * n * (n - 1) + s**2 * (n - 1) * n * (2 * n - 1) / 6
    wide, high = across + (n + 1) * v["web"], v["strip"] + d + (n - 1) * s + v["web"]
    area = wide * high - (4 - math.pi) * r**2 - math.pi / 4 * squares
    edge = 2 * (wide + high) - (8 - 2 * math.pi) * r + math.pi * across
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge, rel=1e-9)
    assert (part.measures.width_mm, part.measures.height_mm) == pytest.approx((wide, high), rel=1e-12)


@many
@given(parts_of(TEMPLATE))
def test_marks_stand_clear_of_cuts_and_of_each_other(part):
    p = TEMPLATE.parameters.read(part.record.parameters)
    assert_marks_clear(part, 0.3 * p.text_height)
    assert_labels_apart(p.labels, 0.7 * p.text_height)


def test_each_hole_is_named_and_numbered_by_its_size():
    part = parts.draw("gauge-hole-ladder", smallest=10, step=0.5, steps=3)
    boxes = [opening.loop.box for opening in part.profile.inside]
    assert [b[2] - b[0] for b in boxes] == pytest.approx([10, 10.5, 11], rel=1e-12)
    assert [opening.name for opening in part.profile.inside] == [f"hole of {d} mm" for d in (10, 10.5, 11)]
    p = TEMPLATE.parameters.read({"smallest": 10, "step": 0.5, "steps": 3})
    assert [label.text for label in p.labels[1:4]] == ["10", "10.5", "11"]


@pytest.mark.parametrize(
    ("values", "name"),
    [
        ({"text_height": 9}, "text_height"),
        ({"strip": 6}, "strip"),
        ({"text_height": 5.5, "web": 16}, "text_height"),
        ({"corner_radius": 8.1}, "corner_radius"),
    ],
)
def test_what_has_no_room_is_named(values, name):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("gauge-hole-ladder", **values)
    assert name in [problem.parameter for problem in refused.value.problems]
