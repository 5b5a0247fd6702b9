"""The star against half a point worked out by halving the lean of its flank; slots against their trapezia."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

import parts
from parts.templates.silhouette.star import TEMPLATE
from tests.depth import tried
from tests.property.leaf_reference import halved, straight_slot
from tests.strategies import parts_of

many = tried(200)
few = tried(40)


def half_point(v):
    """Area and edge of half a point, and the flank's lean to the ridge with the distance at which it meets that.

    The ridge runs along x. A flank of lean h that touches the tip's round meets the x axis at
    reach - r + r / sin h; it touches the valley's round where that is v_r away from the valley's centre.
    """
    tip, valley, half = v["tip_radius"], v["valley_radius"], math.pi / v["points"]
    centre, deep = v["diameter"] / 2 - tip, v["valley_diameter"] / 2 + valley
    vx, vy = deep * math.cos(half), deep * math.sin(half)

    def beyond(lean):  # how far the valley's centre is outside the flank
        return (vx - centre) * math.sin(lean) + vy * math.cos(lean) - tip

    lean = halved(math.pi / 2, 1e-9, lambda h: beyond(h) <= valley)
    corners = [(0.0, 0.0), (v["diameter"] / 2, 0.0)]
    corners.append((centre + tip * math.sin(lean), tip * math.cos(lean)))
    corners.append((vx - valley * math.sin(lean), vy - valley * math.cos(lean)))
    corners.append((v["valley_diameter"] / 2 * math.cos(half), v["valley_diameter"] / 2 * math.sin(half)))
    area = sum(ax * by - ay * bx for (ax, ay), (bx, by) in itertools.pairwise([*corners, corners[0]])) / 2
    at_tip, at_valley = math.pi / 2 - lean, math.pi / 2 - lean - half
    area += tip**2 * (at_tip - math.sin(at_tip)) / 2 - valley**2 * (at_valley - math.sin(at_valley)) / 2
    edge = tip * at_tip + math.dist(corners[2], corners[3]) + valley * at_valley
    return area, edge, lean, centre + tip / math.sin(lean)


@many
@given(parts_of(TEMPLATE, overall_width=0, overall_height=0, slots="ridges", hang="none", seed=0))
def test_area_and_edge_are_those_by_hand(part):
    v = part.record.parameters
    area, edge, lean, meets = half_point(v)
    if v["foot"] != "none":
        bare = {name: value for name, value in v.items() if name != "foot"}
        part = parts.draw("silhouette-star", **bare)
    slot_area, slot_edge = 0.0, 0.0
    if v["slots"] == "ridges":
        foot, end = v["slot_width"] / 2, v["slot_end"] / 2
        low, high = v["hub"] / 2 + foot, meets - (v["bridge"] + end) / math.sin(lean)
        slot_area, slot_edge = straight_slot(high - low, foot, end)
    n = v["points"]
    assert part.measures.area_mm2 == pytest.approx(n * (2 * area - slot_area), rel=1e-8)
    assert part.measures.cut_length_mm == pytest.approx(n * (2 * edge + slot_edge), rel=1e-8)
    assert part.measures.pierces == 1 + n * (v["slots"] == "ridges")


@few
@given(parts_of(TEMPLATE, overall_width=0, overall_height=0, slots="ridges", foot="none", hang="none"))
def test_no_variant_reaches_beyond_the_regular_star(part):
    v = part.record.parameters
    if v["points"] % 2 == 0 and not v["seed"]:
        assert part.measures.height_mm == pytest.approx(v["diameter"])
    assert max(part.measures.height_mm, part.measures.width_mm) <= v["diameter"] + 1e-9


@few
@given(st.integers(1, 9999))
def test_a_variant_is_always_the_same_and_not_the_regular_one(seed):
    one, again = (parts.draw("silhouette-star", seed=seed, slots="none") for _ in range(2))
    assert one.profile == again.profile
    assert one.measures.area_mm2 < parts.draw("silhouette-star", slots="none").measures.area_mm2


@pytest.mark.parametrize("values", [{"points": 32, "tip_radius": 30}, {"valley_diameter": 279}, {"hub": 10},
                                    {"slot_width": 40, "hub": 90}, {"valley_radius": 300}])  # fmt: skip
def test_what_has_no_room_is_refused(values):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("silhouette-star", slots="ridges", **values)
    assert {p.parameter for p in refused.value.problems} & set(values)
