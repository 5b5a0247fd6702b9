"""What the press brake asks of a flat, against tests/reference/bending.csv and its formulas."""

import csv
import math
from dataclasses import replace
from pathlib import Path

import pytest

from parts.forming.brake import brake
from parts.shop import numbers as shop

SOURCE, *LINES = (Path(__file__).parents[1] / "reference" / "bending.csv").read_text().splitlines()
ROWS = list(csv.DictReader(LINES))


def value(kind, key, condition):
    (row,) = [
        r for r in ROWS if r["kind"] == kind and r["key"] == key and condition in f"{r['material']} {r['condition']}"
    ]
    return float(row["value"])


def test_the_built_in_ratios_are_those_of_the_reference():
    built_in = brake()
    assert built_in.v_opening_ratio == value("V opening", "V/T", "historic range")
    assert built_in.flange_per_v == value("minimum flange", "b/V", "90 degree air bend")
    assert built_in.inside_radius_per_v == value("inside radius", "R/V", "mild steel")
    assert built_in.k_factor == value("K", "air bending", "medium (mild-steel-like) R from T to 3T")


def test_an_outside_flange_is_what_the_reference_derives():
    """b = 0.7 V with V = 8 T is 5.6 T; the flat is shorter by half of 2 OSSB - BA, worked out here in degrees."""
    t, built_in = 3.0, brake()
    r = built_in.inside_radius(t)
    allowance = math.pi / 180 * 90 * (r + built_in.k_factor * t)
    setback = math.tan(math.radians(90) / 2) * (r + t)
    flat = value("minimum flange", "b/T", "V = 8T") * t - (2 * setback - allowance) / 2
    assert built_in.least_flange(t, r) == pytest.approx(flat)
    assert 4 * t < built_in.least_flange(t, r) < 4 * t + r, "the usual shop rules: 4 T, and 4 T + R"


def test_a_larger_radius_wants_a_wider_die_and_more_flange():
    built_in = brake()
    assert built_in.v_opening(3, 3) == 24
    assert built_in.v_opening(3, 8) == 50
    flanges = [built_in.least_flange(3, r) for r in (3.84, 5, 8, 12)]
    assert flanges == sorted(flanges)


def test_holes_stay_within_common_practice():
    """2 T + R for holes and 2.5 T + R for slots, from the tangent or the line: ours is 2.5 T + R from the line."""
    assert brake().hole_clearance(3, 3) == 2.5 * 3 + 3


def test_the_shops_own_brake(own_file):
    built_in = brake()
    own_file.write_text("[brake]\nv_opening_ratio = 6\n")
    assert brake() == replace(built_in, v_opening_ratio=6)
    assert shop.load(shop.edition()).brake.source.startswith("shop's own file; the rest common practice")
