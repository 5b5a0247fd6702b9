"""The skid plate against sums made by hand; the flat by the formulas of bending.

Flat = both outside dimensions less the bend deduction, BD = 2 tan(A/2) (R + T) - A (R + K T): Machinery's Handbook,
Groover eq. 20.9.
"""

import math

import pytest
from hypothesis import given

import parts
from parts.profile import Bend
from parts.templates.bumper.skid import TEMPLATE
from tests.depth import tried
from tests.property.bent_by_hand import k_of, radius_of
from tests.property.flattened import published_hole
from tests.strategies import parts_of

many = tried(200)


def bent(v):
    """Setback and bend allowance of the lip."""
    turn, thick = math.radians(v["bend"]), v["thickness"]
    radius, k = radius_of(v), k_of(v)
    return math.tan(turn / 2) * (radius + thick), turn * (radius + k * thick)


def flat_length(v):
    setback, allowance = bent(v)
    return v["body"] + v["lip"] - 2 * setback + allowance if v["lip"] else v["body"]


def openings_of(v):
    """Area and edge of all openings."""
    hole, wide = published_hole(v, "bolt", "hole"), v["slot_width"]
    straight = v["slot_length"] - wide
    area = math.pi / 4 * (2 * v["holes"] * hole**2 + v["slots"] * wide**2 + v["drain"] ** 2)
    edge = math.pi * (2 * v["holes"] * hole + v["slots"] * wide + v["drain"])
    return (area + v["slots"] * straight * wide, edge + 2 * v["slots"] * straight) if v["slots"] else (area, edge)


@many
@given(parts_of(TEMPLATE))
def test_area_edge_and_box_are_those_by_hand(part):
    v = part.record.parameters
    long, wide, r = flat_length(v), v["width"], v["corner_radius"]
    area, edge = openings_of(v)
    assert part.measures.area_mm2 == pytest.approx(long * wide - (4 - math.pi) * r**2 - area, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(2 * (long + wide) - (8 - 2 * math.pi) * r + edge, rel=1e-9)
    assert part.measures.width_mm == pytest.approx(long, rel=1e-12)
    assert part.measures.height_mm == pytest.approx(wide, rel=1e-12)
    assert len(part.profile.inside) == 2 * v["holes"] + v["slots"] + (v["drain"] > 0)


@many
@given(parts_of(TEMPLATE))
def test_the_bend_line_is_the_middle_of_the_bend_and_openings_stay_behind_it(part):
    v = part.record.parameters
    setback, allowance = bent(v) if v["lip"] else (0.0, 0.0)
    bends = [mark for mark in part.profile.marks if isinstance(mark, Bend)]
    assert len(bends) == (v["lip"] > 0)
    for bend in bends:
        assert bend.line.start[0] == pytest.approx(v["body"] - setback + allowance / 2)
        assert math.degrees(bend.angle) == pytest.approx(v["bend"])
    for opening in part.profile.inside:
        assert opening.loop.box[2] < v["body"] - setback


@many
@given(parts_of(TEMPLATE))
def test_it_is_the_same_left_and_right_of_the_middle(part):
    wide = part.record.parameters["width"]
    boxes = [opening.loop.box for opening in part.profile.inside]
    for x0, y0, x1, y1 in boxes:
        assert any((x0, wide - y1, x1, wide - y0) == pytest.approx(other, abs=1e-9) for other in boxes)


@pytest.mark.parametrize(
    ("values", "name"),
    [
        ({"lip": 3}, "lip"),
        ({"corner_radius": 67}, "corner_radius"),
        ({"pitch": 225}, "pitch"),
        ({"pitch": 11}, "pitch"),
        ({"hole_side": 305}, "hole_side"),
        ({"hole_rear": 5}, "hole_rear"),
        ({"slot_rear": 60}, "slot_rear"),
        ({"slot_length": 500}, "slot_rear"),
        ({"slot_pitch": 16}, "slot_pitch"),
        ({"slot_pitch": 151}, "slot_pitch"),
        ({"slot_length": 15}, "slot_length"),
        ({"drain_rear": 450}, "drain_rear"),
        ({"drain_rear": 260}, "drain_rear"),
    ],
)
def test_what_does_not_go_together_is_named(values, name):
    with pytest.raises(parts.Refused) as caught:
        parts.draw("bumper-skid", **values)
    assert name in [problem.parameter for problem in caught.value.problems]
