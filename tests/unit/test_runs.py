"""Runs of pairs of segments, one at a time and many at once; and where other boundary parts them."""

import math

import numpy as np
import pytest

from parts.geometry.draft import circle, rectangle
from parts.geometry.narrow.boundary import Boundary
from parts.geometry.narrow.run import free_runs, run_between
from parts.geometry.narrow.runs import Runs, free_stretches, joined, runs_between
from parts.geometry.segment import Arc, Line
from parts.geometry.segments import Segments
from tests.property.random_profiles import region

LOWER = Line((0, 0), (10, 0))
INNER = circle((0, 0), 20).reversed().segments
OUTER = circle((0, 0), 30).segments

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
    found = runs_between(Segments.of([a, b]), np.array([0, 1]), np.array([1, 0]))
    assert found.pair.tolist() == ([] if expected is None else [0, 1])
    for start, end, width in zip(found.path.start, found.path.end, found.width, strict=True):
        low, high = sorted([(start.real, start.imag), (end.real, end.imag)])
        assert (low, high, width) == expected


@pytest.mark.parametrize(
    ("a", "b", "expected"),
    [case for case in RUNS.values() if isinstance(case[1], Line)],
    ids=[name for name, case in RUNS.items() if isinstance(case[1], Line)],
)
def test_run_between_two_lines(a, b, expected):
    for run in (run_between(a, b), run_between(b, a)):
        if expected is None:
            assert run is None
        else:
            assert (*sorted([run.path.start, run.path.end]), run.width) == expected


def test_a_run_between_arcs_is_bent():
    of = Segments.of([*INNER, *OUTER])
    found = runs_between(of, np.array([0, 0, 1, 1]), np.array([2, 3, 2, 3]))
    assert found.width == pytest.approx([5] * len(found.width))
    assert found.path.length.sum() == pytest.approx(2 * math.pi * 12.5)
    for p, q in zip(*found.chord, strict=True):
        assert sorted([abs(p), abs(q)]) == pytest.approx([10, 15])


def test_other_boundary_parts_a_run():
    """A hole of 2 between lines 10 apart: the circle of 10 has to stay 6 from its middle."""
    boundary = Boundary([rectangle((-90, 0), 200, 10), circle((20, 5), 2).reversed()], 10.5)
    path = Segments.of([Line((0, 5), (40, 5))])
    free = free_stretches(Runs(path, np.array([10.0]), np.array([7])), boundary)
    assert free.path.boxes()[:, ::2].tolist() == [pytest.approx([0, 14]), pytest.approx([26, 40])]
    assert (free.width.tolist(), free.pair.tolist()) == ([10.0, 10.0], [7, 7])


def test_many_at_once_are_the_same_as_one_by_one():
    """Of each random region, all runs between lines, and what is free of them."""
    compared = 0
    for seed in range(60):
        loops, limit = region(seed)
        segments, boundary = [s for loop in loops for s in loop.segments], Boundary(loops, limit)
        a, b = boundary.pairs
        straight = (boundary.segments.bulge[a] == 0) & (boundary.segments.bulge[b] == 0)
        runs = runs_between(boundary.segments, a[straight], b[straight])
        one_by_one = [run_between(segments[i], segments[j]) for i, j in zip(a[straight], b[straight], strict=True)]
        assert runs.pair.tolist() == [i for i, run in enumerate(one_by_one) if run]
        free = free_stretches(runs, boundary)
        for index, run in enumerate(one_by_one):
            pieces = free_runs(run, segments) if run else ()
            due = [(*piece.path.start, *piece.path.end, piece.width) for piece in pieces]
            of = free.where(free.pair == index)
            ends = zip(of.path.start, of.path.end, of.width, strict=True)
            assert [(p.real, p.imag, q.real, q.imag, width) for p, q, width in ends] == [
                pytest.approx(piece, abs=1e-9) for piece in due
            ]
            compared += len(due)
    assert compared > 100


def test_runs_end_to_end_are_one():
    """The first goes on in the second; the third begins 1 mm further, the fourth is wider by 0.1 mm."""
    lines = [((0, 5), (10, 5)), ((10 + 1e-9, 5), (30, 5)), ((31, 5), (40, 5)), ((30, 5), (40, 5))]
    path = Segments.of([Line(*ends) for ends in lines])
    found = joined(Runs(path, np.array([4.0, 4.0 + 1e-9, 4.0, 4.1]), np.arange(4)))
    assert sorted(found.pair.tolist()) == [1, 2, 3]
