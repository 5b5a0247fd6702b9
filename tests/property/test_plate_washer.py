"""The plate washer against sums made by hand: squares less their corners, and circles."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.plate.washer import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.strategies import parts_of

many = tried(200)


def by_hand(kind, across, radius):
    """Area and perimeter: of a circle; or of a cross of two strips and the quarter circles in its corners."""
    if kind == "round":
        return math.pi * across**2 / 4, math.pi * across
    straight = across - 2 * radius
    return straight * across + 2 * radius * straight + math.pi * radius**2, 4 * straight + 2 * math.pi * radius


@many
@given(parts_of(TEMPLATE))
def test_area_and_cut_length_are_those_by_hand(part):
    v = part.record.parameters
    outer, edge = by_hand(v["outside"], v["size"], v["corner_radius"])
    inner, rim = by_hand(v["inside"], published_hole(v, "bolt", "hole"), v["relief"])
    assert part.measures.area_mm2 == pytest.approx(outer - inner, rel=1e-9, abs=1e-6)
    assert part.measures.cut_length_mm == pytest.approx(edge + rim, rel=1e-9)
    assert part.profile.box == pytest.approx((0, 0, v["size"], v["size"]), abs=1e-9)


@pytest.mark.parametrize("preset", TEMPLATE.presets, ids=lambda preset: preset.name)
def test_a_preset_takes_its_bolt_through_the_published_hole(preset):
    part = parts.draw("plate-washer", **preset.values)
    (hole,) = part.profile.inside
    x0, _, x1, _ = hole.loop.box
    assert x1 - x0 == pytest.approx(published_hole(part.record.parameters, "bolt", "hole"), abs=1e-9)
    assert hole.bolt > 0


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"size": 20}, "size"),
        ({"size": 29, "inside": "square"}, "size"),
        ({"outside": "square", "corner_radius": 41}, "corner_radius"),
        ({"inside": "square", "relief": 12}, "relief"),
        ({"outside": "square", "inside": "square", "size": 23, "corner_radius": 11.5}, "corner_radius"),
    ],
    ids=["hole over all", "corners of the hole out", "no side left", "no hole left", "corners meet"],
)
def test_what_does_not_go_together_is_named(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("plate-washer", **values)
    assert [problem.parameter for problem in refused.value.problems] == [named]
