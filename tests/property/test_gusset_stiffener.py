"""The web stiffener against sums made by hand."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.gusset.stiffener import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.property.refused import names
from tests.strategies import parts_of

many = tried(200)


def by_hand(v):
    """A rectangle less a triangle or a quarter disc for each corner at the web, and two triangles at the outside."""
    w, d, clip, out = (v[name] for name in ("width", "depth", "clip", "outer_clip"))
    clips = 2 if v["clipped"] == "both" else 1
    taken, edge = (math.pi / 4 * clip**2, math.pi / 2) if v["clip_shape"] == "round" else (clip**2 / 2, math.sqrt(2))
    area = w * d - clips * taken - out**2
    return area, 2 * (w + d) + clips * clip * (edge - 2) + 2 * out * (math.sqrt(2) - 2)


def assert_as_by_hand(part):
    v = part.record.parameters
    area, edge = by_hand(v)
    hole = published_hole(v, "bolt", "hole")
    assert part.measures.area_mm2 == pytest.approx(area - v["bolts"] * math.pi / 4 * hole**2)
    assert part.measures.cut_length_mm == pytest.approx(edge + v["bolts"] * math.pi * hole)
    assert (part.measures.width_mm, part.measures.height_mm) == pytest.approx((v["width"], v["depth"]))


@many
@given(parts_of(TEMPLATE))
def test_area_and_perimeter_are_those_by_hand(part):
    assert_as_by_hand(part)


@pytest.mark.parametrize("shape", ["straight", "round"])
@pytest.mark.parametrize("values", [{}, {"clip": 0}, {"clipped": "foot"}, {"outer_clip": 15, "bolts": 3}])
def test_each_kind_is_as_by_hand(shape, values):
    assert_as_by_hand(parts.draw("gusset-stiffener", clip_shape=shape, **values))


test_what_does_not_go_together_is_named = names(
    "gusset-stiffener",
    ({"clip": 90, "width": 100}, "clip"),
    ({"clip": 70}, "clip"),
    ({"outer_clip": 70, "clip": 0}, "outer_clip"),
    ({"bolts": 2, "pitch": 11}, "pitch"),
    ({"bolts": 4, "pitch": 42}, "pitch"),
    ({"bolts": 1, "first": 175}, "first"),
    ({"bolts": 1, "back_mark": 65}, "back_mark"),
    alone=True,
)
