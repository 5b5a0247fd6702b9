"""Corners made round: what is lost, by hand, and the chords of curves as they were."""

import math

import numpy as np
import pytest
import shapely
import shapely.affinity

from parts.artwork.easing import eased, restored
from parts.artwork.metal import MOST_TURN, disc, metal_from


def test_a_square_loses_what_lies_outside_of_quarter_circles_at_its_corners():
    """Area by hand: 4 r² less pi r²."""
    area = metal_from(shapely.box(0, 0, 40, 30))
    lost = area.area - eased(area, 2.0).area
    assert lost == pytest.approx((4 - math.pi) * 4, rel=0.01)


def test_a_curve_keeps_the_points_it_had():
    ellipse = shapely.affinity.scale(disc((0, 0), 20), 2, 1)
    area = metal_from(shapely.difference(shapely.box(-50, -30, 50, 30), ellipse))
    made = eased(area, 1.5)
    was, now = (shapely.get_coordinates(each.geoms[0].interiors[0]) for each in (area, made))
    assert len(now) <= len(was) + 2
    assert shapely.hausdorff_distance(area.geoms[0].interiors[0], made.geoms[0].interiors[0]) < 5e-3
    edge = np.diff(np.vstack([now, now[1]]), axis=0)
    turn = np.diff(np.unwrap(np.arctan2(edge[:, 1], edge[:, 0])))
    assert np.abs(turn).max() <= MOST_TURN + 1e-6
    grown = shapely.buffer(shapely.buffer(area, -1.5, quad_segs=16), 1.5, quad_segs=16)
    assert len(shapely.get_coordinates(grown.interiors[0])) > len(was) + 2, "or there would be nothing to give back"
    assert restored(made).is_valid
