"""Densities and weights against published tables: tests/reference/density.csv and plate_weights.csv.

Three bases are in use. The true density of steel, 7850 kg/m3, is 40.84 lb/ft2 per inch: that is ours. The
plate trade rounds it to 40.8, 0.1 % less. The steel gauge numbers come from weights at 41.82, a conversion
factor and no density, so a gauge sheet's table weight is 2.4 % over its mass. Each check says which basis it
holds against.
"""

import csv
import re
from pathlib import Path

import pytest

from parts.cutting.stock import mass_kg, materials
from parts.data import kind_of
from parts.shop import numbers as shop

REFERENCE = Path(__file__).parents[1] / "reference"
KG_PER_LB = 0.45359237  # exact: international yard and pound agreement of 1959
MM2_PER_FT2 = 304.8**2
AGREEMENT = 0.002  # 0.2 %: the trade's rounding of 40.84 to 40.8, twice over
TRADE, GAUGE, TRUE = 40.80, 41.82, 40.84  # lb/ft2 per inch


def table(name):
    source, *lines = (REFERENCE / name).read_text(encoding="utf-8").splitlines()
    assert source.startswith("Source: ")
    return list(csv.DictReader(lines))


DENSITIES = {row["material"]: row for row in table("density.csv")}
WEIGHTS = table("plate_weights.csv")
PLATES = [row for row in WEIGHTS if "40.8 basis" in row["basis"]]
GAUGES = [row for row in WEIGHTS if "41.82 basis" in row["basis"]]
PUBLISHED = [
    ("mild-steel", "mild / carbon structural steel"),
    ("weathering-steel", "mild / carbon structural steel"),
    ("galvanised-steel", "mild / carbon structural steel"),
    ("stainless-steel", "stainless 304 (UNS S30400)"),
    ("aluminium", "aluminium 6061"),
    ("copper", "copper (C11000)"),
    ("brass", "brass (C26000, cartridge)"),
]


@pytest.fixture(autouse=True)
def no_own_numbers(tmp_path, monkeypatch):
    path = tmp_path / "shop.toml"
    path.touch()
    monkeypatch.setenv(shop.VARIABLE, str(path))


def lb_per_ft2(thickness_mm, material="mild-steel"):
    return mass_kg(MM2_PER_FT2, thickness_mm, material) / KG_PER_LB


def test_the_tables_are_whole():
    assert (len(DENSITIES), len(PLATES), len(GAUGES)) == (11, 11, 6)
    assert {slug for slug, _ in PUBLISHED} == set(materials())


@pytest.mark.parametrize(("slug", "published"), PUBLISHED)
def test_density_is_the_published_one(slug, published):
    ours, row = materials()[slug], DENSITIES[published]
    if "seen" in row["check"]:  # the row is recalled, within a range that was seen: memory would prove no memory
        low, high = map(float, re.search(r"\((\d+) to (\d+) seen\)", row["check"]).groups())
        assert low <= ours.density_kg_per_m3 <= high
        assert kind_of(ours.source) == "from memory"
    else:
        assert ours.density_kg_per_m3 == float(row["kg_per_m3"])


@pytest.mark.parametrize(("slug", "published"), PUBLISHED)
def test_a_square_foot_an_inch_thick_on_the_basis_of_true_density(slug, published):
    row = DENSITIES[published]
    assert lb_per_ft2(25.4, slug) == pytest.approx(float(row["lb_per_ft2_per_inch"]), rel=AGREEMENT)
    assert mass_kg(1e6, 1.0, slug) == pytest.approx(float(row["kg_per_m2_per_mm"]), rel=1e-9)


@pytest.mark.parametrize("row", PLATES, ids=lambda row: row["size"])
def test_plate_weighs_as_in_the_trades_table_on_the_40_8_basis(row):
    thickness = float(row["thickness_in"]) * 25.4
    assert lb_per_ft2(thickness) == pytest.approx(float(row["lb_per_ft2"]), rel=AGREEMENT)
    assert mass_kg(1e6, thickness, "mild-steel") == pytest.approx(float(row["kg_per_m2"]), rel=AGREEMENT)


@pytest.mark.parametrize("row", PLATES, ids=lambda row: row["size"])
def test_plate_weighs_as_in_tables_on_the_0_2836_lb_in3_basis(row):
    (printed,) = re.findall(r"print ([\d.]+)\)", row["basis"])
    half_a_digit = 0.005 + 0.0002 * float(printed)  # two decimals printed; 0.2836 itself has four digits
    assert lb_per_ft2(float(row["thickness_in"]) * 25.4) == pytest.approx(float(printed), abs=half_a_digit)


@pytest.mark.parametrize("row", GAUGES, ids=lambda row: row["size"])
def test_gauge_sheet_weighs_less_than_the_gauge_tables_41_82_basis(row):
    ours, printed = lb_per_ft2(float(row["thickness_in"]) * 25.4), float(row["lb_per_ft2"])
    assert ours == pytest.approx(printed * TRUE / GAUGE, rel=AGREEMENT)
    assert printed / ours == pytest.approx(1.024, abs=0.002)  # the gauge's own basis would be 2.4 % heavy


def test_no_mass_is_on_the_gauge_basis():
    on_gauge_basis = float(DENSITIES["carbon steel, gauge basis (41.82 lb/ft2 per inch)"]["kg_per_m3"])
    assert all(
        abs(of.density_kg_per_m3 / on_gauge_basis - 1) > 0.01 for of in materials().values() if of.group == "steel"
    )
    assert TRADE < TRUE < GAUGE
