"""Fillet weld gauge: area and edge by circle segments worked out from chord and sagitta, marks off the cuts."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.gauge.fillet import LEGS, TEMPLATE
from tests.depth import tried
from tests.property.scribed import assert_labels_apart, assert_marks_clear
from tests.strategies import parts_of

many = tried(200)


def cut(leg, bow):
    """Area that a corner loses, and length of its cut: a triangle and a segment of chord c and sagitta s."""
    c = math.sqrt(2) * leg
    if bow < 1e-4:
        return leg**2 / 2 + 2 / 3 * c * bow, c
    r = (c**2 / 4 + bow**2) / (2 * bow)
    half = math.asin(min(1.0, c / 2 / r))
    return leg**2 / 2 + r**2 * half - c / 2 * (r - bow), 2 * r * half


@many
@given(parts_of(TEMPLATE))
def test_area_and_edge_are_those_worked_out_by_hand(part):
    v = part.record.parameters
    cuts = [cut(v[name], v["bow"]) for name in LEGS]
    area = v["size_x"] * v["size_y"] - math.fsum(a for a, _ in cuts) - math.pi * v["hole"] ** 2 / 4
    edge = 2 * (v["size_x"] + v["size_y"]) + math.pi * v["hole"]
    edge += math.fsum(long - 2 * v[name] for name, (_, long) in zip(LEGS, cuts, strict=True))
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-6)
    assert part.measures.cut_length_mm == pytest.approx(edge, rel=1e-6)
    assert (part.measures.width_mm, part.measures.height_mm) == pytest.approx((v["size_x"], v["size_y"]), rel=1e-12)


@many
@given(parts_of(TEMPLATE))
def test_marks_stand_clear_of_cuts_and_of_each_other(part):
    p = TEMPLATE.parameters.read(part.record.parameters)
    assert_marks_clear(part, 0.3 * p.text_height)
    assert_labels_apart(p.labels, 0.7 * p.text_height)


@pytest.mark.parametrize(
    ("values", "name"),
    [({"leg_2": 30}, "leg_2"), ({"bow": 1.5}, "bow"), ({"hole": 35}, "hole"), ({"text_height": 20}, "text_height")],
)
def test_what_has_no_room_is_named(values, name):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("gauge-fillet", **values)
    assert name in [problem.parameter for problem in refused.value.problems]
