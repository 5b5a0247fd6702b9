"""Materials, mass and bed: `parts/cutting/stock.py`."""

import math
from dataclasses import FrozenInstanceError

import pytest

from parts.cutting import stock
from parts.errors import GeometryError, Problem, Refused

SLUGS = (
    "mild-steel",
    "weathering-steel",
    "galvanised-steel",
    "stainless-steel",
    "aluminium",
    "copper",
    "brass",
)


def test_materials_are_listed_in_order_and_know_their_slug():
    assert tuple(stock.materials()) == SLUGS
    assert tuple(material.slug for material in stock.materials().values()) == SLUGS


@pytest.mark.parametrize(
    ("slug", "gauge", "group"),
    [
        ("mild-steel", "steel", "steel"),
        ("weathering-steel", "steel", "steel"),
        ("galvanised-steel", "galvanized", "steel"),
        ("stainless-steel", "stainless", "stainless"),
        ("aluminium", "aluminium", "aluminium"),
        ("copper", None, "copper"),
        ("brass", None, "brass"),
    ],
)
def test_gauge_table_and_group(slug, gauge, group):
    assert (stock.materials()[slug].gauge, stock.materials()[slug].group) == (gauge, group)


@pytest.mark.parametrize(
    ("slug", "keys", "word"),
    [
        ("mild-steel", (), ""),
        ("stainless-steel", ("hexavalent-chromium",), "chromium"),
        ("galvanised-steel", ("zinc-fume",), "zinc"),
        ("aluminium", ("hydrogen-over-water",), "hydrogen"),
        ("brass", ("zinc-fume", "copper-fume"), "fume"),
    ],
)
def test_cautions_are_sentences(slug, keys, word):
    material = stock.materials()[slug]
    assert material.caution_keys == keys
    assert len(material.cautions) == len(keys)
    assert all(word in text.lower() and text[0].isupper() and text.endswith(".") for text in material.cautions)


@pytest.mark.parametrize("slug", SLUGS)
def test_oxy_fuel_cuts_only_steel_without_a_coating(slug):
    why = stock.materials()[slug].why_not("oxy-fuel")
    assert (why is None) == (slug in ("mild-steel", "weathering-steel"))
    assert stock.materials()[slug].why_not("waterjet") is None


def test_a_material_can_not_be_changed():
    with pytest.raises(FrozenInstanceError):
        stock.materials()["mild-steel"].density_kg_per_m3 = 1.0
    with pytest.raises(TypeError):
        stock.materials()["mild-steel"] = None


def test_mass_of_a_square_metre_a_millimetre_thick():
    # 1 m2 x 1 mm of steel is a thousandth of 7850 kg, by definition of density
    assert stock.mass_kg(1e6, 1.0, "mild-steel") == pytest.approx(7.85, rel=1e-12)
    assert stock.mass_kg(1e6, 1.0, stock.materials()["aluminium"]) == pytest.approx(2.7, rel=1e-12)
    assert stock.mass_kg(0.0, 6.0, "mild-steel") == 0.0


def test_mass_of_an_unknown_material_is_refused():
    with pytest.raises(Refused) as refused:
        stock.mass_kg(1.0, 1.0, "aluminum")
    message = f"There is no material 'aluminum'. Did you mean aluminium? There are: {', '.join(SLUGS)}."
    assert refused.value.problems == (Problem("material", "aluminum", message),)


@pytest.mark.parametrize(("area", "thickness"), [(-1e-9, 6.0), (1.0, -1e-9), (math.nan, 1.0), (1.0, math.inf)])
def test_mass_of_no_plate_is_refused(area, thickness):
    with pytest.raises(GeometryError, match="There is no plate of"):
        stock.mass_kg(area, thickness, "mild-steel")


def test_the_built_in_bed_and_sheet():
    assert stock.bed() == stock.Bed(52 * 25.4, 98 * 25.4)
    assert stock.sheet() == stock.Sheet(1219.2, 2438.4)


@pytest.mark.parametrize(
    ("width", "height", "holds", "turned"),
    [
        pytest.param(1320.7, 2489.1, True, False, id="just under"),
        pytest.param(1320.8, 2489.2, True, False, id="at"),
        pytest.param(1320.8 + 1e-6, 2489.2, False, False, id="just over in x"),
        pytest.param(1320.8, 2489.2 + 1e-6, False, False, id="just over in y"),
        pytest.param(2489.2, 1320.8, False, True, id="only turned"),
        pytest.param(2489.2 + 1e-6, 1320.8, False, False, id="turned and just over"),
        pytest.param(1320.8, 1320.8, True, True, id="square"),
        pytest.param(0.1 + 0.2 + 1320.5, 10, True, True, id="rounding of a sum"),
    ],
)
def test_bed_holds(width, height, holds, turned):
    bed = stock.Bed(1320.8, 2489.2)
    assert (bed.holds(width, height), bed.holds_turned(width, height)) == (holds, turned)


def test_the_shops_own_bed_and_material(own_file):
    own_file.write_text(
        '[bed]\nx = "4 ft"\n[materials.wear-plate]\ntitle = "Wear plate"\ndensity_kg_per_m3 = 7800\ngroup = "steel"\n'
    )
    assert stock.bed() == stock.Bed(1219.2, 98 * 25.4)
    assert stock.materials()["wear-plate"].gauge is None
    assert stock.materials()["wear-plate"].source == "shop's own file"
    assert stock.mass_kg(1e6, 10.0, "wear-plate") == pytest.approx(78.0)
