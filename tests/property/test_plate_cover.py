"""The cover plate against sums made by hand."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.plate.cover import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.strategies import parts_of

many = tried(200)


def rounded(width, height, radius):
    """Area and perimeter: a cross of two bars and four quarter discs; four straight sides and one whole turn."""
    w, h = width - 2 * radius, height - 2 * radius
    return w * h + 2 * radius * (w + h) + math.pi * radius**2, 2 * (w + h) + 2 * math.pi * radius


def by_hand(v):
    hole = published_hole(v, "bolt", "hole")
    count = 2 * v["holes_x"] + 2 * (v["holes_y"] - 2)
    area, edge = rounded(v["width"], v["height"], v["corner_radius"])
    voids = [(count * math.pi / 4 * hole**2, count * math.pi * hole)]
    if v["window_width"]:
        round_one = v["window_width"], v["window_width"], v["window_width"] / 2
        square_one = v["window_width"], v["window_height"], v["window_radius"]
        voids.append(rounded(*(square_one if v["window_height"] else round_one)))
    if v["lift"]:
        voids += 2 * [rounded(v["lift_width"], v["lift"], v["lift_width"] / 2)]
    return area - sum(void[0] for void in voids), edge + sum(void[1] for void in voids)


@many
@given(parts_of(TEMPLATE))
def test_area_cut_length_and_box_are_those_by_hand(part):
    v = part.record.parameters
    area, edge = by_hand(v)
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge, rel=1e-9)
    assert part.profile.box == pytest.approx((0, 0, v["width"], v["height"]), abs=1e-9)


@many
@given(parts_of(TEMPLATE))
def test_the_holes_are_the_same_from_all_sides(part):
    v = part.record.parameters
    holes = {
        (round(at[0] - v["width"] / 2, 6), round(at[1] - v["height"] / 2, 6))
        for opening in part.profile.inside
        if opening.name == "hole"
        for at in [opening.loop.circle.centre]
    }
    assert holes == {(-x if x else x, y) for x, y in holes} == {(x, -y if y else y) for x, y in holes}
    assert max(x for x, _ in holes) == pytest.approx(v["width"] / 2 - v["inset"], abs=1e-6)
    assert max(y for _, y in holes) == pytest.approx(v["height"] / 2 - v["inset"], abs=1e-6)


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"corner_radius": 81}, "corner_radius"),
        ({"inset": 76}, "inset"),
        ({"inset": 4.4}, "inset"),
        ({"holes_y": 20}, "holes_y"),
        ({"window_width": 160}, "window_width"),
        ({"window_width": 60, "window_height": 160}, "window_height"),
        ({"window_width": 60, "window_height": 60, "window_radius": 31}, "window_radius"),
        ({"lift": 20}, "lift_width"),
        ({"lift": 60, "lift_apart": 25}, "lift_apart"),
        ({"lift": 60, "lift_apart": 215}, "lift_apart"),
        ({"window_width": 140, "lift": 60}, "lift_apart"),
    ],
)
def test_what_does_not_go_together_is_named(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("plate-cover", **values)
    assert named in [problem.parameter for problem in refused.value.problems]
