"""How loops that meet are named: drawn twice, sharing a line, crossing or touching, each pair once."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.finding import Finding
from parts.geometry.contact import contact
from parts.geometry.draft import circle, polygon, rectangle, slot
from parts.geometry.loop import Loop
from parts.geometry.motion import rotation
from parts.profile import Opening, Profile, openings
from parts.rules import loops
from parts.spec.faults import loop_faults
from tests.depth import tried
from tests.unit.rules.restaged import JOB, restagings

PLATE = rectangle((0, 0), 200, 100)


def said(*inside, outside=(PLATE,)):
    return [f.message for f in loops.check(Profile(tuple(outside), openings(inside, "window", "")), JOB)]


def halved(loop):
    """The same circle in quarters, begun elsewhere."""
    (x, y), d = loop.circle
    return Loop.through([(x + d / 2 * math.cos(t), y + d / 2 * math.sin(t), math.tan(math.pi / 8))
                         for t in (0.3 + k * math.pi / 2 for k in range(4))])  # fmt: skip


TWICE = {
    "a hole": (circle((50, 50), 20), circle((50, 50), 20)),
    "a hole in other pieces": (circle((50, 50), 20), halved(circle((50, 50), 20))),
    "a hole the other way round": (circle((50, 50), 20), circle((50, 50), 20).reversed()),
    "a window": (rectangle((20, 20), 40, 30, 5), rectangle((20, 20), 40, 30, 5)),
    "a window begun elsewhere": (rectangle((20, 20), 40, 30), polygon([(60, 50), (20, 50), (20, 20), (60, 20)])),
}


@pytest.mark.parametrize("pair", TWICE.values(), ids=TWICE.keys())
def test_drawn_twice(pair):
    (found,) = loops.check(Profile((PLATE,), openings(pair, "window", "")), JOB)
    assert found == Finding(
        "loops", "stop", found.at, None, None, "Window 2 is drawn twice: it lies on window 1.", "Delete one of them."
    )
    nearest = min(math.dist(found.at, segment.nearest(found.at)) for segment in pair[0].segments)
    assert nearest < 1e-9


def test_the_edge_drawn_twice_and_three_times():
    assert said(outside=(PLATE, PLATE)) == ["The edge of piece 2 is drawn twice: it lies on the edge of piece 1."]
    assert len(said(outside=(PLATE, PLATE, PLATE))) == 3  # each pair once


ALONG = {
    "windows side by side": (rectangle((20, 20), 30, 30), rectangle((50, 20), 30, 30)),
    "windows that share half a line": (rectangle((20, 20), 30, 30), rectangle((50, 30), 30, 50)),
    "slots with one round end": (slot((50, 50), 60, 20), slot((60, 50), 40, 20)),
}


@pytest.mark.parametrize("pair", ALONG.values(), ids=ALONG.keys())
def test_a_line_drawn_twice(pair):
    assert said(*pair) == ["Window 2 shares a line with window 1: that line is drawn twice."]


def test_pieces_that_share_a_cut_are_told():
    found = said(outside=(rectangle((0, 0), 50, 50), rectangle((50, 0), 50, 50)))
    assert found == ["The edge of piece 2 shares a line with the edge of piece 1: that line is drawn twice."]


TOUCHING = {
    "round holes": (circle((40, 50), 20), circle((60, 50), 20)),
    "a round hole at a window's side": (rectangle((20, 20), 30, 60), circle((60, 50), 20)),
    "a corner at a side": (rectangle((20, 20), 30, 60), polygon([(50, 50), (70, 40), (70, 60)])),
    "corner to corner": (rectangle((20, 20), 30, 30), rectangle((50, 50), 20, 20)),
    "a hole inside another": (circle((50, 50), 40), circle((60, 50), 20)),
    "at three places": (circle((50, 50), 40), polygon([(50 + 20 * math.cos(t), 50 + 20 * math.sin(t))
                                                       for t in (0.2, 0.2 + math.tau / 3, 0.2 + 2 * math.tau / 3)])),
}  # fmt: skip
CROSSING = {
    "round holes": (circle((40, 50), 22), circle((60, 50), 22)),
    "a hole over a side": (rectangle((20, 20), 30, 60), circle((50, 50), 20)),
    "through two corners": (rectangle((20, 20), 30, 30), polygon([(10, 10), (60, 60), (70, 10)])),
    "a hair": (rectangle((20, 20), 30, 60), circle((59.999, 50), 20)),
}


@pytest.mark.parametrize("pair", TOUCHING.values(), ids=TOUCHING.keys())
def test_touching(pair):
    assert said(*pair) == ["Window 2 touches window 1."]


@pytest.mark.parametrize("pair", CROSSING.values(), ids=CROSSING.keys())
def test_crossing(pair):
    assert said(*pair) == ["Window 2 runs into window 1."]


@given(st.floats(-math.pi, math.pi), st.floats(0.5, 40), st.floats(0.5, 40))
@tried(100)
def test_round_holes_that_touch_at_any_angle_and_size(angle, r, s):
    place = rotation(angle, (100, 50)).point((100 + r + s, 50))
    assert contact(circle((100, 50), 2 * r), circle(place, 2 * s))[0] == "touching"


KINDS = [("same", pair) for pair in TWICE.values()] + [("along", pair) for pair in ALONG.values()]
KINDS += [("touching", pair) for pair in TOUCHING.values()] + [("crossing", pair) for pair in CROSSING.values()]


@given(st.sampled_from(KINDS), restagings())
@tried(150)
def test_however_it_is_drawn(kind, restaging):
    expected, pair = kind
    drawn, _ = restaging
    moved = drawn(Profile((PLATE,), openings(pair, "window", "")))
    assert contact(moved.inside[0].loop, moved.inside[1].loop)[0] == expected


def test_the_parameter_of_a_loop_drawn_twice_is_named():
    hole = Opening(circle((50, 50), 20), "hole", "holes")
    assert [f.parameter for f in loop_faults(Profile((PLATE,), (hole, hole)))] == ["holes"]
