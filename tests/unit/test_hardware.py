"""Bolt sizes as people write them, and the clearance holes they get."""

import pytest

from parts.errors import UnitsError
from parts.fasteners.bolts import FITS, bolt_diameter_mm, bolts, clearance_hole_mm, find_bolt

SIZES = tuple(bolts())
ACCEPTED = (
    "write M3 to M36 (ISO 273) or 1/4 to 1-1/2 in (ASME B18.2.8), such as M8 or 5/16, or by-diameter to give any hole "
    "by its diameter."
)


def test_sizes_are_metric_then_inch_ascending():
    assert (SIZES[0], SIZES[18], SIZES[19], SIZES[-1]) == ("M3", "M36", "1/4", "1-1/2")
    metric, inch = SIZES[:19], SIZES[19:]
    assert all(size.startswith("M") for size in metric)
    for sizes in (metric, inch):
        diameters = [bolt_diameter_mm(size) for size in sizes]
        assert diameters == sorted(set(diameters))


@pytest.mark.parametrize("size", SIZES)
def test_a_size_is_found_as_itself(size):
    assert find_bolt(size) == find_bolt(f" {size.lower()} bolt") == size


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("m8", "M8"), ("M 8", "M8"), ("M8 bolt", "M8"), ("M16 bolts", "M16"), ("M8x1.25", "M8"),
        ("M8 x 100", "M8"),
        ("M10-1.5", "M10"), ("m3.5", "M3.5"), ("8 mm", "M8"), ("10mm bolt", "M10"), ("M8.0", "M8"),
        ("1/4in", "1/4"), ('1/4"', "1/4"), ("1/4 in", "1/4"), (".25 in", "1/4"), ("3/8 bolt", "3/8"),
        ("\u00bd\"", "1/2"),
        ("half inch", "1/2"), ("half-inch bolt", "1/2"), ("five sixteenths", "5/16"), ("quarter", "1/4"),
        ("1/4-20", "1/4"), ("1/4-20 UNC", "1/4"), ("1-8", "1"), ("1-1/8-7", "1-1/8"), ("1 1/2", "1-1/2"),
        ("1 in", "1"),
        ("6/16", "3/8"), ("3/8 x 2", "3/8"),
        ("M6x1", "M6"), ("M6 x 1.0 x 20", "M6"), ("M10\u00d71.5\u00d730", "M10"), ("M6x1-6H", "M6"),
        ("M8 - 1.25", "M8"),
        ("hex bolt M12", "M12"), ("1/4-20 UNC x 3/4", "1/4"), ("3/8-16 x 1-1/2 in", "3/8"), ("5/16-18UNC-2A", "5/16"),
        ("1/2-13 x 2in", "1/2"), ("1-14 x 3", "1"), ("1-1/4 - 7", "1-1/4"), ("1/4-28 UNF-2B", "1/4"),
    ],
)  # fmt: skip
def test_find_bolt(text, size):
    assert find_bolt(text) == size


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("M2.9", f"'M2.9' is not a size in the tables: {ACCEPTED}"),
        ("M9", f"'M9' is not a size in the tables: {ACCEPTED}"),
        ("M37", f"'M37' is not a size in the tables: {ACCEPTED}"),
        ("15/64", f"'15/64' is not a size in the tables: {ACCEPTED}"),
        ("1-33/64", f"'1-33/64' is not a size in the tables: {ACCEPTED}"),
        ("-1/4", f"'-1/4' is not a size in the tables: {ACCEPTED}"),
        ("8", f"'8' is not a bolt size: {ACCEPTED}"),
        ("0.25", f"'0.25' is not a bolt size: {ACCEPTED}"),
        ("#10", f"'#10' is a number size, which the tables have no hole for: {ACCEPTED}"),
        ("10-24", f"'10-24' is a number size, which the tables have no hole for: {ACCEPTED}"),
        ("No. 8-32 x 1/2", f"'No. 8-32 x 1/2' is a number size, which the tables have no hole for: {ACCEPTED}"),
        ("#4-40 UNC", f"'#4-40 UNC' is a number size, which the tables have no hole for: {ACCEPTED}"),
        ("M4.5x0.75", f"'M4.5x0.75' is not a size in the tables: {ACCEPTED}"),
        ("M8x", f"'M8x' is not a bolt size: {ACCEPTED}"),
        ("bolt", f"'bolt' is not a bolt size: {ACCEPTED}"),
        ("", f"'' is not a bolt size: {ACCEPTED}"),
        ("x" * 61, f"'{'x' * 40}...' is 61 characters long: {ACCEPTED}"),
    ],
)
def test_bolt_refused(text, sentence):
    for ask in (find_bolt, bolt_diameter_mm, clearance_hole_mm):
        with pytest.raises(UnitsError) as refusal:
            ask(text)
        assert str(refusal.value) == sentence


def test_longest_text():
    assert find_bolt("M8".rjust(60)) == "M8"
    with pytest.raises(UnitsError, match="61 characters"):
        find_bolt("M8".rjust(61))


def test_fits_by_either_name():
    assert FITS == ("close", "normal", "loose")
    assert [clearance_hole_mm("M12", fit) for fit in FITS] == [13.0, 13.5, 14.5]
    assert [clearance_hole_mm("m12", fit) for fit in ("Fine", "medium", " COARSE ")] == [13.0, 13.5, 14.5]
    assert clearance_hole_mm("M12") == 13.5


def test_unknown_fit():
    with pytest.raises(UnitsError) as refusal:
        clearance_hole_mm("M8", "tight")
    assert str(refusal.value) == "'tight' is not a fit: write close, normal or loose."
