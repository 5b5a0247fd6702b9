"""The concave gusset against sums made another way: regions of shapely, and closed forms without rounded toes."""

import math

import pytest
import shapely
from hypothesis import given

import parts
from parts.templates.gusset.concave import TEMPLATE
from tests.depth import tried
from tests.property.flattened import points, published_hole
from tests.strategies import parts_of

many = tried(200)


def holes_of(v):
    hole = published_hole(v, "bolt", "hole")
    count = v["holes_a"] + v["holes_b"]
    return math.pi / 4 * (count * hole**2 + v["lightening"] ** 2), math.pi * (count * hole + v["lightening"])


def centre_of(v):
    """Centre of the hollow: from complex numbers, on the right of the way from head to foot."""
    foot, head = complex(v["leg_a"], v["toe"]), complex(v["toe"], v["leg_b"])
    way = head - foot
    return (foot + head) / 2 - 1j * way / abs(way) * math.sqrt(max(v["radius"] ** 2 - abs(way) ** 2 / 4, 0))


def sharp_by_hand(v):
    """Area and perimeter with sharp toes: the straight gusset less the segment of the circle on the long edge."""
    a, b, toe, snipe, radius = (v[name] for name in ("leg_a", "leg_b", "toe", "snipe", "radius"))
    chord = math.hypot(a - toe, b - toe)
    half = math.asin(min(chord / 2 / radius, 1))
    hollow = radius**2 * (half - math.sin(2 * half) / 2)
    area = toe * b + (a - toe) * (b + toe) / 2 - hollow - snipe**2 / 2
    return area, a + b - 2 * snipe + snipe * math.sqrt(2) + 2 * toe + 2 * radius * half


@many
@given(parts_of(TEMPLATE, corner_radius=0))
def test_with_sharp_toes_area_and_perimeter_are_those_by_hand(part):
    v = part.record.parameters
    (area, edge), (holes, round_them) = sharp_by_hand(v), holes_of(v)
    assert part.measures.area_mm2 == pytest.approx(area - holes, rel=1e-8)
    assert part.measures.cut_length_mm == pytest.approx(edge + round_them, rel=1e-8)
    assert (part.measures.width_mm, part.measures.height_mm) == pytest.approx((v["leg_a"], v["leg_b"]))


@many
@given(parts_of(TEMPLATE))
def test_rounded_toes_lie_within_the_sharp_ones_and_are_tangent(part):
    """What rounding takes: for each corner of turn t less than (tan t/2 - t/2) r² between straight flanks, and it
    touches both: every joint but those at the snipe turns by nothing."""
    v = part.record.parameters
    (area, edge), (holes, round_them) = sharp_by_hand(v), holes_of(v)
    assert part.measures.area_mm2 <= area - holes + 1e-6 * area
    assert part.measures.cut_length_mm <= edge + round_them + 1e-6 * edge
    sharp = 4 * (1 - math.pi / 4) * v["corner_radius"] ** 2 + 4 * v["corner_radius"] ** 2
    assert part.measures.area_mm2 >= area - holes - sharp - 1e-6 * area
    centre = centre_of(v)
    least = min(abs(complex(*point) - centre) for point in points(part.profile.outside[0]))
    assert least >= v["radius"] * (1 - 1e-6) - 1e-3


@pytest.mark.parametrize("values", [{}, {"leg_a": 200, "radius": 400}, {"corner_radius": 5, "radius": 110}])
def test_rounded_toes_are_an_opening_by_a_disc(values):
    """Rounding convex corners to r is shrinking by r and growing again: shapely does it on a fine polygon."""
    part = parts.draw("gusset-concave", snipe=0, **values)
    v = part.record.parameters
    a, b, toe = v["leg_a"], v["leg_b"], v["toe"]
    corner = shapely.Polygon([(0, 0), (a, 0), (a, toe), (toe, b), (0, b)])
    centre = centre_of(v)
    hollow = shapely.Point(centre.real, centre.imag).buffer(v["radius"], quad_segs=20000)
    plate, r = corner.difference(hollow), v["corner_radius"]
    opened = plate.buffer(-r, quad_segs=500).buffer(r, quad_segs=500)
    lost_at_root = r**2 * (1 - math.pi / 4)
    assert part.measures.area_mm2 == pytest.approx(opened.area + lost_at_root, abs=0.01)


def test_a_quarter_circle_leaves_both_toes_along_their_legs():
    part = parts.draw("gusset-concave", radius=108, corner_radius=0, snipe=0)
    assert part.measures.area_mm2 == pytest.approx(120**2 - math.pi * 108**2 / 4)


@pytest.mark.parametrize(
    ("values", "parameter", "says"),
    [
        ({"radius": 107.9}, "radius", "at least 108 mm"),
        ({"toe": 120}, "toe", "less than 120 mm"),
        ({"corner_radius": 11}, "corner_radius", "at a toe"),
        ({"snipe": 118}, "snipe", "make it 96 mm or less"),
        ({"radius": 110, "snipe": 90}, "snipe", "clear of the hollow"),
    ],
)
def test_what_does_not_go_together_is_named(values, parameter, says):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("gusset-concave", **values)
    (problem,) = refused.value.problems
    assert (problem.parameter, says in problem.message) == (parameter, True)
