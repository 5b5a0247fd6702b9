"""Edge distances and spacings of bolts are those of AISC 360, as in tests/reference/edge_distance.csv."""

import csv
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest

from parts.fasteners.bolts import bolt_diameter_mm, bolts
from parts.fasteners.distances import bolting, edge_table, least_spacing_mm, preferred_spacing_mm

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


@pytest.mark.parametrize(("size", "expected"), [("M8", 11.0), ("M12", 16.5), ("3/8", 9 / 16 * 25.4), ("M14", 19.25)])
def test_below_the_first_row_its_ratio_holds(size, expected):
    """Ours, since the standard has no such bolts: 22/16 for metric sizes, (3/4)/(1/2) for inch ones."""
    assert least(size) == pytest.approx(expected)


def test_a_larger_bolt_never_asks_for_less_and_none_for_less_than_it_is_thick():
    metric = [size for size in bolts() if size.startswith("M")]
    for sizes in (metric, [size for size in bolts() if size not in metric]):
        assert all(least(small) < least(large) for small, large in pairwise(sizes))
    assert all(least(size) >= 1.25 * bolt_diameter_mm(size) - 1e-9 for size in bolts())
