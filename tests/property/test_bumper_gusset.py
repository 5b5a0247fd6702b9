"""The bumper gusset against sums made by hand."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.bumper.gusset import TEMPLATE
from tests.depth import tried
from tests.property.tabbed import rounded, tabs_of
from tests.strategies import parts_of

many = tried(200)


def by_hand(part):
    """Area and edge: a strip as wide as the toe and a trapezium, less snipe and rounded corners, with the tabs."""
    v = part.record.parameters
    a, b, toe, snipe = (v[name] for name in ("reach", "height", "toe", "snipe"))
    slope = math.atan2(a - toe, b - toe)  # of the long edge, from upright
    off, shorter = rounded(v["corner_radius"], [math.pi / 2, slope, math.pi / 2 - slope, math.pi / 2])
    more, longer = tabs_of(part)
    area = toe * b + (a - toe) * (b + toe) / 2 - snipe**2 / 2 - off + more
    edge = a + b + 2 * toe + math.hypot(a - toe, b - toe) - (2 - math.sqrt(2)) * snipe - shorter + longer
    return area, edge


@many
@given(parts_of(TEMPLATE))
def test_area_edge_and_box_are_those_by_hand(part):
    v = part.record.parameters
    area, edge = by_hand(part)
    assert part.measures.area_mm2 == pytest.approx(area - math.pi / 4 * v["lightening"] ** 2, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge + math.pi * v["lightening"], rel=1e-9)
    assert part.measures.width_mm == pytest.approx(v["reach"] + (v["tab_depth"] or v["thickness"]), rel=1e-12)
    assert part.measures.height_mm == pytest.approx(v["height"], rel=1e-12)


def test_the_lightening_hole_is_as_far_from_both_edges_as_from_the_long_one():
    part = parts.draw("bumper-gusset", reach=200, height=150, lightening=40)
    x0, y0, x1, y1 = part.profile.inside[0].loop.box
    x, y = (x0 + x1) / 2 - 6, (y0 + y1) / 2  # the tabs stand out 6
    assert x == pytest.approx(y)
    # the long edge runs from (200, 15) to (15, 150)
    far = abs((150 - 15) * (x - 200) + (200 - 15) * (y - 15)) / math.hypot(135, 185)
    assert far == pytest.approx(x)


@pytest.mark.parametrize(
    ("values", "name"),
    [
        ({"toe": 110}, "toe"),
        ({"toe": 3, "corner_radius": 1, "thickness": 16}, "toe"),
        ({"snipe": 96}, "snipe"),
        ({"snipe": 23}, "tab_first"),
        ({"corner_radius": 20}, "corner_radius"),
        ({"height": 120}, "tab_pitch"),
        ({"lightening": 90}, "lightening"),
        ({"tabs": 1, "tab_first": 110}, "tab_first"),
    ],
)
def test_what_does_not_go_together_is_named(values, name):
    with pytest.raises(parts.Refused) as caught:
        parts.draw("bumper-gusset", **values)
    assert name in [problem.parameter for problem in caught.value.problems]
