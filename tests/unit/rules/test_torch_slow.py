"""torch-slow just under, at and just over its limits, with whole findings, and what must not change it.

Limits by hand: under half of 100 mm/s at 1000 mm/s² a circle is held below r = 50²/1000, and a full stop takes
50²/2000 to each side.
"""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.cutting.job import Job
from parts.cutting.machine import Machine
from parts.cutting.process import PROCESSES, cut_for
from parts.finding import Finding
from parts.geometry.disk.offset import piece
from parts.geometry.draft import circle, polygon, rectangle, slot
from parts.geometry.loop import Loop
from parts.geometry.motion import mirror, rotation, translation
from parts.geometry.segment import distance
from parts.profile import Opening, Profile, openings
from parts.rules import torch_slow
from tests import library
from tests.jobs import job
from tests.unit.rules.restaged import WITHOUT_HEAT

CUT = replace(cut_for("air-plasma", "mild-steel", 1.0), feed_mm_s=100.0, kerf_mm=0.8)
MACHINE = Machine(acceleration=1000.0, top_speed=250.0, corner_tolerance=0.05, slat_pitch=75.0, rapid=250.0)
JOB = job(CUT, machine=MACHINE)
HOLE_LIMIT, RUN_LIMIT = 5.0, 10.0
PLATE = rectangle((0, 0), 200, 100)


def found(profile: Profile, job: Job = JOB) -> list[Finding]:
    return list(torch_slow.check(profile, job))


def holes(*diameters: float) -> Profile:
    return Profile((PLATE,), openings([circle((20 + 20 * i, 50), d) for i, d in enumerate(diameters)], "hole", "holes"))


@pytest.mark.parametrize("diameter", [5.0 - 1e-10, 5.0, 5.001, 40.0])
def test_a_hole_at_the_limit_or_over_passes(diameter):
    assert found(holes(diameter)) == []


def test_a_hole_just_under():
    assert found(holes(4.9)) == [
        Finding(
            "torch-slow", "note", (20, 50), pytest.approx(4.9), HOLE_LIMIT,
            "The hole is 4.9 mm: the machine goes round it at 49 % of the feed; it holds half from 5 mm on.",
            "Expect it wider and with more dross, or cut the part at less feed and power.",
        )
    ]  # fmt: skip


def test_many_small_holes_are_one_finding_at_the_smallest():
    (finding,) = found(holes(4.0, 3.2, 6.0, 4.0))
    assert finding.at == pytest.approx((40, 50))
    assert finding.measured == pytest.approx(3.2)
    assert finding.message == (
        "3 holes are so small that the machine goes round at 40 % of the feed in 3.2 mm; it holds half from 5 mm on."
    )
    assert finding.also == (pytest.approx((20, 50)), pytest.approx((80, 50)))


def comb(teeth: int, side: float, height: float = 20.0) -> Profile:
    """A strip whose upper edge has teeth with flanks `side` long that turn right angles."""
    step, tall = side * math.sqrt(2), side / math.sqrt(2)
    corners = [(-60.0, 0.0), (teeth * step + 60, 0.0), (teeth * step + 60, height)]
    for i in range(teeth, 0, -1):
        corners += [(i * step, height), ((i - 0.5) * step, height + tall)]
    return Profile((polygon([*corners, (0.0, height), (-60.0, height)]),))


def test_teeth_on_which_half_of_the_feed_is_reached_pass():
    """From corner to corner the torch gets up to sqrt(a s + c²)."""
    c2 = torch_slow_corner() ** 2
    reached = (50**2 - c2) / 1000
    assert found(comb(8, reached + 0.01)) == []
    (finding,) = found(comb(8, reached - 0.01))
    assert finding.severity == "note"


def torch_slow_corner() -> float:
    """The corner rule by hand: an arc within 0.05 mm of a right angle has r = d cos 45° / (1 - cos 45°)."""
    half = math.cos(math.pi / 4)
    return math.sqrt(1000 * 0.05 * half / (1 - half))


def run_of(teeth: int, side: float) -> float:
    """From where half of the feed is left before the first tooth to where it is reached again after the last.

    The corners there turn 45°, the others 90° and slower; the way between them holds.
    """
    return 2 * teeth * side + 2 * to_half(side)


def to_half(side: float) -> float:
    half = math.cos(math.pi / 8)
    outer2 = min(1000 * 0.05 * half / (1 - half), torch_slow_corner() ** 2 + 2000 * side)
    return (2500 - outer2) / 2000


def test_a_run_is_as_long_as_reckoned_by_hand():
    (finding,) = found(comb(6, 1.5))
    assert finding.measured == pytest.approx(run_of(6, 1.5), abs=1e-6)
    assert finding.limit == RUN_LIMIT
    assert finding.severity == "note"
    assert finding.message == (
        f"The torch stays under half of its feed for {round(run_of(6, 1.5), 1):g} mm along the edge: "
        "corners and short pieces follow each other."
    )


@pytest.mark.parametrize(("off", "count"), [(-1e-3, 0), (0.0, 0), (1e-3, 1)], ids=["under", "at", "over"])
def test_a_run_at_its_limit_passes(off, count):
    """The kerf sets the limit here: ten of it."""
    run = run_of(6, 1.5)
    job = replace(JOB, cut=replace(CUT, kerf_mm=(run - off) / 10 + (1e-12 if off == 0 else 0)))
    assert len(found(comb(6, 1.5), job)) == count


def test_where_it_crawls_it_warns():
    (finding,) = found(comb(30, 0.3))
    assert finding.severity == "warn"
    assert finding.message.startswith("The torch stays under a quarter of its feed for")


def test_single_corners_a_slot_and_a_window_are_no_finding():
    """Four stops follow each other in a window; one more only counts where the feed isn't reached between."""
    profile = Profile((PLATE,), (Opening(slot((50, 50), 40, 5)), Opening(rectangle((100, 40), 20, 10), "window")))
    assert found(profile) == []


def test_a_small_window_of_six_sides_is_slow_all_round():
    sides = [(100 + 2 * math.cos(math.pi * i / 3), 50 + 2 * math.sin(math.pi * i / 3)) for i in range(6)]
    (finding,) = found(Profile((PLATE,), (Opening(polygon(sides), "window"),)))
    assert finding.measured == pytest.approx(6 * 2)
    assert "all the way round the window, 12 mm" in finding.message


def test_many_places_are_one_finding_at_the_longest():
    teeth = comb(6, 1.5).outside[0]
    many = Profile((teeth, *(translation(0, 60 * i).loop(comb(6 + i, 1.5).outside[0]) for i in (1, 2))))
    (finding,) = found(many)
    assert finding.measured == pytest.approx(run_of(8, 1.5), abs=1e-6)
    assert len(finding.also) == 2
    assert ", and at 2 more: corners" in finding.message


@pytest.mark.parametrize("process", PROCESSES)
def test_only_heat_minds(process):
    job = replace(JOB, cut=replace(CUT, process=process))
    assert bool(found(holes(3), job)) == (process not in WITHOUT_HEAT)


def test_a_machine_too_slow_for_the_feed_is_said_once():
    (finding,) = found(comb(6, 1.5), replace(JOB, machine=replace(MACHINE, top_speed=40.0)))
    assert finding.severity == "warn"
    assert "reaches 40 % at its top speed" in finding.message


def test_inches():
    (finding,) = found(holes(3.175), replace(JOB, units="in"))
    assert "The hole is 1/8 in" in finding.message
    assert "from 0.2 in on" in finding.message


@pytest.mark.parametrize("slug", library.SLUGS)
def test_templates_as_they_come_are_no_finding(slug):
    assert [finding for finding in library.part(slug).findings if finding.rule == "torch-slow"] == []


SHAPE = Profile(
    comb(6, 1.5).outside, (Opening(circle((-40, 10), 4)), Opening(circle((-20, 10), 3)), Opening(slot((40, 8), 9, 3)))
)
(HOLES, RUN) = found(SHAPE)


def split(loop: Loop, at: float) -> Loop:
    return Loop(tuple(p for s in loop.segments for p in (piece(s, 0.0, at), piece(s, at, 1.0))))


@given(st.floats(-3, 3), st.booleans(), st.booleans(), st.floats(0.1, 0.9), st.integers(0, 12))
def test_turned_mirrored_split_and_begun_elsewhere_it_is_the_same(angle, mirrored, backwards, at, first):
    motion = mirror((5.0, 1.0), angle) if mirrored else rotation(angle, (100.0, -30.0))

    def changed(loop: Loop) -> Loop:
        loop = split(motion.loop(loop), at)
        k = first % len(loop.segments)
        loop = Loop((*loop.segments[k:], *loop.segments[:k]))
        return loop.reversed() if backwards else loop

    profile = Profile(tuple(map(changed, SHAPE.outside)), tuple(replace(o, loop=changed(o.loop)) for o in SHAPE.inside))
    holes_now, run_now = found(profile)
    assert (holes_now.severity, holes_now.message) == (HOLES.severity, HOLES.message)
    assert (run_now.severity, run_now.message) == (RUN.severity, RUN.message)
    assert run_now.measured == pytest.approx(RUN.measured, abs=1e-6)
    assert distance(run_now.at, motion.point(RUN.at)) <= 1e-5
    assert distance(holes_now.at, motion.point(HOLES.at)) <= 1e-6


def test_loops_that_cross_do_no_harm():
    found(Profile((PLATE, rectangle((190, 90), 40, 40)), (Opening(polygon([(0, 0), (50, 50), (50, 0), (0, 50)])),)))
