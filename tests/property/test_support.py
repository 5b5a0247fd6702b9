"""Reach, fit, gap and vicinity of loops against other ways to the same: turned boxes, dense points, shapely."""

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from parts.geometry.closest import closest
from parts.geometry.draft import circle, rectangle, slot
from parts.geometry.loop import Loop
from parts.geometry.motion import rotation, translation
from parts.geometry.reach.fitting import roundest, turns_that_fit
from parts.geometry.reach.support import envelope, extreme_at
from parts.geometry.search.vicinity import Vicinity
from parts.geometry.segment import Arc, Line, distance
from tests.depth import tried
from tests.property import regions as shapes
from tests.property.same_drawing import split_loop

many = tried(150)
LENGTH, ANGLE = st.floats(1, 100), st.floats(-math.pi, math.pi)


@st.composite
def stars(draw):
    """A closed chain round the origin of lines and of arcs that bow out or in."""
    count = draw(st.integers(3, 9))
    radii = draw(st.lists(st.floats(20, 60), min_size=count, max_size=count))
    bulges = draw(st.lists(st.sampled_from([0.0, 0.1, 0.4, 1.0, -0.1, -0.4]), min_size=count, max_size=count))
    turn = draw(ANGLE)
    corners = [turn + 2 * math.pi * i / count for i in range(count)]
    return Loop.through((r * math.cos(a), r * math.sin(a), b) for r, a, b in zip(radii, corners, bulges, strict=True))


@st.composite
def drawn_loops(draw):
    kinds = (
        stars(),
        st.builds(lambda d: circle((3, 4), d), LENGTH),
        st.builds(lambda w, h: rectangle((0, 0), w, h), LENGTH, LENGTH),
        st.builds(lambda w, h, a: slot((0, 0), w + h, h, a), LENGTH, LENGTH, ANGLE),
    )  # fmt: skip
    loops = draw(st.lists(st.one_of(*kinds), min_size=1, max_size=2))
    return [translation(60 * i, 10 * i).loop(loop) for i, loop in enumerate(loops)]


def extents(loops, turn):
    boxes = [rotation(turn).loop(loop).box for loop in loops]
    return max(b[2] for b in boxes) - min(b[0] for b in boxes), max(b[3] for b in boxes) - min(b[1] for b in boxes)


@many
@given(drawn_loops(), st.lists(ANGLE, min_size=5, max_size=5), st.booleans())
def test_support_is_the_turned_box(loops, angles, splits):
    of = envelope([split_loop(loop) for loop in loops] if splits else loops)
    for angle in angles:
        expected = max(rotation(-angle).loop(loop).box[2] for loop in loops)
        assert extreme_at(of, angle).support(angle) == pytest.approx(expected, abs=1e-9)


@many
@given(drawn_loops(), ANGLE, st.sampled_from([1.0, 0.99, 1.02]), st.sampled_from([1.0, 0.97, 1.01]))
def test_turns_that_fit_are_those_and_no_others(loops, turn, wider, higher):
    """The rectangle is that of some turn, or a little off it; other turns are tried one by one."""
    width, height = extents(loops, turn)
    room = width * wider, height * higher
    spans = turns_that_fit(loops, [room])
    folded = (turn + math.pi / 2) % math.pi - math.pi / 2
    if wider >= 1 and higher >= 1:
        assert any(low - 1e-9 <= folded <= high + 1e-9 for low, high in spans)
    for i in range(41):
        tried = -math.pi / 2 + math.pi * i / 41 + 0.01
        across, up = extents(loops, tried)
        if min(abs(across - room[0]), abs(up - room[1])) > 1e-6:
            fits = across <= room[0] and up <= room[1]
            assert fits == any(low <= tried <= high for low, high in spans)
    for span in spans:
        for tried in (*span, math.radians(roundest(span))):
            across, up = extents(loops, tried)
            assert across <= room[0] + 1e-6
            assert up <= room[1] + 1e-6


def test_many_segments_reach_as_far_as_few():
    whole = [slot((0, 0), 300, 80, 0.7), circle((200, 40), 90)]
    pieces = whole
    for _ in range(5):
        pieces = [split_loop(loop) for loop in pieces]
    assert sum(len(loop.segments) for loop in pieces) > 150
    one, other = envelope(whole), envelope(pieces)
    for i in range(100):
        assert extreme_at(other, i / 16).support(i / 16) == pytest.approx(extreme_at(one, i / 16).support(i / 16))


@many
@given(stars(), stars(), st.floats(-150, 150), st.floats(-150, 150))
def test_closest_points_of_segments(one, other, x, y):
    """Against shapely on dense points, within what the chords between them are off."""
    moved = translation(x, y).loop(other)
    for a in one.segments[:3]:
        for b in moved.segments[:3]:
            p, q = closest(a, b)
            dense = [shapely.LineString([s.at(i / 400) for i in range(401)]) for s in (a, b)]
            assert distance(p, q) == pytest.approx(dense[0].distance(dense[1]), abs=0.01)
            assert distance(a.nearest(p), p) <= 1e-5
            assert distance(b.nearest(q), q) <= 1e-5


def test_closest_of_arcs_face_to_face():
    left, right = Arc((0, -10), (0, 10), 0.5), Arc((40, 10), (40, -10), 0.5)
    p, q = closest(left, right)
    assert (p, q) == (pytest.approx((5, 0)), pytest.approx((35, 0)))
    assert closest(Line((0, 0), (10, 0)), Line((5, -5), (5, 5))) == ((5, 0), (5, 0))


@tried(40)
@given(shapes.regions(shapes.plate), st.lists(st.tuples(st.floats(0, 100), st.floats(0, 100)), min_size=5, max_size=5))
def test_vicinity_agrees_with_going_through_all(loops, places):
    split = list(loops)
    for _ in range(6):
        split = [split_loop(loop) for loop in split]
    for vicinity in (Vicinity(loops), Vicinity(split)):
        for p in places:
            inside = sum(loop.contains(p) for loop in loops) % 2 == 1
            assert vicinity.inside(p, len(loops)) == inside
            near = [distance(p, foot) for _, foot in vicinity.nearest(p, 8.0)]
            every = min(distance(p, s.nearest(p)) for loop in loops for s in loop.segments)
            assert (min(near) if near else None) == (pytest.approx(every) if every <= 8.0 else None)
