"""Flat cross bracket: area and edge as the sum of pieces worked out by hand."""

import math

import pytest
from hypothesis import given

from parts.templates.bracket.flat_cross import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.property.pieces import assert_measures, inside_corners, rounded
from tests.property.refused import names
from tests.strategies import parts_of

many = tried(200)


def by_hand(v):
    """Area and edge of the cross: two bars less the square they share, eight corners off, four inside ones filled."""
    d = published_hole(v, "bolt", "hole")
    holes = 2 * v["holes_level"] + v["holes_up"] + v["holes_down"] + v["middle"]
    level, up = v["width_level"], v["width_up"]
    area = v["across"] * level + v["height"] * up - level * up
    edge = 2 * v["across"] + 2 * v["height"]
    for off, shorter in (rounded(8, v["corner_radius"]), inside_corners(4, v)):
        area, edge = area - off, edge - shorter
    return area - holes * math.pi * d**2 / 4, edge + holes * math.pi * d


@many
@given(parts_of(TEMPLATE))
def test_area_edge_and_box_are_those_worked_out_by_hand(part):
    v = part.record.parameters
    area, edge = by_hand(v)
    assert_measures(part, area, edge, v["across"], v["height"])


@many
@given(parts_of(TEMPLATE, raised=0.0, bolt="M8"))
def test_not_raised_it_is_the_same_up_and_down_but_for_the_count_of_holes(part):
    v = part.record.parameters
    ups = sorted(abs(o.loop.circle.centre[1] - v["height"] / 2) for o in part.profile.inside if "arm" in o.name)
    fewer, more = sorted((v["holes_up"], v["holes_down"]))
    by_arm = [v["height"] / 2 - v["first_up"] - i * v["pitch_up"] for n in (fewer, more) for i in range(n)]
    assert ups == pytest.approx(sorted(by_arm), abs=1e-9)


test_what_does_not_go_together_is_named = names(
    "bracket-flat-cross",
    ({"width_up": 200}, "width_up"),
    ({"width_level": 200}, "width_level"),
    ({"raised": 75}, "raised"),
    ({"holes_down": 3}, "holes_down"),
    ({"first_up": 5.5}, "first_up"),
    ({"first_level": 95}, "first_level"),
    ({"pitch_up": 11}, "pitch_up"),
    ({"corner_radius": 25.01}, "corner_radius"),
    ({"inside": "relief", "inside_radius": 49}, "inside_radius"),
)
