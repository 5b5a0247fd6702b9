"""Flat hook: area and edge as discs and strips worked out by hand."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.bracket.hook import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.property.pieces import rounded
from tests.property.refused import names
from tests.strategies import parts_of

many = tried(200)


def by_hand(v):
    """Area and edge: half the outer disc, the columns on it, less the throat and what is above its half disc."""
    w, r, tip = v["back"], v["throat"], v["tip_width"]
    outer = (w + tip) / 2 + r
    low = outer - r - v["belly"]  # height of the outer arc's centre
    area = math.pi * (outer**2 - r**2) / 2 - 2 * r * low
    area += w * (v["drop"] - low) + tip * (v["tip"] - tip / 2 - low) + math.pi * tip**2 / 8
    edge = math.pi * (outer + r + tip / 2) + 2 * v["drop"] + w + 2 * (v["tip"] - tip / 2) - 2 * low
    off, shorter = rounded(2, v["end_radius"])
    d = published_hole(v, "bolt", "hole")
    return area - off - v["holes"] * math.pi * d**2 / 4, edge - shorter + v["holes"] * math.pi * d


@many
@given(parts_of(TEMPLATE))
def test_area_edge_and_box_are_those_worked_out_by_hand(part):
    v = part.record.parameters
    area, edge = by_hand(v)
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge, rel=1e-9)
    assert part.measures.width_mm == pytest.approx(v["back"] + 2 * v["throat"] + v["tip_width"], rel=1e-12)
    high = max(v["drop"], v["tip"])
    assert part.measures.height_mm == pytest.approx(high + v["throat"] + v["belly"], rel=1e-9)


@many
@given(parts_of(TEMPLATE))
def test_arcs_and_straights_run_into_each_other(part):
    (edge,) = part.profile.outside
    sharp = [turn for turn in edge.corners if abs(turn) > 1e-6]
    assert len(sharp) == (0 if part.record.parameters["end_radius"] else 2)


def test_metal_is_as_thick_all_round_where_back_tip_and_belly_are_alike():
    part = parts.draw("bracket-hook", back=20, tip_width=20, belly=20)
    arcs = [segment for segment in part.profile.outside[0].segments if hasattr(segment, "bulge")]
    outer, inner = max(arcs, key=lambda arc: arc.radius), next(arc for arc in arcs if arc.bulge < 0)
    assert outer.centre == pytest.approx(inner.centre)
    assert outer.radius - inner.radius == pytest.approx(20)


test_what_does_not_go_together_is_named = names(
    "bracket-hook",
    ({"belly": 52}, "belly"),
    ({"end_radius": 16.01}, "end_radius"),
    ({"tip": 10}, "tip"),
    ({"bolt": "by-diameter", "hole": 32}, "hole"),
    ({"bolt": "M30"}, "bolt"),
    ({"top_mark": 4.5}, "top_mark"),
    ({"top_mark": 111}, "top_mark"),
    ({"pitch": 9}, "pitch"),
    ({"pitch": 93}, "pitch"),
)
