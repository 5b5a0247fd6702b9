"""Arcs flattened: no chord strays further than allowed, however wide the arc."""

import itertools
import math

import pytest

from parts.geometry.segment import Arc, Line, distance
from parts.geometry.view import flattened


@pytest.mark.parametrize("radius", [1e-3, 0.5, 20.0, 1e6, 1e11, 1e18])
@pytest.mark.parametrize("error", [1e-6, 0.01, 0.3])
def test_no_chord_strays_further_than_allowed(radius, error):
    half = min(50.0, radius)
    arc = Arc((-half, 0.0), (half, 0.0), math.tan(math.asin(half / radius) / 2))
    points = [*flattened(arc, error), arc.end]
    widest = max(distance(a, b) for a, b in itertools.pairwise(points))
    # the sagitta of a chord c is r - sqrt(r² - c²/4), close to c²/8r where that rounds to nothing
    sagitta = widest**2 / (8 * radius) if radius > 1e5 else radius - math.sqrt(max(radius**2 - widest**2 / 4, 0.0))
    assert sagitta <= error * (1 + 1e-6)
    assert points[0] == arc.start


def test_no_more_chords_than_are_needed():
    whole = Arc((-20.0, 0.0), (20.0, 0.0), 1.0)
    span = 2 * math.acos(1 - 0.01 / 20)
    assert len(flattened(whole, 0.01)) == math.ceil(math.pi / span)
    assert flattened(Line((0.0, 0.0), (5.0, 0.0))) == [(0.0, 0.0)]
