"""The bent angle against sums made by hand, on the flat and folded up."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.bracket.bent_angle import TEMPLATE
from tests.depth import tried
from tests.property.bent_by_hand import k_of, radius_of
from tests.property.flattened import published_hole
from tests.property.folding import fold
from tests.strategies import parts_of

many = tried(200)


def flat_length(v):
    """Both flanges to where the outside faces would meet, less twice the way from there to the bend, plus the bend."""
    t, bend = v["thickness"], math.radians(v["bend"])
    r = radius_of(v)
    k = k_of(v)
    return v["flange_a"] + v["flange_b"] - 2 * (r + t) * math.tan(bend / 2) + bend * (r + k * t)


@many
@given(parts_of(TEMPLATE))
def test_area_and_perimeter_are_those_by_hand(part):
    v = part.record.parameters
    length, width, r = flat_length(v), v["width"], v["corner_radius"]
    holes, hole = v["holes_a"] + v["holes_b"], published_hole(v, "bolt", "hole")
    longer = v["holes_b"] * (v["slot_b"] - hole if v["slot_b"] else 0)  # than round ones, together
    area = length * width - (4 - math.pi) * r**2 - holes * math.pi / 4 * hole**2 - longer * hole
    edge = 2 * (length + width) - (8 - 2 * math.pi) * r + holes * math.pi * hole + 2 * longer
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge, rel=1e-9)
    assert (part.measures.width_mm, part.measures.height_mm) == pytest.approx((length, width), rel=1e-9)


@many
@given(parts_of(TEMPLATE, slot_b=0.0))
def test_the_same_from_the_other_end(part):
    """With A and B exchanged the flat is its own mirror image: the same area, and every hole at its place."""
    v = part.record.parameters
    swapped = {f"{name}_{to}": v[f"{name}_{of}"] for name in ("flange", "holes", "mark") for of, to in ("ab", "ba")}
    other = parts.draw("bracket-bent-angle", **{**v, **swapped})
    assert other.measures.area_mm2 == pytest.approx(part.measures.area_mm2, rel=1e-12)
    long = part.profile.box[2]
    here = sorted(o.loop.circle.centre for o in part.profile.inside)
    there = sorted((long - x, y) for x, y in (o.loop.circle.centre for o in other.profile.inside))
    assert len(here) == len(there)
    assert all(min(math.dist(p, q) for q in there) < 1e-6 for p in here)


def test_a_slot_is_about_its_mark_and_clear_of_the_bend():
    """25 long and 9 wide for an M8: from 22.5 to 47.5 off the outside of the bend once folded."""
    part = parts.draw("bracket-bent-angle", thickness=4, bolt="M8", slot_b=25, mark_b=35)
    folded = fold(part)
    slots = [o.loop.box for o in part.profile.inside if o.name == "slot in flange B"]
    assert [(x1 - x0, y1 - y0) for x0, y0, x1, y1 in slots] == [pytest.approx((25, 9))] * 2
    heights = sorted(folded.place((x, (y0 + y1) / 2))[2] for x0, y0, x1, y1 in slots for x in (x0, x1))
    assert heights == pytest.approx([22.5, 22.5, 47.5, 47.5], abs=0.01)


@pytest.mark.parametrize(
    ("values", "named"),
    [({"slot_b": 10.9}, ["slot_b"]), ({"slot_b": 51}, ["mark_b"]), ({"slot_b": 10.9, "holes_b": 0}, [])],
    ids=["shorter than the hole", "over the edge", "no slots"],
)
def test_a_slot_has_room_and_takes_its_bolt(values, named):
    found = []
    try:
        parts.draw("bracket-bent-angle", **values)
    except parts.Refused as refused:
        found = [problem.parameter for problem in refused.problems]
    assert found == named


def test_a_row_stands_as_far_from_the_outside_of_the_bend_as_asked():
    """Flanges 90 and 50 outside, 4 mm sheet: 50 high, the holes 55 and 32 from the outside faces."""
    part = parts.draw("bracket-bent-angle", flange_a=90, flange_b=50, thickness=4, mark_a=55, mark_b=32, bolt="M8")
    folded = fold(part)
    assert folded.size == pytest.approx((90, 80, 50), abs=0.01)
    a, b = [folded.place(opening.loop.circle.centre, 0) for opening in part.profile.inside][::2]
    assert a == pytest.approx((35, 20, 0), abs=0.01)
    assert b == pytest.approx((90, 20, 32), abs=0.01)
