"""Leaf: area and edge against another way of working them out, smooth joints, bridges; loops against shapely."""

import itertools
import math

import numpy as np
import pytest
import shapely
from hypothesis import given

import parts
from parts.errors import Problem
from parts.geometry.segment import Arc
from parts.templates.silhouette.leaf import TEMPLATE
from tests.depth import tried
from tests.property.flattened import CHORD_ERROR_MM, points
from tests.property.leaf_reference import Arc as Along
from tests.property.leaf_reference import Leaf
from tests.strategies import optional_of, parts_of

many = tried(60)
few = tried(30)


def drawn(**values):
    return parts.draw("silhouette-leaf", **values)


@tried(200)
@given(parts_of(TEMPLATE, overall_width=0, overall_height=0))
def test_area_and_edge_are_those_of_the_reference(part):
    leaf = Leaf(part.record.parameters)
    (area, edge), (cut_area, cut_edge) = leaf.outside(), leaf.cut_out()
    assert part.measures.area_mm2 == pytest.approx(area - cut_area, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge + cut_edge, rel=1e-9)


@many
@given(parts_of(TEMPLATE, overall_width=0, overall_height=0))
def test_the_blade_is_as_long_and_as_wide_as_asked(part):
    v, (outside,) = part.record.parameters, part.profile.outside
    stem = 0.0 if v["base"] == "none" else v["stem_length"]
    assert part.measures.height_mm == pytest.approx(v["blade_length"] + stem, rel=1e-12)
    blade = shapely.Polygon(points(outside)).intersection(shapely.box(-1e5, stem + 1e-6, 1e5, 1e5))
    x0, _, x1, _ = blade.bounds
    assert x1 - x0 == pytest.approx(v["blade_width"], abs=3 * CHORD_ERROR_MM)


@many
@given(parts_of(TEMPLATE, overall_width=0, overall_height=0))
def test_the_outline_runs_on_smoothly_save_at_the_stakes_point(part):
    v, (outside,) = part.record.parameters, part.profile.outside
    corners = 0
    for a, b in zip(outside.segments, [*outside.segments[1:], outside.segments[0]], strict=True):
        (ax, ay), (bx, by) = a.heading_at_end, b.heading_at_start
        corners += abs(math.atan2(ax * by - ay * bx, ax * bx + ay * by)) > 1e-6
    blunt_as_wide = v["point_width"] == v["stem_width"]
    assert corners == (0 if v["base"] != "stake" else 2 if blunt_as_wide else 4)


@many
@given(parts_of(TEMPLATE, overall_width=0, overall_height=0))
def test_openings_run_on_smoothly(part):
    for opening in part.profile.inside:
        segments = opening.loop.segments
        for a, b in zip(segments, [*segments[1:], segments[0]], strict=True):
            (ax, ay), (bx, by) = a.heading_at_end, b.heading_at_start
            assert abs(ax * by - ay * bx) < 1e-6
            assert ax * bx + ay * by > 0


@many
@given(parts_of(TEMPLATE, overall_width=0, overall_height=0))
def test_no_bridge_is_narrower_than_asked(part):
    """By shapely: openings grown by half a bridge stay apart, and a whole bridge from the edge."""
    v, profile = part.record.parameters, part.profile
    plate = shapely.Polygon(points(profile.outside[0]))
    holes = {i: shapely.Polygon(points(o.loop)) for i, o in enumerate(profile.inside)}
    for i, hole in holes.items():
        needed = v["eye"] if profile.inside[i].parameter == "hole" else v["bridge"]
        assert plate.exterior.distance(hole) >= needed - 2 * CHORD_ERROR_MM
        assert all(hole.distance(other) >= v["bridge"] - 2 * CHORD_ERROR_MM for j, other in holes.items() if j > i)


@few
@given(parts_of(TEMPLATE, overall_width=0, overall_height=0, base="none"))
def test_a_leaf_without_stem_is_the_same_left_and_right(part):
    width = part.measures.width_mm
    boxes = [loop.box for loop in (*part.profile.outside, *(o.loop for o in part.profile.inside))]
    for x0, y0, x1, y1 in boxes:
        assert any((width - x1, y0, width - x0, y1) == pytest.approx(other, abs=1e-7) for other in boxes)


@many
@given(parts_of(TEMPLATE, overall_width=0, overall_height=0))
def test_each_length_in_use_is_measured(part):
    v = part.record.parameters
    stem, stake, veins = v["base"] != "none", v["base"] == "stake", v["vein_pairs"] > 0
    cut, hole = veins or v["midrib_width"] > 0, v["hang"] != "none"
    used = {
        "blade_length": True, "blade_width": True, "belly": True, "tip_radius": True, "stem_width": stem,
        "stem_length": stem, "point_length": stake, "point_width": stake, "midrib_width": v["midrib_width"] > 0,
        "vein_width": veins, "vein_end": cut, "bridge": cut, "hole": hole, "eye": hole,
    }  # fmt: skip
    assert sorted(used) == sorted(TEMPLATE.letters.keys() - {*optional_of(TEMPLATE), "overall_width", "overall_height"})
    assert sorted(d.parameter for d in part.profile.dimensions) == sorted(name for name in used if used[name])


@pytest.mark.parametrize("base", ["stem", "stake", "none"])
@pytest.mark.parametrize("tip", ["drawn-out", "plain"])
@pytest.mark.parametrize("hang", ["none", "base", "tip"])
def test_defaults_raise_no_stop_on_any_base(base, tip, hang):
    part = drawn(base=base, tip=tip, hang=hang)
    assert part.findings == ()
    assert part.record.parameters["thickness"] == 3


def test_in_plate_of_6_mm_with_veins_to_match_there_is_no_stop():
    values = {"hole": 9, "bridge": 6, "eye": 6, "stem_width": 9, "vein_pairs": 5}
    found = drawn(thickness=6, process="air-plasma", material="mild-steel", **values).findings
    assert [finding for finding in found if finding.severity == "stop"] == []


def test_the_cautions_name_wind_edges_stake_and_rust():
    said = " ".join(drawn().cautions)
    assert all(word in said for word in ("wind", "edges", "stake", "cable", "rusts"))


def test_the_thickness_is_declared_as_everywhere_else():
    ours, every = TEMPLATE.parameters.specs()["thickness"], parts.templates()["gusset-triangle"].parameters.specs()
    same = ("label", "group", "minimum", "maximum", "kind", "is_thickness", "help")
    assert [getattr(ours, fact) for fact in same] == [getattr(every["thickness"], fact) for fact in same]


def test_veins_of_one_width_are_strips_along_an_arc():
    part = drawn(vein_width=5, vein_end=5)
    veins = [o.loop for o in part.profile.inside if o.parameter == "vein_pairs"]
    assert len(veins) == 12
    for vein in veins:
        radii = sorted(segment.radius for segment in vein.segments if isinstance(segment, Arc))
        assert radii[:2] == pytest.approx([2.5, 2.5], rel=1e-9)
        assert radii[3] - radii[2] == pytest.approx(5, rel=1e-9)


BARE = {"midrib_width": 0, "vein_pairs": 0, "hang": "none"}
# At `inside` the leaf is drawn; at `outside` it is refused with this one problem.
LIMITS = {
    "narrower than long": (
        BARE | {"base": "none", "belly": 130}, "blade_width", 259.9, 260,
        "must be less than 260 mm for a blade of this length.",
    ),
    "belly below the tip": (
        BARE, "belly", 194.999, 195, "must be less than 195 mm to leave half a width up to the tip.",
    ),
    "belly over the stem": (
        # (130 - 9) / 2 / tan 60 = 34.9297
        BARE, "belly", 34.931, 34.929, "must be more than 34.93 mm to run out into the stem.",
    ),
    "belly over a round base": (
        BARE | {"base": "none"}, "belly", 65.001, 65, "must be more than 65 mm to round the base.",
    ),
    "drawn-out tip": (BARE, "tip_radius", 21.666, 21.667, "must be at most 21.666 mm for a drawn-out tip."),
    "plain tip": (BARE | {"tip": "plain"}, "tip_radius", 32.5, 32.501, "must be at most 32.5 mm for a plain tip."),
    "stem": (BARE, "stem_width", 43.333, 43.334, "must be less than 43.333 mm for a blade of this width."),
    "short stem": (BARE, "stem_length", 9.001, 9, "must be more than 9 mm to be longer than wide."),
    "point": (
        BARE | {"base": "stake"}, "point_length", 69.999, 70, "must be less than 70 mm on a stake of this length.",
    ),
    "blunt end": (
        BARE | {"base": "stake"}, "point_width", 9, 9.001, "must be at most 9 mm on a stake of this width.",
    ),
    "hole": (
        BARE | {"hang": "base"}, "hole", 54.999, 55, "must be less than 55 mm with its eye, in a blade of this width.",
    ),
    "eye in the stem": (
        BARE | {"hang": "base", "stem_width": 20}, "eye", 7, 6.999,
        "must be at least 7 mm as the stem alone leaves so much.",
    ),
    "midrib's end": (
        {"vein_pairs": 0}, "vein_end", 7, 7.001, "must be at most 7 mm to be no wider than the midrib's foot.",
    ),
    "veins' ends": (
        {"midrib_width": 0}, "vein_end", 6, 6.001, "must be at most 6 mm to be no wider than the veins at the midrib.",
    ),
    "pairs of veins": ({}, "vein_pairs", 9, 10, "must be at most 9 to keep the bridges."),
    "a single pair": (
        {"vein_width": 18}, "vein_pairs", 0, 1,
        "must be 0, or veins and bridges narrower: not one pair has room.",
    ),
    "midrib": (
        {"vein_pairs": 0}, "midrib_width", 70, 100,
        "leaves no room along the middle; midrib, bridges and hole must be smaller.",
    ),
    "veins without a midrib": (
        {"midrib_width": 0, "vein_pairs": 1}, "bridge", 20, 50,
        "leaves no room along the middle; midrib, bridges and hole must be smaller.",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("values", "name", "inside", "outside", "message"), LIMITS.values(), ids=LIMITS)
def test_a_limit_holds_on_both_sides(values, name, inside, outside, message):
    drawn(**{**values, name: inside})
    with pytest.raises(parts.Refused) as refused:
        drawn(**{**values, name: outside})
    said = TEMPLATE.parameters.specs()[name].say(outside)
    assert refused.value.problems == (Problem(name, said, message),)


def test_the_bridges_decide_how_many_pairs_there_are():
    """Nine pairs have room and ten have not: the reference's own ends, ten veins drawn as strips by shapely."""
    leaf = Leaf(dict(drawn(vein_pairs=9).record.parameters))
    for pairs, room in ((9, True), (10, False)):
        leaf.v["vein_pairs"] = pairs
        veins = [shapely.union_all(list(discs(leaf, *vein))) for vein in leaf.veins()]
        gaps = [a.distance(b) for a, b in itertools.pairwise(veins)]
        assert (min(gaps) >= 5) == room


def discs(leaf, start, turn, radius):
    """Discs along a vein, tapering from end to end."""
    heading = math.pi / 2 - math.radians(leaf.v["vein_angle"])
    for share in np.linspace(0, 1, 100):
        at = Along(start, heading, radius, max(turn * share, 1e-9)).end
        width = leaf.v["vein_width"] + share * (leaf.v["vein_end"] - leaf.v["vein_width"])
        yield shapely.Point(at.real, at.imag).buffer(width / 2, quad_segs=64)


def test_a_vein_near_the_edge_of_a_wide_stem_is_refused_by_name():
    with pytest.raises(parts.Refused) as refused:
        drawn(hang="tip", stem_width=29.156706854500968)
    assert {p.parameter for p in refused.value.problems} == {"vein_pairs"}
    for problem in refused.value.problems:
        assert problem.message.endswith("less than the bridge of 5 mm.")
