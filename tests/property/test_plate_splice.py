"""The splice plate against sums made by hand, and its own distances against the published tables."""

import csv
import itertools
import math
from pathlib import Path

import pytest
from hypothesis import given

import parts
from parts.templates.plate.splice import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.strategies import parts_of

many = tried(200)

_, *LINES = (Path(__file__).parents[1] / "reference" / "edge_distance.csv").read_text().splitlines()
EDGES = {
    row["bolt"]: (float(row["bolt_mm"]), float(row["value_mm"]))
    for row in csv.DictReader(LINES)
    if row["rule"] in ("edge_min_J3.4", "edge_min_J3.4M") and row["value_mm"]
}
"""Bolt in mm and least edge distance in mm: AISC 360 tables J3.4 and J3.4M."""


def centres(part):
    return [opening.loop.circle.centre for opening in part.profile.inside]


@many
@given(parts_of(TEMPLATE))
def test_area_and_cut_length_are_those_by_hand(part):
    """A box less its corners; the length is what the box says, held by the distances below."""
    v, (_, _, length, width) = part.record.parameters, part.profile.box
    hole, count, r = published_hole(v, "bolt", "hole"), 2 * v["rows"] * v["lines"], v["corner_radius"]
    assert width == pytest.approx(v["width"], abs=1e-9)
    assert len(part.profile.inside) == count
    area = length * width - (4 - math.pi) * r**2 - count * math.pi / 4 * hole**2
    edge = 2 * (length + width) - (8 - 2 * math.pi) * r + count * math.pi * hole
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge, rel=1e-9)


@many
@given(parts_of(TEMPLATE))
def test_the_groups_are_mirror_images_at_the_distances_given(part):
    v, (_, _, length, width) = part.record.parameters, part.profile.box
    xs = sorted({round(x, 6) for x, _ in centres(part)})
    ys = sorted({round(y, 6) for _, y in centres(part)})
    assert len(xs) == 2 * v["rows"]
    assert len(ys) == v["lines"]
    assert [length - x for x in reversed(xs)] == pytest.approx(xs, abs=1e-5)
    assert [width - y for y in reversed(ys)] == pytest.approx(ys, abs=1e-5)
    right = xs[v["rows"] :]
    for name, measured in (
        ("end", [length - xs[-1]]),
        ("inner", [right[0] - length / 2 - v["gap"] / 2]),
        ("pitch", [b - a for a, b in itertools.pairwise(right)]),
        ("gauge", [b - a for a, b in itertools.pairwise(ys)]),
    ):
        if v[name]:
            assert measured == pytest.approx([v[name]] * len(measured), abs=1e-5), name


@pytest.mark.parametrize(("bolt", "mm", "edge"), [(bolt, *of) for bolt, of in EDGES.items() if bolt != "M22"])
def test_distances_left_open_are_the_published_ones(bolt, mm, edge):
    """Edge distances of AISC 360 tables J3.4 and J3.4M; spacing 3 d, preferred by section J3.3."""
    part = parts.draw("plate-splice", bolt=bolt, width=500, rows=3, lines=2, gap=10, thickness=10, process="waterjet")
    length = part.profile.box[2]
    xs = sorted({round(x, 6) for x, _ in centres(part)})
    ys = sorted({round(y, 6) for _, y in centres(part)})
    exact = {"7/8": 22.225, "5/8": 15.875, "1-1/8": 28.575, "1-1/4": 31.75}.get(bolt, mm)
    assert xs[0] == pytest.approx(edge, abs=0.006)  # the table's inches are rounded to 0.01 mm
    assert xs[3] - length / 2 - 5 == pytest.approx(edge, abs=0.006)
    assert xs[1] - xs[0] == pytest.approx(3 * exact, abs=1e-5)
    assert ys[1] - ys[0] == pytest.approx(3 * exact, abs=1e-5)
    assert [f for f in part.findings if f.rule in ("edge-distance", "bolt-spacing")] == []


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"pitch": 17}, "pitch"),
        ({"gauge": 17.5}, "gauge"),
        ({"end": 8}, "end"),
        ({"inner": 3.75}, "inner"),
        ({"width": 65.5}, "width"),
        ({"lines": 4}, "width"),
        ({"corner_radius": 51}, "corner_radius"),
    ],
)
def test_what_does_not_go_together_is_named(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("plate-splice", **values)
    assert [problem.parameter for problem in refused.value.problems] == [named]
