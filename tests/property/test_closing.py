"""The closing by a disk: what must hold of any, and the area against shapely's buffers of the same polygon.

The buffers' own error is bounded by their chords: a quarter circle in 64 of them, twice over.
"""

import math

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from parts.errors import GeometryError
from parts.geometry.disk.closing import closed_by
from parts.geometry.draft import rectangle
from parts.geometry.intersect import meetings
from parts.geometry.loop import Loop
from parts.geometry.motion import Motion, mirror, rotation
from parts.geometry.segment import Arc, distance
from parts.geometry.view import polygon

FRAME = rectangle((-60, -60), 120, 120)


@st.composite
def regions(draw, bulges=True):
    """A star-shaped loop as a part, or as a window in a plate."""
    count = draw(st.integers(3, 20))
    vertices = []
    for i in range(count):
        angle = 2 * math.pi * (i + draw(st.floats(-0.3, 0.3))) / count
        far = 30 * draw(st.sampled_from([1.0, 0.3, 0.6]) | st.floats(0.15, 1))
        bulge = draw(st.sampled_from([0.0, 0.0, 0.5, -0.5]) | st.floats(-0.8, 0.8)) if bulges else 0.0
        vertices.append((far * math.cos(angle), far * math.sin(angle), bulge))
    try:
        loop = Loop.through(vertices)
    except GeometryError:
        assume(False)
    window = draw(st.booleans())
    loops = (FRAME, loop.running(False)) if window else (loop.running(True),)
    assume(next(iter(meetings(loops)), None) is None)
    assume(not window or loop.area > 1)
    return loops


RADII = st.sampled_from([0.05, 0.5, 2.0, 8.0]) | st.floats(0.05, 12)


def area(loops):
    return math.fsum(loop.signed_area for loop in loops)


def length(loops):
    return math.fsum(loop.perimeter for loop in loops)


@given(regions(), RADII, RADII)
def test_it_grows_with_the_disk_and_closing_again_changes_nothing(loops, one, other):
    small, large = sorted((one, other))
    closed, wider = closed_by(loops, small), closed_by(loops, large)
    slack = 1e-6 * length(loops) + 1e-5
    assert area(loops) - slack <= area(closed) <= area(wider) + slack
    assert area(closed_by(closed, small)) == pytest.approx(area(closed), abs=100 * slack)


@given(regions(), RADII)
def test_it_holds_the_region_and_its_own_rim_is_the_disks(loops, radius):
    """Every corner drawn is still on metal or its edge; every arc that is new has the disk's radius."""
    closed = closed_by(loops, radius)
    drawn = {round(s.radius, 6) for loop in loops for s in loop.segments if isinstance(s, Arc)}
    for loop in closed:
        for s in loop.segments:
            if isinstance(s, Arc) and round(s.radius, 6) not in drawn:
                assert s.radius == pytest.approx(radius, abs=1e-4)
                assert s.bulge < 0
    for corner in (s.start for loop in loops for s in loop.segments):
        off = min((distance(corner, s.nearest(corner)) for loop in closed for s in loop.segments), default=0.0)
        assert off <= 1e-5 or sum(loop.contains(corner) for loop in closed) % 2 == 1


@given(regions(), RADII, st.floats(-3, 3), st.booleans())
def test_turned_moved_and_mirrored_it_is_the_same(loops, radius, angle, turned):
    motion: Motion = rotation(angle, (13.0, -7.0)) if turned else mirror((3.0, 5.0), angle)
    moved = tuple(motion.loop(loop) for loop in loops)
    moved = tuple(m.running(loop.counter_clockwise) for m, loop in zip(moved, loops, strict=True))
    assert area(closed_by(moved, radius)) == pytest.approx(area(closed_by(loops, radius)), abs=1e-4)


@given(regions(bulges=False), RADII)
def test_against_buffers(loops, radius):
    part = polygon(loops[0], loops[1:])
    rounded = part.buffer(radius, quad_segs=64).buffer(-radius, quad_segs=64)
    sagitta = radius * (1 - math.cos(math.pi / 4 / 64))
    assert isinstance(rounded, shapely.Polygon | shapely.MultiPolygon)
    assert area(closed_by(loops, radius)) == pytest.approx(rounded.area, abs=4 * sagitta * length(loops) + 1e-3)
