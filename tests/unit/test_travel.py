"""The way between cuts, held against brute force, by hand, and against a motion stepped through in time."""

import math
import random
from dataclasses import replace

import pytest

import parts
from parts.cutting.measures import measure
from parts.cutting.process import cut_for
from parts.cutting.travel import lead_in_time, order, travel_time, ways
from parts.geometry.draft import circle, rectangle
from parts.profile import Opening, Profile
from tests import library
from tests.jobs import MACHINE, job

APART = ("cutting_time_s", "lead_in_time_s", "pierce_time_s", "probe_time_s", "travel_time_s")
QUICK = replace(MACHINE, acceleration=2000.0, rapid=500.0, top_speed=300.0)


def plate(count, seed):
    """A plate of many small holes at random, and its loops: the outside first."""
    rng = random.Random(seed)
    holes = [circle((rng.uniform(5, 995), rng.uniform(5, 495)), 2) for _ in range(count)]
    return [rectangle((0, 0), 1000, 500), *holes]


@pytest.mark.parametrize(("count", "seed"), [(3, 1), (23, 2), (24, 3), (60, 4), (400, 5), (1500, 6)])
def test_the_next_is_the_nearest_of_all_that_are_left(count, seed):
    """Brute force over every hole that is left; the outside comes last."""
    loops = plate(count, seed)
    starts = [loop.segments[0].start for loop in loops]
    left, at, due = set(range(1, count + 1)), (0.0, 0.0), []
    at = min(x for x, _ in starts), min(y for _, y in starts)
    while left:
        due.append(min(left, key=lambda i: (math.dist(at, starts[i]), i)))
        left.remove(due[-1])
        at = starts[due[-1]]
    assert order(loops) == [*due, 0]


def test_holes_far_apart_in_bunches_are_all_found():
    """Where many cells are empty too: bunches of holes a hundred bunches away from each other."""
    places = [(x + i % 7, y + i // 7) for x, y in ((0, 0), (9000, 0), (9000, 9000), (0, 9000)) for i in range(30)]
    loops = [rectangle((-10, -10), 9050, 9050), *(circle(at, 0.4) for at in places)]
    found = order(loops)
    assert sorted(found) == list(range(121))
    assert [(i - 1) // 30 for i in found[:-1]] == [0] * 30 + [1] * 30 + [2] * 30 + [3] * 30


def test_what_lies_in_a_loop_is_cut_before_it():
    """A washer in the window of a frame: bore, washer, window, frame; and a second plate with a hole of its own."""
    frame, washer, other = rectangle((0, 0), 200, 200), circle((100, 100), 60), rectangle((220, 0), 80, 200)
    window, bore, hole = rectangle((20, 20), 160, 160), circle((100, 100), 20), circle((260, 100), 10)
    loops = [frame, washer, other, window, bore, hole]
    found = order(loops, outside=3)
    assert sorted(found) == list(range(6))
    place = {index: at for at, index in enumerate(found)}
    assert place[4] < place[1] < place[3] < place[0]  # bore, washer, window, frame
    assert place[5] < place[2]


def test_the_same_loop_twice_still_has_an_order():
    assert sorted(order([circle((0, 0), 10), circle((0, 0), 10), circle((30, 0), 5)], outside=3)) == [0, 1, 2]


def test_of_one_loop_there_is_no_way():
    assert ways([circle((0, 0), 10)]) == []
    assert ways([], outside=0) == []


# ------------------------------------------------------------------ times


def stepped(way, acceleration, speed, *, stops):
    """The time to go a way from rest, moved along in small steps; braking in time to stand at its end if it `stops`."""
    at = time = now = 0.0
    step = 1e-4
    while at < way - 1e-9 and time < 100:
        brake = now * now / (2 * acceleration) >= way - at if stops else False
        now = max(now - acceleration * step, acceleration * step) if brake else min(now + acceleration * step, speed)
        at += now * step
        time += step
    return time


@pytest.mark.parametrize("way", [0.5, 10.0, 31.2, 62.5, 125.0, 1000.0])
def test_travel_takes_as_long_as_a_motion_stepped_through(way):
    assert travel_time(way, QUICK) == pytest.approx(stepped(way, 2000, 500, stops=True), abs=6e-3)


def test_travel_by_hand():
    """v = 500 and a = 2000: 125 mm take 0.5 s, up and down; a metre more takes 2 s more. 20 mm: 2 sqrt(20 / 2000)."""
    assert travel_time(125, QUICK) == pytest.approx(0.5)
    assert travel_time(1125, QUICK) == pytest.approx(2.5)
    assert travel_time(20, QUICK) == pytest.approx(0.2)


@pytest.mark.parametrize(("way", "feed"), [(3.0, 40.0), (0.2, 40.0), (6.0, 120.0), (6.0, 900.0)])
def test_a_lead_in_starts_from_rest(way, feed):
    """It reaches the feed, or the machine's top speed of 300 mm/s, or neither on so short a way."""
    assert lead_in_time(way, feed, QUICK) == pytest.approx(stepped(way, 2000, min(feed, 300), stops=False), abs=1e-3)


def test_the_times_of_a_part_by_hand():
    """Two holes in a plate by air plasma: three pierces and probes, lead-ins of 6 mm or a hole's radius, two ways."""
    cut = cut_for("air-plasma", "mild-steel", 6.0)
    profile = Profile(
        (rectangle((0, 0), 200, 100),),
        (Opening(circle((50, 50), 10)), Opening(circle((150, 50), 10))),
    )
    m = measure(profile, job(cut, machine=QUICK))
    assert m.pierce_time_s == pytest.approx(3 * 0.45)
    assert m.probe_time_s == pytest.approx(3 * cut.probe_time_s) == pytest.approx(9.0)
    feed = cut.feed_mm_s
    assert m.lead_in_time_s == pytest.approx((6 + 5 + 5) / feed + 3 * feed / (2 * 2000))
    back = math.hypot(155, 50)
    assert m.travel_mm == pytest.approx(100 + back)
    assert m.travel_time_s == pytest.approx(2 * math.sqrt(100 / 2000) + back / 500 + 500 / 2000)


@pytest.mark.parametrize("slug", library.SLUGS)
def test_the_whole_is_the_sum_of_its_parts(slug):
    m = library.part(slug).measures
    assert m.cut_time_s == pytest.approx(math.fsum(getattr(m, name) for name in APART), rel=1e-15)
    assert all(getattr(m, name) >= 0 for name in APART)
    assert (m.travel_mm > 0) == (m.pierces > 1)


def test_a_vent_panel_by_laser_is_a_good_part_travel():
    """What the time left out before: of its cuts alone, travel and lead-ins are a tenth or more."""
    m = parts.draw("plate-panel", process="laser", thickness="1.5 mm").measures
    assert m.probe_time_s == 0
    assert m.travel_time_s > 0.1 * m.cutting_time_s


def test_the_shops_own_rapid_and_probe_hold(tmp_path, monkeypatch):
    before = parts.draw("plate-panel").measures
    own = tmp_path / "shop.toml"
    own.write_text("[machine]\nrapid_in_min = 1200\n[processes.air-plasma.height_probe]\ntime_s = 1.5\n")
    monkeypatch.setenv("PLATEWRIGHT_SHOP", str(own))
    after = parts.draw("plate-panel").measures
    assert after.probe_time_s == pytest.approx(before.probe_time_s / 2)
    assert 0.5 * before.travel_time_s < after.travel_time_s < before.travel_time_s
    assert after.cutting_time_s == before.cutting_time_s
