"""Lengths survive writing and reading, and no text at all brings anything but a refusal."""

from fractions import Fraction

from hypothesis import example, given
from hypothesis import strategies as st

from parts.errors import UnitsError
from parts.fasteners.bolts import find_bolt
from parts.units import (
    exact_text,
    format_both,
    format_length,
    parse_angle,
    parse_count,
    parse_length,
    parse_number,
    parse_thickness,
)

UNITS = st.sampled_from(["mm", "in"])
FINITE = st.floats(allow_nan=False, allow_infinity=False)
SHEET_MM = st.floats(min_value=-20_000, max_value=20_000)
DECIMAL = st.decimals(min_value=0, max_value=9999, places=4)
PIECES = """0 1 2 12 1/2 3/16 1.5 .5 1e3 1e999 - -- + / ' " '' # , . e \u00bd \u2033 \u00b0 mm cm in ft ga
    inch and a an of half quarter thirty seconds sixteenths three plate deg m8 M x nan"""
SHOP_TEXT = st.lists(st.sampled_from(PIECES.split()), max_size=8).flatmap(
    lambda words: st.sampled_from(["", " ", "-"]).map(lambda gap: gap.join(words))
)


@given(mm=FINITE, units=UNITS, bare=UNITS)
@example(mm=-0.0, units="in", bare="in")
@example(mm=5e-324, units="in", bare="mm")
@example(mm=1.7976931348623157e308, units="in", bare="mm")
def test_exact_text_turns_back_to_the_same_float(mm, units, bare):
    assert parse_length(exact_text(mm, units), bare=bare) == mm


@given(mm=SHEET_MM, units=UNITS)
def test_exact_text_turns_back_for_lengths_on_a_sheet(mm, units):
    assert parse_length(exact_text(mm, units)) == mm


@given(count=st.integers(-64_000, 64_000))
def test_sixty_fourths(count):
    mm = float(Fraction(count, 64) * Fraction(254, 10))
    assert parse_length(f"{count}/64", bare="mm") == mm
    assert parse_length(f"{Fraction(count, 64)}", bare="in") == mm
    assert parse_length(format_length(mm, "in")) == mm
    assert parse_length(format_both(mm).split(" (")[0]) == mm
    text = exact_text(mm, "in")
    assert parse_length(text) == mm
    assert text.endswith("in")
    assert "." not in text


@given(feet=st.integers(0, 100), inches=st.integers(0, 11), part=st.integers(1, 63), bare=UNITS)
def test_feet_and_inches(feet, inches, part, bare):
    mm = float((feet * 12 + inches + Fraction(part, 64)) * Fraction(254, 10))
    for ft, gap, inch in (("'", "-", '"'), ("ft", " ", "in"), (" foot", "-", "")):
        text = f"{feet}{ft} {inches}{gap}{part}/64{inch}"
        assert parse_length(text, bare=bare) == mm


@given(number=DECIMAL)
def test_decimals_are_read_exactly_on_either_path(number):
    inches, mm = float(Fraction(number) * Fraction(254, 10)), float(number)
    for text in (f"{number:f}", f" {number:f}"):  # the first is plain, the second has to be taken apart
        assert parse_length(text) == mm
        assert parse_length(text, bare="in") == inches
    assert parse_length(f"{number:f}in") == parse_length(f"{number:f} inches") == inches
    assert parse_number(f"{number:f}") == parse_angle(f"{number:f} deg") == mm


@given(mm=SHEET_MM)
def test_printed_length_is_within_its_rounding(mm):
    assert abs(parse_length(format_length(mm, "mm")) - mm) <= 0.000_500_1
    assert abs(parse_length(format_length(mm, "in")) - mm) <= 0.000_500_1 * 25.4


@given(text=st.one_of(st.text(max_size=100), SHOP_TEXT), bare=UNITS)
@example(text="\ud800", bare="mm")
@example(text=",\n0", bare="mm")
@example(text="\U00018d09" * 60, bare="mm")
@example(text=",\ud800", bare="mm")
@example(text="\u0130 1", bare="mm")
@example(text="1e" + "9" * 78, bare="mm")
def test_no_text_brings_anything_but_a_refusal(text, bare):
    readers = [
        lambda: parse_length(text, bare=bare), lambda: parse_thickness(text, bare=bare, gauge="stainless"),
        lambda: parse_thickness(text), lambda: parse_angle(text), lambda: parse_count(text),
        lambda: parse_number(text), lambda: find_bolt(text),
    ]  # fmt: skip
    for read in readers:
        try:
            value = read()
        except UnitsError as refusal:
            sentence = str(refusal)
            assert sentence.endswith(".")
            assert "\n" not in sentence
            assert len(sentence) < 300
            sentence.encode()
        else:
            assert isinstance(value, str) or abs(value) < float("inf")
