"""Runs of short segments: counted once a loop; fillets, chamfers and split lines are none."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.finding import Finding
from parts.geometry.draft import chamfer, fillet, polygon, rectangle, slot
from parts.geometry.loop import Loop
from parts.profile import Profile, openings
from parts.rules import short_segment
from tests.depth import tried
from tests.unit.rules.restaged import JOB, assert_same_findings, restagings


def chords(centre, radius, count, start=0.0, sweep=2 * math.pi):
    """Corners on a circle, the last left out where it is whole."""
    (x, y), turns = centre, [start + sweep * k / count for k in range(count + (sweep < 6))]
    return [(x + radius * math.cos(t), y + radius * math.sin(t)) for t in turns]


def found(profile):
    return tuple(short_segment.check(profile, JOB))


def zigzag(step, count):
    """A plate with a low zigzag of lines, each `step` mm long, along its top."""
    across, up = step * 0.8, step * 0.6
    top = [(80 - k * across, 40 + up * (k % 2)) for k in range(count + 1)]
    return Profile((polygon([(0, 0), (80, 0), *top, (0, 40)]),))


def test_a_round_end_in_chords():
    profile = Profile((polygon([(0, 0), *chords((50, 10), 10, 20, -math.pi / 2, math.pi), (0, 20)]),))
    length = 2 * 10 * math.sin(math.pi / 40)
    assert found(profile) == (
        Finding(
            "short-segment", "warn", pytest.approx((60, 10)), pytest.approx(length), 2.0,
            "20 pieces in a row of the edge are shorter than the 2 mm kerf, down to 1.569 mm; "
            "the torch stutters along them.",
            "Draw the curve as a few arcs in place of many short lines.",
        ),
    )  # fmt: skip


@pytest.mark.parametrize(("step", "expected"), [(1.99, 8), (2.0, None), (2.01, None)])
def test_pieces_just_under_at_and_over_the_kerf(step, expected):
    said = found(zigzag(step, 8))
    assert [f.measured for f in said] == ([pytest.approx(step)] if expected else [])
    assert all(f.message.startswith(f"{expected} pieces in a row") for f in said)


@pytest.mark.parametrize(("count", "is_found"), [(1, False), (4, False), (5, True), (6, True)])
def test_how_many_in_a_row(count, is_found):
    assert bool(found(zigzag(1.0, count))) == is_found


def test_chamfers_and_small_fillets_are_no_trouble():
    corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    for treated in (chamfer, fillet):
        assert found(Profile((polygon([treated(x, y, 1.0) for x, y in corners]),))) == ()
    assert found(Profile((rectangle((0, 0), 2.5, 2.5, 1.0),))) == ()
    assert found(Profile((slot((0, 0), 3, 2),))) == ()


def test_arcs_that_go_over_into_each_other_are_a_smooth_curve():
    """Left and right quarter turns of 1 mm, each tangent to the next: a wave, no stutter."""
    wave = [(k, 0.0, math.tan(math.pi / 8) * (1 if k % 2 else -1)) for k in range(40)]
    smooth = Loop.through([*((x, 40 + y, b) for x, y, b in reversed(wave)), (0, 0, 0), (39, 0, 0)])
    assert found(Profile((smooth,))) == ()
    kinked = Loop.through([*((x, 40.0, 0.3) for x in range(40, -1, -1)), (0, 0, 0), (40, 0, 0)])
    assert found(Profile((kinked,)))[0].message.startswith("40 pieces in a row")


def test_a_line_cut_in_many_is_one_line():
    split = [(x / 2, 0.0) for x in range(100)]
    assert found(Profile((polygon([*split, (50, 0), (50, 40), (0, 40)]),))) == ()


def test_a_whole_loop_of_chords_and_several_stretches():
    hole = polygon(chords((30, 30), 5, 40))
    end = chords((100, 30), 8, 15, -math.pi / 2, math.pi)
    edge = polygon([(0, 22), *end, (60, 38.8), *((59 - k, 38 + 0.8 * (k % 2 == 0)) for k in range(9)), (0, 38)])
    (of_edge,) = found(Profile((edge,)))
    assert of_edge.message.startswith("24 pieces in 2 stretches of the edge are shorter")
    assert len(of_edge.also) == 1
    (of_hole,) = found(Profile((rectangle((0, 0), 60, 60),), openings([hole], "hole", "")))
    assert of_hole.message.startswith("40 pieces in a row of the hole")


@given(st.sampled_from([zigzag(1.5, 9), zigzag(1.2, 30)]), restagings())
@tried(60)
def test_however_it_is_drawn(profile, restaging):
    assert_same_findings(short_segment.check, profile, restaging)
