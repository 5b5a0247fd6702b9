"""The round flange against sums made by hand: a disc less its circles."""

import itertools
import math

import pytest
from hypothesis import given

import parts
from parts.templates.flange.round import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.strategies import parts_of

many = tried(200)


@many
@given(parts_of(TEMPLATE))
def test_area_and_cut_length_are_those_by_hand(part):
    v = part.record.parameters
    hole = published_hole(v, "bolt", "hole")
    area = math.pi / 4 * (v["od"] ** 2 - v["bore"] ** 2 - v["holes"] * hole**2)
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(math.pi * (v["od"] + v["bore"] + v["holes"] * hole), rel=1e-9)
    assert part.profile.box == pytest.approx((0, 0, v["od"], v["od"]), abs=1e-9)


@many
@given(parts_of(TEMPLATE))
def test_holes_are_even_on_their_circle_and_as_good_as_mirrored(part):
    v = part.record.parameters
    middle = v["od"] / 2
    centres = [o.loop.circle.centre for o in part.profile.inside if o.name == "bolt hole"]
    z = [complex(x - middle, y - middle) for x, y in centres]
    assert len(z) == v["holes"]
    assert [abs(each) for each in z] == pytest.approx([v["bolt_circle"] / 2] * len(z), rel=1e-9)
    chord = v["bolt_circle"] * math.sin(math.pi / len(z))
    assert [abs(a - b) for a, b in itertools.pairwise(z)] == pytest.approx([chord] * (len(z) - 1), rel=1e-7)
    for each in z:  # left for right in the upright centre line
        assert min(abs(complex(-each.real, each.imag) - other) for other in z) < 1e-6
    on_line = min(abs(each - 0.5j * v["bolt_circle"]) for each in z) < 1e-6
    assert on_line == (v["stand"] == "on-line")


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"bolt_circle": 150}, "bolt_circle"),
        ({"bolt_circle": 74}, "bolt_circle"),
        ({"bore": 170}, "bore"),
        ({"holes": 40}, "bolt_circle"),
    ],
    ids=["over the edge", "into the bore", "bore over all", "into each other"],
)
def test_what_does_not_go_together_is_named(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("flange-round", **values)
    assert named in {problem.parameter for problem in refused.value.problems}
