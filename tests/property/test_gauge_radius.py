"""Radius gauge: area and edge of a rectangle less rounded corners and half discs; marks off the cuts and apart."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.gauge.radius import RADII, TEMPLATE
from tests.depth import tried
from tests.property.scribed import assert_labels_apart, assert_marks_clear
from tests.strategies import parts_of

many = tried(200)


@many
@given(parts_of(TEMPLATE))
def test_area_edge_and_marks_are_as_worked_out_by_hand(part):
    v = part.record.parameters
    radii, (x, y) = [v[name] for name in RADII], (v["size_x"], v["size_y"])
    # A corner loses r² (1 - pi/4), a notch pi r²/2; along the edge 2 r become pi r / 2, and 2 r become pi r.
    area = x * y - (1 + math.pi / 4) * math.fsum(r * r for r in radii) - math.pi / 4 * v["hole"] ** 2
    edge = 2 * (x + y) + (1.5 * math.pi - 4) * math.fsum(radii) + math.pi * v["hole"]
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge, rel=1e-9)
    assert (part.measures.width_mm, part.measures.height_mm) == pytest.approx((x, y), rel=1e-12)
    p = TEMPLATE.parameters.read(v)
    assert_marks_clear(part, 0.3 * p.text_height)
    assert_labels_apart(p.labels, 0.7 * p.text_height)


@pytest.mark.parametrize(
    ("values", "name"), [({"radius_2": 30}, "radius_2"), ({"text_height": 15}, "text_height"), ({"hole": 90}, "hole")]
)
def test_what_has_no_room_is_named(values, name):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("gauge-radius", **values)
    assert name in [problem.parameter for problem in refused.value.problems]
