"""What a person types becomes exactly this many millimetres, or exactly this sentence."""

import itertools
import math
import sys

import pytest

from parts.errors import UnitsError
from parts.units import (
    MM_PER_IN,
    exact_text,
    format_both,
    format_length,
    parse_angle,
    parse_count,
    parse_length,
    parse_number,
    parse_thickness,
)
from parts.units.gauge import GAUGES, gauge_table

LENGTH = "write a length such as 100 mm, 3/16 in, 1-1/2 in or 2 ft 3 in."
GAUGED = "write a thickness such as 6 mm, 3/16 in or 16 ga."
UNGAUGED = "write a thickness such as 6 mm, 3/16 in or 0.25 in."
HYPHEN = "gives two numbers, and a hyphen joins a whole number to its fraction, never subtracts"
COMMA = "has a comma, which could be a decimal or a thousands mark"

LENGTHS_MM = [
    ("100", 100.0), ("100mm", 100.0), ("100 mm", 100.0), ("  100  ", 100.0), ("10 cm", 100.0),
    ("1.2 m", 1200.0), ("100 MM", 100.0), ("100 millimetres", 100.0), ("1 meter", 1000.0),
    ("4.7625mm", 4.7625), ("5.", 5.0),
    ("+5", 5.0), ("-5", -5.0), ("\u22125", -5.0), ("0", 0.0), ("-0", 0.0), ("1e3", 1000.0),
    ("1.5E-3", 0.0015),
    ("3/16", 4.7625), ("3/16 in", 4.7625), ('3/16"', 4.7625), ("3/16 in.", 4.7625), ("3/16 mm", 0.1875),
    ("1-1/2", 38.1), ("1-1/2 in", 38.1), ("1 1/2 in", 38.1), ('1 1/2"', 38.1), ("1 - 1/2 in", 38.1),
    ("1\u20131/2", 38.1), ("-1-1/2 in", -38.1), ("1\u00bd in", 38.1), ("1-\u00bd in", 38.1), ("\u00bc", 6.35),
    ('\u215c"', 9.525), ("\u00be in", 19.05), ("\u215e", 22.225), ("1\u20442 in", 12.7),
    (".5in", 12.7), ("2in", 50.8), ("2 Inches", 50.8), ("1 inch", 25.4), ("4-inch", 101.6),
    ("10 thou", 0.254),
    ("2 ft", 609.6), ("2'", 609.6), ("2 FEET", 609.6), ("1 foot", 304.8), ("2.5ft", 762.0),
    ("2ft 3in", 685.8), ("2ft3", 685.8), ("2'3\"", 685.8), ("2'-3\"", 685.8), ("2' 3-1/2\"", 698.5),
    ("2\u2032 3\u00bd\u2033", 698.5), ("2\u2019 3\u201d", 685.8), ("2'3''", 685.8), ("2 ft 3", 685.8),
    ("2 ft and 3 in", 685.8), ("2' 3/16", 614.3625), ("-2' 3\"", -685.8),
    ("three sixteenths", 4.7625), ("three-sixteenths", 4.7625), ("three sixteenths of an inch", 4.7625),
    ("quarter", 6.35), ("quarter inch", 6.35), ("a quarter of an inch", 6.35), ("half inch", 12.7),
    ("half-inch", 12.7), ("half an inch", 12.7), ("three-quarter inch", 19.05), ("five eighths", 15.875),
    ("three thirty-seconds", 2.38125), ("five sixty fourths", 1.984375), ("twenty-four inches", 609.6),
    ("two foot three", 685.8), ("two foot", 609.6), ("one and a half inches", 38.1),
    ("inch and a half", 38.1),
    ("an inch and a quarter", 31.75), ("two inches and three eighths", 60.325), ("forty mm", 40.0),
]  # fmt: skip


@pytest.mark.parametrize(("text", "mm"), LENGTHS_MM, ids=[repr(text) for text, _ in LENGTHS_MM])
def test_length_is_exact(text, mm):
    assert parse_length(text) == mm
    assert math.copysign(1, parse_length(text)) == math.copysign(1, mm)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("1.5", 38.1), ("2", 50.8), ("0.1", 2.54), ("3/16", 4.7625), ("-2", -50.8), ("2mm", 2.0),
        ("2 ft 3", 685.8), ("one", 25.4),
    ],
)  # fmt: skip
def test_bare_numbers_are_in_the_working_units(text, mm):
    assert parse_length(text, bare="in") == mm


REFUSED = [
    ("", f"Nothing was written: {LENGTH}"),
    (" \t", f"Nothing was written: {LENGTH}"),
    ("1,5", "'1,5' has a comma: write 1.5 with a point."),
    ("0,125 in", "'0,125 in' has a comma: write 0.125 in with a point."),
    ("1500,125", "'1500,125' has a comma: write 1500.125 with a point."),
    ("12,0625", "'12,0625' has a comma: write 12.0625 with a point."),
    ("100,5 mm", "'100,5 mm' has a comma: write 100.5 mm with a point."),
    ("-100,250", f"'-100,250' {COMMA}: write -100.250 with a point, or -100250 without the comma."),
    ("1,000", f"'1,000' {COMMA}: write 1.000 with a point, or 1000 without the comma."),
    ("1,000.5", f"'1,000.5' {COMMA}: write decimals with a point and thousands without a mark."),
    ("nan", f"'nan' is neither a number nor a unit known here: {LENGTH}"),
    ("inf", f"'inf' is neither a number nor a unit known here: {LENGTH}"),
    ("1e400", f"'1e400' is too large to work with: {LENGTH}"),
    ("1e-400", f"'1e-400' is too small to work with: {LENGTH}"),
    ("1e99999999999999", f"'1e99999999999999' is too large to work with: {LENGTH}"),
    ("3/0", f"'3/0' divides by zero: {LENGTH}"),
    ("1-1/0 in", f"'1-1/0 in' divides by zero: {LENGTH}"),
    ("1.5/2", f"'1.5/2' has a decimal inside a fraction: {LENGTH}"),
    ("1-3/2", f"'1-3/2' is not a whole number and a fraction less than one: {LENGTH}"),
    ("1-2/2", f"'1-2/2' is not a whole number and a fraction less than one: {LENGTH}"),
    ("1.5-1/2", f"'1.5-1/2' is not a whole number and a fraction less than one: {LENGTH}"),
    ("5 mm mm", f"'5 mm mm' has two units in a row: {LENGTH}"),
    ("mm", f"'mm' has a unit without a number: {LENGTH}"),
    ("5 parsec", f"'5 parsec' has 'parsec', which is neither a number nor a unit known here: {LENGTH}"),
    ("2 ft 30 mm", f"'2 ft 30 mm' mixes metric and inch units: {LENGTH}"),
    ("1 in 5mm", f"'1 in 5mm' mixes metric and inch units: {LENGTH}"),
    ("1 m 20 cm", f"'1 m 20 cm' gives more than one length, and only feet and inches go together: {LENGTH}"),
    ("3 in 2 ft", f"'3 in 2 ft' gives more than one length, and only feet and inches go together: {LENGTH}"),
    ("two feet and a half", f"'two feet and a half' could mean feet or inches at its end: {LENGTH}"),
    ("5-3", f"'5-3' {HYPHEN}: {LENGTH}"),
    ("1.2.3", f"'1.2.3' {HYPHEN}: {LENGTH}"),
    ("5in-3in", f"'5in-3in' gives more than one length, and only feet and inches go together: {LENGTH}"),
    ("16 ga", f"'16 ga' is a gauge, which is the name of a thickness and not a plain measure: {LENGTH}"),
    ("#16", f"'#16' is a gauge, which is the name of a thickness and not a plain measure: {LENGTH}"),
    ("45\u00b0", f"'45\u00b0' is an angle: {LENGTH}"),
    ("3/", f"'3/' stops where a number should follow: {LENGTH}"),
    ("1/2/3", f"'1/2/3' has '/' where it can't be understood: {LENGTH}"),
    ("--5", f"'--5' has '-' where it can't be understood: {LENGTH}"),
    ("10\u00b2", f"'10\u00b2' has '\u00b2' where it can't be understood: {LENGTH}"),
    ("\u0663", f"'\u0663' has '\u0663' where it can't be understood: {LENGTH}"),
    ("5\x00", f"'5\\x00' has '\\x00' where it can't be understood: {LENGTH}"),
    ("1_000", f"'1_000' has '_' where it can't be understood: {LENGTH}"),
]


@pytest.mark.parametrize(("text", "sentence"), REFUSED, ids=[repr(text) for text, _ in REFUSED])
def test_refusal_says_what_why_and_what_would_do(text, sentence):
    with pytest.raises(UnitsError) as refusal:
        parse_length(text)
    assert str(refusal.value) == sentence


@pytest.mark.parametrize("length", [79, 80], ids=["under", "at"])
def test_longest_text(length):
    assert parse_length("5 mm".rjust(length)) == 5.0


def test_longer_text_is_refused_with_a_short_echo():
    with pytest.raises(UnitsError) as refusal:
        parse_length("5 mm".ljust(81))
    assert str(refusal.value) == f"'5 mm{' ' * 36}...' is 81 characters long: {LENGTH}"


def test_the_largest_and_smallest_floats_pass():
    assert parse_length("1.7976931348623157e308") == 1.7976931348623157e308
    assert parse_length("5e-324") == 5e-324


@pytest.mark.parametrize("piece", ["9x", "1/", "- ", "twenty ", ",", " ", ".", "1e9"])
def test_no_text_takes_long(piece):
    """The calls to read it grow no faster than it does, and one that is too long is refused by its length alone."""
    short, longest, beyond = (calls_to_refuse((piece * length)[:length]) for length in (40, 80, 100_000))
    assert longest <= 2 * short + MOST_AT_ONCE
    assert beyond <= MOST_AT_ONCE


MOST_AT_ONCE = 60
"""Calls that a refusal takes by itself, however short the text."""


def calls_to_refuse(text):
    """How many functions are called to refuse a text."""
    calls = itertools.count()

    def count(_, event, __):
        if event in ("call", "c_call"):
            next(calls)

    before = sys.getprofile()
    sys.setprofile(count)
    try:
        parse_length(text)
    except UnitsError:
        return next(calls)
    finally:
        sys.setprofile(before)
    raise AssertionError(f"{text[:20]!r} isn't refused")


GAUGED_MM = [
    ("16 ga", 1.51892), ("16ga", 1.51892), ("16 GAUGE", 1.51892), ("16 gage", 1.51892), ("16-gauge", 1.51892),
    ("16g", 1.51892), ("#16", 1.51892), ("# 16", 1.51892), ("gauge 16", 1.51892), ("sixteen gauge", 1.51892),
    ("16 ga sheet", 1.51892), ("quarter plate", 6.35), ("3/8 plate", 9.525), ("half-inch plate", 12.7),
    ("6", 6.0), ("6 mm", 6.0), ("3/16", 4.7625), ("0.0598 in", 1.51892),
]  # fmt: skip


@pytest.mark.parametrize(("text", "mm"), GAUGED_MM)
def test_thickness(text, mm):
    assert parse_thickness(text, gauge="steel") == mm


@pytest.mark.parametrize(
    ("gauge", "inches"),
    [("steel", "0.0598"), ("galvanized", "0.0635"), ("stainless", "0.0625"), ("aluminium", "0.0508")],
)
def test_one_gauge_number_is_another_thickness_in_each_table(gauge, inches):
    assert parse_thickness("16 ga", gauge=gauge) == parse_length(f"{inches} in")


@pytest.mark.parametrize("gauge", GAUGES)
def test_gauge_just_inside_at_and_outside_the_table(gauge):
    low, high = (8, 30) if gauge == "galvanized" else (3, 30)
    table = gauge_table(gauge).thickness_mm
    for number in (low, low + 1, high - 1, high):
        assert parse_thickness(f"{number} ga", gauge=gauge) == table[number]
    for number in (low - 1, high + 1):
        with pytest.raises(UnitsError) as refusal:
            parse_thickness(f"{number} ga", gauge=gauge)
        assert str(refusal.value) == (
            f"'{number} ga' is not in the {gauge} gauge table, which goes from {low} to {high}: {GAUGED}"
        )


@pytest.mark.parametrize(
    ("text", "gauge", "sentence"),
    [
        ("16 ga", None, f"'16 ga' is a gauge, and this material is not sold by gauge: {UNGAUGED}"),
        ("16.5 ga", "steel", "'16.5 ga' is not a whole gauge number: write a gauge such as 16 ga."),
        ("3/16 ga", "steel", "'3/16 ga' is not a whole gauge number: write a gauge such as 16 ga."),
        ("16 ga 2 mm", "steel", "'16 ga 2 mm' is not a whole gauge number: write a gauge such as 16 ga."),
        ("-16 ga", "steel", f"'-16 ga' has '-' where it can't be understood: {GAUGED}"),
        ("ga", "steel", f"'ga' stops where a number should follow: {GAUGED}"),
        ("plate", None, f"'plate' is neither a number nor a unit known here: {UNGAUGED}"),
        ("", None, f"Nothing was written: {UNGAUGED}"),
    ],
)
def test_thickness_refused(text, gauge, sentence):
    with pytest.raises(UnitsError) as refusal:
        parse_thickness(text, gauge=gauge)
    assert str(refusal.value) == sentence


@pytest.mark.parametrize(
    ("read", "text", "value"),
    [
        (parse_angle, "45", 45.0), (parse_angle, "45deg", 45.0), (parse_angle, "45\u00b0", 45.0),
        (parse_angle, "22 1/2 degrees", 22.5), (parse_angle, "-30", -30.0), (parse_angle, "1e-07", 1e-07),
        (parse_count, "3", 3), (parse_count, "three", 3), (parse_count, "3.0", 3), (parse_count, "-3", -3),
        (parse_number, "2.5", 2.5), (parse_number, "1/2", 0.5), (parse_number, "0.1", 0.1),
        (parse_number, "ten", 10.0),
    ],
)  # fmt: skip
def test_angle_count_and_number(read, text, value):
    assert read(text) == value
    assert type(read(text)) is type(value)


@pytest.mark.parametrize(
    ("read", "text", "sentence"),
    [
        (parse_angle, "", "Nothing was written: write degrees such as 45, 22.5 or 30 deg."),
        (parse_angle, "0.5 rad", "'0.5 rad' has 'rad', which is neither a number nor a unit known here: "
                                 "write degrees such as 45, 22.5 or 30 deg."),
        (parse_angle, "45 mm", "'45 mm' has a unit that doesn't belong here: "
                               "write degrees such as 45, 22.5 or 30 deg."),
        (parse_count, "2.5", "'2.5' is not a whole number: write a whole number such as 4."),
        (parse_count, "3 mm", "'3 mm' has a unit that doesn't belong here: write a whole number such as 4."),
        (parse_count, "1e400", "'1e400' is too large to work with: write a whole number such as 4."),
        (parse_number, "50%", "'50%' has '%' where it can't be understood: write a number such as 2.5."),
        (parse_number, "1,5", "'1,5' has a comma: write 1.5 with a point."),
    ],
)  # fmt: skip
def test_angle_count_and_number_refused(read, text, sentence):
    with pytest.raises(UnitsError) as refusal:
        read(text)
    assert str(refusal.value) == sentence


@pytest.mark.parametrize(
    ("mm", "in_mm", "in_inches", "both"),
    [
        (38.1, "38.1 mm", "1-1/2 in", "1-1/2 in (38.1 mm)"),
        (4.7625, "4.763 mm", "3/16 in", "3/16 in (4.76 mm)"),
        (103.584375, "103.584 mm", "4-5/64 in", "4-5/64 in (103.58 mm)"),
        (698.5, "698.5 mm", "27-1/2 in", "27-1/2 in (698.5 mm)"),
        (25.4, "25.4 mm", "1 in", "1 in (25.4 mm)"),
        (10.0, "10 mm", "0.394 in", "10 mm (0.394 in)"),
        (6.0, "6 mm", "0.236 in", "6 mm (0.236 in)"),
        (1 / 3, "0.333 mm", "0.013 in", "0.333 mm (0.013 in)"),
        (0.0, "0 mm", "0 in", "0 in (0 mm)"),
        (-0.0001, "0 mm", "0 in", "0 mm (0 in)"),
        (-38.1, "-38.1 mm", "-1-1/2 in", "-1-1/2 in (-38.1 mm)"),
        (1000.0, "1000 mm", "39.37 in", "1000 mm (39.37 in)"),
    ],
)
def test_printed(mm, in_mm, in_inches, both):
    assert (format_length(mm, "mm"), format_length(mm, "in"), format_both(mm)) == (in_mm, in_inches, both)


@pytest.mark.parametrize(
    ("off_mm", "text"),
    [(0.9e-9, "3/16 in"), (1.1e-9, "0.188 in"), (-0.9e-9, "3/16 in"), (-1.1e-9, "0.187 in")],
    ids=["under", "over", "under below", "over below"],
)
def test_a_fraction_is_printed_only_where_exact(off_mm, text):
    assert format_length(4.7625 + off_mm, "in") == text


def test_far_beyond_any_sheet_inches_are_decimals():
    assert format_length(25.4 * 39370, "in") == "39370 in"
    assert format_length(25.4 * 39370.015625, "in") == "39370-1/64 in"  # 999998.4 mm
    assert format_length(25.4 * 39370.515625, "in") == "39370.516 in"  # 1000011.1 mm


@pytest.mark.parametrize(
    ("mm", "units", "text"),
    [
        (38.1, "mm", "38.1mm"), (38.1, "in", "1-1/2in"), (100.0, "mm", "100mm"), (1200.0, "mm", "1200mm"),
        (4.7625, "in", "3/16in"), (10.0, "in", "10mm"), (312.42, "in", "12.3in"), (10.0076, "in", "0.394in"),
        (math.nextafter(38.1, 0), "in", "1.4999999999999998in"), (0.0, "mm", "0mm"), (-0.0, "in", "0in"),
        (-12.7, "in", "-1/2in"), (1e22, "mm", "1e22mm"), (1e-9, "mm", "1e-9mm"), (1e300, "in", "1e300mm"),
    ],
)  # fmt: skip
def test_exact_text(mm, units, text):
    assert exact_text(mm, units) == text
    assert parse_length(text) == mm


@pytest.mark.parametrize("mm", [math.nan, math.inf, -math.inf])
def test_only_finite_lengths_are_printed(mm):
    for write in (format_both, lambda mm: format_length(mm, "mm"), lambda mm: exact_text(mm, "in")):
        with pytest.raises(UnitsError, match=f"^{mm} mm is not a length: it must be finite\\.$"):
            write(mm)


def test_one_inch():
    assert parse_length("1 in") == MM_PER_IN == 25.4
