"""The bumper mount against sums made by hand."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.bumper.mount import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.property.tabbed import rounded, tabs_of
from tests.strategies import parts_of

many = tried(200)


def by_hand(part):
    """Area and edge: the neck, a trapezium, the part on the horn, less rounded corners."""
    v = part.record.parameters
    long, high, low, neck, rear = v["reach"], v["height"], v["horn_height"], v["neck"], v["horn_length"]
    rise, between = high - low, long - neck - rear
    area = neck * high + between * (high + low) / 2 + rear * low
    edge = high + long + low + neck + math.hypot(between, rise) + rear
    slope, r = math.atan2(rise, between), v["corner_radius"]
    off, shorter = rounded(r, [math.pi / 2, math.pi / 2])
    _, knee = rounded(r, [slope] if rise else [])  # one outside, one inside: what one takes of the area the other adds
    more, longer = tabs_of(part)
    return area - off + more, edge - shorter - 2 * knee + longer


@many
@given(parts_of(TEMPLATE))
def test_area_edge_and_box_are_those_by_hand(part):
    v = part.record.parameters
    area, edge = by_hand(part)
    hole, count = published_hole(v, "bolt", "hole"), v["columns"] * v["rows"]
    straight = v["slot_length"] - hole if v["slot_length"] else 0.0
    assert part.measures.area_mm2 == pytest.approx(area - count * (math.pi / 4 * hole**2 + straight * hole), rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge + count * (math.pi * hole + 2 * straight), rel=1e-9)
    assert part.measures.width_mm == pytest.approx(v["reach"] + (v["tab_depth"] or v["thickness"]), rel=1e-12)
    assert part.measures.height_mm == pytest.approx(v["height"], rel=1e-12)
    assert len(part.profile.inside) == count


@many
@given(parts_of(TEMPLATE))
def test_slots_stand_about_the_middle_of_the_horn(part):
    v = part.record.parameters
    boxes = [opening.loop.box for opening in part.profile.inside]
    middle = sum(y0 + y1 for _, y0, _, y1 in boxes) / (2 * len(boxes))
    assert middle == pytest.approx(v["height"] - v["horn_height"] / 2)
    length = v["slot_length"] or published_hole(v, "bolt", "hole")
    assert max(x1 for _, _, x1, _ in boxes) == pytest.approx(part.measures.width_mm - v["hole_in"] + length / 2)


@pytest.mark.parametrize(
    ("values", "name"),
    [
        ({"horn_height": 131}, "horn_height"),
        ({"horn_length": 200}, "horn_length"),
        ({"neck": 3}, "neck"),
        ({"slot_length": 10}, "slot_length"),
        ({"pitch_x": 30}, "pitch_x"),
        ({"pitch_x": 106}, "pitch_x"),
        ({"pitch_y": 97}, "pitch_y"),
        ({"hole_in": 15}, "hole_in"),
        ({"hole_in": 145}, "hole_in"),
        ({"rows": 1, "horn_height": 20, "bolt": "M20", "corner_radius": 2}, "horn_height"),
        ({"tab_length": 3}, "tab_length"),
    ],
)
def test_what_does_not_go_together_is_named(values, name):
    with pytest.raises(parts.Refused) as caught:
        parts.draw("bumper-mount", **values)
    assert name in [problem.parameter for problem in caught.value.problems]
