"""Healing and nesting on lines and arcs given in mm: tails, forks, overlaps, touching loops, pieces in windows."""

import itertools
import math

import pytest

from parts.geometry.draft import circle, rectangle
from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Line
from parts.read import read_drawing
from parts.read.heal.healing import heal
from parts.read.heal.net import corner
from parts.read.limits import Budget
from parts.read.nest import nest
from parts.read.outlines import Chain, split
from parts.read.sentences import open_findings
from parts.tolerance import HEAL_MM
from tests.files.foreign import dxf, line


def lines(*points, closed=True):
    ring = [*points, points[0]] if closed else points
    return [Line(a, b) for a, b in itertools.pairwise(ring)]


def healed(*segments):
    return heal([Chain((segment,), False, "0") for segment in segments], Budget())


def areas(result) -> list:
    return sorted(round(loop.area, 6) for loop, _ in result.loops)


def sizes(result) -> dict[str, list]:
    """What was mended, by kind, with its sizes."""
    found: dict[str, list] = {}
    for mend in result.mends:
        found.setdefault(mend.kind, []).append(pytest.approx(mend.size_mm, abs=1e-9))
    return found


def doubles(result) -> int:
    return sum(mend.kind == "double" for mend in result.mends)


def said(result) -> list[tuple]:
    return [(f.message, f.at, f.measured) for f in open_findings(result.open, "mm", Budget())]


SQUARE = lines((0, 0), (10, 0), (10, 10), (0, 10))


def test_a_line_that_crosses_itself_and_encloses_nothing_is_said_to():
    (found,) = said(healed(*lines((0, 0), (10, 10), (10, 0), (0, 10))))
    assert found[0].startswith("The line from here comes back to its start but encloses nothing: it crosses itself")
    closed = lines((0, 0), (10, 10), (10, 0), (0, 10))
    assert [each[0] for each in said(heal([Chain(tuple(closed), False, "0")], Budget()))] == [found[0]]


def test_a_stray_line_shorter_than_a_gap_is_dropped_and_a_longer_one_told_of():
    short, long = Line((3, 3), (3 + HEAL_MM, 3)), Line((3, 3), (3 + 2 * HEAL_MM, 3))
    result = healed(*SQUARE, short)
    assert (sizes(result), result.open, areas(result)) == ({"stray": [HEAL_MM]}, [], [100])
    result = healed(*SQUARE, long)
    assert sizes(result) == {}
    ((message, at, measured),) = said(result)
    assert message == "This line joins nothing at either end, 0.2 mm long."
    assert at in (long.start, long.end)
    assert measured == pytest.approx(0.2)


def test_an_outline_that_lacks_a_side_is_open_by_it_and_is_no_loose_line():
    ((message, at, measured),) = said(healed(*SQUARE[:3]))
    assert (message, measured) == ("The outline is open here by 10 mm.", 10)
    assert at in ((0, 0), (0, 10))


# ------------------------------------------------------------------ joining


def test_two_lines_that_nearly_meet_get_their_true_corner():
    result = healed(Line((0, 0), (9.98, 0)), Line((10, 0.03), (10, 10)), Line((10, 10), (0, 10)), Line((0, 10), (0, 0)))
    assert sizes(result) == {"gap": [math.hypot(0.02, 0.03)]}
    (loop, _), = result.loops  # fmt: skip
    assert any(math.dist(s.start, (10, 0)) < 1e-12 for s in loop.segments)
    assert loop.area == pytest.approx(100, abs=1e-12)


def test_an_arc_keeps_its_shape_and_the_line_comes_to_it():
    arc = Arc((10, 0), (10, 10), 1.0)
    at = corner(Line((9.97, 0), (0, 0)), arc, HEAL_MM)
    assert at == (10, 0)
    result = healed(Line((0, 0), (9.97, 0)), arc, Line((10, 10), (0, 10)), Line((0, 10), (0, 0)))
    (loop, _), = result.loops  # fmt: skip
    assert arc in loop.segments or arc.reversed() in loop.segments


def test_ends_of_one_arc_are_joined_to_each_other():
    """A circle drawn as an arc that stops 0.02 mm short."""
    turn = 2 * math.pi - 0.002
    whole = Arc((10, 0), (10 * math.cos(turn), 10 * math.sin(turn)), math.tan(turn / 4))
    result = healed(*split(whole, whole.at(0.5), 0.5))
    assert [mend.size_mm for mend in result.mends] == [pytest.approx(0.02, rel=1e-3)]
    assert areas(result) == [pytest.approx(math.pi * 100, rel=1e-3)]


def test_the_nearest_ends_are_joined_first_and_a_third_stays_open():
    result = healed(*SQUARE[:3], Line((0, 10), (0, 0.02)), Line((-0.03, 0), (-5, 0)))
    assert areas(result) == [pytest.approx(100, abs=0.1)]
    assert len(result.open) == 1


# ------------------------------------------------------------------ what is drawn twice


@pytest.mark.parametrize(
    ("extra", "dropped"),
    [
        ([Line((0, 0), (10, 0))], 1),
        ([Line((10, 0), (0, 0))], 1),
        ([Line((2, 0), (5, 0))], 1),
        ([Line((0, 0), (5, 0))], 1),
        ([Line((2, 0.03), (7, 0.03))], 1),
        ([Line((0, 0), (4, 0)), Line((4, 0), (10, 0))], 2),
        ([Line((3, 0), (4, 0)), Line((4, 0), (6, 0)), Line((6, 0), (7, 0))], 3),
        (SQUARE, 4),
    ],
    ids=["again", "backwards", "inside", "from a corner", "0.03 mm off", "in two", "chain of three", "all of it"],
)
def test_overlaps_leave_the_square(extra, dropped):
    result = healed(*SQUARE, *extra)
    assert areas(result) == [100]
    assert doubles(result) == dropped
    assert result.open == []


def test_a_line_beside_an_edge_by_more_than_the_tolerance_is_no_double():
    result = healed(*SQUARE, Line((2, 0.11), (7, 0.11)))
    assert (areas(result), doubles(result), len(result.open)) == ([100], 0, 1)


def test_an_overlong_edge_is_cut_back_to_a_tail():
    """One edge drawn 5 mm too long over a right one: what lies on it goes, what sticks out is a stop."""
    result = healed(*SQUARE, Line((0, 0), (15, 0)))
    assert (areas(result), doubles(result)) == ([100], 1)
    assert said(result) == [("A line hangs loose from the outline, 5 mm long.", (15, 0), 5)]


def test_arcs_overlap_on_one_circle_only():
    ring = circle((0, 0), 20).segments
    half, wider = Arc((10, 0), (-10, 0), 1.0), Arc((10, 0), (-10, 0), 0.9)
    assert doubles(healed(*ring, half)) == 1
    result = healed(*ring, wider)
    assert doubles(result) == 0
    assert len(result.open) == 3  # three arcs from one point to another: which two are the outline?


def test_an_outline_drawn_twice_with_other_corners_is_one():
    first = Chain(tuple(SQUARE), True, "0")
    again = Chain(tuple(lines((0.01, 0), (5, 0.01), (10, 0), (10, 10.01), (0, 10))), True, "0")
    near = Chain(tuple(lines((0.2, 0.2), (9.8, 0.2), (9.8, 9.8), (0.2, 9.8))), True, "0")
    result = heal([first, again, near], Budget())
    assert (len(result.loops), sizes(result)) == (2, {"outline": [0.01]})


# ------------------------------------------------------------------ tails, forks, crossings


def test_a_tail_is_a_stop_and_the_loop_stays():
    result = healed(*SQUARE, Line((10, 10), (12, 12)))
    assert areas(result) == [100]
    ((message, at, measured),) = said(result)
    assert message == "A line hangs loose from the outline, 2.828 mm long."
    assert at == (12, 12)
    assert measured == pytest.approx(math.sqrt(8))


def test_neighbours_that_share_an_edge_stay_open_at_their_forks():
    result = healed(*SQUARE, *lines((10, 0), (20, 0), (20, 10), (10, 10), closed=False))
    assert areas(result) == []
    messages = [message for message, _, _ in said(result)]
    assert messages == ["3 lines meet here, so it can't be told which way the outline runs."]
    assert sum(len(c.segments) for c in result.open) == 7


def test_loops_that_touch_at_a_corner_are_two():
    result = healed(*SQUARE, *lines((10, 10), (20, 10), (20, 20), (10, 20)))
    assert areas(result) == [100, 100]
    assert result.open == []


def test_a_figure_of_eight_with_a_node_at_its_crossing_is_two_loops():
    result = healed(*lines((0, 0), (5, 5), (10, 0)), *lines((0, 10), (5, 5), (10, 10)))
    assert areas(result) == [25, 25]


def test_every_open_end_is_paired_with_its_neighbour():
    """Two halves of an outline, 0.2 mm apart at one end and 0.3 at the other: two gaps, not four ends."""
    upper = lines((0, 5.2), (0, 10), (10, 10), (10, 5.3), closed=False)
    lower = lines((0, 5), (0, 0), (10, 0), (10, 5), closed=False)
    result = healed(*upper, *lower)
    assert sorted(round(measured, 9) for _, _, measured in said(result)) == [0.2, 0.3]


def test_many_open_ends_are_summed_up():
    found = said(healed(*(Line((0, 20 * y), (5, 20 * y)) for y in range(60))))
    assert len(found) == 41
    assert found[-1][0] == "There are 20 more places where lines are open."


def test_nothing_is_lost():
    """Every segment is in a loop or an open chain, whatever the net."""
    grid = [Line((x, y), (x + 1, y)) for x in range(4) for y in range(5)]
    grid += [Line((x, y), (x, y + 1)) for x in range(5) for y in range(4)]
    result = healed(*grid)
    kept = sum(len(loop.segments) for loop, _ in result.loops) + sum(len(c.segments) for c in result.open)
    assert kept == len(grid)


# ------------------------------------------------------------------ nesting


def nested(*loops: Loop, layer=""):
    outside, inside = nest([(loop, layer) for loop in loops], Budget())
    return [round(x.area, 3) for x in outside], [round(x.loop.area, 3) for x in inside]


def test_a_part_in_a_window_is_a_piece_of_its_own():
    loops = [rectangle((10 * i, 10 * i), 100 - 20 * i, 100 - 20 * i) for i in range(5)]
    assert nested(*loops) == ([10000, 3600, 400], [6400, 1600])
    assert nested(*reversed(loops)) == ([400, 3600, 10000], [1600, 6400])


def test_pieces_side_by_side_each_with_its_hole():
    assert nested(rectangle((0, 0), 20, 20), circle((10, 10), 4), circle((40, 10), 4), rectangle((30, 0), 20, 20)) == (
        [400, 400],
        [pytest.approx(12.566), pytest.approx(12.566)],
    )


def test_inside_is_decided_on_the_arc_not_its_box_or_chords():
    """Holes a hair inside and a hair outside a half disc's arc, both within its box."""
    half = Loop((Arc((0, 0), (100, 0), -1.0), Line((100, 0), (0, 0))))
    at = 50 + 50 * math.cos(math.pi / 4)
    touching = 50 * math.sin(math.pi / 4)
    for off, due in ((-0.2, 1), (0.2, 0)):
        hole = circle((at + off, touching + off), 0.1)
        assert len(nested(half, hole)[1]) == due


def test_a_loop_of_many_segments_is_asked_as_exactly():
    ring = Loop.through((50 * math.cos(a / 50), 50 * math.sin(a / 50), 0.005) for a in range(314))
    for x in (0.0, 49.0, 49.9, 50.5):
        hole = circle((x, 0.3), 0.02)
        assert len(nested(ring, hole)[1]) == int(ring.contains(hole.segments[0].at(0.5)))


def test_openings_are_named_by_their_shape():
    _, inside = nest(
        [(rectangle((0, 0), 90, 90), ""), (circle((20, 20), 9), ""), (rectangle((50, 50), 9, 9), "")], Budget()
    )
    assert [opening.name for opening in inside] == ["hole", "opening"]


def told(*lines) -> list[str]:
    """What is told of open lines, each a chain of points."""
    drawn = "".join(line(*a, *b) for chain in lines for a, b in itertools.pairwise(chain))
    return [finding.message for finding in read_drawing(dxf(drawn), "lines.dxf", "mm").findings]


@pytest.mark.parametrize("gap", [8.01, 20, 58])
def test_lone_lines_beside_each_other_are_no_outline_with_a_gap(gap):
    assert told([(0, 0), (80, 0)], [(0, gap), (80, gap)]) == ["This line joins nothing at either end, 80 mm long."] * 2


def test_a_gap_by_a_slip_of_the_hand_is_told_with_its_width():
    assert told([(0, 0), (80, 0)], [(0, 7.9), (80, 7.9)]) == ["The outline is open here by 7.9 mm."] * 2
    assert told([(0, 0), (5, 0)], [(0, 0.9), (5, 0.9)]) == ["The outline is open here by 0.9 mm."] * 2


def test_a_line_that_has_one_end_near_another_is_told_of_the_other_end():
    assert sorted(told([(0, 0), (80, 0)], [(80, 3), (80, 90)])) == [
        "The outline is open here by 3 mm.",
        "This line joins nothing here, 80 mm long.",
        "This line joins nothing here, 87 mm long.",
    ]


def test_an_outline_without_its_last_side_is_open_by_that():
    assert told([(0, 60), (0, 0), (100, 0), (100, 60)]) == ["The outline is open here by 100 mm."]
