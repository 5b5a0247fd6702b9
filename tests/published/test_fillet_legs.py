"""The fillet gauge's standard presets, against AISC 360 Table J2.4 (tests/reference/fillet_legs.csv)."""

import csv
from pathlib import Path

import pytest

import parts
from parts.templates.gauge.fillet import LEGS, TEMPLATE

ROWS = list(csv.DictReader((Path(__file__).parents[1] / "reference" / "fillet_legs.csv").read_text().splitlines()))


@pytest.mark.parametrize(("preset", "column", "unit"), [(0, "value_mm", 1.0), (1, "value_in", 25.4)])
def test_presets_are_the_least_legs_of_the_table(preset, column, unit):
    part = parts.draw("gauge-fillet", **TEMPLATE.presets[preset].values)
    legs = [part.record.parameters[name] for name in LEGS]
    assert len(ROWS) == 4
    assert legs == pytest.approx([float(row[column]) * unit for row in ROWS], rel=1e-12)
