"""The pipes that saddles are offered for, against the published outside diameters; the source is in the table."""

import csv
import re
from pathlib import Path

import pytest

from parts.templates.bracket.pipe_saddle import TEMPLATE

SOURCE, *LINES = (Path(__file__).parents[1] / "reference" / "pipe_od.csv").read_text().splitlines()
PUBLISHED = {float(row["outside_mm"]) for row in csv.DictReader(LINES)}
NAMED = [preset for preset in TEMPLATE.presets if "ISO 4200" in preset.name]


@pytest.mark.parametrize("preset", NAMED, ids=lambda preset: preset.name)
def test_a_preset_named_after_the_standard_has_its_diameter(preset):
    said = float(re.search(r"([\d.]+) pipe of ISO 4200", preset.name).group(1))
    assert TEMPLATE.parameters.read(preset.values).pipe_od == said
    assert said in PUBLISHED


def test_the_default_is_a_published_pipe():
    assert len(NAMED) == 3
    assert TEMPLATE.parameters.read({}).pipe_od in PUBLISHED
