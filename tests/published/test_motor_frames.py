"""Presets of the motor mount are the faces of NEMA ICS 16 and NEMA MG 1."""

import csv
import itertools
import math
from pathlib import Path

import pytest

import parts
from parts.templates.plate.motor import TEMPLATE

SOURCE, *LINES = (Path(__file__).parents[1] / "reference" / "motor_frames.csv").read_text().splitlines()
ROWS = {row["face"]: row for row in csv.DictReader(LINES)}
PRESETS = {preset.name: preset for preset in TEMPLATE.presets}
PRINTED_MM = 0.006
"""Half a unit of the second decimal that the sizes are printed with in mm, and the rounding of the inches behind."""
CLEARANCE_MM = 0.05 * (1 + 1e-9)
"""Holes are printed to 0.1 mm where a bolt sets them."""


def bolts(part):
    """Centre and diameter of the motor's bolts, whether cut or only marked for the drill."""
    cut = [o.loop.circle for o in part.profile.inside if o.name == "motor hole"]
    drilled = [mark for mark in part.profile.marks if getattr(mark, "name", "") == "motor hole"]
    return [(c.centre, c.diameter) for c in cut] + [(d.at, d.diameter) for d in drilled]


@pytest.mark.parametrize("name", ROWS)
def test_a_preset_is_the_published_face(name):
    row, part = ROWS[name], parts.draw("plate-motor", **PRESETS[name].values)
    pilot = part.profile.inside[0]
    assert pilot.name == "pilot hole"
    assert pilot.loop.circle.diameter == pytest.approx(float(row["pilot_dia_mm"]), abs=PRINTED_MM, rel=0), SOURCE
    found = bolts(part)
    assert len(found) == int(row["holes"]), SOURCE
    (x, y), circle = pilot.loop.circle.centre, float(row["bolt_circle_mm"])
    for centre, diameter in found:
        assert 2 * math.dist(centre, (x, y)) == pytest.approx(circle, abs=PRINTED_MM, rel=0), SOURCE
        assert diameter == pytest.approx(float(row["hole_clearance_mm"]), abs=CLEARANCE_MM, rel=0), SOURCE
        turned = math.degrees(math.atan2(centre[1] - y, centre[0] - x)) % 90
        assert turned == pytest.approx(float(row["hole_angle_deg"]), abs=1e-9), SOURCE
    nearest = min(math.dist(a, b) for (a, _), (b, _) in itertools.combinations(found, 2))
    assert nearest == pytest.approx(float(row["hole_square_mm"]), abs=PRINTED_MM, rel=0), SOURCE


def test_every_preset_that_names_the_standard_is_in_the_table():
    assert {name for name in PRESETS if name.startswith("NEMA")} == set(ROWS)
