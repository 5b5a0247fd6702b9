"""Lines and arcs: numbers by hand."""

import math

import pytest

from parts.errors import GeometryError
from parts.geometry.segment import Arc, Line

QUARTER = math.tan(math.pi / 8)
HALF = Arc((2, 0), (0, 0), 1.0)  # the upper half of the circle of radius 1 around (1, 0)
LINE = Line((1, 1), (4, 5))


def test_a_line():
    assert LINE.length == 5
    assert LINE.heading == LINE.heading_at_start == LINE.heading_at_end == (0.6, 0.8)
    assert LINE.curvature == 0
    assert LINE.box == (1, 1, 4, 5)
    assert LINE.at(0.2) == pytest.approx((1.6, 1.8))
    assert LINE.swept_area == 0.5
    assert LINE.reversed() == Line((4, 5), (1, 1))


@pytest.mark.parametrize(
    ("p", "nearest"),
    [((0, 0), (1, 1)), ((9, 9), (4, 5)), ((2.5 - 4, 3 + 3), (2.5, 3)), ((1, 1), (1, 1))],
    ids=["before the start", "past the end", "beside", "at the start"],
)
def test_nearest_on_a_line(p, nearest):
    assert LINE.nearest(p) == pytest.approx(nearest)


@pytest.mark.parametrize(
    ("bulge", "sweep", "radius", "centre"),
    [
        (QUARTER, math.pi / 2, math.sqrt(2), (1, 1)),
        (-QUARTER, -math.pi / 2, math.sqrt(2), (1, -1)),
        (1.0, math.pi, 1.0, (1, 0)),
        (1 / QUARTER, 3 * math.pi / 2, math.sqrt(2), (1, -1)),
        (-1 / QUARTER, -3 * math.pi / 2, math.sqrt(2), (1, 1)),
    ],
    ids=["quarter left", "quarter right", "half", "three quarters left", "three quarters right"],
)
def test_an_arc_from_its_bulge(bulge, sweep, radius, centre):
    """Over a chord of 2 from (0, 0) to (2, 0)."""
    arc = Arc((0, 0), (2, 0), bulge)
    assert (arc.sweep, arc.radius, arc.chord) == pytest.approx((sweep, radius, 2))
    assert arc.centre == pytest.approx(centre)
    assert arc.to_centre == pytest.approx(centre)
    assert arc.length == pytest.approx(radius * abs(sweep))
    assert arc.curvature == pytest.approx(math.copysign(1 / radius, bulge))


def test_half_a_circle():
    assert HALF.box == pytest.approx((0, 0, 2, 1))
    assert HALF.heading_at_start == pytest.approx((0, 1))
    assert HALF.heading_at_end == pytest.approx((0, -1))
    assert HALF.at(0.5) == pytest.approx((1, 1))
    assert HALF.swept_area == pytest.approx(math.pi / 2)
    assert HALF.fraction_of((1, 1)) == pytest.approx(0.5)
    assert HALF.reversed() == Arc((0, 0), (2, 0), -1.0)


@pytest.mark.parametrize(
    ("p", "nearest"),
    [((1, 5), (1, 1)), ((1, 0.2), (1, 1)), ((3, -1), (2, 0)), ((-1, -1), (0, 0)), ((1, 0), (2, 0))],
    ids=["outside", "inside", "below the start", "below the end", "centre: the start"],
)
def test_nearest_on_an_arc(p, nearest):
    assert HALF.nearest(p) == pytest.approx(nearest)


@pytest.mark.parametrize(
    ("arc", "on", "off"),
    [
        (HALF, (1, 1), (1, -1)),
        (Arc((0, 0), (2, 0), 1.0), (1, -1), (1, 1)),
        (Arc((0, 0), (2, 0), 1 / QUARTER), (1, -1 - math.sqrt(2)), (1, -1 + math.sqrt(2))),
        (Arc((0, 0), (2, 0), -1 / QUARTER), (1, 1 + math.sqrt(2)), (1, 1 - math.sqrt(2))),
    ],
    ids=["half", "other half", "three quarters left", "three quarters right"],
)
def test_what_an_arc_covers_of_its_circle(arc, on, off):
    assert arc.covers(on)
    assert not arc.covers(off)
    assert arc.covers(arc.start)
    assert arc.covers(arc.end)


@pytest.mark.parametrize(
    ("start", "end", "bulge"),
    [((0, 0), (1, 0), 0.0), ((0, 0), (0, 0), 1.0), ((0, 0), (1e-10, 0), 1.0), ((0, 0), (1, 0), math.inf),
     ((0, 0), (1, 0), math.nan)],
    ids=["no bulge", "no chord", "hardly a chord", "infinite", "not a number"],
)  # fmt: skip
def test_an_arc_that_cannot_be_is_refused(start, end, bulge):
    with pytest.raises(GeometryError, match="two different ends and a bulge other than zero"):
        Arc(start, end, bulge)


@pytest.mark.parametrize(
    ("segment", "p", "count"),
    [
        (Line((0, 0), (0, 2)), (-1, 1), 1),
        (Line((0, 0), (0, 2)), (1, 1), 0),
        (Line((0, 0), (0, 2)), (-1, 0), 1),
        (Line((0, 0), (0, 2)), (-1, 2), 0),
        (Line((0, 0), (5, 0)), (-1, 0), 0),
        (HALF, (-1, 0.5), 2),
        (HALF, (1, 0.5), 1),
        (HALF, (3, 0.5), 0),
        (HALF, (1, 1.5), 0),
        (HALF, (-1, 1.0), 0),
    ],
    ids=["left of it", "right of it", "lower end counts", "upper end doesn't", "level", "two", "inside",
         "right of the arc", "above", "at its top"],
)  # fmt: skip
def test_crossings_of_a_ray_to_the_right(segment, p, count):
    assert segment.crossings_right_of(p) == count
    assert segment.reversed().crossings_right_of(p) == count


@pytest.mark.parametrize("noise", [0.0, 1e-15, -1e-15, 1e-13, -1e-13])
def test_an_arc_that_begins_at_its_bottom_but_for_rounding(noise):
    """The right half of a circle: its bottom may come out just before the start, a whole turn on."""
    arc = Arc((noise, -1), (0, 1), 1.0)
    assert [arc.crossings_right_of(p) for p in ((-2, 0.3), (0.5, 0.3), (2, 0.3))] == [1, 1, 0]


@pytest.mark.parametrize("bulge", [1e-5, 1e-7, 1e-9])
def test_a_shallow_arc_keeps_its_rise(bulge):
    """Over a chord of 1000 mm, far from its centre: the rise is half the chord times the bulge."""
    arc = Arc((0, 0), (1000, 0), -bulge)
    rise = 500 * bulge
    assert arc.at(0.5) == pytest.approx((500, rise), abs=1e-10)
    assert arc.nearest((500, 7)) == pytest.approx((500, rise), abs=1e-10)
    assert arc.power((500, 0)) == pytest.approx(-(500**2))
    assert arc.swept_area == pytest.approx(-2 / 3 * 1000 * rise, rel=1e-8)  # a parabola's cap


@pytest.mark.parametrize("bulge", [1e-5, 0.3, -0.7, 1.0, -2.5])
def test_points_at_equal_steps_are_those_told_singly(bulge):
    arc = Arc((3.1, -2.7), (11.3, 4.9), bulge)
    assert arc.points(7) == [arc.at(k / 7) for k in range(8)]
