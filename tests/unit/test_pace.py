"""The pace of the torch against closed forms of uniformly accelerated motion and a fine-step integration."""

import math

import numpy as np
import pytest

from parts.cutting.machine import Machine
from parts.cutting.pace import corner_speed, lap, pace
from parts.geometry.draft import circle, fillet, polygon, rectangle
from parts.geometry.loop import Loop
from parts.geometry.segment import Line

MACHINE = Machine(acceleration=500.0, top_speed=200.0, corner_tolerance=0.05, slat_pitch=75.0, rapid=250.0)


def test_long_line_from_rest_to_rest():
    """Elementary mechanics: t = L / v + v / a, when the feed is reached."""
    going = pace([Line((0, 0), (400, 0))], 50.0, MACHINE)
    assert going.time == pytest.approx(400 / 50 + 50 / 500, rel=1e-12)
    assert [phase.length for phase in going.phases] == pytest.approx([2.5, 395.0, 2.5], rel=1e-12)


def test_short_line_never_reaches_the_feed():
    """Triangular profile: t = 2 sqrt(L / a), peak sqrt(a L)."""
    going = pace([Line((0, 0), (2, 0))], 50.0, MACHINE)
    assert going.time == pytest.approx(2 * math.sqrt(2 / 500), rel=1e-12)
    assert going.phases[0].speed_out == pytest.approx(math.sqrt(500 * 2), rel=1e-12)


@pytest.mark.parametrize(
    ("radius", "expected"),
    [(4.99, math.sqrt(500 * 4.99)), (5.0, 50.0), (5.01, 50.0), (0.5, math.sqrt(250))],
    ids=["just under", "at", "just over", "small"],
)
def test_circle_is_held_by_its_radius(radius, expected):
    """Uniform circular motion: a = v² / r."""
    loop = circle((0, 0), 2 * radius)
    going = pace(loop.segments, 50.0, MACHINE, speed_in=50.0, speed_out=50.0)
    assert [phase.speed_out for phase in going.phases] == pytest.approx([expected] * len(going.phases), rel=1e-12)
    assert going.time == pytest.approx(2 * math.pi * radius / expected, rel=1e-12)


@pytest.mark.parametrize("degrees", [1, 30, 90, 150, 179])
def test_corner_rule_is_the_arc_within_its_tolerance(degrees):
    """The arc of radius v² / a, tangent to both legs, has its centre r / cos(t/2) from the corner."""
    turn = math.radians(degrees)
    radius = corner_speed(turn, MACHINE) ** 2 / MACHINE.acceleration
    assert radius / math.cos(turn / 2) - radius == pytest.approx(MACHINE.corner_tolerance, rel=1e-9)


def test_no_corner_no_limit_and_a_reversal_stops():
    assert corner_speed(0.0, MACHINE) == math.inf
    assert corner_speed(math.pi, MACHINE) == pytest.approx(0.0, abs=1e-6)


def test_share_below_of_a_line():
    """v² = 2 a s: under 80 % of 50 mm/s for 1600 / 1000 mm at each end."""
    going = pace([Line((0, 0), (100, 0))], 50.0, MACHINE)
    assert going.share_below(0.8) == pytest.approx(2 * 1.6 / 100, rel=1e-12)
    assert going.share_below(0.0) == 0.0


@pytest.mark.parametrize(
    "loop",
    [
        rectangle((0, 0), 60, 4, 1.0),
        polygon([(0, 0), (80, 0), fillet(80, 30, 0.4), (5, 31), (0, 3)]),
        polygon([(0, 0), (0.3, 0), (0.6, 0.01), (40, 0.02), (40, 20), fillet(0, 20, 6)]),
    ],
    ids=["strip", "wedge", "tiny steps"],
)
@pytest.mark.parametrize("feed", [15.0, 60.0, 300.0])
def test_against_fine_step_integration(loop, feed):
    """The phases keep every limit, and no legal pace is faster: an independent march over small steps."""
    going = pace(loop.segments, feed, MACHINE)
    assert going.time == pytest.approx(_marched(loop.segments, feed), rel=2e-3)


def test_a_lap_round_a_circle_is_at_one_speed():
    """Uniform circular motion: v = sqrt(a r), and no slowing where the circle begins."""
    going = lap(circle((0, 0), 4.0), 80.0, MACHINE)
    assert [phase.speed_in for phase in going.phases] == pytest.approx([math.sqrt(500 * 2)] * 2)
    assert going.time == pytest.approx(4 * math.pi / math.sqrt(500 * 2), rel=1e-12)


def test_a_lap_round_a_square_slows_at_four_corners_alike():
    """Each side from the corner's speed c up to the feed and back: L/v + (v - c)²/(a v)."""
    corner = corner_speed(math.pi / 2, MACHINE)
    going = lap(rectangle((0, 0), 90, 90), 50.0, MACHINE)
    assert going.time == pytest.approx(4 * (90 / 50 + (50 - corner) ** 2 / (500 * 50)), rel=1e-12)
    slow = 8 * (40**2 - corner**2) / (2 * 500)
    assert going.share_below(0.8) == pytest.approx(slow / 360, rel=1e-12)


@pytest.mark.parametrize("first", range(5))
def test_where_a_lap_begins_makes_no_difference(first):
    loop = polygon([(0, 0), (80, 0), fillet(80, 30, 0.4), (5, 31), (0, 3)])
    turned = Loop((*loop.segments[first:], *loop.segments[:first]))
    assert lap(turned, 60.0, MACHINE).time == pytest.approx(lap(loop, 60.0, MACHINE).time, rel=1e-12)


def test_a_lap_keeps_the_names_of_its_segments():
    loop = rectangle((0, 0), 60, 4, 1.0)
    going = lap(loop, 60.0, MACHINE)
    for i, segment in enumerate(loop.segments):
        phases = sorted((phase.start, phase.length) for phase in going.phases if phase.segment == i)
        assert math.fsum(length for _, length in phases) == pytest.approx(segment.length, rel=1e-9)
        assert phases[0][0] == 0.0
    speeds = [(phase.speed_in, phase.speed_out) for phase in going.phases]
    assert [out for _, out in speeds] == pytest.approx([into for into, _ in (*speeds[1:], speeds[0])], rel=1e-9)


@pytest.mark.parametrize("feed", [15.0, 60.0, 300.0])
@pytest.mark.parametrize(
    "loop",
    [
        rectangle((0, 0), 60, 4, 1.0),
        polygon([(0, 0), (80, 0), fillet(80, 30, 0.4), (5, 31), (0, 3)]),
        circle((0, 0), 3),
    ],
    ids=["strip", "wedge", "circle"],
)
def test_a_lap_against_fine_step_integration_of_three_in_a_row(loop, feed):
    """The middle one of three laps from rest to rest, marched over small steps, is a lap in full motion."""
    once, thrice = (_marched(loop.segments * count, feed) for count in (2, 3))
    assert lap(loop, feed, MACHINE).time == pytest.approx(thrice - once, rel=4e-3)


def _marched(segments, feed, step=0.002):
    """Time by dynamic programming on v² at points `step` apart: cap everywhere, then march both ways.

    March by march, v² is at most what it was at any point before, and what is gained from there on.
    """
    a, caps, steps = MACHINE.acceleration, [0.0], []
    for i, segment in enumerate(segments):
        count = max(math.ceil(segment.length / step), 8)
        radius = getattr(segment, "radius", math.inf)
        cap = min(feed, MACHINE.top_speed, math.sqrt(a * radius)) ** 2
        caps[-1] = min(caps[-1], cap)
        caps += [cap] * count
        steps += [segment.length / count] * count
        if i + 1 < len(segments):
            (ax, ay), (bx, by) = segment.heading_at_end, segments[i + 1].heading_at_start
            turn = math.acos(max(-1.0, min(1.0, ax * bx + ay * by)))
            if turn > 1e-7:
                sagitta = 1 / math.cos(turn / 2) - 1
                caps[-1] = min(caps[-1], a * MACHINE.corner_tolerance / sagitta)
    caps[-1] = 0.0
    gained = np.concatenate([[0.0], np.cumsum(2 * a * np.array(steps))])
    from_start = gained + np.minimum.accumulate(np.array(caps) - gained)
    to_end = np.minimum.accumulate((from_start + gained)[::-1])[::-1] - gained
    speeds = np.sqrt(np.maximum(to_end, 0.0))
    return float(np.sum(2 * np.array(steps) / (speeds[:-1] + speeds[1:])))


def test_the_slightest_turn_is_rounded_at_any_speed():
    """Where cos(t/2) rounds to 1; the exact value is sqrt(8 a d) / t to first order."""
    assert corner_speed(1e-8, Machine(1000, 250, 0.05, 75, 250)) == pytest.approx(math.sqrt(8 * 1000 * 0.05) / 1e-8)
