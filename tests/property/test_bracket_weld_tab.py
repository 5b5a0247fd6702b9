"""Weld tab: area and edge as the sum of pieces worked out by hand."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.bracket.weld_tab import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.property.pieces import assert_measures, rounded, sunk, tube_foot
from tests.property.refused import names
from tests.strategies import parts_of

many = tried(200)


def by_hand(v):
    """Area and edge of the tab: a rectangle to the hole and half a disc on it, or to the square end."""
    w, c, d = v["width"], v["snipe"], published_hole(v, "bolt", "hole")
    if v["end"] == "round":
        area, edge = w * v["height"] + math.pi * w**2 / 8, w + 2 * v["height"] + math.pi * w / 2
    else:
        off, shorter = rounded(2, v["corner_radius"])
        top = v["height"] + v["beyond"]
        area, edge = w * top - off, 2 * (w + top) - shorter
    more, longer = tube_foot(v, w, w / 2 - c)
    area, edge = area + more, edge + longer
    count = 0 if v["drilled"] else v["holes"]
    area, edge = area - c**2, edge - 2 * (2 - math.sqrt(2)) * c
    straight = v["slot"] - d if v["slot"] else 0.0
    return area - count * (math.pi * d**2 / 4 + straight * d), edge + count * (math.pi * d + 2 * straight)


@many
@given(parts_of(TEMPLATE))
def test_area_edge_and_box_are_those_worked_out_by_hand(part):
    v = part.record.parameters
    area, edge = by_hand(v)
    beyond = v["width"] / 2 if v["end"] == "round" else v["beyond"]
    assert_measures(part, area, edge, v["width"], v["height"] + beyond + sunk(v, v["width"] / 2 - v["snipe"]))


@many
@given(parts_of(TEMPLATE, drilled=True))
def test_holes_to_drill_are_marked_to_the_published_size(part):
    v = part.record.parameters
    assert part.profile.inside == ()
    drills = [mark for mark in part.profile.marks if mark.kind == "drill"]
    assert [drill.diameter for drill in drills] == pytest.approx([published_hole(v, "bolt", "hole")] * v["holes"])
    assert drills[0].at[1] == pytest.approx(v["height"] + sunk(v, v["width"] / 2 - v["snipe"]))


def test_a_round_end_has_the_same_metal_all_round_its_hole():
    part = parts.draw("bracket-weld-tab", width=50, height=45)
    (hole,) = part.profile.inside
    (edge,) = part.profile.outside
    (end,) = [segment for segment in edge.segments if hasattr(segment, "bulge")]
    assert (end.centre, end.radius) == (pytest.approx(hole.loop.circle.centre), pytest.approx(25))


test_what_does_not_go_together_is_named = names(
    "bracket-weld-tab",
    ({"snipe": 25}, "snipe"),
    ({"tube": 49}, "width"),
    ({"end": "square", "corner_radius": 25.01}, "corner_radius"),
    ({"holes": 2, "row": "across"}, "row"),
    ({"bolt": "by-diameter", "hole": 50}, "hole"),
    ({"bolt": "M36", "width": 39}, "bolt"),
    ({"height": 5.5}, "height"),
    ({"end": "square", "beyond": 5.5}, "beyond"),
    ({"slot": 10.9}, "slot"),
    ({"slot": 50}, "slot"),
    ({"slot": 50, "end": "square", "slot_way": "across"}, "slot"),
    ({"slot": 40, "height": 20}, "height"),
    ({"slot": 60, "end": "square", "height": 60}, "beyond"),
    ({"slot": 20, "drilled": True}, "drilled"),
    ({"slot": 20, "holes": 2, "pitch": 20}, "pitch"),
    ({"slot": 20, "holes": 2, "pitch": 35}, "pitch"),
    ({"holes": 2, "pitch": 11}, "pitch"),
    ({"holes": 2, "pitch": 39.5}, "pitch"),
    ({"holes": 2, "height": 16.5}, "holes"),
)
