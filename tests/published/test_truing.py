"""Truing against worked examples: the GUM, textbook diagonals and reversal, an affine calibration.

GUM     JCGM 100:2008, Guide to the expression of uncertainty in measurement, annex H.3 and 5.1.2
(a)-(d) diagonals, reversal, propagation and affine least squares, each worked by two routes with 30 digits
        from the formulas named beside it
"""

import math
from dataclasses import replace

import numpy as np
import pytest
import scipy.linalg
import uncertainties
from scipy.optimize import least_squares
from uncertainties import umath

from parts.truing.corrections import corrections
from parts.truing.instruments import shared, warmth
from parts.truing.machine import Table
from parts.truing.model import NAMES, Errors, put, shown
from parts.truing.reading import Reading
from parts.truing.solve import birge_ratio, solve
from parts.truing.tape import from_diagonals, from_triangle, quick_check
from parts.truing.words import Words
from tests.truing_tables import (
    SQUARE,
    Simulated,
    disturbed,
    generator,
    measured_of,
    noisy,
    of_sheet,
    random_errors,
)

# JCGM 100:2008 table H.6: thermometer readings t_k and corrections b_k, in degrees
GUM_H6 = (
    (21.521, -0.171), (22.012, -0.169), (22.512, -0.166), (23.003, -0.159), (23.507, -0.164), (23.999, -0.165),
    (24.513, -0.156), (25.002, -0.157), (25.503, -0.159), (26.010, -0.161), (26.511, -0.160),
)  # fmt: skip


def test_gum_h3_calibration_line():
    """b = y1 + y2 (t - 20): an outside length t - 20 measures t - 20 + b, so that y1 = -k and y2 = sx."""
    s = 0.0035  # its standard deviation of one correction, H.3.3
    readings = [Reading("outside", 0.0, t - 20, t - 20 + b, s) for t, b in GUM_H6]
    found = solve(readings)
    assert -found.estimates["kerf"].value == pytest.approx(-0.1712, abs=5e-5)
    assert found.estimates["scale_x"].value == pytest.approx(0.00218, abs=5e-6)
    assert found.estimates["kerf"].standard_uncertainty == pytest.approx(0.0029, abs=5e-5)
    assert found.estimates["scale_x"].standard_uncertainty == pytest.approx(0.00067, abs=5e-6)
    assert found.correlation["scale_x", "kerf"] == pytest.approx(0.930, abs=5e-4)  # -0.930 for y1 = -k
    assert math.sqrt(found.chi_square / found.freedom) * s == pytest.approx(0.0035, abs=5e-5)
    assert found.disagreeing == ()


class TestDiagonals:
    """(a) sin(delta) = (AC² - BD²) / 4ab, law of cosines; AC² + BD² = 2 (a² + b²), parallelogram law."""

    def test_worked_parallelogram(self):
        found = from_diagonals(300, 200, 360.85, 360.26, 0.1)
        assert math.sin(found.value) == pytest.approx(0.00177272875, abs=5e-12)
        assert found.value == pytest.approx(0.00177272968, abs=5e-12)
        assert math.degrees(found.value) == pytest.approx(0.1015699, abs=5e-8)
        assert pytest.approx(259999.9901, abs=5e-5) == 360.85**2 + 360.26**2
        assert quick_check([300, 200, 360.85, 360.26], 0.1).unequal is None

    def test_worked_uncertainty(self):
        """(c) GUM 5.1.2: u = 4.249e-4 rad of 0.10 mm on each; U = 0.0487 deg."""
        found = from_diagonals(300, 200, 360.85, 360.26, 0.1)
        assert found.standard_uncertainty == pytest.approx(4.249e-4, abs=5e-8)
        assert math.degrees(found.standard_uncertainty) == pytest.approx(0.02435, abs=5e-6)
        assert math.degrees(2 * found.standard_uncertainty) == pytest.approx(0.0487, abs=5e-5)

    @pytest.mark.parametrize(
        ("at", "slope"), [(2, 0.00300708), (3, -0.00300217), (0, -5.909e-6), (1, -8.864e-6)], ids=["d1", "d2", "a", "b"]
    )
    def test_worked_sensitivities(self, at, slope):
        lengths, h = [300.0, 200.0, 360.85, 360.26], 1e-4
        ends = []
        for step in (h, -h):
            moved = [*lengths]
            moved[at] += step
            ends.append(from_diagonals(*moved, 0.1).value)
        assert (ends[0] - ends[1]) / (2 * h) == pytest.approx(slope, rel=3e-4)

    def test_near_square(self):
        """delta = (AC - BD) / (sqrt 2 s): 1 mm of difference on 500 mm is 0.7071 mm over the side."""
        d = 500 * math.sqrt(2)
        found = from_diagonals(500, 500, d + 0.5, d - 0.5, 0.25)
        assert found.value == pytest.approx(0.00141421, abs=5e-9)
        assert 500 * found.value == pytest.approx(0.7071, abs=5e-5)

    def test_near_square_uncertainty(self):
        """(c) u(delta) = u(d) / s: 0.25 mm on 600 mm is 4.167e-4 rad."""
        d = 600 * math.sqrt(2)
        assert from_diagonals(600, 600, d, d, 0.25).standard_uncertainty == pytest.approx(4.167e-4, abs=5e-8)

    def test_general_quadrilateral_by_triangles(self):
        """Angles of AB 300.2, BC 199.8, CD 299.9, DA 200.1, AC 361.0 from its two triangles."""
        ab, bc, cd, da, ac = 300.2, 199.8, 299.9, 200.1, 361.0
        at_b = 90 + math.degrees(from_triangle(ab, bc, ac, 0.1).value)
        at_d = 90 + math.degrees(from_triangle(cd, da, ac, 0.1).value)
        at_a = sum(90 + math.degrees(from_triangle(p, ac, q, 0.1).value) for p, q in ((ab, bc), (da, cd)))
        at_c = sum(90 + math.degrees(from_triangle(p, ac, q, 0.1).value) for p, q in ((bc, ab), (cd, da)))
        assert (at_a, at_b, at_c, at_d) == pytest.approx((89.780083, 90.134174, 89.922963, 90.162779), abs=1e-6)
        assert at_a + at_b + at_c + at_d == pytest.approx(360, abs=1e-9)
        bd = math.sqrt(ab**2 + da**2 - 2 * ab * da * math.cos(math.radians(at_a)))
        assert bd == pytest.approx(360.137363, abs=5e-7)
        # of the triangle A B D, the corner at A again: what was made by cosines comes back
        assert 90 + math.degrees(from_triangle(ab, da, bd, 0.1).value) == pytest.approx(at_a, abs=1e-9)

    @pytest.mark.parametrize("lengths", [(300, 200, 360.85, 360.26), (1219, 914, 1530, 1517), (600, 600, 848, 849)])
    def test_propagation_is_that_of_the_package_uncertainties(self, lengths):
        a, b, d1, d2 = (uncertainties.ufloat(length, 0.1) for length in lengths)
        expected = umath.asin((d1**2 - d2**2) / (4 * a * b))
        found = from_diagonals(*lengths, 0.1)
        assert found.value == pytest.approx(expected.nominal_value, rel=1e-12)
        assert found.standard_uncertainty == pytest.approx(expected.std_dev, rel=1e-9)

    @pytest.mark.parametrize("lengths", [(1219.2, 914.4, 1524), (300, 400, 503), (300, 200, 355)])
    def test_propagation_in_a_triangle_is_that_of_the_package_uncertainties(self, lengths):
        a, b, c = (uncertainties.ufloat(length, 0.5) for length in lengths)
        expected = umath.acos((a**2 + b**2 - c**2) / (2 * a * b)) - math.pi / 2
        found = from_triangle(*lengths, 0.5)
        assert found.value == pytest.approx(expected.nominal_value, abs=1e-12)
        assert found.standard_uncertainty == pytest.approx(expected.std_dev, rel=1e-9)


class TestReversal:
    """(b) A square flipped on a straightedge shows twice its error: e = g / 2L (ISO 230-1)."""

    def test_two_scribed_lines(self):
        found = solve([Reading("reversal", 0.0, 300, 0.60, 0.02)]).estimates
        assert found["out_of_square"].value == pytest.approx(0.001, abs=1e-15)
        assert math.degrees(found["out_of_square"].value) == pytest.approx(0.05730, abs=5e-6)
        assert set(found) == {"out_of_square"}

    def test_run_out_over_250(self):
        """m1 = 0.085, m2 = -0.025: square 0.055 mm, 220 urad; their difference is the gap of the flip."""
        m1, m2 = 0.085, -0.025
        found = solve([Reading("reversal", 0.0, 250, m1 - m2, 0.01)]).estimates["out_of_square"]
        assert 250 * found.value == pytest.approx(0.055, abs=1e-12)
        assert found.value == pytest.approx(220e-6, abs=1e-12)
        assert (m1 + m2) / 2 / 250 == pytest.approx(120e-6, abs=1e-12)


class TestAffine:
    """(d) Distances of an affine calibration: linear least squares, refined by Gauss-Newton; sigma = 0.02 mm."""

    DISTANCES = (
        (400, 0, 400.32), (0, 300, 299.80), (400, 300, 500.36), (-400, 300, 499.87), (200, 300, 360.63),
        (-200, 300, 360.28), (400, 150, 427.60), (-400, 150, 427.35),
    )  # fmt: skip

    @pytest.fixture
    def found(self):
        return solve(
            [Reading("centres", math.atan2(y, x), math.hypot(x, y), m, 0.02) for x, y, m in self.DISTANCES],
        )

    def test_worked_errors(self, found):
        """The table there has shear g where ours has -(1 + sy) sin e, and 1 + sy where ours has (1 + sy) cos e."""
        errors = found.errors
        assert errors.scale_x == pytest.approx(0.00080443, abs=5e-9)
        along = (1 + errors.scale_y) * math.cos(errors.out_of_square) - 1
        assert along == pytest.approx(-0.00073272, abs=5e-9)
        assert -(1 + errors.scale_y) * math.sin(errors.out_of_square) == pytest.approx(0.00100378, abs=5e-9)
        assert found.chi_square * 0.02**2 == pytest.approx(0.0016631, abs=5e-8)
        assert found.freedom == 5

    def test_worked_uncertainties(self, found):
        expected = {"scale_x": 2.8e-5, "scale_y": 4.3e-5, "out_of_square": 4.4e-5}
        for name, u in expected.items():
            assert found.estimates[name].standard_uncertainty == pytest.approx(u, abs=5e-7)

    def test_what_it_was_made_from_lies_within(self, found):
        made = {"scale_x": 0.00080008, "scale_y": -0.00070032, "out_of_square": -0.00099940}
        for name, value in made.items():
            assert found.estimates[name].low95 < value < found.estimates[name].high95

    def test_worked_angle(self, found):
        """Axes at 89.942445 deg by the linear solution; the exact one is 6e-7 rad from it."""
        assert 90 + math.degrees(found.errors.out_of_square) == pytest.approx(89.942445, abs=5e-5)

    def test_worked_inverse(self, found):
        """Its inverse matrix, of the linear solution: [[0.99919621, -0.00100371], [0, 1.00073326]]."""
        x0, y0 = put(found.errors, 1.0, 0.0)
        x1, y1 = put(found.errors, 0.0, 1.0)
        inverse = np.linalg.inv([[x0, x1], [y0, y1]])
        assert inverse == pytest.approx(np.array([[0.99919621, -0.00100371], [0, 1.00073326]]), abs=7e-7)

    def test_corrections_multiply_the_steps_by_the_inverse(self, found):
        steps = corrections(found, Table(steps_per_mm_x=100.0), Words())[0]
        assert steps.new == pytest.approx(99.919621, abs=5e-5)


@pytest.mark.parametrize("seed", range(20))
def test_same_as_scipy_least_squares(seed):
    """scipy's trust-region solver on the same residuals, with derivatives by differences."""
    random = generator(seed)
    table = Simulated(steps_x=100 + random.normal() / 5, steps_y=100 + random.normal() / 5, kerf=1.5 + random.normal())
    readings = noisy(table.readings(SQUARE, 0.03), random.normal(size=len(SQUARE)))

    def gaps(values):
        return [(r.measured - shown(r, Errors(*values))) / r.u for r in readings]

    other = least_squares(gaps, [0.0] * 5, method="lm", x_scale=[1e-3, 1e-3, 1e-3, 1, 1], xtol=1e-15, ftol=1e-15)
    covariance = np.linalg.inv(other.jac.T @ other.jac)
    found = solve(readings)
    for j, name in enumerate(NAMES):
        u = math.sqrt(covariance[j, j])
        assert found.estimates[name].value == pytest.approx(other.x[j], abs=1e-6 * u + 1e-12)
        assert found.estimates[name].standard_uncertainty == pytest.approx(u * found.birge_ratio, rel=1e-5)
    assert found.birge_ratio == pytest.approx(max(1, math.sqrt(2 * other.cost / found.freedom)), rel=1e-9)
    assert found.chi_square == pytest.approx(2 * other.cost, rel=1e-9, abs=1e-9)


PIECES = ("square-test", "square-frame", "square-targets", "gauge-kerf-comb", "gauge-hole-ladder")


@pytest.mark.parametrize("slug", PIECES)
@pytest.mark.parametrize("seed", range(3))
def test_same_as_generalised_least_squares_by_scipy(slug, seed):
    """The textbook's way: the covariance diag(u u) + C C' whole, its Cholesky factor, scipy's solver."""
    random, readings = generator(seed), of_sheet(slug)
    off = disturbed(readings, "as said", random)
    readings = measured_of(readings, random_errors(random), off)
    common = np.array(shared(readings))
    covariance = np.diag([r.u**2 for r in readings]) + common.T @ common
    lower = scipy.linalg.cholesky(covariance, lower=True)
    found = solve(readings)
    names = tuple(found.estimates)

    def gaps(values):
        errors = Errors(**dict(zip(names, values, strict=True)))
        return scipy.linalg.solve_triangular(lower, [r.measured - shown(r, errors) for r in readings], lower=True)

    scale = [{"kerf": 1, "hole_shrinkage": 1}.get(name, 1e-3) for name in names]
    other = least_squares(gaps, [0.0] * len(names), method="lm", x_scale=scale, xtol=1e-15, ftol=1e-15)
    inverse = np.linalg.inv(other.jac.T @ other.jac)
    assert found.chi_square == pytest.approx(2 * other.cost, rel=1e-6)
    assert found.freedom == len(readings) - len(names)
    for j, name in enumerate(names):
        u = math.sqrt(inverse[j, j])
        assert found.estimates[name].value == pytest.approx(other.x[j], abs=1e-5 * u)
        if not found.disagreeing:
            assert found.estimates[name].standard_uncertainty == pytest.approx(u * found.birge_ratio, rel=1e-5)


def test_gum_5_2_2_ten_resistors_calibrated_against_one_standard():
    """R_ref = R_1 + ... + R_10, each 1000 ohm by the same standard known to 100 mohm: u = 1 ohm, not 0.32 ohm.

    Here ten lengths of 1000 mm known by the same error to 0.1 mm: their scale is sure to 1 in 10,000, not 0.32.
    """
    ten = [Reading("centres", 0.0, 1000, 1000, 1e-6, piece="standard", warmth_u=1e-4) for _ in range(10)]
    assert 10_000 * solve(ten).estimates["scale_x"].standard_uncertainty == pytest.approx(1.0, rel=1e-6)
    apart = [replace(r, piece=str(i)) for i, r in enumerate(ten)]
    assert 10_000 * solve(apart).estimates["scale_x"].standard_uncertainty == pytest.approx(0.32, abs=0.005)


@pytest.mark.parametrize("piece_c", [-5.0, 20.0, 31.0])
@pytest.mark.parametrize("instrument_c", [5.0, 20.0, 28.0])
@pytest.mark.parametrize(("metal", "grows"), [("steel", 12e-6), ("aluminium", 23e-6)])
def test_gum_h1_lengths_are_compared_at_their_temperatures(metal, grows, piece_c, instrument_c):
    """l (1 + a t) = l_s (1 + a_s t_s) + d (JCGM 100:2008, H.1.1): read with a scale of 11.5e-6 per kelvin."""
    read = (1 + grows * (piece_c - 20)) / (1 + 11.5e-6 * (instrument_c - 20)) - 1
    assert warmth(metal, piece_c, instrument_c).growth == pytest.approx(read, abs=1e-7)
    long = [Reading("centres", 0.0, 300, 300 * (1 + read), 0.001, growth=warmth(metal, piece_c, instrument_c).growth)]
    assert solve(long).estimates["scale_x"].value == pytest.approx(0, abs=2e-7)


def test_what_is_not_told_of_temperatures_is_as_unsure_as_its_source_says():
    """15 K, 8 K and 2 K over the root of 3, and 12e-6 and 11.5e-6 per kelvin."""
    apart, room, told = (limit / math.sqrt(3) for limit in (15, 8, 2))
    assert warmth().u == pytest.approx(math.hypot(12e-6 * apart, 0.5e-6 * room), rel=0.01)
    assert warmth("steel", 31.0).u == pytest.approx(math.hypot(12e-6 * told, 11.5e-6 * room), rel=0.05)
    assert warmth("steel", 31.0, 28.0).u == pytest.approx(math.hypot(12e-6, 11.5e-6) * told, rel=0.05)
    assert warmth("aluminium").u == pytest.approx(math.hypot(23e-6 * apart, 11.5e-6 * room), rel=0.01)


def test_birge_ratio_of_a_worked_mean():
    """Three values with u 1 and mean 0, -2, 0 and 2: chi-square 8 over 2, ratio 2; u of the mean 2 / root 3."""
    readings = [Reading("centres", 0.0, 1000, 1000 + gap, 1.0) for gap in (-2, 0, 2)]
    found = solve(readings)
    assert (found.chi_square, found.freedom, found.birge_ratio) == pytest.approx((8, 2, 2), rel=1e-12)
    assert 1000 * found.estimates["scale_x"].standard_uncertainty == pytest.approx(2 / math.sqrt(3), rel=1e-12)
    assert birge_ratio(1.0, 2) == birge_ratio(0.0, 0) == 1.0
