"""Drilled room just under, at and just over its limit, and whatever way the part is drawn."""

import pytest
from hypothesis import given

import parts
from parts.cutting.process import cut_for
from parts.finding import Finding
from parts.geometry.draft import circle, rectangle
from parts.profile import Drill, Opening, Profile
from parts.rules import drilled_room
from tests.depth import tried
from tests.jobs import job
from tests.property.same_drawing import assert_same, drawings

JOB = job(cut_for("air-plasma", "mild-steel", 6.0))
PLATE = rectangle((0, 0), 100, 60)


def check(*drills, inside=(), outside=(PLATE,)):
    return tuple(drilled_room.check(Profile(outside, tuple(inside), drills), JOB))


def found(severity, at, left, message, remedy, also=(), limit=5.0):
    return Finding("drilled-room", severity, at, pytest.approx(left), limit, message, remedy, (), also)


EDGE = {
    "over": (10.01, ()),
    "at": (10.0, ()),
    "at but for rounding": (10.0 - 1e-10, ()),
    "under": (9.99, (found("warn", (50, 9.99), 4.99,
                           "The drilled hole, 10 mm, leaves 4.99 mm to the edge; a drill wants 5 mm beside it.",
                           "Move it 0.01 mm further from the edge, or drill it smaller."),)),
    "just not through": (5.01, (found("warn", (50, 5.01), 0.01,
                           "The drilled hole, 10 mm, leaves 0.01 mm to the edge; a drill wants 5 mm beside it.",
                           "Move it 4.99 mm further from the edge, or drill it smaller."),)),
    "touching": (5.0, (found("stop", (50, 5.0), 0.0, "The drilled hole, 10 mm, breaks into the edge.",
                             "Move it 5 mm further from the edge, or drill it smaller."),)),
    "through": (3.0, (found("stop", (50, 3.0), 0.0, "The drilled hole, 10 mm, breaks into the edge.",
                            "Move it 7 mm further from the edge, or drill it smaller."),)),
    "outside": (-20.0, (found("stop", (50, -20.0), 0.0,
                              "The drilled hole, 10 mm, has its centre outside the part, where there is no metal.",
                              "Move it onto the part, or leave it out."),)),
}  # fmt: skip


@pytest.mark.parametrize(("y", "expected"), EDGE.values(), ids=EDGE.keys())
def test_a_hole_by_the_edge(y, expected):
    assert check(Drill((50, y), 10)) == expected


def test_beside_an_opening_and_in_it():
    window = Opening(rectangle((40, 20), 30, 20), "window")
    (beside,) = check(Drill((32, 30), 10), inside=[window])
    assert (beside.severity, beside.measured) == ("warn", 3)
    assert "leaves 3 mm to the window;" in beside.message
    (within,) = check(Drill((55, 30), 4), inside=[window])
    assert within.message == "The drilled hole, 4 mm, has its centre in the window, where there is no metal."


def test_two_drilled_holes_are_told_once_from_the_larger():
    (one,) = check(Drill((30, 30), 6), Drill((44, 30), 12))
    assert (one.at, one.measured, one.limit) == ((44, 30), 5, 6)
    assert one.message == "Drilled hole 2, 12 mm, leaves 5 mm to drilled hole 1; a drill wants 6 mm beside it."
    (overlap,) = check(Drill((30, 30), 6), Drill((35, 30), 12))
    assert overlap.severity == "stop"
    assert check(Drill((30, 30), 6), Drill((45, 30), 12)) == ()


def test_two_alike_are_both_marked():
    (one,) = check(Drill((30, 30), 10), Drill((44, 30), 10))
    assert (one.measured, one.at, one.also) == (4, (30, 30), ((44, 30),))


def test_a_pilot_in_its_hole_and_a_centre_of_no_size_are_no_finding():
    assert check(Drill((50, 30), 4), Drill((50, 30), 12)) == ()
    assert check(Drill((0, 0), 0.0)) == ()


def test_holes_exchanged_for_centres_are_looked_at():
    """M10 holes of 11 in 12 mm plate are too small for air plasma; 7 from the edge they have 1.5 of metal."""
    part = parts.draw("gusset-triangle", holes_a=2, back_mark=7, thickness=12, small_holes="drill")
    (one,) = [f for f in part.findings if f.rule == "drilled-room"]
    assert (one.severity, one.measured, one.limit) == ("warn", pytest.approx(1.5), 5.5)
    assert one.message == (
        "Hole 1 in leg A, 11 mm, leaves 1.5 mm to the edge; a drill wants 5.5 mm beside it. The same at 1 more."
    )


MIXED = Profile(
    (rectangle((0, 0), 100, 60, 8),),
    (Opening(circle((50, 30), 20), "window"),),
    (
        Drill((7, 7), 6), Drill((8, 40), 9), Drill((97, 30), 8), Drill((33, 30), 9, "pin hole"),
        Drill((50, 31), 6, "lost hole"),
        Drill((80, 50), 5, "small hole"), Drill((87, 50), 6, "small hole"),
    ),
)  # fmt: skip


@tried(80)
@given(drawings())
def test_however_it_is_drawn(drawing):
    drawn, place = drawing
    found = tuple(drilled_room.check(MIXED, JOB))
    assert [f.severity for f in found] == ["warn", "stop", "warn", "stop", "warn"]
    assert_same(found, tuple(drilled_room.check(drawn(MIXED), JOB)), place)


def test_many_openings():
    """Over the number of segments from which an index is used, the centre in metal is known as such."""
    vents = [Opening(circle((20 + 8 * i, 15 + 8 * j), 4), "vent") for i in range(20) for j in range(10)]
    sheet = rectangle((0, 0), 220, 130)
    assert check(Drill((5.5, 100), 5), Drill((24, 19), 2), inside=vents, outside=(sheet,)) == ()
    (one,) = check(Drill((28, 23), 2), inside=vents, outside=(sheet,))
    assert one.message.endswith("has its centre in vent 12, where there is no metal.")
