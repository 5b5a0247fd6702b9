"""Where the torch slows, against closed forms of uniformly accelerated motion."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from parts.cutting.machine import Machine
from parts.cutting.measures import measure
from parts.cutting.pace import corner_speed, lap, pace
from parts.cutting.process import cut_for
from parts.cutting.slowing import SLOW, laps, runs, share_below, stretches
from parts.drawing.overlays import STEPS, along
from parts.geometry.disk.offset import piece
from parts.geometry.draft import circle, polygon, rectangle
from parts.geometry.loop import Loop
from parts.profile import Opening, Profile
from tests import library
from tests.jobs import job

MACHINE = Machine(acceleration=500.0, top_speed=200.0, corner_tolerance=0.05, slat_pitch=75.0, rapid=250.0)
CORNER = corner_speed(math.pi / 2, MACHINE)
CUT = replace(cut_for("air-plasma", "mild-steel", 6.0), feed_mm_s=50.0, pierce_time_s=0.5)
JOB = job(CUT, machine=MACHINE)


def to_speed(v: float, u: float = 0.0) -> float:
    """The way from speed u to speed v."""
    return (v * v - u * u) / (2 * MACHINE.acceleration)


def test_stretches_of_a_line_from_rest_to_rest():
    """v² = 2 a s: the shares of the feed are passed at s = v²/2a from each end."""
    going = pace(rectangle((0, 0), 100, 60).segments[:1], 50.0, MACHINE)
    found = [(s.start, s.end, s.step) for s in stretches(going, STEPS)]
    a, b, c = (to_speed(share * 50) for share in sorted(STEPS))
    expected = [(0, a, 3), (a, b, 2), (b, c, 1), (100 - c, 100 - b, 1), (100 - b, 100 - a, 2), (100 - a, 100, 3)]
    assert [x for f in found for x in f] == pytest.approx([x for e in expected for x in e], abs=1e-9)


def test_runs_round_a_square_lie_about_its_corners():
    loop = rectangle((0, 0), 90, 90)
    found = runs(lap(loop, 50.0, MACHINE), (SLOW,))
    assert [run.length for run in found] == pytest.approx([2 * to_speed(40, CORNER)] * 4)
    corners = []
    for run in found:
        segment, at = run.middle
        corners.append(loop.segments[segment].at(at / 90))
    assert sorted(corners) == [pytest.approx(p, abs=1e-9) for p in ((0, 0), (0, 90), (90, 0), (90, 90))]


def test_a_run_may_go_all_the_way_round_or_nowhere():
    assert [run.length for run in runs(lap(circle((0, 0), 2), 50.0, MACHINE), (SLOW,))] == [pytest.approx(2 * math.pi)]
    assert runs(lap(circle((0, 0), 20), 50.0, MACHINE), (SLOW,)) == []


@pytest.mark.parametrize(("radius", "slow"), [(3.1, True), (3.2, False), (3.3, False)], ids=["under", "at", "over"])
def test_a_circle_is_slow_under_the_radius_that_holds_the_share(radius, slow):
    """sqrt(a r) against 0.8 x 50 mm/s: r = 3.2 mm."""
    going = lap(circle((0, 0), 2 * radius), 50.0, MACHINE)
    assert bool(runs(going, (SLOW,))) == slow
    assert going.share_below(SLOW) == (1.0 if slow else 0.0)


SHAPE = polygon([(0, 0), (60, 0), (60, 8), (58, 8), (58, 3), (40, 3), (39, 30), (0, 31)])


@pytest.mark.parametrize(
    "loop", [SHAPE, rectangle((0, 0), 60, 4, 1.0), circle((0, 0), 4)], ids=["comb", "strip", "hole"]
)
def test_bands_lie_on_the_loop_and_are_as_long_as_the_share(loop):
    going = lap(loop, 50.0, MACHINE)
    bands = [list(along(loop, run)) for run in runs(going, STEPS)]
    for band in bands:
        for before, after in pairwise(band):
            assert before.end == pytest.approx(after.start, abs=1e-9)
    total = math.fsum(segment.length for band in bands for segment in band)
    assert total == pytest.approx(going.share_below(SLOW) * loop.perimeter, abs=1e-9)


def test_splitting_segments_moves_no_run():
    halves = Loop(tuple(p for s in SHAPE.segments for p in (piece(s, 0.0, 0.3), piece(s, 0.3, 1.0))))
    one, two = (sorted(run.length for run in runs(lap(x, 50.0, MACHINE), STEPS)) for x in (SHAPE, halves))
    assert one == pytest.approx(two, abs=1e-9)


def test_a_reversed_loop_is_as_slow():
    one, two = (laps([loop], JOB) for loop in (SHAPE, SHAPE.reversed()))
    assert one[0].time == pytest.approx(two[0].time, rel=1e-12)
    assert share_below(one, SLOW) == pytest.approx(share_below(two, SLOW), rel=1e-12)


def test_time_of_a_part_is_at_the_pace_with_its_pierces():
    """A 90 mm square with a hole of 4 mm, by hand."""
    profile = Profile((rectangle((0, 0), 90, 90),), (Opening(circle((40, 40), 4)),))
    square = 4 * (90 / 50 + (50 - CORNER) ** 2 / (500 * 50))
    hole = 4 * math.pi / math.sqrt(500 * 2)
    m = measure(profile, JOB)
    assert m.cutting_time_s == pytest.approx(square + hole, rel=1e-12)
    assert m.pierce_time_s == pytest.approx(2 * 0.5, rel=1e-12)
    slow = 8 * to_speed(40, CORNER) + 4 * math.pi
    assert m.slow_share == pytest.approx(slow / (360 + 4 * math.pi), rel=1e-12)


@pytest.mark.parametrize("slug", library.SLUGS)
def test_a_part_takes_no_less_than_its_length_at_the_feed(slug):
    m, cut = (part := library.part(slug)).measures, part.record.job.cut
    assert m.cutting_time_s >= m.cut_length_mm / cut.feed_mm_s - 1e-9
    assert 0 <= m.slow_share <= 1
