"""The vent panel against sums made by hand, and its bridges as shapely measures them."""

import math

import pytest
import shapely
from hypothesis import given

import parts
from parts.templates.plate.panel import TEMPLATE
from tests.depth import tried
from tests.property.flattened import CHORD_ERROR_MM, points, published_hole
from tests.strategies import parts_of

many = tried(100)
some = tried(60)


def pattern(part):
    return [opening for opening in part.profile.inside if opening.name == "opening"]


def sizes(part):
    """Length, width, corner radius and bridge, those left open as the process asks."""
    v, cut = part.record.parameters, part.record.job.cut
    slot = max(cut.narrowest_slot_mm, cut.pierce_diameter_mm + cut.kerf_mm)
    width = v["opening_width"] or (cut.smallest_hole_mm if v["form"] == "round" else slot)
    long = width if v["form"] == "round" else v["opening_length"]
    return long, width, v["slot_radius"] if v["form"] == "slot" else width / 2, v["bridge"] or cut.narrowest_bridge_mm


@many
@given(parts_of(TEMPLATE))
def test_area_and_cut_length_are_those_by_hand(part):
    v = part.record.parameters
    long, width, s, _ = sizes(part)
    w, h, r, n = v["width"], v["height"], v["corner_radius"], len(pattern(part))
    hole, holes = published_hole(v, "bolt", "hole"), 4 if v["inset"] else 0
    voids = n * (long * width - (4 - math.pi) * s**2) + holes * math.pi / 4 * hole**2
    edges = n * (2 * (long + width) - (8 - 2 * math.pi) * s) + holes * math.pi * hole
    assert len(part.profile.inside) == n + holes
    assert part.measures.area_mm2 == pytest.approx(w * h - (4 - math.pi) * r**2 - voids, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(2 * (w + h) - (8 - 2 * math.pi) * r + edges, rel=1e-9)


@some
@given(parts_of(TEMPLATE))
def test_bridges_and_margins_are_those_asked_and_no_row_more_would_fit(part):
    v = part.record.parameters
    long, _, _, bridge = sizes(part)
    loops = [shapely.Polygon(points(opening.loop)) for opening in pattern(part)]
    tree = shapely.STRtree(loops)
    near = [
        loops[i].distance(loops[j])
        for i in range(min(len(loops), 60))
        for j in tree.query(loops[i].buffer(1.5 * bridge))
        if i < j
    ]
    assert all(gap >= bridge - 2 * CHORD_ERROR_MM for gap in near)
    if len(loops) > 1:
        assert min(near) == pytest.approx(bridge, abs=2 * CHORD_ERROR_MM)
    x0, y0, x1, y1 = shapely.unary_union(loops).bounds
    margins = x0, v["width"] - x1, y0, v["height"] - y1
    assert min(margins) >= v["least_margin"] - 1e-6
    assert margins[0] == pytest.approx(margins[1], abs=1e-6)
    assert margins[2] == pytest.approx(margins[3], abs=1e-6)
    assert margins[0] < v["least_margin"] + (long + bridge) / 2 + 1e-6
    heights = sorted({round(loop.centroid.y, 4) for loop in loops})
    if len(heights) > 1:
        assert margins[2] < v["least_margin"] + (heights[1] - heights[0]) / 2 + 1e-3


def test_round_holes_staggered_stand_in_equal_triangles():
    """All six neighbours of a hole are as far as its two in the row: rows sqrt(3)/2 of the step apart."""
    part = parts.draw("plate-panel", form="round", opening_width=12, bridge=8)
    centres = [opening.loop.circle.centre for opening in pattern(part)]
    ys = sorted({round(y, 6) for _, y in centres})
    assert ys[1] - ys[0] == pytest.approx(20 * math.sqrt(3) / 2, abs=1e-5)


@pytest.mark.parametrize("process", ["air-plasma", "fine-plasma", "laser", "waterjet"])
@pytest.mark.parametrize("form", ["obround", "slot", "round"])
@pytest.mark.parametrize("thickness", [2, 6, 10])
def test_what_is_left_to_the_process_it_can_cut(process, form, thickness):
    """On a panel small enough for the finest mesh of them all, the slots' corners as round as the narrowest allows."""
    small = {"width": 100, "height": 70, "least_margin": 20, "opening_length": 20, "inset": 0}
    rounded = {"slot_radius": 0.4} if form == "slot" else {}
    values = {"process": process, "form": form, "thickness": thickness, "opening_width": 0}
    part = parts.draw("plate-panel", **values, **small, **rounded)
    wrong = {"bridge-width", "slot-width", "pierce-room", "hole-to-thickness", "lost-detail", "loops"}
    assert [finding.message for finding in part.findings if finding.rule in wrong] == []


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"corner_radius": 101}, "corner_radius"),
        ({"inset": 4}, "inset"),
        ({"inset": 98}, "inset"),
        ({"opening_length": 9}, "opening_length"),
        ({"form": "slot", "slot_radius": 6}, "slot_radius"),
        ({"least_margin": 96}, "least_margin"),
        ({"opening_length": 250}, "least_margin"),
        ({"form": "round", "opening_width": 2, "bridge": 1}, "opening_width"),
        ({"form": "round", "opening_width": 0, "bridge": 0.001, "width": 3000, "height": 3000}, "bridge"),
        ({"inset": 40}, "inset"),
    ],
)
def test_what_does_not_go_together_is_named(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("plate-panel", **values)
    assert [problem.parameter for problem in refused.value.problems] == [named]
