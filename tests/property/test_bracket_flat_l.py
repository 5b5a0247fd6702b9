"""Flat L bracket: area and edge as the sum of pieces worked out by hand, loops against shapely."""

import math

import pytest
from hypothesis import given

from parts.templates.bracket.flat_l import TEMPLATE
from tests.depth import tried
from tests.property.flattened import SOURCE, published_hole
from tests.strategies import parts_of

many = tried(200)


def openings_of(v, leg):
    """Area and edge of the openings of one leg: circles, and what a slot is longer than one."""
    each, d = v[f"holes_{leg}"] * v[f"rows_{leg}"], published_hole(v, f"bolt_{leg}", f"hole_{leg}")
    straight = v[f"slot_{leg}"] - d if v[f"slot_{leg}"] else 0.0
    return each * (math.pi * d**2 / 4 + straight * d), each * (math.pi * d + 2 * straight)


def area(v):
    """Leg A, what leg B stands out past it, the rounded corners off, the inside corner filled or relieved.

    A quarter turn of radius r leaves (1 - pi/4) r² of its corner's square. The relief is half a disc whose
    diameter cuts the triangle of legs r sqrt 2, area r², off the open side.
    """
    square = v["leg_a"] * v["width_a"] + (v["leg_b"] - v["width_a"]) * v["width_b"]
    rounded = (1 - math.pi / 4) * (4 * v["corner_radius"] ** 2 + v["heel_radius"] ** 2)
    r = v["inside_radius"]
    inside = (1 - math.pi / 4) * r**2 if v["inside"] == "radius" else r**2 - math.pi * r**2 / 2
    return square - rounded + inside - openings_of(v, "a")[0] - openings_of(v, "b")[0]


def edge(v):
    """Both legs there and back; a quarter turn for two radii at each corner, half a turn at the relief."""
    r = v["inside_radius"]
    quarters = 4 * v["corner_radius"] + v["heel_radius"] + (r if v["inside"] == "radius" else 0.0)
    relief = (math.pi - 2 * math.sqrt(2)) * r if v["inside"] == "relief" else 0.0
    outline = 2 * (v["leg_a"] + v["leg_b"]) - (2 - math.pi / 2) * quarters + relief
    return outline + openings_of(v, "a")[1] + openings_of(v, "b")[1]


@many
@given(parts_of(TEMPLATE))
def test_area_and_edge_are_those_worked_out_by_hand(part):
    v = part.record.parameters
    assert part.measures.area_mm2 == pytest.approx(area(v), rel=1e-9), SOURCE
    assert part.measures.cut_length_mm == pytest.approx(edge(v), rel=1e-9), SOURCE
    assert part.measures.width_mm == pytest.approx(v["leg_a"], rel=1e-12)
    assert part.measures.height_mm == pytest.approx(v["leg_b"], rel=1e-12)


@many
@given(parts_of(TEMPLATE))
def test_each_length_in_use_is_measured(part):
    v = part.record.parameters
    unused = {name for name in ("corner_radius", "heel_radius", "inside_radius") if not v[name]}
    for leg in "ab":
        holes, by_diameter = v[f"holes_{leg}"], v[f"bolt_{leg}"] == "by-diameter"
        used = {
            "hole": holes > 0 and by_diameter, "first": holes > 0, "pitch": holes > 1,
            "gauge": holes > 0 and v[f"rows_{leg}"] == 2,
            "back_mark": holes > 0 and v[f"back_mark_{leg}"] > 0, "slot": holes > 0 and v[f"slot_{leg}"] > 0,
        }  # fmt: skip
        unused |= {f"{name}_{leg}" for name, is_used in used.items() if not is_used}
    shown = [d.parameter for d in part.profile.dimensions]
    assert {name for name in shown if name not in TEMPLATE.letters} <= {"bolt_a", "bolt_b"}  # which set a slot's width
    assert sorted(name for name in shown if name in TEMPLATE.letters) == sorted(set(TEMPLATE.letters) - unused)
