"""Presets of the round flange are the sizes of ASME B16.5 class 150 and EN 1092-1 PN 16."""

import csv
import math
from pathlib import Path

import pytest

import parts
from parts.templates.flange.round import TEMPLATE

SOURCE, *LINES = (Path(__file__).parents[1] / "reference" / "flanges.csv").read_text().splitlines()
CALLED = {"ASME B16.5 class 150": "Class 150", "EN 1092-1 PN 16": "PN 16"}
ROWS = {f"{CALLED[row['standard']]}, {row['size']}": row for row in csv.DictReader(LINES)}
PRESETS = {preset.name: preset for preset in TEMPLATE.presets}
PRINTED_MM = 0.05 * (1 + 1e-9)  # half a unit of the one decimal that inches are printed with in mm


@pytest.mark.parametrize("name", ROWS)
def test_a_preset_is_the_published_flange(name):
    row, part = ROWS[name], parts.draw("flange-round", **PRESETS[name].values)
    bore, *holes = (opening.loop.circle for opening in part.profile.inside)
    (outside,) = part.profile.outside
    assert outside.circle.diameter == pytest.approx(float(row["od_mm"]), abs=PRINTED_MM, rel=0), SOURCE
    assert len(holes) == int(row["holes"]), SOURCE
    (x, y), r = outside.circle.centre, float(row["bolt_circle_mm"]) / 2
    assert bore.centre == pytest.approx((x, y), abs=1e-9)
    for hole in holes:
        assert hole.diameter == pytest.approx(float(row["hole_mm"]), abs=PRINTED_MM, rel=0), SOURCE
        assert math.dist(hole.centre, (x, y)) == pytest.approx(r, abs=PRINTED_MM, rel=0), SOURCE
    nearest = min(math.degrees(math.atan2(h.centre[1] - y, h.centre[0] - x)) % 90 for h in holes)
    assert nearest == pytest.approx(float(row["first_hole_deg_from_centreline"]), abs=1e-9), SOURCE


def test_inches_are_those_of_the_standard():
    for name, row in ROWS.items():
        if row["standard"].startswith("ASME"):
            values = parts.draw("flange-round", **PRESETS[name].values).record.parameters
            for parameter, column in (("od", "od_in"), ("bolt_circle", "bolt_circle_in"), ("hole", "hole_in")):
                assert values[parameter] / 25.4 == pytest.approx(float(row[column]), abs=1e-12), (name, SOURCE)


def test_every_preset_that_names_a_standard_is_in_the_table():
    assert {name for name in PRESETS if name.startswith(tuple(CALLED.values()))} == set(ROWS)
    assert len(ROWS) == 27
