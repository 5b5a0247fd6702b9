"""Runs of pairs of segments, and where other boundary parts them."""

import math

import numpy as np
import pytest

from parts.geometry.draft import circle, rectangle
from parts.geometry.narrow.boundary import Boundary
from parts.geometry.narrow.runs import Runs, free_stretches, joined, runs_between, runs_between_lines
from parts.geometry.segment import Arc, Line, distance
from parts.geometry.segments import Segments
from tests.property.random_profiles import region

LOWER = Line((0, 0), (10, 0))
INNER = circle((0, 0), 20).reversed().segments
OUTER = circle((0, 0), 30).segments
NEAR_MM = 1e-4

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


def test_runs_between_lines_of_some_widths():
    """Lines 4 and 10 above one: what is narrower than asked for, or as wide as the limit, is left out."""
    lines = [LOWER, Line((10, 4), (0, 4)), Line((20, 10), (-5, 10)), Line((10, 0), (10, 4))]
    for least, limit, expected in ((0, 20, [4, 10]), (4, 10, [4]), (5, 10.1, [10]), (5, 10, []), (20, 30, [])):
        found = runs_between_lines(lines, least, limit)
        assert sorted(found.width.tolist()) == expected
    assert len(runs_between_lines([], 0, 20).width) == 0


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


def test_runs_of_random_regions():
    """Of every run between lines each place is half its width from both, and free where no other boundary is nearer."""
    free_places = hemmed_places = 0
    for seed in range(60):
        loops, limit = region(seed)
        segments, boundary = [s for loop in loops for s in loop.segments], Boundary(loops, limit)
        a, b = boundary.pairs
        straight = (boundary.segments.bulge[a] == 0) & (boundary.segments.bulge[b] == 0)
        a, b = a[straight], b[straight]
        runs = runs_between(boundary.segments, a, b)
        free = free_stretches(runs, boundary)
        for index, (width, pair) in enumerate(zip(runs.width.tolist(), runs.pair.tolist(), strict=True)):
            path = Line(*((p.real, p.imag) for p in (runs.path.start[index], runs.path.end[index])))
            of = free.where(free.pair == pair)
            stretches = [sorted(path.fraction_of((p.real, p.imag)) for p in ends)
                         for ends in zip(of.path.start, of.path.end, strict=True)]  # fmt: skip
            for fraction in (k / 40 for k in range(1, 40)):
                place = path.at(fraction)
                for side in (segments[a[pair]], segments[b[pair]]):
                    assert distance(side.nearest(place), place) == pytest.approx(width / 2, abs=1e-9)
                room = min(distance(segment.nearest(place), place) for segment in segments) - width / 2
                if any(low <= fraction <= high for low, high in stretches):
                    assert room >= -NEAR_MM
                    free_places += 1
                elif room >= -NEAR_MM:  # cut off by rounding, or in a stretch too short to count
                    assert any(abs(fraction - end) * path.length <= NEAR_MM for ends in stretches for end in ends)
                else:
                    hemmed_places += 1
    assert min(free_places, hemmed_places) > 1000


def test_runs_end_to_end_are_one():
    """The first goes on in the second; the third begins 1 mm further, the fourth is wider by 0.1 mm."""
    lines = [((0, 5), (10, 5)), ((10 + 1e-9, 5), (30, 5)), ((31, 5), (40, 5)), ((30, 5), (40, 5))]
    path = Segments.of([Line(*ends) for ends in lines])
    found = joined(Runs(path, np.array([4.0, 4.0 + 1e-9, 4.0, 4.1]), np.arange(4)))
    assert sorted(found.pair.tolist()) == [1, 2, 3]
