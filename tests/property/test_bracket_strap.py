"""Strap: area and edge as the sum of pieces worked out by hand."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.bracket.strap import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.property.pieces import assert_measures, rounded
from tests.property.refused import names
from tests.strategies import parts_of

many = tried(200)


def by_hand(v):
    """Area and edge of the bar with its ends, less its holes; a slot is a hole and a straight between its halves."""
    long, w, c = v["long"], v["width"], v["corner"]
    if v["ends"] == "round":
        area, edge = (long - w) * w + math.pi * w**2 / 4, 2 * (long - w) + math.pi * w
    elif v["ends"] == "clipped":
        area, edge = long * w - 2 * c**2, 2 * (long + w) - 4 * (2 - math.sqrt(2)) * c
    else:
        off, shorter = rounded(4, c)
        area, edge = long * w - off, 2 * (long + w) - shorter
    d = published_hole(v, "bolt", "hole")
    straight, count = (v["slot"] - d if v["slot"] else 0.0), v["holes"] * (2 if v["row"] == "at-each-end" else 1)
    return area - count * (math.pi * d**2 / 4 + straight * d), edge + count * (math.pi * d + 2 * straight)


@many
@given(parts_of(TEMPLATE))
def test_area_edge_and_box_are_those_worked_out_by_hand(part):
    v = part.record.parameters
    area, edge = by_hand(v)
    assert_measures(part, area, edge, v["long"], v["width"])


@many
@given(parts_of(TEMPLATE))
def test_holes_stand_alike_from_both_ends(part):
    long = part.record.parameters["long"]
    boxes = sorted(opening.loop.box for opening in part.profile.inside)
    left = [(box[0] + box[2]) / 2 for box in boxes]
    assert left == pytest.approx([long - x for x in reversed(left)], abs=1e-9)


def test_a_spread_row_is_on_even_centres():
    part = parts.draw("bracket-strap", long=26 * 25.4, row="spread", holes=5, end_mark=25.4)
    centres = [opening.loop.circle.centre[0] / 25.4 for opening in part.profile.inside]
    assert centres == pytest.approx([1, 7, 13, 19, 25])


test_what_does_not_go_together_is_named = names(
    "bracket-strap",
    ({"ends": "round", "width": 200}, "width"),
    ({"corner": 20.01}, "corner"),
    ({"bolt": "by-diameter", "hole": 40}, "hole"),
    ({"bolt": "M36", "width": 39}, "bolt"),
    ({"slot": 10.9}, "slot"),
    ({"end_mark": 5.5}, "end_mark"),
    ({"end_mark": 94.5}, "end_mark"),
    ({"pitch": 11}, "pitch"),
    ({"pitch": 74.5}, "pitch"),
    ({"row": "spread", "holes": 16}, "holes"),
)
