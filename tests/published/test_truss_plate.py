"""A truss plate without a given edge distance keeps that of AISC 360, as in tests/reference/edge_distance.csv."""

import csv
from pathlib import Path

import pytest
import shapely

import parts
from tests.property.flattened import points

SOURCE, *LINES = (Path(__file__).parents[1] / "reference" / "edge_distance.csv").read_text().splitlines()
SIZES = [row for row in csv.DictReader(LINES) if row["rule"].startswith("edge_min_J3.4") and row["bolt_mm"]]


@pytest.mark.parametrize("row", SIZES, ids=lambda row: row["bolt"])
def test_the_nearest_bolt_is_just_the_published_distance_from_the_edge(row):
    part = parts.draw("gusset-truss", bolt=row["bolt"], edge=0, pitch=130, setback=250, thickness=12, small_holes="cut")
    rim = shapely.LinearRing(points(part.profile.outside[0]))
    nearest = min(rim.distance(shapely.Point(o.loop.circle.centre)) for o in part.profile.inside)
    expected = float(row["value_in"]) * 25.4 if row["units"] == "inch" else float(row["value_mm"])
    assert nearest == pytest.approx(expected, abs=1e-3), SOURCE
    assert not [finding for finding in part.findings if finding.rule in ("edge-distance", "bolt-spacing")]
