"""Presets of the gussets for tube that name a standard have its outside size, as in tests/reference/tube_sizes.csv."""

import csv
from pathlib import Path

import pytest

import parts
from parts.templates import template

SOURCE, *LINES = (Path(__file__).parents[1] / "reference" / "tube_sizes.csv").read_text().splitlines()
ROWS = list(csv.DictReader(LINES))
NAMED = [
    (preset, row)
    for preset in template("gusset-saddle").presets
    for row in ROWS
    if row["kind"] == ("square" if "section=square" in preset.words else "pipe")
    and row["standard"] in preset.name
    and preset.name.startswith(row["name"] + " ")
]


@pytest.mark.parametrize(("preset", "row"), NAMED, ids=lambda value: getattr(value, "name", None))
def test_the_tube_is_the_published_one(preset, row):
    tube = parts.draw("gusset-saddle", **preset.values).record.parameters["tube"]
    expected = float(row["size_in"]) * 25.4 if row["size_in"] else float(row["size_mm"])
    assert tube == pytest.approx(expected, abs=1e-9), SOURCE


def test_every_preset_that_names_a_standard_was_found():
    every = template("gusset-saddle").presets
    standards = {row["standard"] for row in ROWS}
    assert len(NAMED) == sum(any(standard in p.name for standard in standards) for p in every) >= 6


@pytest.mark.parametrize("row", [row for row in ROWS if row["size_in"]], ids=lambda row: row["name"])
def test_inches_and_millimetres_of_the_table_agree(row):
    assert float(row["size_mm"]) == pytest.approx(float(row["size_in"]) * 25.4, abs=0.06), SOURCE
