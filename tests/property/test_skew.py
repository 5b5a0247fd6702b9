"""Skewed arcs: chains of arcs that stay within 1e-4 mm of the true ellipse, and meet end to start."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.geometry.draft import circle
from parts.geometry.segment import Arc, Line
from parts.geometry.skew import Skew

SKEWS = st.builds(Skew, st.floats(0.9, 1.1), st.floats(-0.1, 0.1), st.floats(-0.1, 0.1), st.floats(0.9, 1.1))
COORDINATES = st.floats(-500, 500)
BULGES = st.floats(1e-5, 20).flatmap(lambda b: st.sampled_from([b, -b]))


@given(skew=SKEWS, ax=COORDINATES, ay=COORDINATES, length=st.floats(0.01, 2000), way=st.floats(0, 6.3), bulge=BULGES)
def test_arcs_stay_by_the_ellipse(skew, ax, ay, length, way, bulge):
    """Points of the ellipse are looked up on the chain, and points of the chain brought back to the circle."""
    arc = Arc((ax, ay), (ax + length * math.cos(way), ay + length * math.sin(way)), bulge)
    if arc.radius > 2000:
        return
    chain, back = skew.path([arc]), skew.inverse()
    assert chain[0].start == skew.point(arc.start)
    assert chain[-1].end == skew.point(arc.end)
    assert all(a.end == b.start for a, b in pairwise(chain))
    for i in range(101):
        p = skew.point(arc.at(i / 100))
        assert min(math.dist(p, s.nearest(p)) for s in chain) <= 1e-4
    for s in chain:
        for i in range(21):
            q = back.point(s.at(i / 20))
            # brought back, a distance grows by what the map shrank: less than a quarter
            assert math.dist(q, arc.nearest(q)) <= 1.25e-4


@pytest.mark.parametrize(("diameter", "most"), [(10, 12), (300, 40), (3000, 90)])
def test_a_circle_takes_few_arcs(diameter, most):
    """The distance goes with the cube of an arc's sweep, so ten times the size takes twice the arcs."""
    skew = Skew(1.001, 0.002, 0.0, 0.999)
    assert len(skew.loop(circle((0.0, 0.0), diameter)).segments) <= most


def test_lines_stay_lines():
    skew = Skew(1.1, 0.2, 0.0, 0.9)
    assert skew.path([Line((0.0, 0.0), (10.0, 20.0))]) == (Line((0.0, 0.0), (15.0, 18.0)),)


@given(skew=SKEWS, x=COORDINATES, y=COORDINATES)
def test_the_inverse_goes_back(skew, x, y):
    assert skew.inverse().point(skew.point((x, y))) == pytest.approx((x, y), abs=1e-9)
