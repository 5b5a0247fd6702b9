"""Kerf comb: area and edge as a plate less round-bottomed slots, marks off the cuts, labels apart."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.gauge.kerf_comb import TEMPLATE
from tests.depth import tried
from tests.property.scribed import assert_labels_apart, assert_marks_clear
from tests.strategies import parts_of

many = tried(200)


@many
@given(parts_of(TEMPLATE))
def test_area_and_edge_are_those_worked_out_by_hand(part):
    v = part.record.parameters
    n, first, last = v["steps"], v["smallest"], v["smallest"] + (v["steps"] - 1) * v["step"]
    widths, squares = n * (first + last) / 2, sum((first + i * v["step"]) ** 2 for i in range(n))
    wide, high = widths + (n + 1) * v["web"], v["strip"] + v["depth"]
    # A slot is a rectangle, less what its two rounded corners leave; a rounded corner is 2 r - pi r / 2 shorter.
    slots = widths * v["depth"] - (2 - math.pi / 2) * squares / 4
    area = wide * high - (4 - math.pi) * v["corner_radius"] ** 2 - slots
    edge = 2 * (wide + high) + 2 * n * v["depth"] - (8 - 2 * math.pi) * v["corner_radius"]
    edge -= (4 - math.pi) * widths / 2
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge, rel=1e-9)
    assert (part.measures.width_mm, part.measures.height_mm) == pytest.approx((wide, high), rel=1e-12)


@many
@given(parts_of(TEMPLATE))
def test_marks_stand_clear_of_cuts_and_of_each_other(part):
    p = TEMPLATE.parameters.read(part.record.parameters)
    assert_marks_clear(part, 0.3 * p.text_height)
    assert_labels_apart(p.labels, 0.7 * p.text_height)


def test_numbers_are_those_of_the_slots_in_the_working_units():
    p = TEMPLATE.parameters.read({"steps": 3, "text": "T"})
    assert [label.text for label in p.labels] == ["T", "6", "6.5", "7", "X", "Y"]
    inches = TEMPLATE.parameters.read({"smallest": "1/4", "step": "1/32", "steps": 3, "text": "T", "units": "in"})
    assert [label.text for label in inches.labels] == ["T", "1/4", "9/32", "5/16", "X", "Y"]


@pytest.mark.parametrize(
    ("values", "name"),
    [
        ({"depth": 9.5}, "depth"),
        ({"text_height": 9}, "text_height"),
        ({"strip": 6}, "strip"),
        ({"text_height": 5.2}, "text_height"),
        ({"web": 8, "corner_radius": 0, "text_height": 3.5}, "text_height"),
        ({"text": "FERNHOLLOW WORKSHOP TABLE ONE AIR", "steps": 2}, "text"),
        ({"corner_radius": 8.1}, "corner_radius"),
        ({"web": 3, "smallest": 3, "step": 0.05, "depth": 20, "corner_radius": 0}, "web"),
    ],
)
def test_what_has_no_room_is_named(values, name):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("gauge-kerf-comb", **values)
    assert name in [problem.parameter for problem in refused.value.problems]
