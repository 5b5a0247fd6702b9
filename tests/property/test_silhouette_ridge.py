"""The ridge against shapely: disks rolled along its rounds, trees as drawn by their corners; box, symmetry, variants.

There is no closed form: every corner's centre follows from its neighbours.
"""

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import affinity

import parts
from parts.templates.silhouette.ridge import TEMPLATE
from tests.depth import tried
from tests.property.flattened import points
from tests.strategies import parts_of

many = tried(60)
few = tried(15)


@many
@given(
    st.integers(1, 6), st.floats(300, 1200), st.floats(40, 90), st.floats(3, 12), st.floats(50, 200), st.integers(0, 99)
)
def test_bare_hills_are_those_of_shapely(peaks, overall, rise, radius, valley, seed):
    """The ridge of one radius is the outline of the zigzag of arc centres, a thick line's upper side from disks."""
    try:
        part = parts.draw(
            "silhouette-ridge", overall=overall, height=valley + rise, valley_height=valley, peaks=peaks, trees=0,
            peak_radius=radius, valley_radius=radius, hang="none", seed=seed, layers=0,
        )  # fmt: skip
    except parts.Refused:
        return
    (edge,) = part.profile.outside
    flat = shapely.Polygon(points(edge))
    assert part.measures.area_mm2 == pytest.approx(flat.area, rel=1e-5)
    # What is rounded to a radius stays as it is when a disk of nearly that radius rolls inside, then outside.
    disk = 0.98 * radius
    middle = shapely.box(4 * disk, 4 * disk, overall - 4 * disk, valley + 2 * rise)
    rolled_in = flat.buffer(-disk, 64).buffer(disk, 64)
    rolled_out = flat.buffer(disk, 64).buffer(-disk, 64)
    assert flat.difference(rolled_in).intersection(middle).area < 2e-3 * flat.area
    assert rolled_out.difference(flat).intersection(middle).area < 2e-3 * flat.area
    assert part.measures.width_mm == pytest.approx(overall)
    assert part.measures.height_mm == pytest.approx(valley + rise)


def spruce(width, height, tiers, low):
    """A tree's corners before they are rounded: a trunk, boughs from `low` up, each a triangle beside the middle."""
    half, right = width / 2, [(0.26 * width / 2, 0.0)]
    for i in range(tiers):
        out, level = half * (1 - 0.66 * i / tiers), low + (height - low) * i / tiers
        right += [(0.36 * out, level), (out, level)]
    return shapely.Polygon([*right, (0, height), *((-x, y) for x, y in reversed(right))])


def level(hill, x):
    """Height of a hill at a place."""
    return hill.intersection(shapely.LineString([(x, -1), (x, 999)])).bounds[3]


@many
@given(st.integers(1, 3), st.floats(50, 90), st.floats(30, 45), st.floats(0.5, 1), st.integers(1, 6))
def test_trees_are_spruces_in_tiers(trees, height, width, radius, tiers):
    """On one low hill every tree is of full size, its edge nowhere further than two radii from that by its corners."""
    values = {"overall": 900, "height": 60, "valley_height": 40, "peaks": 1, "tree_height": height, "tree_width": width,
              "tree_radius": radius, "tiers": tiers, "hang": "none", "layers": 0, "seed": 0}  # fmt: skip
    planted = parts.draw("silhouette-ridge", trees=trees, **values)
    bare = parts.draw("silhouette-ridge", trees=0, **values)
    hill, whole = (shapely.Polygon(points(part.profile.outside[0])) for part in (bare, planted))
    grown = [piece for piece in whole.difference(hill.buffer(1e-3)).geoms if piece.area > 1]
    assert len(grown) == 2 * trees
    for piece in grown:
        x0, y0, x1, y1 = piece.bounds
        middle, *beside = (level(hill, x) for x in ((x0 + x1) / 2, x0, x1))
        tree = spruce(width, height, tiers, max(beside) - middle + 0.08 * height + 2 * radius)
        assert x1 - x0 == pytest.approx(width, abs=1e-3)
        assert y1 - y0 == pytest.approx(height, abs=0.05 * width)
        there = affinity.translate(tree, (x0 + x1) / 2, middle)
        assert there.buffer(2 * radius).contains(piece)
        assert piece.buffer(1e-2).contains(there.buffer(-2 * radius))


@tried(200)
@given(parts_of(TEMPLATE, overall_width=0, overall_height=0, layers=0, setting="base"))
def test_trees_only_add(part):
    v = {**part.record.parameters, "hang": "none", "foot": "none"}
    bare, planted = (parts.draw("silhouette-ridge", **{**v, "trees": trees}) for trees in (0, v["trees"]))
    added = planted.measures.area_mm2 - bare.measures.area_mm2
    w, h, r = v["tree_width"], v["tree_height"], v["tree_radius"]
    corners = len(planted.profile.outside[0].segments) - len(bare.profile.outside[0].segments)
    count, over = divmod(corners, 2 * (3 + 4 * v["tiers"]))  # an arc and a flank for each
    assert over == 0
    assert 0 <= count <= 2 * v["peaks"] * v["trees"]
    assert (added == pytest.approx(0, abs=1e-6)) if not count else (0 < added <= count * (w + 2 * r) * h)


@few
@given(st.integers(1, 9998))
def test_a_variant_is_always_the_same(seed):
    one, again = (parts.draw("silhouette-ridge", seed=seed, hang="none") for _ in range(2))
    assert one.profile == again.profile
    assert parts.draw("silhouette-ridge", seed=seed + 1, hang="none").profile != one.profile


@few
@given(parts_of(TEMPLATE, overall_width=0, overall_height=0, layers=0, setting="base", hang="none", foot="none"))
def test_slopes_are_hollow_and_go_over_into_peaks_and_valleys(part):
    """Without trees every turn but those at the base's four corners is smooth, and a slope is below its chord."""
    bare = parts.draw("silhouette-ridge", **{**part.record.parameters, "trees": 0})
    (edge,) = bare.profile.outside
    assert sum(abs(turn) > 1e-6 for turn in edge.corners) == 4
    v = bare.record.parameters
    turns = [segment.bulge > 0 for segment in edge.segments if hasattr(segment, "bulge")]
    # peaks alone turn left; beside each is a slope on either side, and between two slopes a valley
    assert (turns.count(True), turns.count(False)) == (v["peaks"], 3 * v["peaks"] - 1)


def test_the_regular_one_of_odd_count_is_symmetric():
    (edge,) = parts.draw("silhouette-ridge", hang="none", seed=0).profile.outside
    starts = {(round(x, 6), round(y, 6)) for x, y in (s.start for s in edge.segments)}
    assert starts == {(round(600 - x, 6), y) for x, y in starts}


def test_the_frame_holds_one_sky():
    part = parts.draw("silhouette-ridge", setting="frame", hang="none", layers=0, height=145, valley_height=66)
    (sky,) = part.profile.inside
    assert sky.loop.box == pytest.approx((25, 66, 575, 235))
    assert part.measures.height_mm == pytest.approx(145 + 90 + 25)


@pytest.mark.parametrize("values", [{"valley_height": 174}, {"valley_radius": 60}, {"peak_radius": 60},
                                    {"setting": "frame", "border": 90},
                                    {"tree_radius": 9}, {"tree_height": 15}])  # fmt: skip
def test_what_has_no_room_is_refused_by_name(values):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("silhouette-ridge", **values)
    assert {p.parameter for p in refused.value.problems} & set(values)
