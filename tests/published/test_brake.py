"""What the press brake asks of a flat, against tests/reference/bending.csv and its formulas."""

import csv
import math
import re
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from parts.errors import DataError
from parts.forming.allowance import Fold
from parts.forming.brake import brake, brake_at
from parts.shop.numbers import BUILT_IN_EDITION

SOURCE, *LINES = (Path(__file__).parents[1] / "reference" / "bending.csv").read_text().splitlines()
ROWS = list(csv.DictReader(LINES))


def value(kind, key, condition):
    (row,) = [
        r for r in ROWS if r["kind"] == kind and r["key"] == key and condition in f"{r['material']} {r['condition']}"
    ]
    return float(row["value"])


STEEL, STAINLESS, ALUMINIUM = (
    brake_at(BUILT_IN_EDITION, material) for material in ("mild-steel", "stainless-steel", "aluminium")
)


def test_the_built_in_ratios_are_those_of_the_reference():
    assert STEEL.flange_per_v == value("minimum flange", "b/V", "90 degree air bend")
    assert STEEL.radius_per_v == value("inside radius", "R/V", "mild steel")
    assert STAINLESS.radius_per_v == value("inside radius", "R/V", "stainless steel")
    assert ALUMINIUM.radius_per_v == value("inside radius", "R/V", "soft aluminium")


@pytest.mark.parametrize(
    ("condition", "inches"),
    [("historic range", (0.1, 0.25, 5 / 16)), ("11 ga", (0.1196, 0.25, 5 / 16)), ("3/8", (3 / 8, 7 / 16, 1 / 2)),
     ("5/8", (5 / 8, 3 / 4, 1.0))],
)  # fmt: skip
def test_v_openings_are_those_of_the_rows(condition, inches):
    """8 T to 5/16 in, 10 T for 3/8 to 1/2, 12 T from 5/8 (V2); 6 T for thin sheet is the narrow end of it."""
    for inch in inches:
        assert STEEL.v_opening(inch * 25.4) == pytest.approx(value("V opening", "V/T", condition) * inch * 25.4)


LEAST = Path(__file__).parents[1] / "reference" / "min_bend_radius.csv"
LEAST_ROWS = list(csv.DictReader(LEAST.read_text(encoding="utf-8").splitlines()[1:]))
H32 = [row for row in LEAST_ROWS if row["material"] == "aluminium 5052-H32" and Fraction(row["thickness_to"]) >= 1 / 32]
S235 = [row for row in LEAST_ROWS if row["material"].startswith("S235")]


@pytest.mark.parametrize("row", H32, ids=lambda row: row["thickness_to"])
def test_least_radii_of_aluminium_are_those_of_5052_h32(row):
    """Aluminum Association, Aluminum Standards and Data, approximate 90 degree cold-bend radii (V1+memory)."""
    thickness = float(Fraction(row["thickness_to"])) * 25.4
    assert ALUMINIUM.least_radius(thickness) == pytest.approx(float(row["min_inside_radius"]) * thickness)


@pytest.mark.parametrize("row", S235, ids=lambda row: row["thickness_to"])
def test_least_radii_of_steel_are_those_of_s235(row):
    """EN 10025-2, bends across the rolling (memory, fairly sure): at the upper end of each range, and rising to it."""
    thickness = float(row["thickness_to"])
    assert STEEL.least_radius(thickness) == pytest.approx(float(row["min_inside_radius"]))
    assert STEEL.least_radius(thickness - 0.01) < STEEL.least_radius(thickness)


def test_the_rows_of_least_radii_are_whole():
    assert (len(H32), len(S235)) == (7, 10)


@pytest.mark.parametrize("metal", [STEEL, STAINLESS, ALUMINIUM], ids=lambda brake: brake.group)
def test_radius_v_and_k_belong_together(metal):
    """V is that of the thickness or wider, and leaves the default radius, which the metal stands."""
    for thickness in (0.5, 1, 2, 3, 5, 6, 8, 9, 10, 12, 15, 20):
        radius = metal.inside_radius(thickness)
        assert metal.v_opening(thickness, radius) * metal.radius_per_v == pytest.approx(radius)
        assert metal.v_opening(thickness, radius) >= metal.v_opening(thickness)
        assert radius >= metal.least_radius(thickness)


def test_default_radii_by_hand():
    """0.16 x 8 x 3; the least of S235 at 6, 10 and 12 mm; 0.20 x 24 in stainless; 0.14 x 8 in aluminium."""
    assert [STEEL.inside_radius(t) for t in (3, 6, 10, 12)] == pytest.approx([3.84, 8, 16, 20])
    assert STAINLESS.inside_radius(3) == pytest.approx(4.8)
    assert ALUMINIUM.inside_radius(1) == pytest.approx(1.12)


def chart(condition):
    """What the reference says of the least flange: `b/V 0.688 to 0.70`, `b about 5.5T to 6T`, as low and high."""
    (row,) = [r for r in ROWS if r["kind"] == "minimum flange" and condition in r["condition"]]
    low, high = re.search(r"([\d.]+)T? to ([\d.]+)", f"{row['source']} {row['expression']}").groups()
    return float(low), float(high)


@pytest.mark.parametrize("thickness", [1.0, 3.0, 6.0])
def test_a_flange_at_the_limit_is_folded_to_what_the_chart_of_air_bending_has(thickness):
    """The least flat, folded by the allowance that Groover's worked examples hold to, stands 0.688 to 0.70 V high
    over its die, and 5.5 to 6 thicknesses (tests/reference/bending.csv).
    """
    radius = STEEL.inside_radius(thickness)
    folded = Fold(math.pi / 2, radius, thickness, STEEL.neutral(thickness, radius).k)
    outside = STEEL.least_flange(thickness, radius) + folded.deduction / 2
    low, high = chart("90 degree air bend")
    assert low <= outside / STEEL.v_opening(thickness, radius) <= high + 1e-9
    low, high = chart("with V = 8T")
    assert low <= outside / thickness <= high


def test_a_larger_radius_wants_a_wider_die_and_more_flange():
    built_in = STEEL
    assert built_in.v_opening(3, 3) == 24
    assert built_in.v_opening(3, 8) == 50
    flanges = [built_in.least_flange(3, r) for r in (3.84, 5, 8, 12)]
    assert flanges == sorted(flanges)


def test_the_shops_own_brake(own_file):
    own_file.write_text("[brake]\nv_opening_ratio = 6\n")
    own = brake("mild-steel")
    assert own == replace(STEEL, v_opening_ratio=6)
    assert [own.v_opening(t) for t in (3, 12, 20)] == [18, 72, 120]


def test_the_shops_own_radius_is_what_its_brake_leaves(own_file):
    """Over the material's share of V, and over the least of the metal: a finding may say so, the flat goes by it."""
    own_file.write_text("[brake]\ninside_radius_per_v = 0.1\n")
    for material in ("mild-steel", "aluminium"):
        assert brake(material).inside_radius(6) == pytest.approx(4.8)
        assert brake(material).v_opening(6, brake(material).inside_radius(6)) == pytest.approx(48)


@pytest.mark.parametrize(("entry", "sentence"), [
    ("v_opening_ratio = 3", "brake.v_opening_ratio is 3; it must be 0, or at least 4"),
    ("inside_radius_per_v = 0.01", "brake.inside_radius_per_v is 0.01; it must be 0, or at least 0.05"),
    ("k_factor = 0.1", "brake.k_factor is 0.1; it must be 0, or at least 0.2"),
    ("k_factor = -0.4", "brake.k_factor is -0.4; it must be at least 0"),
    ('k_by = "guess"', "brake.k_by is 'guess'; accepted: 'handbook' or 'din-6935'"),
])  # fmt: skip
def test_what_a_brake_cant_be_is_refused_in_a_sentence(own_file, entry, sentence):
    own_file.write_text(f"[brake]\n{entry}\n")
    with pytest.raises(DataError, match=re.escape(f"{own_file}: {sentence}.")):
        brake("mild-steel")
