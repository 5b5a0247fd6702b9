"""The flanged brace against sums made by hand, with the bend formulas written out again."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.gusset.flange_brace import TEMPLATE
from tests.depth import tried
from tests.property.bent_by_hand import k_of, radius_of
from tests.property.flattened import published_hole
from tests.property.refused import names
from tests.strategies import parts_of

many = tried(200)


def bend_of(v):
    """Setback and bend allowance: tan(A/2) (R + T) and A (R + K T), as in Machinery's Handbook."""
    t, turned = v["thickness"], math.radians(v["bend"])
    radius, k = radius_of(v), k_of(v)
    return math.tan(turned / 2) * (radius + t), turned * (radius + k * t)


def by_hand(v):
    """The plain gusset to its long edge, and the flange as a rectangle upon it, less the reliefs and rounded corners.

    A relief is a slot from the long edge to where the bend begins and half a disc. Rounding a turn t to r takes
    r² (tan t/2 - t/2) of the area and r (2 tan t/2 - t) of the edge: at two square corners of the flange, two square
    feet of the toes, and where the toes meet the long edge.
    """
    a, b, toe, snipe, r, w = (v[name] for name in ("leg_a", "leg_b", "toe", "snipe", "corner_radius", "relief"))
    setback, allowance = bend_of(v)
    long_edge = math.hypot(a - toe, b - toe)
    wide, out = long_edge - 2 * v["ends"], v["flange"] - 2 * setback + allowance
    area = toe * b + (a - toe) * (b + toe) / 2 - snipe**2 / 2 + wide * out - 2 * (w * setback + math.pi * w**2 / 8)
    edge = a + b - 2 * snipe + snipe * math.sqrt(2) + 2 * toe
    edge += 2 * (v["ends"] - w) + wide + 2 * (out + 2 * setback + math.pi * w / 2)
    slope = math.atan2(a - toe, b - toe)
    for turn in [math.pi / 2] * 4 + [slope, math.pi / 2 - slope]:
        area -= r**2 * (math.tan(turn / 2) - turn / 2)
        edge -= r * (2 * math.tan(turn / 2) - turn)
    return area, edge


def assert_as_by_hand(part):
    v = part.record.parameters
    area, edge = by_hand(v)
    hole, count = published_hole(v, "bolt", "hole"), v["holes_a"] + v["holes_b"]
    assert part.measures.area_mm2 == pytest.approx(area - count * math.pi / 4 * hole**2, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge + count * math.pi * hole, rel=1e-9)


@many
@given(parts_of(TEMPLATE))
def test_area_and_perimeter_are_those_by_hand(part):
    assert_as_by_hand(part)


@pytest.mark.parametrize(
    "values",
    [
        {},
        {"bend": 45},
        {"thickness": 3, "bend_radius": 5, "k": 0.42},
        {"leg_a": 300, "holes_a": 2, "snipe": 0},
        {"corner_radius": 0},
    ],
    ids=["default", "half bent", "thin", "long leg", "sharp"],
)
def test_each_kind_is_as_by_hand(values):
    assert_as_by_hand(parts.draw("gusset-flange-brace", **values))


@many
@given(parts_of(TEMPLATE, leg_a=200, leg_b=200))
def test_the_bend_line_lies_midway_through_the_bend_and_along_the_flange(part):
    v = part.record.parameters
    setback, allowance = bend_of(v)
    (mark,) = part.profile.marks
    assert part.profile.box[:2] == pytest.approx((0, 0), abs=1e-12)
    for end in (mark.line.start, mark.line.end):  # at equal legs the long edge is x + y = leg + toe
        out = (end[0] + end[1] - 200 - v["toe"]) / math.sqrt(2)
        assert out == pytest.approx(allowance / 2 - setback, abs=1e-9)
    long_edge = (200 - v["toe"]) * math.sqrt(2)
    assert mark.line.length == pytest.approx(long_edge - 2 * v["ends"], abs=1e-9)
    assert math.degrees(mark.angle) == pytest.approx(v["bend"])


test_what_does_not_go_together_is_named = names(
    "gusset-flange-brace",
    ({"toe": 180}, "toe"),
    ({"flange": 12}, "flange"),
    ({"ends": 6}, "ends"),
    ({"ends": 114}, "ends"),
    ({"ends": 7, "toe": 5}, "ends"),
    ({"corner_radius": 20}, "corner_radius"),
    alone=True,
)
