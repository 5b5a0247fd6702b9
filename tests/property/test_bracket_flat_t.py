"""Flat T bracket: area and edge as the sum of pieces worked out by hand."""

import math

from hypothesis import given

from parts.templates.bracket.flat_t import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.property.pieces import assert_measures, inside_corners, rounded
from tests.property.refused import names
from tests.strategies import parts_of

many = tried(200)


def by_hand(v):
    """Area and edge of the T: the head, the stem below it, six corners off, two inside ones filled."""
    d, holes = published_hole(v, "bolt", "hole"), 2 * v["holes_head"] + v["holes_stem"] + v["middle"]
    area = v["head"] * v["width_head"] + (v["stem"] - v["width_head"]) * v["width_stem"]
    edge = 2 * v["head"] + 2 * v["stem"]
    for off, shorter in (rounded(6, v["corner_radius"]), inside_corners(2, v)):
        area, edge = area - off, edge - shorter
    return area - holes * math.pi * d**2 / 4, edge + holes * math.pi * d


@many
@given(parts_of(TEMPLATE))
def test_area_edge_and_box_are_those_worked_out_by_hand(part):
    v = part.record.parameters
    area, edge = by_hand(v)
    assert_measures(part, area, edge, v["head"], v["stem"])


@many
@given(parts_of(TEMPLATE))
def test_it_is_the_same_left_and_right(part):
    middle = part.record.parameters["head"] / 2
    centres = [opening.loop.circle.centre for opening in part.profile.inside]
    places = {(round(x - middle, 6), round(y, 6)) for x, y in centres}
    assert places == {(-x + 0.0, y) for x, y in places}


test_what_does_not_go_together_is_named = names(
    "bracket-flat-t",
    ({"width_stem": 200}, "width_stem"),
    ({"width_head": 150}, "width_head"),
    ({"holes_head": 3}, "holes_head"),
    ({"first_stem": 5.5}, "first_stem"),
    ({"pitch_stem": 11}, "pitch_stem"),
    ({"bolt": "by-diameter", "hole": 50}, "hole"),
    ({"bolt": "M36", "width_stem": 39}, "bolt"),
    ({"corner_radius": 25.01}, "corner_radius"),
    ({"inside_radius": 69.01}, "inside_radius"),
)
