"""A test bend against worked examples of bends read backwards, Student's table, and the propagation of others."""

import csv
import math
from dataclasses import replace
from pathlib import Path

import pytest
import scipy.special
import uncertainties
from uncertainties import umath

from parts.truing.bend import BendTest, Bent, StripReading, solve_bend
from parts.truing.bend.model import shown
from parts.truing.bend.student import coverage

TABLE = Path(__file__).parents[1] / "reference" / "bending_examples.csv"
ROWS = list(csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines()))
MM = {"mm": 1.0, "in": 25.4}
FAA_K = 0.0078 * 180 / math.pi  # BA = (0.01743 R + 0.0078 T) A, FAA-H-8083-31
FLATS = (58.0, 46.5)
"""The straight pieces beside the bend, mm: Groover's end-of-chapter bracket's; of the others any will do."""

BACKWARDS = [row for row in ROWS if row["quantity"].startswith(("BA", "L90")) and row["R"]]


def strip_of(row, allowance):
    """The strip that a row's bend makes, its legs from the mould point, its flat with the published allowance."""
    unit, angle = MM[row["unit"]], math.radians(float(row["angle_deg"]))
    radius, thickness = float(row["R"]) * unit, float(row["T"]) * unit
    setback = math.tan(angle / 2) * (radius + thickness)
    strip = StripReading(sum(FLATS) + allowance, FLATS[0] + setback, FLATS[1] + setback, angle, 0.03, "1", 1)
    return BendTest(
        "mild-steel", "steel", thickness, thickness, 0.03, 8 * thickness, angle, radius, 0.1, True, (strip,), "mould"
    )


def test_there_are_examples_enough():
    assert {"groover_20_2", "groover_prob_bracket", "groover_prob_L", "smw_90", "mh_formula_0.55"} <= {
        row["id"] for row in BACKWARDS
    }


@pytest.mark.parametrize("row", BACKWARDS, ids=lambda row: f"{row['id']} {row['quantity']}")
def test_a_published_bend_read_backwards_gives_its_k(row):
    unit = MM[row["unit"]]
    found = solve_bend(strip_of(row, float(row["published"]) * unit))
    slack = max(float(row["tolerance"]), 2e-4) * unit  # the source rounds its allowance, and K to three decimals
    k = float(row["K"] or FAA_K)
    assert found.bent.k == pytest.approx(k, abs=slack / (found.test.angle * found.test.thickness)), row["source"]
    assert found.estimates["allowance"].value == pytest.approx(float(row["published"]) * unit, abs=1e-9)


def test_sheet_metal_workbook_deduction():
    """T 0.050, R 0.032 in: BD 0.079, so legs of 0.740 and 0.420 have a flat of 1.081 in and K 0.4469."""
    (row,) = (row for row in ROWS if row["id"] == "smw_90" and row["quantity"] == "BD")
    t, r, bd = (float(row[name]) * 25.4 for name in ("T", "R", "published"))
    legs = 0.740 * 25.4, 0.420 * 25.4
    strip = StripReading(sum(legs) - bd, *legs, math.pi / 2, 0.03, "1", 1)
    test = BendTest("mild-steel", "steel", t, t, 0.03, 8 * t, math.pi / 2, r, 0.1, True, (strip,), "mould")
    found = solve_bend(test)
    assert found.estimates["deduction"].value == pytest.approx(bd, abs=1e-9)
    assert found.bent.k == pytest.approx(FAA_K, abs=0.0005 * 25.4 / (math.pi / 2 * t))


@pytest.mark.parametrize("freedom", [3, 4, 5, 6, 8, 9, 10, 12, 20, 40, 120])
def test_students_factor_is_that_of_the_tables(freedom):
    """By another library; the tables print 3.182, 2.776, 2.571 ... 1.980."""
    assert coverage(freedom) == pytest.approx(scipy.special.stdtrit(freedom, 0.975), rel=2e-3 if freedom < 4 else 5e-4)


def test_without_end_it_is_the_normal_distributions():
    assert coverage(math.inf) == pytest.approx(scipy.special.ndtri(0.975), abs=1e-8)


def test_uncertainties_are_those_of_another_propagation():
    """One strip, nothing shared but the angle's zero: K written out, its uncertainty by the uncertainties package."""
    own, zero = math.radians(0.1), math.radians(0.12)
    angle, flat, a, b = math.radians(88.5), 150.0, 67.7, 87.8
    strip = StripReading(flat, a, b, angle, 0.03, "1", 1)
    test = BendTest(
        "mild-steel", "steel", 3.0, 2.97, 0.02, 24.0, math.pi / 2, 3.9, 0.3, True, (strip,), tool="",
        thickness_tool="",
    )  # fmt: skip
    found = solve_bend(test)
    turned = uncertainties.ufloat(angle, math.hypot(own, zero))
    t, r = uncertainties.ufloat(2.97, 0.02), uncertainties.ufloat(3.9, 0.3)
    cold, later = (uncertainties.ufloat(1.0, 12e-6 * 8.7) for _ in range(2))  # within 15 K of the caliper, over root 3
    f, x, y = (uncertainties.ufloat(mm, 0.03) for mm in (flat, a, b))
    legs = ((x + y) * later - 2 * t * umath.cos(turned)) / umath.sin(turned)  # the far corner reaches beyond
    k = (2 * umath.tan(turned / 2) * (r + t) - turned * r - (legs - f * cold)) / (turned * t)
    assert found.bent.k == pytest.approx(k.nominal_value, abs=1e-4)
    assert found.estimates["k"].standard_uncertainty == pytest.approx(k.std_dev, rel=2e-3)
    assert found.correlation == pytest.approx(uncertainties.correlation_matrix([k, r])[0, 1], abs=1e-3)


@pytest.mark.parametrize("legs", ["over", "mould"])
@pytest.mark.parametrize("degrees", [88.0, 90.0, 92.0])
def test_the_gradient_is_the_models_own(legs, degrees):
    bent, angle = Bent(0.42, 3.5, 2.9), math.radians(degrees)
    strip = StripReading(150.0, 67.7, 87.8, angle, 0.03)
    test = BendTest("mild-steel", "steel", 3, 2.9, 0.02, 24, math.pi / 2, 3.5, 0.3, True, (strip,), legs)
    at, h = shown(test, strip, bent, 0.003), 1e-5
    for i, name in enumerate(Bent._fields):
        up, down = (shown(test, strip, bent._replace(**{name: bent[i] + d}), 0.003).model for d in (h, -h))
        assert at.gradient[i] == pytest.approx((up - down) / (2 * h), abs=1e-6), name
    up, down = (shown(test, replace(strip, angle=angle + d), bent, 0.003) for d in (h, -h))
    slope = ((up.read - up.model) - (down.read - down.model)) / (2 * h)
    assert at.by_angle == pytest.approx(slope, abs=0.3)
