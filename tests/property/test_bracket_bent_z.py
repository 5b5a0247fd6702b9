"""The bent Z against sums made by hand, on the flat and folded up."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.bracket.bent_z import TEMPLATE
from tests.depth import tried
from tests.property.bent_by_hand import k_of, radius_of
from tests.property.flattened import published_hole
from tests.property.folding import fold
from tests.strategies import parts_of

many = tried(200)


def flat_length(v):
    t, bend = v["thickness"], math.radians(v["bend"])
    r = radius_of(v)
    k = k_of(v)
    return v["flange_a"] + v["web"] + v["flange_b"] - 4 * (r + t) * math.tan(bend / 2) + 2 * bend * (r + k * t)


@many
@given(parts_of(TEMPLATE))
def test_area_and_perimeter_are_those_by_hand(part):
    v = part.record.parameters
    length, width, r = flat_length(v), v["width"], v["corner_radius"]
    holes, hole = v["holes_a"] + v["holes_b"], published_hole(v, "bolt", "hole")
    area = length * width - (4 - math.pi) * r**2 - holes * math.pi / 4 * hole**2
    edge = 2 * (length + width) - (8 - 2 * math.pi) * r + holes * math.pi * hole
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge, rel=1e-9)
    assert (part.measures.width_mm, part.measures.height_mm) == pytest.approx((length, width), rel=1e-9)


def test_square_by_hand():
    """Flanges 50 and 70, web 45 over all, 4 mm sheet: 50 + 70 - 4 long, 45 high, the holes from each bend's outside."""
    part = parts.draw("bracket-bent-z", flange_a=50, flange_b=70, web=45, thickness=4, mark_a=30, mark_b=40)
    folded = fold(part)
    assert folded.size == pytest.approx((116, 80, 45), abs=0.01)
    a, b = [folded.place(opening.loop.circle.centre, 4) for opening in part.profile.inside][::2]
    assert a == pytest.approx((20, 20, 4), abs=0.01)
    assert b == pytest.approx((46 + 40, 20, 45), abs=0.01)


def test_the_two_flanges_stay_parallel_at_any_bend():
    part = parts.draw("bracket-bent-z", bend=35, thickness=3, mark_a=35, mark_b=35)
    folded = fold(part)
    low = [folded.place((1, 1), z)[2] for z in (0, 3)]
    high = [folded.place((part.profile.box[2] - 1, 1), z)[2] for z in (0, 3)]
    assert low == pytest.approx([0, 3], abs=1e-6)
    assert high[1] - high[0] == pytest.approx(3, abs=1e-6)
    assert high[1] == pytest.approx(60 * math.sin(math.radians(35)) + 3 * math.cos(math.radians(35)), abs=0.01)
