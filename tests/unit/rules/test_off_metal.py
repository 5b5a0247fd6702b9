"""Marks that lie off the part: outside, over the edge, in an opening; cut with a kerf of 2 mm in 6 mm plate."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.finding import Finding
from parts.geometry import Arc, Line, Loop, circle, polygon, rectangle, slot
from parts.profile import Bend, Drill, Opening, Profile, Scribe
from parts.rules import off_metal
from tests import library
from tests.depth import tried
from tests.unit.rules.restaged import JOB, assert_same_findings, restagings

PLATE = rectangle((0, 0), 200, 100)
HOLE = Opening(circle((50, 50), 40), "hole")


def scribed(*points):
    return Scribe(tuple(Line(a, b) for a, b in pairwise(points)))


def found(*marks, inside=(HOLE,), outside=(PLATE,)):
    return tuple(off_metal.check(Profile(outside, inside, marks), JOB))


def said(*marks, **profile):
    return [finding.message for finding in found(*marks, **profile)]


def test_a_line_over_the_edge():
    assert found(scribed((150, 50), (230, 50))) == (
        Finding(
            "off-metal", "warn", pytest.approx((215, 50)), pytest.approx(30), JOB.cut.kerf_mm,
            "A scribe line runs 30 mm over the edge of the part.", "Trim it at the edge.",
        ),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("over", "is_found"), [(0, False), (1.999, False), (2, False), (2 + 1e-6, True), (-5, False)], ids=str
)
@pytest.mark.parametrize("mark", [lambda end: scribed((150, 50), end), lambda end: Bend(Line((150, 50), end))])
def test_what_the_kerf_takes_is_no_finding(mark, over, is_found):
    assert JOB.cut.kerf_mm == 2
    assert bool(found(mark((200 + over, 50)))) == is_found


@pytest.mark.parametrize(
    ("mark", "message"),
    [
        (scribed((250, 10), (300, 10)), "A scribe line lies outside the part."),
        (Bend(Line((-10, -10), (-10, 90))), "A bend line lies outside the part."),
        (Drill((250, 10), 0), "A centre to drill lies outside the part."),
        (scribed((40, 50), (60, 50)), "A scribe line lies in the hole, on what drops out."),
        (Bend(Line((50, 45), (50, 55))), "A bend line lies in the hole, on what drops out."),
        (Drill((52, 50), 0), "A centre to drill lies in the hole, on what drops out."),
        (Scribe(circle((50, 50), 10).segments), "A scribe line lies in the hole, on what drops out."),
        (Scribe((Arc((180, 40), (180, 60), 1.0),)), None),
        (Scribe((Arc((195, 40), (195, 60), 1.0),)), "A scribe line runs 20.94 mm over the edge of the part."),
        (scribed((10, 50), (190, 50)), None), (Bend(Line((50, 0), (50, 100))), None),  # across the hole
        (scribed((0, 0), (200, 0)), None), (scribed((10, 0), (90, 0)), None),  # along the edge
        (scribed((120, 10), (130, 20), (140, 10), (150, 60)), None), (Drill((150, 50), 0), None),
        (Drill((250, 50), 8), None),  # told by drilled-room
    ],
)  # fmt: skip
def test_where_a_mark_lies(mark, message):
    assert said(mark) == ([message] if message else [])


def test_marks_alike_are_one_finding_at_the_worst_place():
    (finding,) = found(scribed((190, 10), (205, 10)), scribed((190, 20), (220, 20)), scribed((190, 30), (210, 30)))
    assert finding.message == "3 scribe lines run up to 20 mm over the edge of the part."
    assert finding.at == pytest.approx((210, 20))
    assert len(finding.also) == 2


def test_a_mark_on_a_piece_in_an_opening_is_on_metal():
    ring, island = Opening(rectangle((20, 20), 100, 60), "window"), rectangle((50, 40), 30, 20)
    assert said(scribed((55, 50), (75, 50)), inside=(ring,), outside=(PLATE, island)) == []
    assert said(scribed((25, 25), (25, 70)), inside=(ring,), outside=(PLATE, island)) == [
        "A scribe line lies in the window, on what drops out."
    ]


def test_without_an_outline_nothing_is_off_it():
    assert found(scribed((0, 0), (9, 9)), inside=(), outside=()) == ()


@pytest.mark.parametrize("slug", library.SLUGS)
def test_no_template_draws_a_mark_off_its_part(slug):
    assert not [f for f in library.part(slug).findings if f.rule == "off-metal"]


@given(
    st.sampled_from([
        Profile((PLATE,), (HOLE,), (scribed((150, 50), (230, 50)), Bend(Line((40, 50), (55, 50))), Drill((300, 5), 0))),
        Profile((polygon([(0, 0), (90, 0), (20, 60)]),), (), (Scribe(slot((80, 40), 30, 8).segments),)),
        Profile((Loop.through([(0, 0, 1.0), (60, 0, 0.0)]),), (), (Bend(Line((30, -40), (30, 20))),)),
    ]),
    restagings(),
)  # fmt: skip
@tried(40)
def test_however_it_is_drawn(profile, restaging):
    assert_same_findings(off_metal.check, profile, restaging)
