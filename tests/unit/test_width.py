"""Necks and runs: what a single one says of itself. The search is held by tests/property/test_width.py."""

import math

import pytest

from parts.geometry.boundary import Boundary, turns_right
from parts.geometry.draft import circle, rectangle
from parts.geometry.run import Run, free_runs, joined, run_between
from parts.geometry.segment import Arc, Line
from parts.geometry.width import Neck

LOWER = Line((0, 0), (10, 0))
INNER = circle((0, 0), 20).reversed().segments
OUTER = circle((0, 0), 30).segments


def test_a_neck_knows_its_width_and_middle():
    neck = Neck((0, 0), (3, 4), 0, 2)
    assert (neck.width, neck.middle) == (5, (1.5, 2))


RUNS = {
    "facing": (LOWER, Line((10, 4), (0, 4)), ((0, 2), (10, 2), 4)),
    "facing in part": (LOWER, Line((25, 4), (6, 4)), ((6, 2), (10, 2), 4)),
    "facing away": (Line((10, 0), (0, 0)), Line((0, 4), (10, 4)), None),
    "the same way": (LOWER, Line((0, 4), (10, 4)), None),
    "beside": (LOWER, Line((25, 4), (10, 4)), None),
    "all but beside": (LOWER, Line((25, 4), (10 - 1e-10, 4)), None),
    "not parallel": (LOWER, Line((10, 4), (0, 4.001)), None),
    "in line": (LOWER, Line((10, 0), (0, 0)), None),
    "line and arc": (LOWER, Arc((10, 4), (0, 4), 0.1), None),
    "arcs about two centres": (OUTER[0], circle((1, 0), 20).reversed().segments[0], None),
    "arcs that both turn left": (OUTER[0], circle((0, 0), 20).segments[0], None),
}


@pytest.mark.parametrize(("a", "b", "expected"), RUNS.values(), ids=RUNS.keys())
def test_run_between(a, b, expected):
    for run in (run_between(a, b), run_between(b, a)):
        if expected is None:
            assert run is None
        else:
            ends = sorted([run.path.start, run.path.end])
            assert (*ends, run.width) == expected


def test_a_run_between_arcs_is_bent():
    found = [run for a in INNER for b in OUTER if (run := run_between(a, b))]
    assert [run.width for run in found] == pytest.approx([5, 5])
    assert sum(run.path.length for run in found) == pytest.approx(2 * math.pi * 12.5)
    for run in found:
        p, q = run.chord
        assert sorted([math.hypot(*p), math.hypot(*q)]) == pytest.approx([10, 15])


def test_other_boundary_parts_a_run():
    """A hole of 2 between lines 10 apart: the circle of 10 has to stay 6 from its middle."""
    run = Run(Line((0, 5), (40, 5)), 10.0)
    around = circle((20, 5), 2).segments
    free = sorted(run.path.box[::2] for run in free_runs(run, around))
    assert free == [pytest.approx((0, 14)), pytest.approx((26, 40))]


def test_runs_end_to_end_are_one():
    a, b = Run(Line((0, 5), (10, 5)), 4.0), Run(Line((10 + 1e-9, 5), (30, 5)), 4.0 + 1e-9)
    beside, wider = Run(Line((31, 5), (40, 5)), 4.0), Run(Line((30, 5), (40, 5)), 4.1)
    assert list(joined([(a, 0, 0), (b, 0, 0), (beside, 0, 0), (wider, 0, 1)])) == [
        (b, 0, 0), (beside, 0, 0), (wider, 0, 1)
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("before", "after", "right"),
    [
        (LOWER, Line((10, 0), (10, -5)), True),
        (LOWER, Line((10, 0), (10, 5)), False),
        (LOWER, Line((10, 0), (20, 0)), False),
        (LOWER, Arc((10, 0), (15, 5), math.tan(math.pi / 8)), False),
        # cusps: out along the same tangent, round to the left or to the right of where it came
        (LOWER, Arc((10, 0), (5, 5), -math.tan(math.pi / 8)), False),
        (LOWER, Arc((10, 0), (5, -5), math.tan(math.pi / 8)), True),
    ],
    ids=["right", "left", "straight", "smooth", "cusp to the left", "cusp to the right"],
)
def test_which_corners_point_into_the_region(before, after, right):
    assert turns_right(before, after) is right


def test_a_side_knows_its_neighbours_and_loop():
    square, hole = rectangle((0, 0), 20, 20), rectangle((5, 5), 10, 10).reversed()
    boundary = Boundary([square, hole], 3)
    first, last = boundary.side(0), boundary.side(7)
    assert (first.loop, first.before, first.segment, first.after, first.corner) == (
        0, square.segments[3], square.segments[0], square.segments[1], False
    )  # fmt: skip
    assert (last.loop, last.after, last.corner) == (1, hole.segments[0], True)
    (near,) = boundary.near([(0, (9, -1, 11, 1))])
    assert square.segments[0] in near
    assert all(segment not in near for segment in hole.segments)
