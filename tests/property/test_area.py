"""Areas of loops: by inclusion and exclusion, by Steiner's formula, and by the closed forms of circles."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from parts.geometry import Line, Loop, circle, rectangle
from parts.geometry.area import CHORD_MM, Pen, Region, clipped, common, filled, painted, united, without
from tests.depth import tried

PLACE = st.floats(-40, 40).map(lambda v: round(v, 3))
SIZE = st.floats(2, 30).map(lambda v: round(v, 3))
DISCS = st.builds(lambda x, y, r: circle((x, y), 2 * r), PLACE, PLACE, SIZE)
BOXES = st.builds(lambda x, y, w, h: rectangle((x, y), w, h), PLACE, PLACE, SIZE, SIZE)
SHAPES = st.one_of(DISCS, BOXES)


def tick() -> None:
    """No budget here."""


def area(region: Region) -> float:
    """Loops of one region alternate by how deep they lie: a point of each is asked of the others."""
    depths = [sum(other.contains(loop.segments[0].at(0.5)) for other in region if other is not loop) for loop in region]
    return math.fsum(loop.area * (-1) ** depth for loop, depth in zip(region, depths, strict=True))


def slack(*loops: Loop) -> float:
    """What is thinner than the chords' error may be left out or told wrongly."""
    return 4 * CHORD_MM * sum(loop.perimeter for loop in loops)


@given(a=SHAPES, b=SHAPES)
@tried(400)
def test_what_is_in_both_and_in_either_and_in_one_alone(a, b):
    """|A or B| = |A| + |B| - |A and B|, and |A without B| = |A| - |A and B|."""
    both, either, alone = common((a,), (b,), tick), united([(a,), (b,)], tick), without((a,), (b,), tick)
    assert area(either) == pytest.approx(a.area + b.area - area(both), abs=slack(a, b))
    assert area(alone) == pytest.approx(a.area - area(both), abs=slack(a, b))
    assert area(filled([a, b], "evenodd", tick)) == pytest.approx(area(either) - area(both), abs=slack(a, b))


@given(r=SIZE, s=SIZE, share=st.floats(0.05, 0.95))
@tried(200)
def test_two_discs_that_cross(r, s, share):
    """The lens by its two caps: exact, since arcs are cut where they truly meet."""
    d = abs(r - s) + share * (r + s - abs(r - s))
    assume(abs(r - s) + 0.1 < d < r + s - 0.1)
    x = (d * d + r * r - s * s) / (2 * d)
    lens = r * r * math.acos(x / r) - x * math.sqrt(r * r - x * x)
    lens += s * s * math.acos((d - x) / s) - (d - x) * math.sqrt(s * s - (d - x) ** 2)
    (loop,) = common((circle((0, 0), 2 * r),), (circle((d, 0), 2 * s),), tick)
    assert loop.area == pytest.approx(lens, rel=1e-9)


@given(w=SIZE, h=SIZE, width=st.floats(0.5, 1.9), join=st.sampled_from(["miter", "round", "bevel"]))
@tried(100)
def test_a_pen_round_a_rectangle(w, h, width, join):
    """Outwards the area grows as Steiner has it, each corner by its join; inwards it is a rectangle."""
    frame = united([(loop,) for loop in painted(rectangle((3, 4), w, h).segments, True, Pen(width, join=join))], tick)
    half = width / 2
    corner = {"miter": 4 * half**2, "round": math.pi * half**2, "bevel": 2 * half**2}[join]
    outside = w * h + 2 * (w + h) * half + corner
    assert area(frame) == pytest.approx(outside - (w - width) * (h - width), rel=1e-9)


@given(disc=DISCS, height=PLACE)
@tried(100)
def test_a_line_through_a_disc_is_its_chord(disc, height):
    (x, y), r = disc.circle.centre, disc.circle.diameter / 2
    assume(abs(abs(height - y) - r) > 0.1)
    runs = clipped((Line((-200.0, height), (200.0, height)),), (disc,), tick)
    chord = 2 * math.sqrt(max(r * r - (height - y) ** 2, 0.0))
    assert sum(segment.length for run in runs for segment in run) == pytest.approx(chord, rel=1e-9, abs=1e-9)
    assert all(abs(math.dist(run[0].start, (x, y)) - r) < 1e-9 for run in runs)
