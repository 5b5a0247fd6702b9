"""The bumper wing against sums made by hand."""

import math

import pytest
import shapely
import shapely.affinity
from hypothesis import given

import parts
from parts.templates.bumper.wing import TEMPLATE
from tests.depth import tried
from tests.property.flattened import points, published_hole
from tests.property.tabbed import rounded, tabs_of
from tests.strategies import parts_of

many = tried(200)


def by_hand(part):
    """Area and edge: a rectangle less the triangle under the rising edge and three rounded corners, with the tabs."""
    v = part.record.parameters
    long, high, flat, rise = v["reach"], v["height"], v["flat"], v["height"] - v["end_height"]
    slope = math.atan2(rise, long - flat) if rise else 0.0
    turns = [math.pi / 2, math.pi / 2 - slope, *([slope] if rise else [])]
    off, shorter = rounded(v["corner_radius"], turns)
    area, edge = tabs_of(part)
    under = rise * (long - flat) / 2 if rise else 0.0
    lower = flat + math.hypot(long - flat, rise) if rise else long
    return long * high - under - off + area, high + long + v["end_height"] + lower - shorter + edge


@many
@given(parts_of(TEMPLATE))
def test_area_edge_and_box_are_those_by_hand(part):
    v = part.record.parameters
    (area, edge), pieces = by_hand(part), 2 if v["hand"] == "pair" else 1
    hole = published_hole(v, "bolt", "hole")
    holes = math.pi / 4 * (v["holes"] * hole**2 + v["lamp"] ** 2)
    edge += math.pi * (v["holes"] * hole + v["lamp"])
    assert part.measures.area_mm2 == pytest.approx(pieces * (area - holes), rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(pieces * edge, rel=1e-9)
    assert part.measures.width_mm == pytest.approx(v["reach"] + (v["tab_depth"] or v["thickness"]), rel=1e-12)
    assert part.measures.height_mm == pytest.approx(pieces * v["height"] + (pieces - 1) * v["between"], rel=1e-12)
    assert len(part.profile.inside) == pieces * (v["holes"] + (v["lamp"] > 0))


def test_right_is_the_mirror_image_of_left():
    left, right = (parts.draw("bumper-wing", hand=hand, lamp=60) for hand in ("left", "right"))
    wide = left.measures.width_mm
    assert right.measures.area_mm2 == pytest.approx(left.measures.area_mm2, rel=1e-12)
    for here, there in zip(left.profile.inside, right.profile.inside, strict=True):
        (x0, y0, x1, y1), box = here.loop.box, there.loop.box
        assert box == pytest.approx((wide - x1, y0, wide - x0, y1), abs=1e-9)


def test_a_pair_is_the_left_and_the_right_one_of_equal_size_apart():
    left, right, pair = (parts.draw("bumper-wing", hand=hand, lamp=60) for hand in ("left", "right", "pair"))
    wings = [shapely.Polygon(points(loop)) for loop in pair.profile.outside]
    for wing, part, up in zip(wings, (left, right), (0, 130 + 25), strict=True):
        alone = shapely.affinity.translate(shapely.Polygon(points(part.profile.outside[0])), 0, up)
        assert wing.symmetric_difference(alone).area == pytest.approx(0, abs=1e-6)
    assert wings[0].distance(wings[1]) == pytest.approx(25)
    assert pair.profile.pieces == ("left wing", "right wing")


@pytest.mark.parametrize(
    ("values", "name"),
    [
        ({"tab_first": 17}, "tab_first"),
        ({"tab_pitch": 73}, "tab_pitch"),
        ({"tab_pitch": 34}, "tab_pitch"),
        ({"end_height": 131}, "end_height"),
        ({"flat": 400}, "flat"),
        ({"corner_radius": 46}, "corner_radius"),
        ({"lamp": 60, "lamp_in": 330, "lamp_down": 40}, "lamp_in"),
        ({"holes": 8}, "pitch"),
    ],
)
def test_what_does_not_go_together_is_named(values, name):
    with pytest.raises(parts.Refused) as caught:
        parts.draw("bumper-wing", **values)
    assert name in [problem.parameter for problem in caught.value.problems]
