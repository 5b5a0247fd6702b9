"""Many segments at once answer as each does alone, to the rounding of coordinates of metres."""

import math
import random

import numpy as np
import pytest

from parts.geometry.segment import Arc, Line
from parts.geometry.segments import Segments

SAME_MM = 1e-9


def some(seed: int, count: int) -> list[Line | Arc]:
    """Lines, arcs to either side from all but straight to nearly full turns, some far from the origin."""
    rng = random.Random(seed)
    segments: list[Line | Arc] = []
    while len(segments) < count:
        far = rng.choice([0.0, 3000.0])
        start, end = ((far + rng.uniform(-20, 20), rng.uniform(-20, 20)) for _ in range(2))
        bulge = rng.choice([-1, 1]) * rng.choice([10 ** rng.uniform(-3, 1), 1.0, math.tan(math.pi / 8)])
        segments.append(rng.choice([Line(start, end), Arc(start, end, bulge)]))
    return segments


SEGMENTS = some(1, 300)
MANY = Segments.of(SEGMENTS)
EVERY = np.arange(len(SEGMENTS))


def xy(points: np.ndarray) -> list[list[float]]:
    return np.stack([points.real, points.imag], axis=1).tolist()


@pytest.mark.parametrize("fraction", [0.0, 0.3, 1.0])
def test_at_and_back(fraction):
    points = MANY.at(EVERY, np.full(len(EVERY), fraction))
    for segment, point in zip(SEGMENTS, xy(points), strict=True):
        assert point == pytest.approx(segment.at(fraction), abs=SAME_MM)
    back = MANY.fraction_of(EVERY, points)
    bent = MANY.bulge != 0
    assert back[~bent] == pytest.approx(fraction, abs=1e-9)
    turned = np.exp(1j * MANY.sweep[bent] * back[bent])  # of the start of an arc rounding may make a whole turn
    assert np.abs(turned - np.exp(1j * MANY.sweep[bent] * fraction)).max() <= 1e-9


def test_measures_and_boxes():
    for k, (segment, box) in enumerate(zip(SEGMENTS, MANY.boxes().tolist(), strict=True)):
        assert MANY.length[k] == pytest.approx(segment.length, rel=1e-12)
        assert MANY.curvature[k] == pytest.approx(segment.curvature, rel=1e-12)
        assert box == pytest.approx(segment.box, abs=SAME_MM)
        if isinstance(segment, Arc):
            assert (MANY.sweep[k], MANY.radius[k]) == pytest.approx((segment.sweep, segment.radius), rel=1e-12)


def test_headings():
    for at, name in ((MANY.start, "heading_at_start"), (MANY.end, "heading_at_end")):
        for segment, heading in zip(SEGMENTS, xy(MANY.heading_at(EVERY, at)), strict=True):
            assert heading == pytest.approx(getattr(segment, name), abs=SAME_MM)


def test_nearest():
    rng = random.Random(2)
    for _ in range(20):
        points = np.array([s.start[0] + rng.uniform(-30, 30) + 1j * rng.uniform(-30, 30) for s in SEGMENTS])
        for segment, p, near in zip(SEGMENTS, xy(points), xy(MANY.nearest(EVERY, points)), strict=True):
            assert near == pytest.approx(segment.nearest((p[0], p[1])), abs=1e-7)


def test_the_nearest_to_an_arcs_centre_is_an_end():
    arc = Arc((2, 0), (0, 2), math.tan(math.pi / 8))
    assert xy(Segments.of([arc]).nearest(np.array([0]), np.array([0j]))) == [[2.0, 0.0]]


def test_some_of_them():
    few = MANY.where(np.array([5, 2]))
    assert few.start.tolist() == [MANY.start[5], MANY.start[2]]
    assert few.length.tolist() == [MANY.length[5], MANY.length[2]]
