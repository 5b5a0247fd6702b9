"""A curve of arcs that touch: joints, headings, and what is refused."""

import math

import pytest

from parts.errors import GeometryError
from parts.geometry.figure.belt import Pin
from parts.geometry.loop import Loop
from parts.templates.silhouette.shared.kissing import joint, kissing


def test_circles_side_by_side_turn_unlike_ways_and_meet_between():
    assert joint(Pin((0, 0), 3), Pin((5, 0), -2)) == pytest.approx((3, 0))


def test_a_circle_in_another_turns_the_same_way_and_meets_at_its_edge():
    assert joint(Pin((0, 0), 5), Pin((3, 0), 2)) == pytest.approx((5, 0))


@pytest.mark.parametrize("last", [Pin((5.1, 0), -2), Pin((5, 0), 2), Pin((0, 0), 3)])
def test_circles_that_do_not_touch_are_refused(last):
    with pytest.raises(GeometryError):
        joint(Pin((0, 0), 3), last)


def test_an_s_of_two_half_turns():
    """Half a circle of 2 to the left and half a circle of 1 to the right, closed by a line: areas by hand."""
    curve = kissing((0, -2), [Pin((0, 0), 2), Pin((0, 3), -1)], (0, 4))
    loop = Loop.through([*curve, (0, 4, 0)])
    assert loop.signed_area == pytest.approx(math.pi / 2 * (4 - 1))
    assert loop.perimeter == pytest.approx(math.pi * 3 + 6)
