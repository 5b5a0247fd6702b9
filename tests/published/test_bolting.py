"""Edge distances and spacings of bolts are those of AISC 360, as in tests/reference/edge_distance.csv."""

import csv
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest

from parts.fasteners.bolts import bolt_diameter_mm, bolts
from parts.fasteners.distances import bolting, edge_table, least_spacing_mm, preferred_spacing_mm
from parts.fasteners.edge_wanted import EdgeWanted
from parts.units import parse_length

SOURCE, *LINES = (Path(__file__).parents[1] / "reference" / "edge_distance.csv").read_text().splitlines()
ROWS = list(csv.DictReader(LINES))
TABLES = [row for row in ROWS if row["rule"].startswith("edge_min_J3.4")]
SIZES = [row for row in TABLES if row["bolt_mm"]]


def least(size):
    bolt = bolt_diameter_mm(size)
    return edge_table(bolt).least_mm(bolt)


@pytest.mark.parametrize("row", SIZES, ids=lambda row: row["bolt"])
def test_edge_distance_is_the_published_one(row):
    expected = Fraction(row["value_in"]) * Fraction("25.4") if row["units"] == "inch" else Fraction(row["value_mm"])
    assert least(row["bolt"]) == pytest.approx(float(expected), rel=1e-12), SOURCE
    table = edge_table(bolt_diameter_mm(row["bolt"]))
    assert table.source.endswith(row["rule"].removeprefix("edge_min_"))


def test_every_published_row_is_there_and_no_other():
    assert (len(bolting().metric.rows), len(bolting().inch.rows)) == (7, 7)
    assert len(SIZES) == 14


@pytest.mark.parametrize("row", [row for row in TABLES if not row["bolt_mm"]], ids=lambda row: row["bolt"])
def test_beyond_the_table_it_is_a_multiple_of_the_bolt(row):
    table = {"inch": bolting().inch, "metric": bolting().metric}[row["units"]]
    assert f"{table.beyond_ratio:g} d" == row["value_text"], SOURCE
    beyond = table.rows[-1].bolt_mm + 4
    assert table.least_mm(beyond) == 1.25 * beyond


def test_spacing_is_the_published_one():
    said = {row["rule"]: row["value_text"] for row in ROWS}
    assert (said["spacing_min"], said["spacing_preferred"]) == ("2-2/3 d", "3 d")
    assert least_spacing_mm(12) == pytest.approx(12 * (2 + 2 / 3), rel=1e-15)
    assert preferred_spacing_mm(12) == 36


@pytest.mark.parametrize(("size", "expected"), [("M18", 24.0), ("M33", 42.0), ("1-3/8", 1.25 * 1.375 * 25.4)])
def test_between_and_beyond_the_rows(size, expected):
    """M18 midway between 22 for M16 and 26 for M20; M33 midway between 38 and 46."""
    assert least(size) == pytest.approx(expected)


@pytest.mark.parametrize("size", ["M6", "M8", "M10", "M12", "M14", "1/4", "3/8", "7/16"])
def test_below_the_first_row_it_is_ours_and_no_nearer_than_the_standard_lets_any_bolt_be(size):
    """The standard has no such bolts. Ours: at least the 1.25 d that it asks at least of any, and never more than the
    distance of its smallest bolt, which is stronger; and the rule says that it is derived.
    """
    bolt, table = bolt_diameter_mm(size), edge_table(bolt_diameter_mm(size))
    assert 1.25 * bolt <= least(size) <= table.rows[0].edge_mm
    assert EdgeWanted(bolt, bolt).source == f"derived from {table.source}"


@pytest.mark.parametrize("row", SIZES, ids=lambda row: row["bolt"])
def test_a_row_of_the_standard_is_not_called_derived(row):
    bolt = bolt_diameter_mm(row["bolt"])
    assert EdgeWanted(bolt, bolt).source == edge_table(bolt).source


# ------------------------------------------------------------------ larger holes and slots: tables J3.3 and J3.5

HOLES_SOURCE, *HOLE_LINES = (
    (Path(__file__).parents[1] / "reference" / "bolt_holes_aisc_j3_3.csv").read_text().splitlines()
)
HOLES = [
    row
    for row in csv.DictReader(HOLE_LINES)
    if row["bolt_in"] and ("360-22" in row["edition"] or row["table"].startswith("J3.3M"))
]
"""Those of the latest edition; the first row for 1 in is of older ones."""


def mm(text):
    """A length of the table: `13/16`, `18 mm`, or the second of `18 x 22 mm`."""
    last = text.split(" x ")[-1]
    return float(last.removesuffix(" mm")) if "mm" in text else parse_length(f"{last} in")


def test_the_table_of_holes_is_whole():
    assert [row["bolt"] for row in HOLES] == ["1/2", "5/8", "3/4", "7/8", "1", "M16", "M20", "M22", "M24", "M27", "M30"]


@pytest.mark.parametrize("row", HOLES, ids=lambda row: row["bolt"])
def test_holes_are_the_published_ones_and_slots_as_long(row):
    bolt = bolt_diameter_mm(row["bolt"])
    table = edge_table(bolt).holes
    of = table.of(bolt)
    expected = [mm(row[name]) for name in ("standard", "oversize", "short_slot")]
    assert [of.standard_mm, of.oversized_mm, of.short_mm] == pytest.approx(expected), HOLES_SOURCE
    assert table.long_ratio * bolt == pytest.approx(mm(row["long_slot"]), abs=0.8), HOLES_SOURCE  # to 1/16 in, or 1 mm
    assert ("from memory" in of.source) == (row["bolt"] == "1")


@pytest.mark.parametrize("row", HOLES, ids=lambda row: row["bolt"])
def test_an_increment_is_at_least_what_the_bolt_can_come_nearer_and_little_more(row):
    """Table J3.5 is recalled; held to J3.3: in an oversized hole, or to the end of its slot, the bolt moves half of
    what is over a standard hole, and the least distance shall hold there too. That is rounded up, by under 2 mm.
    """
    bolt = bolt_diameter_mm(row["bolt"])
    standard, oversized, short, long = (mm(row[name]) for name in ("standard", "oversize", "short_slot", "long_slot"))
    wanted = EdgeWanted(bolt, oversized)
    assert (oversized - standard) / 2 - 1e-9 <= wanted.oversized < (oversized - standard) / 2 + 2
    for length in (short, long):
        slotted = EdgeWanted(bolt, standard, length - standard, toward=1.0).slotted
        assert (length - standard) / 2 <= slotted < (length - standard) / 2 + 2
        assert EdgeWanted(bolt, standard, length - standard, toward=0.0).slotted == 0
    assert EdgeWanted(bolt, standard).whole == EdgeWanted(bolt, standard).least
    assert wanted.increment_source.startswith("from memory: AISC 360-22 table J3.5")


@pytest.mark.parametrize("size", bolts())
def test_a_larger_hole_and_a_longer_slot_never_ask_for_less(size):
    bolt = bolt_diameter_mm(size)
    widths = [EdgeWanted(bolt, bolt + 0.1 * i).whole for i in range(200)]
    assert widths == sorted(widths)
    travels = [EdgeWanted(bolt, bolt + 1, 0.5 * i, toward=1.0).whole for i in range(200)]
    assert travels == sorted(travels)
    slants = [EdgeWanted(bolt, bolt + 1, 20.0, toward=0.1 * i).whole for i in range(11)]
    assert slants == sorted(slants)


def test_a_larger_bolt_never_asks_for_less_and_none_for_less_than_it_is_thick():
    metric = [size for size in bolts() if size.startswith("M")]
    for sizes in (metric, [size for size in bolts() if size not in metric]):
        assert all(least(small) < least(large) for small, large in pairwise(sizes))
    assert all(least(size) >= 1.25 * bolt_diameter_mm(size) - 1e-9 for size in bolts())
