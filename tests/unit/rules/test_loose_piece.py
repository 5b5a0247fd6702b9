"""Islands and pieces side by side: told once, by this rule and not by `loops`."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.finding import Finding
from parts.geometry.draft import circle, rectangle
from parts.geometry.motion import translation
from parts.profile import Opening, Profile, openings
from parts.read.reading import read_drawing
from parts.rules import findings, loops, loose_piece
from tests.depth import tried
from tests.unit.rules.restaged import JOB, assert_same_findings, restagings

PLATE = rectangle((0, 0), 200, 120)
WINDOW = Opening(rectangle((20, 20), 160, 80), "window")
LETTER_O = Profile((PLATE, circle((100, 60), 30)), (WINDOW,))
PLATE_IN_WINDOW = Profile(
    (PLATE, rectangle((40, 40), 60, 40), circle((140, 60), 20)),
    (WINDOW, *openings([circle((60, 60), 10)], "hole", "")),
)


def found(profile):
    return tuple(loose_piece.check(profile, JOB))


def test_the_middle_of_an_o_falls_out():
    assert found(LETTER_O) == (
        Finding(
            "loose-piece", "stop", pytest.approx((100, 60)), None, None,
            "A piece lies loose in the window, held by nothing; it drops out when that is cut.",
            "Hold it by bridges of 6 mm or more, or take it out.",
        ),
    )  # fmt: skip


def test_an_island_is_one_finding_of_all_rules():
    assert [f.rule for f in findings(LETTER_O, JOB) if f.severity == "stop"] == ["loose-piece"]
    assert tuple(loops.check(LETTER_O, JOB)) == ()


def test_islands_with_holes_of_their_own_are_told_by_their_opening():
    (said,) = found(PLATE_IN_WINDOW)
    assert said.message == "2 pieces lie loose in the window, held by nothing; they drop out when that is cut."
    assert [said.at, *said.also] == [pytest.approx((70, 60)), pytest.approx((140, 60))]
    assert tuple(loops.check(PLATE_IN_WINDOW, JOB)) == ()


def test_an_island_in_an_island():
    deep = Profile((PLATE, rectangle((40, 40), 60, 40), circle((70, 60), 10)), (WINDOW, Opening(circle((70, 60), 30))))
    assert [f.message.partition(",")[0] for f in found(deep)] == [
        "A piece lies loose in the window", "A piece lies loose in the opening"
    ]  # fmt: skip
    assert tuple(loops.check(deep, JOB)) == ()


def test_pieces_side_by_side_are_a_note():
    beside = Profile((rectangle((0, 0), 50, 50), rectangle((100, 0), 50, 50), rectangle((200, 0), 50, 50)))
    assert found(beside) == (
        Finding(
            "loose-piece", "note", pytest.approx((25, 25)), None, None,
            "3 pieces lie side by side in one drawing, with nothing between them to hold them together.",
            "Join them if they are meant to be one part; else they are cut as parts of their own.",
            also=(pytest.approx((125, 25)), pytest.approx((225, 25))),
        ),
    )  # fmt: skip


def test_pieces_that_a_template_names_are_meant_to_lie_side_by_side():
    loops = rectangle((0, 0), 50, 50), rectangle((100, 0), 50, 50)
    profile = Profile(loops, pieces=("lid", "base"))
    assert found(profile) == found(profile.moved(translation(5, 0))) == ()
    assert [profile.name(i) for i in (0, 1)] == ["the edge of the lid", "the edge of the base"]


def test_one_piece_with_openings_hangs_together():
    assert found(Profile((PLATE,), (WINDOW,))) == ()


def test_a_piece_on_bare_plate_is_for_loops():
    """Without an opening around it nothing is cut there but one outline in another."""
    profile = Profile((PLATE, rectangle((40, 40), 20, 20)))
    assert [f.message for f in loops.check(profile, JOB)] == ["The edge of piece 2 lies inside the edge of piece 1."]


def test_a_drawing_of_an_o_is_read_with_its_island():
    svg = b"""<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="120mm" viewBox="0 0 200 120">
      <rect x="0" y="0" width="200" height="120"/><rect x="20" y="20" width="160" height="80"/>
      <circle cx="100" cy="60" r="20"/></svg>"""
    profile = read_drawing(svg, "o.svg").profile
    assert [f.rule for f in findings(profile, JOB) if f.severity == "stop"] == ["loose-piece"]


@given(st.sampled_from([LETTER_O, PLATE_IN_WINDOW]), restagings())
@tried(30)
def test_however_it_is_drawn(profile, restaging):
    assert_same_findings(loose_piece.check, profile, restaging)
