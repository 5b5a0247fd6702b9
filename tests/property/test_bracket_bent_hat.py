"""The bent hat against sums made by hand, on the flat and folded up."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.bracket.bent_hat import TEMPLATE
from tests.depth import tried
from tests.property.bent_by_hand import k_of, radius_of
from tests.property.flattened import published_hole
from tests.property.folding import fold
from tests.strategies import parts_of

many = tried(200)


def flat_length(v):
    """Outside dimensions less what four bends take of them, plus their neutral lines."""
    t, bend = v["thickness"], math.radians(v["bend"])
    r = radius_of(v)
    k = k_of(v)
    return 2 * (v["foot"] + v["side"]) + v["top"] - 8 * (r + t) * math.tan(bend / 2) + 4 * bend * (r + k * t)


@many
@given(parts_of(TEMPLATE))
def test_area_and_perimeter_are_those_by_hand(part):
    v = part.record.parameters
    length, width, r = flat_length(v), v["width"], v["corner_radius"]
    holes, hole = 2 * v["holes_foot"] + v["holes_top"], published_hole(v, "bolt", "hole")
    area = length * width - (4 - math.pi) * r**2 - holes * math.pi / 4 * hole**2
    edge = 2 * (length + width) - (8 - 2 * math.pi) * r + holes * math.pi * hole
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge, rel=1e-9)
    assert (part.measures.width_mm, part.measures.height_mm) == pytest.approx((length, width), rel=1e-9)


@many
@given(parts_of(TEMPLATE))
def test_the_flat_is_the_same_from_both_ends(part):
    end = part.profile.box[2]
    lines = sorted(mark.line.start[0] for mark in part.profile.marks)
    assert lines == pytest.approx([end - x for x in reversed(lines)], abs=1e-9)
    holes = [opening.loop.circle.centre for opening in part.profile.inside]
    for x, y in holes:
        assert min(math.hypot(end - x - u, y - v) for u, v in holes) < 1e-9


def test_square_by_hand():
    """Top 80, sides 50, feet 55 in 3 mm: 2 x 55 + 80 - 2 x 3 wide, 50 high; holes 30 out from the inner faces."""
    part = parts.draw("bracket-bent-hat", top=80, side=50, foot=55, thickness=3, mark=30, holes_top=1)
    folded = fold(part)
    assert folded.size == pytest.approx((184, 80, 50), abs=0.01)
    placed = [folded.place(opening.loop.circle.centre, 3) for opening in part.profile.inside]
    assert placed[0] == pytest.approx((25, 20, 3), abs=0.01)
    assert placed[-2] == pytest.approx((184 - 25, 60, 3), abs=0.01)
    assert placed[-1] == pytest.approx((92, 40, 50), abs=0.01)


def test_both_feet_stand_on_the_base_where_the_sides_slope():
    part = parts.draw("bracket-bent-hat", bend=55, thickness=4)
    folded = fold(part)
    for x in (1, part.profile.box[2] - 1):
        assert folded.place((x, 40), 0)[2] == pytest.approx(0, abs=1e-6)
        assert folded.place((x, 40), 4)[2] == pytest.approx(4, abs=1e-6)
