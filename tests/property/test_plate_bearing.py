"""The bearing mount against sums made by hand, a lozenge also against shapely's hull of three discs."""

import math

import pytest
import shapely
from hypothesis import given

import parts
from parts.templates.plate.bearing import TEMPLATE
from tests.depth import tried
from tests.property.flattened import points, published_hole
from tests.strategies import parts_of

many = tried(200)
LOZENGE = {"shape": "lozenge", "bolts": "2", "mounts": "none", "width": 180.0, "height": 110.0, "spacing_x": 120.0}


def rectangle_by_hand(w, h, r):
    return w * h - (4 - math.pi) * r**2, 2 * (w + h) - (8 - 2 * math.pi) * r


def lozenge_by_hand(w, h, r):
    """Sectors and right trapezia: between two circles R and r with centres c apart a tangent is sqrt(c² - (R-r)²) long.

    Its four trapezia have the radii as parallel sides; the sectors beside them turn by what is left of the circle.
    """
    big, c = h / 2, w / 2 - r
    tangent = math.sqrt(c**2 - (big - r) ** 2)
    slant = math.atan2(tangent, big - r)  # between the x axis and the radii to the tangent points
    area = 4 * (tangent * (big + r) / 2) + 2 * slant * r**2 + (2 * math.pi - 4 * slant) * big**2 / 2
    return area, 4 * tangent + 4 * slant * r + (2 * math.pi - 4 * slant) * big


def assert_as_by_hand(part):
    v = part.record.parameters
    by_hand = lozenge_by_hand if v["shape"] == "lozenge" else rectangle_by_hand
    area, edge = by_hand(v["width"], v["height"], v["corner_radius"])
    hole, mount = published_hole(v, "bearing_bolt", "bearing_hole"), published_hole(v, "bolt", "hole")
    sliding = [hole] * int(v["bolts"]) + ([v["bore"]] if v["bore"] else [])
    mounts = 4 if v["mounts"] == "corners" else 0
    area -= sum(math.pi / 4 * d**2 + d * v["slide"] for d in sliding) + mounts * math.pi / 4 * mount**2
    edge += sum(math.pi * d + 2 * v["slide"] for d in sliding) + mounts * math.pi * mount
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9, abs=1e-6)
    assert part.measures.cut_length_mm == pytest.approx(edge, rel=1e-9)
    assert part.profile.box == pytest.approx((0, 0, v["width"], v["height"]), abs=1e-9)
    assert len(part.profile.inside) == len(sliding) + mounts


@many
@given(parts_of(TEMPLATE))
def test_area_and_cut_length_are_those_by_hand(part):
    assert_as_by_hand(part)


@many
@given(parts_of(TEMPLATE, **LOZENGE))
def test_a_lozenge_is_the_hull_of_its_three_circles(part):
    assert_as_by_hand(part)
    v = part.record.parameters
    (edge,) = part.profile.outside
    assert all(abs(turn) < 1e-6 for turn in edge.corners), "arcs and lines meet tangent"
    y, r = v["height"] / 2, v["corner_radius"]
    discs = [(r, r), (v["width"] / 2, y), (v["width"] - r, r)]
    hull = shapely.union_all([shapely.Point(x, y).buffer(each, quad_segs=512) for x, each in discs]).convex_hull
    assert shapely.Polygon(points(edge)).symmetric_difference(hull).area <= 1e-4 * hull.area


@many
@given(parts_of(TEMPLATE))
def test_what_is_left_of_the_middle_is_also_right_of_it(part):
    w = part.record.parameters["width"]
    boxes = {tuple(round(each, 6) for each in opening.loop.box) for opening in part.profile.inside}
    for x0, y0, x1, y1 in boxes:
        there = (w - x1, y0, w - x0, y1)
        assert any(max(abs(a - b) for a, b in zip(there, box, strict=True)) < 1e-5 for box in boxes)


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"bore": 180}, "bore"),
        ({"spacing_x": 170}, "spacing_x"),
        ({"spacing_y": 170}, "spacing_y"),
        ({"bolts": "2", "spacing_x": 60}, "spacing_x"),
        ({"bore": 114}, "bore"),
        ({"bore": 99, "slide": 12}, "bore"),
        ({"inset": 6.7}, "inset"),
        ({"inset": 85}, "inset"),
        ({"corner_radius": 91}, "corner_radius"),
        ({**LOZENGE, "bolts": "4"}, "bolts"),
        ({**LOZENGE, "mounts": "corners"}, "mounts"),
        ({**LOZENGE, "height": 180}, "height"),
        ({**LOZENGE, "corner_radius": 55}, "corner_radius"),
        ({**LOZENGE, "corner_radius": 6}, "corner_radius"),
    ],
    ids=[
        "bore", "sides", "top", "into the bore",
        "bore into bolts", "bore into slots", "over the edge", "inset", "radius",
        "four on a lozenge", "corners of a lozenge", "round", "no waist", "thin ends",
    ],
)  # fmt: skip
def test_what_does_not_go_together_is_named(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("plate-bearing", **values)
    assert named in {problem.parameter for problem in refused.value.problems}
