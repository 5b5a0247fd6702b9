"""The biarc against what it is for: it passes through its points and has no kink; and against a circle."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from parts.artwork.biarc import Knot, biarc, closed, rounded, through
from parts.errors import GeometryError
from parts.geometry.loop import Loop

coordinate = st.floats(-500, 500)
heading = st.floats(-math.pi, math.pi)


def turned(u, v):
    return abs(math.atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1]))


def walk(vertices, end):
    """Points and headings along arcs, from start and bulge alone: heading off the chord by twice the arc tangent."""
    points = [complex(x, y) for x, y, _ in vertices] + [complex(*end)]
    for i, (_, _, bulge) in enumerate(vertices):
        chord, off = points[i + 1] - points[i], 2 * math.atan(bulge)
        yield points[i], chord * complex(math.cos(off), -math.sin(off)), chord * complex(math.cos(off), math.sin(off))


@given(coordinate, coordinate, heading, heading)
def test_a_biarc_starts_and_ends_as_told_and_has_no_kink(x, y, leaving, arriving):
    assume(math.hypot(x, y) > 1)
    try:
        vertices = biarc((0.0, 0.0), leaving, (x, y), arriving)
    except GeometryError:
        assume(False)
    assume(all(abs(bulge) < 1e3 for _, _, bulge in vertices))
    assume(
        all(
            abs(b - a) > 1e-3
            for a, b in zip([0j, complex(*vertices[1][:2])], [complex(*vertices[1][:2]), complex(x, y)], strict=True)
        )
    )
    (start, out, into), (_, again, last) = walk(vertices, (x, y))
    assert start == 0
    wanted = [(leaving, out), (arriving, last)]
    for angle, z in wanted:
        assert turned((math.cos(angle), math.sin(angle)), (z.real, z.imag)) < 1e-9
    assert turned((into.real, into.imag), (again.real, again.imag)) < 1e-9


def test_one_heading_square_to_the_way_is_refused_by_name():
    """By rounding, the squares of a heading's cosines can sum to more than 1: no root of less than nothing."""
    for heading in map(math.radians, range(0, 360, 5)):
        with pytest.raises(GeometryError, match="folds back"):
            biarc((0.0, 0.0), heading, (2 * math.sin(heading), -2 * math.cos(heading)), heading)


def test_knots_on_a_circle_give_that_circle():
    angles = [0.1, 0.9, 2.2, 3.0, 4.4, 5.5]
    loop = Loop.through(closed([Knot((40 * math.cos(a) + 7, 40 * math.sin(a) - 3)) for a in angles]))
    assert loop.area == pytest.approx(math.pi * 1600, rel=1e-12)
    assert all(s.radius == pytest.approx(40, rel=1e-9) for s in loop.segments)


def test_a_smooth_closed_curve_passes_through_its_points_without_a_corner():
    at = [(0, 0), (60, -12), (140, 5), (150, 60), (70, 45), (10, 50)]
    loop = Loop.through(closed([Knot(p) for p in at]))
    starts = [segment.start for segment in loop.segments]
    assert all(p in starts for p in at)
    assert max(map(abs, loop.corners)) < 1e-9


def test_a_rounded_end_has_its_middle_radius_and_turn():
    first, last = rounded((10.0, 5.0), math.pi / 2, 4.0, math.pi)
    middle = (first.at[0] + last.at[0]) / 2, (first.at[1] + last.at[1]) / 2
    assert middle == pytest.approx((6, 5))
    assert (first.heading, last.heading) == pytest.approx((0, math.pi))
    (x, y, bulge), _ = biarc(first.at, first.heading, last.at, last.heading)
    assert (x, y) == pytest.approx((6, 1))
    assert bulge == pytest.approx(math.tan(math.pi / 8))


def test_two_points_at_one_place_are_refused():
    with pytest.raises(GeometryError):
        through([Knot((0.0, 0.0), 0.0), Knot((0.0, 0.0), 0.0)])
    with pytest.raises(GeometryError):
        biarc((0.0, 0.0), math.pi, (10.0, 0.0), math.pi)
