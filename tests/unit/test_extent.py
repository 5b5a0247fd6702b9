"""Least width, greatest length, centroid and nesting, against flattened copies measured by brute force."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.geometry.centroid import centroid
from parts.geometry.draft import circle, polygon, rectangle, slot
from parts.geometry.loop import Loop
from parts.geometry.nesting import holders
from parts.geometry.reach.extent import Extent, farthest
from parts.geometry.segment import Arc, Line
from parts.geometry.view import polygon as flattened
from parts.geometry.view import ring
from tests.depth import tried

ERROR = 1e-4  # chord error of the copies


@st.composite
def loops(draw):
    """A loop round the origin, star-shaped, of lines and of arcs bowing both ways."""
    count = draw(st.integers(3, 9))
    first = draw(st.floats(0, math.pi))
    vertices = []
    for k in range(count):
        r, t = draw(st.floats(20, 100)), first + 2 * math.pi * k / count
        bulge = draw(st.sampled_from([0.0, 0.0, 0.3, -0.2, 0.02, 0.9]))
        vertices.append((r * math.cos(t), 0.4 * r * math.sin(t), bulge))
    return Loop.through(vertices)


def brute(loop):
    """Least and greatest width of a copy at twenty thousand angles."""
    points = np.array(ring(loop, ERROR))
    angles = np.linspace(0, math.pi, 20_001)
    low, high = math.inf, 0.0
    for part in np.array_split(angles, 200):
        along = points @ np.stack([np.cos(part), np.sin(part)])
        widths = along.max(axis=0) - along.min(axis=0)
        low, high = min(low, widths.min()), max(high, widths.max())
    return low, high


@given(loops())
@tried(60)
def test_against_a_copy_measured_at_every_angle(loop):
    extent = Extent(loop)
    low, high = brute(loop)
    least, angle = extent.least()
    assert extent.width(angle) == pytest.approx(least)
    # an angle between two tried is off by 8e-5 rad, so a width of 300 mm that grows from a kink by 0.02 mm
    assert low - 0.03 <= least <= low + 2 * ERROR
    assert least - 0.2 <= extent.surely <= least + 1e-9
    assert high - 2 * ERROR <= extent.greatest() <= high + 3 * ERROR


@pytest.mark.parametrize(
    ("loop", "least", "greatest"),
    [
        (rectangle((3, 4), 30, 40), 30, 50),
        (polygon([(0, 0), (60, 0), (30, 30 * math.sqrt(3))]), 30 * math.sqrt(3), 60),
        (slot((0, 0), 90, 20, 0.7), 20, 90),
        (circle((5, 5), 30), 30, 30),
        # a lens of circles of 50 about (0, +-30): as wide as 100 less the 60 between the centres, as long as its chord
        (Loop.through([(-40, 0, math.tan(math.asin(0.8) / 2)), (40, 0, math.tan(math.asin(0.8) / 2))]), 40, 80),
        (Loop.through([(0, 0, 1.0), (60, 0, 0.0)]), 30, 60),
    ],
    ids=["rectangle", "triangle", "slot", "circle", "lens", "half disc"],
)
def test_closed_forms(loop, least, greatest):
    extent = Extent(loop)
    assert extent.least()[0] == pytest.approx(least, abs=1e-9)
    assert extent.greatest() == pytest.approx(greatest, abs=1e-9)


def test_an_outline_of_very_many_corners():
    points = [(100 * math.cos(t), 40 * math.sin(t)) for t in np.linspace(0, 2 * math.pi, 5000, endpoint=False)]
    extent = Extent(polygon(points))
    assert extent.least()[0] == pytest.approx(80, abs=1e-3)
    assert extent.greatest() == pytest.approx(200, abs=1e-3)
    assert 79 < extent.surely < 80


def test_the_middle_of_a_box():
    extent = Extent(rectangle((10, 20), 30, 8))
    assert extent.middle(extent.least()[1]) == pytest.approx((25, 24))


@given(st.lists(st.tuples(st.floats(-50, 50), st.floats(-50, 50)), min_size=4, max_size=4, unique=True),
       st.sampled_from([-1.5, -0.4, 0.3, 1.2]), st.sampled_from([0.0, -0.7, 2.0]))  # fmt: skip
@tried(80)
def test_farthest_points_of_two_segments(points, bulge_a, bulge_b):
    a0, a1, b0, b1 = points
    if math.dist(a0, a1) < 1 or math.dist(b0, b1) < 1:
        return
    a, b = Arc(a0, a1, bulge_a), (Arc(b0, b1, bulge_b) if bulge_b else Line(b0, b1))
    of_a, of_b = (np.array([s.at(k / 400) for k in range(401)]) for s in (a, b))
    sampled = np.hypot(*(of_a[:, None] - of_b[None]).T).max()
    assert sampled - 1e-9 <= farthest(a, b) <= sampled + 0.01 * (a.radius + 1)


@given(loops())
@tried(60)
def test_the_centroid_is_that_of_a_copy(loop):
    shape = flattened(loop, chord_error=ERROR)
    if shape.is_valid:
        assert centroid(loop) == pytest.approx((shape.centroid.x, shape.centroid.y), abs=20 * ERROR)


def test_centroids_in_closed_form():
    """A half disc's is 4 r / 3 pi from its diameter; a shallow cap's two fifths of its height from its chord."""
    assert centroid(Loop.through([(-30, 0, 0.0), (30, 0, 1.0)])) == pytest.approx((0, 4 * 30 / (3 * math.pi)))
    assert centroid(Loop.through([(0, 0, 0.0), (100, 0, 0.0100001)])) == pytest.approx((50, 0.4 * 0.5), rel=1e-3)
    assert centroid(Loop.through([(0, 0, 0.0), (100, 0, 0.0099999)])) == pytest.approx((50, 0.4 * 0.5), rel=1e-3)
    assert centroid(rectangle((1e4, 1e4), 2, 4)) == pytest.approx((1e4 + 1, 1e4 + 2), abs=1e-9)


def test_which_loops_lie_in_which():
    nest = [rectangle((0, 0), 100, 100), rectangle((200, 0), 50, 50), rectangle((10, 10), 80, 80), circle((50, 50), 40),
            circle((50, 50), 10), circle((225, 25), 10), circle((105, 105), 4)]  # fmt: skip
    assert holders(nest) == [[], [], [0], [2, 0], [3, 2, 0], [1], []]
