"""The ridge against shapely: disks rolled along its rounds, trees bounded by their triangles; box, symmetry, variants.

There is no closed form: every corner's centre follows from its neighbours.
"""

import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import parts
from parts.templates.silhouette_ridge import TEMPLATE
from tests.property.flattened import points
from tests.strategies import parts_of

many = settings(deadline=None, max_examples=60, suppress_health_check=list(HealthCheck))
few = settings(many, max_examples=15)


@many
@given(
    st.integers(1, 6), st.floats(300, 1200), st.floats(40, 90), st.floats(3, 12), st.floats(50, 200), st.integers(0, 99)
)
def test_bare_hills_are_those_of_shapely(peaks, overall, rise, radius, valley, seed):
    """The ridge of one radius is the outline of the zigzag of arc centres, a thick line's upper side from disks."""
    try:
        part = parts.draw(
            "silhouette-ridge", overall=overall, height=valley + rise, valley_height=valley, peaks=peaks, trees=0,
            peak_radius=radius, valley_radius=radius, hang="none", seed=seed,
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


@many
@given(parts_of(TEMPLATE, setting="base"))
def test_trees_add_their_triangles(part):
    """A tree is a triangle on a slope, its tip and feet rounded: the area grows by that of whole trees at most."""
    v = {**part.record.parameters, "hang": "none", "foot": "none"}
    bare = parts.draw("silhouette-ridge", **{**v, "trees": 0})
    planted = parts.draw("silhouette-ridge", **v)
    added = planted.measures.area_mm2 - bare.measures.area_mm2
    w, h, r = v["tree_width"], v["tree_height"], v["tree_radius"]
    arcs = (len(planted.profile.outside[0].segments) - len(bare.profile.outside[0].segments)) / 6
    slopes = 2 * v["peaks"]
    if not v["trees"]:
        assert added == pytest.approx(0, abs=1e-6)
        return
    assert 0 < added <= slopes * v["trees"] * (w + 2 * r) * h
    assert 0 < arcs <= slopes * v["trees"]


@few
@given(st.integers(1, 9998))
def test_a_variant_is_always_the_same(seed):
    one, again = (parts.draw("silhouette-ridge", seed=seed, hang="none") for _ in range(2))
    assert one.profile == again.profile
    assert parts.draw("silhouette-ridge", seed=seed + 1, hang="none").profile != one.profile


def test_the_regular_one_of_odd_count_is_symmetric():
    (edge,) = parts.draw("silhouette-ridge", hang="none").profile.outside
    starts = {(round(x, 6), round(y, 6)) for x, y in (s.start for s in edge.segments)}
    assert starts == {(round(520 - x, 6), y) for x, y in starts}


def test_the_frame_holds_one_sky():
    part = parts.draw("silhouette-ridge", setting="frame", hang="none")
    (sky,) = part.profile.inside
    assert sky.loop.box == pytest.approx((18, 84, 502, 210))
    assert part.measures.height_mm == pytest.approx(150 + 60 + 18)


@pytest.mark.parametrize("values", [{"valley_height": 149}, {"valley_radius": 60}, {"peak_radius": 60},
                                    {"setting": "frame", "border": 90},
                                    {"tree_radius": 9}, {"tree_height": 15}])  # fmt: skip
def test_what_has_no_room_is_refused_by_name(values):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("silhouette-ridge", **values)
    assert {p.parameter for p in refused.value.problems} & set(values)
