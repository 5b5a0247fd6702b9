"""Each quantity is printed as a shop says it, to the figures it is worth."""

import math

import pytest

from parts.errors import UnitsError
from parts.units import (
    dimension_text,
    exact_number,
    format_angle,
    format_angle_error,
    format_angle_error_ascii,
    format_apart,
    format_area,
    format_by,
    format_change,
    format_distance,
    format_figures,
    format_fine,
    format_kerf,
    format_mass,
    format_mass_in,
    format_rough,
    format_seconds,
    format_short_time,
    format_size,
    format_size_name,
    format_speed,
    format_temperature,
    format_time,
    length_in_name,
    length_number,
    number_in_field,
    number_in_table,
    number_to_fill_in,
    reckoned_number,
    to_figures,
    with_unit,
)


@pytest.mark.parametrize(
    ("kg", "text"),
    [
        (0.0, "0 kg (0 lb)"),
        (0.000001, "0.000001 kg (0.0000022 lb)"),
        (0.00185, "0.00185 kg (0.00408 lb)"),
        (0.27, "0.27 kg (0.595 lb)"),
        (0.45359237, "0.454 kg (1 lb)"),
        (12.345, "12.3 kg (27.2 lb)"),
        (453.1, "453 kg (999 lb)"),
        (453.59237, "454 kg (1000 lb)"),
        (999.4, "999 kg (2203 lb)"),
        (999.7, "1000 kg (2204 lb)"),
        (1234.5678, "1235 kg (2722 lb)"),
    ],
)
def test_mass(kg, text):
    assert format_mass(kg) == text


@pytest.mark.parametrize(
    ("write", "mm", "in_mm", "in_inches"),
    [
        (length_number, 38.1, "38.1", "1-1/2"),
        (length_number, 10.0, "10", "0.394"),
        (reckoned_number, 38.1, "38.1", "1-1/2"),
        (reckoned_number, 186.813, "186.8", "7.355"),
        (reckoned_number, 88.0151, "88", "3.465"),
        (reckoned_number, 12.35, "12.35", "0.486"),  # a sum of what was typed stays whole
        (reckoned_number, 43.815, "43.8", "1.725"),
        (reckoned_number, 0.3333, "0.33", "0.013"),
        (format_rough, 336.6, "337 mm", "13.3 in"),
        (format_rough, 304.8, "305 mm", "12.0 in"),
        (format_kerf, 1.5, "1.5 mm", "0.059 in"),
        (format_kerf, 0.254, "0.25 mm", "0.010 in"),
        (format_fine, 0.12, "0.120 mm", "0.0047 in"),
        (format_figures, 4.7625, "4.7625 mm", "0.1875 in"),
        (format_figures, 1e-6, "0.000001 mm", "0.0000000393701 in"),
        (exact_number, 38.1, "38.1", "1-1/2"),
        (exact_number, 10.0, "10", "10 mm"),
        (number_in_field, 431.0523, "431.052", "16.9706"),
        (number_to_fill_in, 300.0, "300", "11.811024"),
        (number_to_fill_in, 0.00004, "0", "0.000002"),
        (number_in_table, 6.5031, "6.503", "0.256"),
        (number_in_table, 12.7, "12.7", "0.500"),
        (length_in_name, 6.35, "6.3mm", "0.25in"),
        (format_area, 1.234, "1.23 mm\u00b2", "0.0019 in\u00b2"),
        (format_speed, 42.333333, "2540 mm/min", "100 in/min"),
        (format_speed, 1.0, "60 mm/min", "2.36 in/min"),
        (format_speed, 423.31, "25399 mm/min", "1000 in/min"),
    ],
)
def test_a_quantity_in_either_unit(write, mm, in_mm, in_inches):
    assert (write(mm, "mm"), write(mm, "in")) == (in_mm, in_inches)


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (format_size(100, 60, "mm"), "100 mm x 60 mm"),
        (format_by("1800", "250", "mm"), "1800 by 250 mm"),
        (dimension_text("1-1/2", "in"), '1-1/2"'),
        (dimension_text("38.1", "mm"), "38.1"),
        (format_size(101.6, 10, "in"), "4 in x 0.394 in"),
        (format_distance(2_236_068), "2,236 m"),
        (format_distance(100_000), "100 m"),
        (format_distance(9_999_400), "9,999 m"),
        (format_distance(10_000_000), "10 km"),
        (format_distance(1.8e12), "1,800,000 km"),
        (format_time(0.4), "0 s"),
        (format_time(59.4), "59 s"),
        (format_time(59.6), "1 min 0 s"),
        (format_time(3725), "62 min 5 s"),
        (format_short_time(0.04), "0.0 s"),
        (format_short_time(9.94), "9.9 s"),
        (format_short_time(9.96), "10 s"),
        (format_short_time(83), "1 min 23 s"),
        (format_seconds(0.5), "0.5 s"),
        (format_angle(90.0), "90\u00b0"),
        (format_angle(22.5), "22.5\u00b0"),
        (format_angle(1 / 3, 4), "0.3333\u00b0"),
        (format_angle(1e-7), "0.0000001\u00b0"),
        (format_angle_error(0.012), "0.0120\u00b0"),
        (format_angle_error(-0.012, 3, signed=True), "-0.012\u00b0"),
        (format_angle_error(0.012, signed=True), "+0.0120\u00b0"),
        (format_angle_error_ascii(0.012), "+0.01200 deg"),
        (format_temperature(20), "20 \u00b0C"),
        (format_size_name("M10", "mm"), "M10"),
        (format_size_name("1/2", "in"), "1/2 in"),
        (with_unit("3/16", "in"), "3/16 in"),
        (to_figures(1_234_567.0, 3), "1230000"),
        (to_figures(-0.00001234, 2), "-0.000012"),
    ],
)
def test_said(text, wanted):
    assert text == wanted


@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf])
def test_only_finite_quantities_are_printed(number):
    for write in (to_figures, format_figures, format_mass, format_angle, format_seconds):
        with pytest.raises(UnitsError, match="must be finite"):
            write(number)


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ("155 mm", "149 mm", "155 → 149 mm"),
        ("1-1/2 in", "2 in", "1-1/2 → 2 in"),
        ("45 s", "1 min 5 s", "45 s → 1 min 5 s"),
        ("100 mm x 60 mm", "105 mm x 60 mm", "100 mm x 60 mm → 105 mm x 60 mm"),
        ("90°", "85°", "90° → 85°"),
        ("M12", "M10", "M12 → M10"),
    ],
)
def test_a_change_says_an_only_unit_once(before, after, said):
    assert format_change(before, after) == said


@pytest.mark.parametrize(
    ("units", "text", "both"),
    [("mm", "0.283 kg", "0.283 kg (0.624 lb)"), ("in", "0.624 lb", "0.624 lb (0.283 kg)")],
)
def test_a_mass_in_the_working_units(units, text, both):
    assert (format_mass_in(0.283, units), format_mass(0.283, units)) == (text, both)


def test_two_lengths_that_read_alike_are_told_apart():
    assert format_apart(0.1, 0.1016, "in") == ("0.0039 in", "0.004 in")
    assert format_apart(2.9999, 3.0, "mm") == ("2.9999 mm", "3 mm")
    assert format_apart(3.175, 3.1751, "in") == ("0.125 in", "0.125004 in")  # not 1/8 in and 0.125 in
    assert format_apart(3.175, 3.2, "in") == ("1/8 in", "0.126 in")
    assert format_apart(-28.575, -28.5751, "in") == ("-1.125 in", "-1.125004 in")
    assert format_apart(4.0, 5.0, "mm") == ("4 mm", "5 mm")
    assert format_apart(5.0, 5.0, "mm") == ("5 mm", "5 mm")
