"""Edge distance just under, at and just over its limit, and whatever way the part is drawn."""

import math

import pytest
from hypothesis import given

from parts.cutting.process import cut_for
from parts.finding import Finding
from parts.geometry.draft import circle, rectangle, slot
from parts.geometry.loop import Loop
from parts.geometry.motion import rotation, translation
from parts.geometry.segment import Arc
from parts.profile import Drill, Opening, Profile, openings
from parts.rules import edge_distance
from tests.depth import tried
from tests.jobs import job
from tests.property.same_drawing import assert_same, drawings

JOB = job(cut_for("air-plasma", "mild-steel", 6.0))
PLATE = rectangle((0, 0), 200, 100)
LAST = "What a loaded connection needs is for an engineer to settle."


def check(*inside, marks=(), outside=PLATE):
    return tuple(edge_distance.check(Profile((outside,), inside, tuple(marks)), JOB))


def hole(x, y, diameter=17.5, bolt=16.0, name="hole"):
    return Opening(circle((x, y), diameter), name, "holes", bolt)


def found(at, measured, limit, message, remedy, also=()):
    return Finding(
        "edge-distance", "warn", pytest.approx(at), pytest.approx(measured, abs=1e-9), limit,
        message, f"{remedy}, or take a smaller bolt. {LAST}", (), also,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("y", "expected"),
    [
        (21.99, (found((90, 21.99), 21.99, 22.0,
                       "The centre of the hole is 21.99 mm from the edge; in a structural steel connection the M16 "
                       "bolt wants 22 mm (AISC 360-22 table J3.4M).", "Move it 0.01 mm further in"),)),
        (22.0 - 1e-10, ()),
        (22.0, ()),
        (22.01, ()),
    ],
    ids=["under", "at but for rounding", "at", "over"],
)  # fmt: skip
def test_a_hole_by_the_edge(y, expected):
    assert check(hole(90, y)) == expected


def test_an_inch_bolt_has_its_own_table():
    (one,) = check(hole(90, 19, 14, 12.7))
    assert one.limit == pytest.approx(19.05)
    assert "the 1/2 in bolt wants 19.05 mm (AISC 360-22 table J3.4)." in one.message


def test_a_hole_without_a_bolt_and_one_by_diameter_are_left_alone():
    assert check(hole(90, 10, bolt=0.0)) == ()


def test_several_of_one_pattern_are_one_finding_at_the_worst():
    (one,) = check(
        *openings(
            [circle((x, y), 17.5) for x, y in ((40, 20), (90, 15), (150, 50), (160, 18))], "hole in leg A", "", 16.0
        )
    )
    assert (one.at, one.measured, one.also) == ((90, 15), 15, ((40, 20), (160, 18)))
    assert one.message.startswith("The centre of hole 2 in leg A is 15 mm from the edge;")
    assert one.message.endswith(" The same at 2 more.")


def test_an_opening_is_an_edge_but_another_bolt_hole_is_not():
    window = Opening(rectangle((100, 30), 60, 40), "window", "window")
    (one,) = check(hole(85, 50), window)
    assert (one.at, one.measured) == ((85, 50), 15)
    assert "is 15 mm from the window;" in one.message
    assert one.remedy.startswith("Move it 7 mm further from the window,")
    assert check(hole(85, 50), hole(105, 50)) == ()


def test_a_drilled_hole_without_a_bolt_is_an_edge_and_one_with_a_bolt_is_measured():
    (one,) = check(hole(85, 50), marks=[Drill((105, 50), 8)])
    assert (one.measured, one.message.split(";")[0]) == (16, "The centre of the hole is 16 mm from the drilled hole")
    (two,) = check(marks=[Drill((85, 10), 17.5, "hole in leg B", "", 16.0)])
    assert (two.at, two.measured) == ((85, 10), 10)
    assert two.message.startswith("The centre of the hole in leg B is 10 mm from the edge;")


def test_a_loose_hole_is_told_its_increment():
    """M16 in 18.5, over the 18 of table J3.3M: 22 + 2; in 18 it is standard, in 22 it is 2 over the oversized 20."""
    (one,) = check(hole(90, 23.99, 18.5))
    assert one.limit == 24
    assert one.message == (
        "The centre of the hole is 23.99 mm from the edge; in a structural steel connection the M16 bolt wants 24 mm: "
        "22 mm (AISC 360-22 table J3.4M) and 2 mm for an oversized hole (from memory: AISC 360-22 table J3.5M)."
    )
    assert check(hole(90, 24, 18.5)) == ()
    assert check(hole(90, 22, 18.0)) == ()
    assert [f.limit for f in check(hole(90, 24.5, 22.0))] == [25]


SLOTS = [
    # M16: short up to 22 long, 3 less half of what it lacks; long up to 40, 12 less half of what it lacks
    pytest.param(22, 18, 1.0, 25.0, "3 mm for a short slot towards the edge", id="short"),
    pytest.param(20, 18, 1.0, 24.0, "2 mm for a short slot towards the edge", id="shorter"),
    pytest.param(40, 18, 1.0, 34.0, "12 mm for a long slot towards the edge", id="long"),
    pytest.param(30, 18, 1.0, 29.0, "7 mm for a long slot towards the edge", id="less long"),
    pytest.param(60, 18, 1.0, 44.0, "22 mm for a long slot towards the edge", id="longer than any: half of the rest"),
    pytest.param(40, 18, 0.0, 22.0, "", id="along the edge"),
    pytest.param(40, 18, 0.6, 29.2, "7.2 mm for a long slot towards the edge", id="slanting: its share"),
    pytest.param(40, 18.5, 0.0, 24.0, "2 mm for its width over a standard hole", id="wide, along the edge"),
]


@pytest.mark.parametrize(("length", "width", "toward", "limit", "said"), SLOTS)
def test_a_slot_wants_its_increment_where_it_points_to_the_edge(length, width, toward, limit, said):
    """AISC 360 tables J3.4M, J3.3M and J3.5M (the last recalled), measured from the middle of the slot."""
    for y, expected in ((limit - 0.01, 1), (limit, 0), (limit + 0.01, 0)):
        turned = rotation(math.asin(toward)).loop(slot((0, 0), length, width))
        found = check(Opening(translation(300, y).loop(turned), "slot", "", 16.0), outside=rectangle((0, 0), 600, 400))
        assert len(found) == expected
        for one in found:
            assert (one.measured, one.limit) == (pytest.approx(y), pytest.approx(limit))
            assert one.message.startswith("The middle of the slot is ")
            assert said in one.message
            assert ("from memory" in one.message) == bool(said)


def curved_slot(centre, radius, width, half):
    """A slot along an arc about a centre, `half` radians to either side of straight down."""

    def at(r, t):
        return centre[0] + r * math.sin(t), centre[1] - r * math.cos(t)

    inner, outer, bow = radius - width / 2, radius + width / 2, math.tan(half / 2)
    return Loop((
        Arc(at(outer, -half), at(outer, half), bow), Arc(at(outer, half), at(inner, half), 1.0),
        Arc(at(inner, half), at(inner, -half), -bow), Arc(at(inner, -half), at(outer, -half), 1.0),
    ))  # fmt: skip


def test_a_curved_slot_has_its_ends_too():
    loop = curved_slot((100, 60), 80, 17.5, 1.2)
    right = 100 + 80 * math.sin(1.2)
    (one,) = check(Opening(loop, "slot", "", 16.0), outside=rectangle((0, -60), right + 20, 200))
    assert one.measured == pytest.approx(20)
    assert one.at == pytest.approx((right, 60 - 80 * math.cos(1.2)))
    assert one.message.startswith("The centre of an end of the slot is 20 mm from the edge;")
    longer = (80 * 2.4 + 17.5 - 40) / 2 - 80 * 1.2  # what its length asks for beyond the bolt's own travel
    assert one.limit == pytest.approx(22 + (12 + longer) * math.cos(1.2))


def test_distance_to_an_arc_is_exact():
    disc = circle((0, 0), 100)
    (one,) = check(hole(*rotation(0.3).point((29, 0))), outside=disc)
    assert one.measured == pytest.approx(21, abs=1e-9)
    assert check(hole(*rotation(0.3).point((28, 0))), outside=disc) == ()


def test_a_square_hole_is_not_measured():
    assert check(Opening(rectangle((10, 10), 17, 17), "hole", "", 16.0)) == ()


def test_what_crosses_the_edge_is_no_crash():
    assert check(hole(0, 0))[0].measured == 0
    assert check(hole(300, 300)) == ()


MIXED = Profile(
    (rectangle((0, 0), 200, 100, 12),),
    (
        *openings([circle((18, 30), 17.5), circle((100, 80.5), 17.5), circle((100, 50), 17.5)], "hole", "", 16.0),
        Opening(slot((168, 40), 60, 13.5), "slot", "", 12.0),
        Opening(rectangle((115, 42), 15, 9, 2), "window"),
    ),
    (Drill((60, 13), 11, bolt=10.0), Drill((45, 40), 9)),
)


@tried(80)
@given(drawings())
def test_however_it_is_drawn(drawing):
    drawn, place = drawing
    found = tuple(edge_distance.check(MIXED, JOB))
    assert len(found) == 3
    assert_same(found, tuple(edge_distance.check(drawn(MIXED), JOB)), place)


def test_many_holes_and_segments_agree_with_few():
    """Over the number of segments from which an index is used, each hole is measured as alone."""
    alone = check(hole(20, 50))
    outside = rectangle((0, 0), 3000, 100)
    many = [hole(20, 50), *(hole(100 + 40 * i, 50) for i in range(60))]
    assert check(*many, outside=outside)[0].measured == alone[0].measured
    crowd = [Opening(circle((60 + 9 * i, 90), 4), "vent") for i in range(150)]
    assert [f.measured for f in check(hole(20, 50), *crowd, outside=outside)] == [20]
