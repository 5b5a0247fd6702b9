"""What the press brake asks of a flat, against tests/reference/bending.csv and its formulas."""

import csv
import math
import re
from dataclasses import replace
from pathlib import Path

import pytest

from parts.forming.allowance import Fold
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


def chart(condition):
    """What the reference says of the least flange: `b/V 0.688 to 0.70`, `b about 5.5T to 6T`, as low and high."""
    (row,) = [r for r in ROWS if r["kind"] == "minimum flange" and condition in r["condition"]]
    low, high = re.search(r"([\d.]+)T? to ([\d.]+)", f"{row['source']} {row['expression']}").groups()
    return float(low), float(high)


@pytest.mark.parametrize("thickness", [1.0, 3.0, 6.0])
def test_a_flange_at_the_limit_is_folded_to_what_the_chart_of_air_bending_has(thickness):
    """The least flat, folded by the allowance that Groover's worked examples hold to, stands 0.688 to 0.70 V high
    over the die of 8 thicknesses, and 5.5 to 6 thicknesses (tests/reference/bending.csv).
    """
    built_in = brake()
    radius = built_in.inside_radius(thickness)
    folded = Fold(math.pi / 2, radius, thickness, built_in.k_factor)
    outside = built_in.least_flange(thickness, radius) + folded.deduction / 2
    low, high = chart("90 degree air bend")
    assert low <= outside / (8 * thickness) <= high + 1e-9
    low, high = chart("with V = 8T")
    assert low <= outside / thickness <= high


def test_a_larger_radius_wants_a_wider_die_and_more_flange():
    built_in = brake()
    assert built_in.v_opening(3, 3) == 24
    assert built_in.v_opening(3, 8) == 50
    flanges = [built_in.least_flange(3, r) for r in (3.84, 5, 8, 12)]
    assert flanges == sorted(flanges)


@pytest.mark.parametrize("thickness", [1.0, 3.0, 10.0])
@pytest.mark.parametrize("radii", [0.5, 1.0, 2.0, 4.0])
def test_a_hole_at_the_limit_is_two_thicknesses_beyond_the_end_of_the_bend(thickness, radii):
    """2 T of metal that wasn't bent, from the tangent on (common practice; the reference's rows go by the tangent).

    Half of the arc at mid thickness is all that can lie between the bend line and the tangent.
    """
    radius = radii * thickness
    tangent = (radius + thickness / 2) * math.radians(90) / 2
    assert brake().hole_clearance(thickness, radius) - tangent >= 2 * thickness - 1e-9


def test_the_shops_own_brake(own_file):
    built_in = brake()
    own_file.write_text("[brake]\nv_opening_ratio = 6\n")
    assert brake() == replace(built_in, v_opening_ratio=6)
    assert shop.load(shop.edition()).brake.source.startswith("shop's own file; the rest common practice")
