"""The strike plate against a sum made by hand: rectangles less their corners."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.plate.strike import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.strategies import parts_of

many = tried(100)
OF_SQUARE = 1 - math.pi / 4


@many
@given(parts_of(TEMPLATE))
def test_area_is_that_by_hand(part):
    """Where the lip meets the plate, its two inside corners gain what its outside ones lose."""
    v = part.record.parameters
    area = v["width"] * v["height"] - 4 * OF_SQUARE * v["corner_radius"] ** 2 + v["lip"] * v["lip_height"]
    area -= v["window_width"] * v["window_height"] - 4 * OF_SQUARE * v["window_radius"] ** 2
    area -= math.pi / 2 * published_hole(v, "bolt", "hole") ** 2
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9, abs=1e-6)
    assert (part.measures.width_mm, part.measures.height_mm) == pytest.approx((v["width"] + v["lip"], v["height"]))


@pytest.mark.parametrize(
    ("values", "named"),
    [({"window_in": 9}, "window_in"), ({"window_height": 130}, "window_height"), ({"spacing": 44}, "spacing"),
     ({"spacing": 128}, "spacing"), ({"lip": 8}, "lip_radius"), ({"lip": 12, "lip_height": 110}, "lip_height")],
)  # fmt: skip
def test_what_does_not_go_together_is_named(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("plate-strike", **values)
    assert named in [problem.parameter for problem in refused.value.problems]
