"""How the rules of the void grow with the outline: time per segment at 2,000 and 20,000 segments, in one run.

    python -m pytest tests/bench/test_gaps.py --benchmark-only -s

Printed per outline and rule: seconds for the larger, and the growth exponent, 1 for linear.
"""

import math
import time
from dataclasses import replace

import pytest

from parts.cutting.process import cut_for
from parts.geometry.draft import polygon, rectangle
from parts.profile import Profile, openings
from parts.rules import inside_corner, lost_detail, pierce_room, slot_width
from tests.jobs import job

JOB = job(
    replace(cut_for("air-plasma", "mild-steel", 6.0), kerf_mm=2.0, narrowest_slot_mm=6.0, inside_radius_mm=3.0),
)
RULES = (slot_width, lost_detail, inside_corner, pierce_room)
SMALL, LARGE = 2_000, 20_000


def wavy(count):
    """A round outline in chords of half a millimetre, waved."""
    turns = [2 * math.pi * k / count for k in range(count)]
    return Profile((polygon([(r * math.cos(t), r * math.sin(t)) for t in turns
                             for r in [count / (4 * math.pi) + 3 * math.sin(40 * t)]]),))  # fmt: skip


def saw(count):
    """A row of notches that come to a point."""
    teeth = range(count // 2, 0, -1)
    return Profile((polygon([(0.0, -50.0), (1.5 * count, -50.0), *(p for i in teeth for p in
                             ((3.0 * i, 0.0), (3.0 * i - 1.5, 4.0))), (0.0, 0.0)]),))  # fmt: skip


def windows(count):
    """A plate of square windows with sharp corners."""
    side = math.isqrt(count // 4)
    loops = [rectangle((40 * i, 40 * j), 20, 20) for i in range(side) for j in range(side)]
    return Profile((rectangle((-20, -20), 40 * side + 20, 40 * side + 20),), openings(loops, "window", ""))


def seconds(rule, profile):
    began = time.perf_counter()
    list(rule.check(profile, JOB))
    return time.perf_counter() - began


@pytest.mark.parametrize("outline", [wavy, saw, windows], ids=lambda outline: outline.__name__)
def test_growth(outline, benchmark):
    small, large = outline(SMALL), outline(LARGE)
    for profile in (small, large):
        for loop in profile.boundary:
            _ = loop.circle, [segment.box for segment in loop.segments]
    figures = benchmark.pedantic(
        lambda: {rule.RULE: (seconds(rule, small), seconds(rule, large)) for rule in RULES}, rounds=1
    )
    for rule, (few, many) in figures.items():
        growth = math.log(many / few) / math.log(LARGE / SMALL)
        print(f"{outline.__name__:<8} {rule:<14} {many:7.2f} s, grows by the power {growth:4.2f}")  # noqa: T201
