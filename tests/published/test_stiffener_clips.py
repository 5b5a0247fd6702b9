"""Clips of web stiffeners are within what the trade and AISC 360 ask, as in tests/reference/structural.csv."""

import csv
import re
from fractions import Fraction
from pathlib import Path

import pytest

import parts
from parts.templates.gusset.stiffener import TEMPLATE

SOURCE, *LINES = (Path(__file__).parents[1] / "reference" / "structural.csv").read_text().splitlines()
ROWS = {row["rule"]: row for row in csv.DictReader(LINES)}
WELDS = [row for row in csv.DictReader(LINES) if row["rule"] == "fillet_min_leg"]
MADE = {"as it comes": {}} | {preset.name: preset.values for preset in TEMPLATE.presets}


def least_weld_mm(thickness):
    """Table J2.4: the row whose range of the thinner part, in inches, holds this thickness."""
    for row in WELDS:
        limits = [Fraction(text) for text in re.findall(r"(\d+/\d+|\d+) in", row["applies_to"])]
        if len(limits) < 2 or thickness <= float(limits[1]) * 25.4 + 1e-9:
            return float(row["value_mm"])
    raise AssertionError(SOURCE)


@pytest.mark.parametrize("values", MADE.values(), ids=MADE.keys())
def test_the_clips_as_made_are_usual_and_clear_the_least_weld(values):
    v = parts.draw("gusset-stiffener", **values).record.parameters
    low, high = (float(n) for n in re.findall(r"\((\d+) to (\d+)\)", ROWS["corner_snip_gusset"]["value_mm"])[0])
    assert low <= v["clip"] <= high, SOURCE
    assert v["clip"] > least_weld_mm(v["thickness"]), SOURCE
    if v["clip_shape"] == "round":
        assert v["clip"] >= float(ROWS["access_hole_radius_min"]["value_mm"]), SOURCE


def test_the_clip_it_comes_with_is_the_typical_one():
    typical = float(ROWS["corner_snip_gusset"]["value_mm"].split()[0])
    assert parts.draw("gusset-stiffener").record.parameters["clip"] == typical
