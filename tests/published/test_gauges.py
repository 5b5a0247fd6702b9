"""Gauge numbers give the published thickness, and the tables obey their published formulas."""

import csv
from pathlib import Path

import pytest

from parts.units import parse_thickness
from parts.units.gauge import GAUGES, gauge_table

SOURCE, *LINES = (Path(__file__).parents[1] / "reference" / "sheet_gauge.csv").read_text().splitlines()
ROWS = list(csv.DictReader(LINES))
COLUMNS = {
    "steel": "steel_msg",
    "galvanized": "galvanized",
    "stainless": "stainless_uss",
    "aluminium": "aluminium_bs",
}
CELLS = [
    (gauge, int(row["gauge"]), row[f"{column}_in"], float(row[f"{column}_mm"]))
    for gauge, column in COLUMNS.items()
    for row in ROWS
    if row[f"{column}_in"]
]
PRINTED_IN = 0.000_05 * (1 + 1e-9)  # half a unit of the fourth decimal the tables are printed with
PRINTED_MM = 0.000_5  # and of the third in mm


def cells(gauge):
    """Number, inches as printed and mm as printed of one gauge."""
    return [cell[1:] for cell in CELLS if cell[0] == gauge]


@pytest.mark.parametrize("gauge", COLUMNS)
def test_gauge_is_the_published_thickness(gauge):
    for number, inches, printed_mm in cells(gauge):
        mm = parse_thickness(f"{number} ga", gauge=gauge)
        assert mm == parse_thickness(f"{inches} in"), (number, SOURCE)
        assert mm == pytest.approx(printed_mm, abs=PRINTED_IN * 25.4 + PRINTED_MM, rel=0), (number, SOURCE)


def test_tables_hold_exactly_the_published_gauges():
    assert set(GAUGES) == set(COLUMNS)
    assert [(gauge, number) for gauge in COLUMNS for number in gauge_table(gauge).thickness_mm] == [
        (gauge, number) for gauge, number, _, _ in CELLS
    ]


@pytest.mark.parametrize("gauge", GAUGES)
def test_table_names_its_source_and_falls(gauge):
    table = gauge_table(gauge)
    assert table.source.strip()
    thicknesses = list(table.thickness_mm.values())
    assert thicknesses == sorted(set(thicknesses), reverse=True)


def formula_in(gauge, number, lb_per_ft2):
    """Manufacturers' Standard Gauge: 41.82 lb/ft2 per inch; zinc 2.5 oz/ft2; U.S. Standard: 40; ASTM B258."""
    return {
        "steel": lb_per_ft2 / 41.82,
        "galvanized": (lb_per_ft2 + 2.5 / 16) / 41.82,
        "stainless": lb_per_ft2 / 40,
        "aluminium": 0.005 * 92 ** ((36 - number) / 39),
    }[gauge]


@pytest.mark.parametrize("gauge", COLUMNS)
def test_gauge_follows_its_formula(gauge):
    weights = {int(row["gauge"]): float(row["steel_lb_per_ft2"]) for row in ROWS}
    for number, _, _ in cells(gauge):
        inches = parse_thickness(f"#{number}", gauge=gauge) / 25.4
        due = formula_in(gauge, number, weights[number])
        assert inches == pytest.approx(due, abs=PRINTED_IN, rel=0), (number, SOURCE)
