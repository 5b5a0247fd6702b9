"""Hinge leaf: area and edge as the sum of pieces worked out by hand; two leaves mesh."""

import itertools
import math

import pytest
from hypothesis import given

import parts
from parts.forming import brake
from parts.templates.bracket.hinge_leaf import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.property.pieces import assert_measures, rounded
from tests.property.refused import names
from tests.strategies import parts_of

many = tried(200)


def by_hand(v):
    """Area and edge: the leaf, a rectangle a tab, its free corners off, each root filled."""
    n, first = v["knuckles"], v["which"] == "first"
    tabs = (n + 1) // 2 if first else n // 2
    at_ends = (1 + n % 2) if first else (n + 1) % 2  # tabs that stand at an end have one joint, others two
    widths = tabs * (v["long"] / n - v["joint"]) + at_ends * v["joint"] / 2
    area, edge = v["long"] * v["leaf"] + widths * v["tab"], 2 * (v["long"] + v["leaf"] + tabs * v["tab"])
    free, roots = rounded(2, v["corner_radius"]), rounded(2 * tabs - at_ends, v["root_radius"])
    d, holes = published_hole(v, "bolt", "hole"), v["holes"] * v["rows"]
    area += roots[0] - free[0] - holes * math.pi * d**2 / 4
    return area, edge - free[1] - roots[1] + holes * math.pi * d


@many
@given(parts_of(TEMPLATE, made="tabs"))
def test_area_edge_and_box_are_those_worked_out_by_hand(part):
    v = part.record.parameters
    area, edge = by_hand(v)
    assert_measures(part, area, edge, v["long"], v["leaf"] + v["tab"])


def tips(part):
    """Where the tips of the tabs begin and end along the pin: the level lines at the foot of the drawing."""
    lines = [s for s in part.profile.outside[0].segments if not hasattr(s, "bulge")]
    level = [line for line in lines if abs(line.start[1]) < 1e-6 and abs(line.end[1]) < 1e-6]
    return sorted(tuple(sorted((line.start[0], line.end[0]))) for line in level)


@many
@given(parts_of(TEMPLATE, which="first", made="tabs", root_radius=0.0))
def test_the_second_leaf_fills_the_gaps_of_the_first_but_for_the_play(part):
    v = part.record.parameters
    ours = {name: v[name] for name in ("long", "knuckles", "tab", "joint", "leaf")}
    other = parts.draw("bracket-hinge-leaf", which="second", holes=0, root_radius=0, corner_radius=0, **ours)
    both = sorted(tips(part) + tips(other))
    assert len(both) == v["knuckles"]
    assert both[0][0] == pytest.approx(0, abs=1e-9)
    assert both[-1][1] == pytest.approx(v["long"])
    gaps = [after[0] - before[1] for before, after in itertools.pairwise(both)]
    assert gaps == pytest.approx([v["joint"]] * (v["knuckles"] - 1), abs=1e-9)


test_what_does_not_go_together_is_named = names(
    "bracket-hinge-leaf",
    ({"joint": 30}, "joint"),
    ({"root_radius": 15.51}, "root_radius"),
    ({"corner_radius": 60.01}, "corner_radius"),
    ({"bolt": "by-diameter", "hole": 60}, "hole"),
    ({"bolt": "M36", "leaf": 39}, "bolt"),
    ({"edge_mark": 4.5}, "edge_mark"),
    ({"edge_mark": 55.5}, "edge_mark"),
    ({"rows": 2, "gauge": 9}, "gauge"),
    ({"rows": 3, "gauge": 26}, "rows"),
    ({"end_mark": 4.5}, "end_mark"),
    ({"holes": 14}, "holes"),
)


@pytest.mark.parametrize("long", [93.12975293965086, 197.88165886058786, 218.4188989333493])
def test_the_last_tab_ends_with_the_leaf_where_its_share_of_the_length_is_rounded(long):
    part = parts.draw("bracket-hinge-leaf", long=long)
    assert tips(part)[-1][1] == part.measures.width_mm == long


@pytest.mark.parametrize(("pin", "thickness"), [(6, 2), (12, 3), (16, 6), (30, 5)])
def test_a_rolled_barrel_ends_on_the_face_of_its_leaf(pin, thickness):
    """Turned by its length over the neutral radius, the outer edge of its end is level with the face."""
    part = parts.draw("bracket-hinge-leaf", made="rolled", pin=pin, pin_play=0.5, thickness=thickness, leaf=60)
    inner = (pin + 0.5) / 2
    neutral = inner + brake("mild-steel").neutral(thickness, inner).k * thickness
    turned = (part.record.measures.height_mm - 60) / neutral
    edge = -(inner + thickness) * math.cos(turned)
    assert edge == pytest.approx(-inner, abs=1e-6)
    assert math.pi < turned < 2 * math.pi
    assert len(part.profile.marks) == 3


def test_a_pin_too_thin_to_roll_around_is_refused():
    with pytest.raises(parts.Refused) as refused:
        parts.draw("bracket-hinge-leaf", made="rolled", pin=4, thickness=10)
    (problem,) = refused.value.problems
    assert (problem.parameter, "to roll this metal without cracks" in problem.message) == ("pin", True)
