"""The saddle gusset of a round tube against sums made by hand."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.gusset.saddle import TEMPLATE
from tests.depth import tried
from tests.property.flattened import points, published_hole
from tests.property.refused import names
from tests.property.saddles import with_rounded_corners
from tests.strategies import parts_of

many = tried(200)


def by_hand(v):
    """Two strips up to the horns, less the segment of the tube's circle between them and each rounded corner."""
    radius, half = v["tube"] / 2 + v["gap"], math.radians(v["wrap"]) / 2
    top, out = v["height"] - radius * math.cos(half), radius * math.sin(half) + v["lip"]
    foot, toe = v["foot"] / 2, v["toe"]
    area = 2 * (foot * toe + (foot + out) / 2 * (top - toe)) - radius**2 * (half - math.sin(half) * math.cos(half))
    edge = 2 * (foot + toe + math.hypot(foot - out, top - toe) + v["lip"]) + radius * 2 * half
    return with_rounded_corners(area, edge, v, top, out)


def assert_as_by_hand(part):
    v = part.record.parameters
    area, edge = by_hand(v)
    hole = published_hole(v, "bolt", "hole")
    holes = math.pi / 4 * (v["holes"] * hole**2 + v["lightening"] ** 2)
    assert part.measures.area_mm2 == pytest.approx(area - holes, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge + math.pi * (v["holes"] * hole + v["lightening"]))


@many
@given(parts_of(TEMPLATE, section="round"))
def test_area_and_perimeter_are_those_by_hand(part):
    assert_as_by_hand(part)


@pytest.mark.parametrize(
    "values",
    [{}, {"wrap": 180}, {"wrap": 60, "foot": 40}, {"toe": 0, "corner_radius": 0}, {"holes": 2, "lightening": 20}],
    ids=["default", "half", "shallow on a narrow foot", "pointed", "with holes"],
)
def test_each_kind_is_as_by_hand(values):
    assert_as_by_hand(parts.draw("gusset-saddle", **values))


@many
@given(parts_of(TEMPLATE, section="round", corner_radius=0))
def test_the_tube_touches_nothing_nearer_than_the_gap(part):
    """No point of the outline is nearer the tube's middle than the saddle; its lowest is just that far."""
    v = part.record.parameters
    x = (part.profile.box[0] + part.profile.box[2]) / 2
    away = [math.dist(point, (x, v["height"])) for point in points(part.profile.outside[0])]
    assert min(away) == pytest.approx(v["tube"] / 2 + v["gap"], abs=1e-6)


test_what_does_not_go_together_is_named = names(
    "gusset-saddle",
    ({"height": 30}, "height"),
    ({"toe": 60}, "toe"),
    ({"foot": 20, "lip": 2, "wrap": 180, "height": 60}, "foot"),
    ({"corner_radius": 20}, "corner_radius"),
    ({"holes": 1, "back_mark": 55}, "back_mark"),
    ({"lightening": 60}, "lightening"),
    alone=True,
)
