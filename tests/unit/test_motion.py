"""Rigid motions: where they take points, and that loops keep running the same way."""

import math

import pytest

from parts.geometry.draft import fillet, polygon
from parts.geometry.motion import Motion, mirror, rotation, translation
from parts.geometry.segment import Arc, Line

SHAPE = polygon([(0, 0), (20, 0), fillet(20, 10, 4), (0, 10)])


@pytest.mark.parametrize(
    ("motion", "goes_to"),
    [
        (Motion(), (3, 1)),
        (translation(10, -2), (13, -1)),
        (rotation(math.pi / 2), (-1, 3)),
        (rotation(math.pi / 2, (3, 0)), (2, 0)),
        (rotation(-math.pi / 2), (1, -3)),
        (rotation(math.pi, (1, 1)), (-1, 1)),
        (rotation(2 * math.pi, (7, 9)), (3, 1)),
        (mirror((0, 0), 0), (3, -1)),
        (mirror((0, 0), math.pi / 2), (-3, 1)),
        (mirror((5, 0), math.pi / 2), (7, 1)),
    ],
)
def test_shifts_quarter_turns_and_mirrorings_in_the_axes_are_exact(motion, goes_to):
    assert motion.point((3, 1)) == goes_to


@pytest.mark.parametrize(
    ("motion", "goes_to"),
    [
        (rotation(math.pi / 6), (3 * math.cos(math.pi / 6) - 0.5, 1.5 + math.cos(math.pi / 6))),
        (mirror((0, 0), math.pi / 4), (1, 3)),
        (mirror((1, 0), math.pi / 4), (2, 2)),
        (mirror((0, 5), -math.pi / 4), (4, 2)),
    ],
)
def test_other_angles(motion, goes_to):
    assert motion.point((3, 1)) == pytest.approx(goes_to)


def test_a_mirrored_arc_turns_the_other_way():
    arc = Arc((0, 0), (2, 0), 0.5)
    assert mirror((0, 0), 0).segment(arc) == Arc((0, 0), (2, 0), -0.5)
    assert rotation(math.pi).segment(arc) == Arc((0, 0), (-2, 0), 0.5)
    assert translation(1, 1).segment(Line((0, 0), (2, 0))) == Line((1, 1), (3, 1))


@pytest.mark.parametrize(
    "motion", [translation(1, 2), rotation(1.0), mirror((3, 4), 0.3)], ids=["shift", "turn", "flip"]
)
@pytest.mark.parametrize("loop", [SHAPE, SHAPE.reversed()], ids=["left", "right"])
def test_a_moved_loop_runs_the_same_way(motion, loop):
    assert motion.loop(loop).signed_area == pytest.approx(loop.signed_area)
    assert motion.loop(loop).perimeter == pytest.approx(loop.perimeter)
