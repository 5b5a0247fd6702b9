"""Necks and runs: what a single one says of itself. The search is held by tests/property/test_width.py."""

import math

import numpy as np
import pytest

from parts.geometry.draft import rectangle
from parts.geometry.loop import Loop
from parts.geometry.narrow.boundary import Boundary
from parts.geometry.narrow.width import Neck
from parts.geometry.segment import Arc, Line

LOWER = Line((0, 0), (10, 0))


def test_a_neck_knows_its_width_and_middle():
    neck = Neck((0, 0), (3, 4), 0, 2)
    assert (neck.width, neck.middle) == (5, (1.5, 2))


@pytest.mark.parametrize(
    ("before", "after", "right"),
    [
        (LOWER, Line((10, 0), (10, -5)), True),
        (LOWER, Line((10, 0), (10, 5)), False),
        (LOWER, Line((10, 0), (20, 0)), False),
        (LOWER, Arc((10, 0), (15, 5), math.tan(math.pi / 8)), False),
        # cusps: out along the same tangent, round to the left or to the right of where it came
        (LOWER, Arc((10, 0), (5, 5), -math.tan(math.pi / 8)), False),
        (LOWER, Arc((10, 0), (5, -5), math.tan(math.pi / 8)), True),
    ],
    ids=["right", "left", "straight", "smooth", "cusp to the left", "cusp to the right"],
)
def test_which_corners_point_into_the_region(before, after, right):
    boundary = Boundary([Loop((before, after, Line(after.end, (-9, 3)), Line((-9, 3), before.start)))], 1)
    assert boundary.corner[1] == right


def test_a_boundary_knows_neighbours_and_loops():
    square, hole = rectangle((0, 0), 20, 20), rectangle((5, 5), 10, 10).reversed()
    boundary = Boundary([square, hole], 3)
    assert boundary.loop.tolist() == [0, 0, 0, 0, 1, 1, 1, 1]
    assert boundary.before.tolist() == [3, 0, 1, 2, 7, 4, 5, 6]
    assert boundary.after.tolist() == [1, 2, 3, 0, 5, 6, 7, 4]
    assert boundary.corner.tolist() == [False] * 4 + [True] * 4
    box, near = boundary.near(np.array([[9.0, -1.0, 11.0, 1.0]]))
    assert (box.tolist(), near.tolist()) == ([0], [0])
