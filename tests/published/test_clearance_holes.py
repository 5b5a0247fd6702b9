"""Clearance holes are those of ISO 273 and ASME B18.2.8."""

import csv
from pathlib import Path

import pytest

from parts.fasteners.bolts import FITS, bolt_diameter_mm, bolts, clearance_hole_mm
from parts.units import parse_length

SOURCE, *LINES = (Path(__file__).parents[1] / "reference" / "clearance_holes.csv").read_text().splitlines()
ROWS = list(csv.DictReader(LINES))
METRIC = [row for row in ROWS if row["standard"] == "ISO 273"]
INCH = [row for row in ROWS if row["standard"] == "ASME B18.2.8"]
PRINTED_IN = 0.000_5 * (1 + 1e-9)  # half a unit of the third decimal the standard is printed with


def name(row):
    return f"{row['nominal']} {row['fit']}"


@pytest.mark.parametrize("row", METRIC, ids=name)
def test_metric_hole_is_the_published_one(row):
    for fit in row["fit"].split("="):  # fine=close: both names
        assert clearance_hole_mm(row["nominal"], fit) == float(row["hole_mm"]), SOURCE
    assert bolt_diameter_mm(row["nominal"]) == float(row["bolt_mm"]), SOURCE


@pytest.mark.parametrize("row", INCH, ids=name)
def test_inch_hole_is_the_published_drill(row):
    hole_mm = clearance_hole_mm(row["nominal"], row["fit"])
    assert hole_mm == parse_length(f"{row['drill_in']} in"), SOURCE
    assert hole_mm / 25.4 == pytest.approx(float(row["hole_in"]), abs=PRINTED_IN, rel=0), SOURCE
    assert hole_mm / 25.4 < float(row["hole_max_in"]), SOURCE
    assert bolt_diameter_mm(row["nominal"]) / 25.4 == pytest.approx(float(row["bolt_in"]), rel=1e-12), SOURCE


def test_every_published_size_and_fit_is_there_and_no_other():
    assert list(bolts()) == list(dict.fromkeys(row["nominal"] for row in ROWS))
    assert len(ROWS) == len(bolts()) * len(FITS)


@pytest.mark.parametrize("size", bolts())
def test_hole_grows_with_the_fit(size):
    close, normal, loose = (clearance_hole_mm(size, fit) for fit in FITS)
    assert bolt_diameter_mm(size) < close < normal < loose
