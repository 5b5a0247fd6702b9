"""What the shop is told of its own file, docs/shop-data.md, against what may be in it."""

import re
from pathlib import Path
from typing import get_args

import pytest

from parts.shop import SETTINGS, bending, setting_up
from parts.shop import numbers as shop
from parts.shop import schema as shop_data
from parts.shop import tree as shop_tree

DOCUMENT = Path(__file__).parents[2] / "docs" / "shop-data.md"


def example():
    (block,) = re.findall(r"```toml\n(.*?)```", DOCUMENT.read_text(encoding="utf-8"), re.DOTALL)
    return block


def test_the_documents_example_loads_and_says_what_it_says(own_file):
    own_file.write_text(example(), encoding="utf-8")
    data = shop.load(shop.edition())
    assert data.bed.y_mm == 2540.0
    plasma = data.processes["air-plasma"]
    assert plasma.thickest.thickness_mm == 12.7
    assert plasma.thickest.source == "shop's own file: 45 A source, measured on off-cuts"
    assert plasma.smallest_hole.least_mm(6.0, 1.7) == 10.5
    assert plasma.kerf["steel"].rows[-1].value == 1.9
    assert plasma.feed["steel"].rows[0].value == pytest.approx(230 * 25.4 / 60)
    assert data.materials["wear-plate"].source == "shop's own file: mill certificate"


def entries():
    """Every name that a shop's file may hold, and the choices of those that are one of a few."""
    groups = {material["group"] for material in shop_tree.builtin()["materials"].values()} | {shop_data.ANY}
    models = (
        shop_data.BedData,
        shop_data.DrawingData,
        shop_data.SheetData,
        shop_data.HeightProbe,
        shop_data.MachineData,
        bending.BendTestRow,
        bending.BrakeData,
        shop_data.CautionData,
        bending.LeastBendRadius,
        shop_data.TitleBlockData,
        shop_data.UsualData,
        setting_up.TorchHeight,
        setting_up.DutyCycle,
        setting_up.Supply,
        setting_up.Consumables,
        setting_up.BlankData,
        setting_up.LiftingData,
        setting_up.RatesData,
        shop_data.MaterialData,
        shop_data.ProcessData,
        shop_data.Rule,
        shop_data.SquareSide,
        shop_data.Limit,
    )
    fields = {name.removesuffix("_mm") for model in models for name in model.model_fields}
    rows = {
        "kerf",
        "diameter",
        "time_s",
        "feed_in_min",
        "feed_mm_min",
        "feed_mm_s",
        *SETTINGS,
        "top_speed_in_min",
        "top_speed_mm_min",
        "rapid_in_min",
        "rapid_mm_min",
    }
    gauges = {"steel", "galvanized", "stainless", "aluminium", "none"}
    chosen = (
        (bending.BrakeData, "k_by"),
        (shop_data.SquareSide, "side"),
        (shop_data.DrawingData, "paper"),
        (shop_data.UsualData, "units"),
    )
    supplies = set(get_args(setting_up.SupplyName))
    unnamed = {"A4", "A3", ""}
    choices = {word for model, name in chosen for word in get_args(model.model_fields[name].annotation)} - unnamed
    return {*shop_tree.builtin()["processes"], *groups, *fields, *rows, *gauges, *choices, *supplies}


def test_the_document_names_every_entry_and_none_that_is_gone():
    text = DOCUMENT.read_text(encoding="utf-8")
    assert "invented" in text
    assert f"`{shop.VARIABLE}`" in text
    listed = text.split("## What may be in it")[1]
    named = set(re.findall(r"`([a-z0-9_-]+)`", listed))
    assert named - {"kerff"} == entries()
