"""Loose pieces tied by bridges: few, wide enough, in their places; what can't be held is told."""

import math

import numpy as np
import pytest
import shapely

from parts.artwork.holding import Dropped, Ties, held
from parts.artwork.metal import metal_from, metal_of, pieces
from parts.errors import GeometryError
from parts.geometry import Loop, circle
from parts.geometry.disk import pockets


def plate(cut, margin=30.0):
    x0, y0, x1, y1 = cut.bounds
    return metal_from(shapely.box(x0 - margin, y0 - margin, x1 + margin, y1 + margin) - cut)


def ring(radius, wall, at=(0.0, 0.0)):
    middle = shapely.Point(at)
    return middle.buffer(radius, 64) - middle.buffer(radius - wall, 64)


def test_the_middle_of_a_ring_hangs_on_two_bridges_upright_through_it():
    metal = plate(ring(40, 12))
    found = held(metal, Ties(3.0))
    assert len(pieces(found.metal)) == 1
    assert {b.key for b in found.bridges} == {"1.1.top", "1.1.bottom"}
    for bridge in found.bridges:
        assert bridge.start[0] == pytest.approx(0, abs=1e-6)
        assert bridge.offset == pytest.approx(0, abs=1e-6)
        assert math.dist(bridge.start, bridge.end) == pytest.approx(12, abs=0.2)
    # what was added is two strips 3 wide across the wall of 12, up to the sagitta of their ends
    assert found.metal.area - metal.area == pytest.approx(2 * 3 * 12, rel=0.01)
    assert (found.loose, found.dropped, found.unmoved) == ((), (), ())


def test_a_light_one_hangs_on_one():
    assert len(held(plate(ring(15, 6)), Ties(3.0)).bridges) == 1


def test_the_same_shape_elsewhere_has_the_same_bridges():
    one = held(plate(ring(40, 12)), Ties(3.0))
    other = held(plate(ring(40, 12, (1234.567, -89.0123))), Ties(3.0))
    moved = np.array([(b.start, b.end) for b in other.bridges]) - (1234.567, -89.0123)
    assert moved == pytest.approx(np.array([(b.start, b.end) for b in one.bridges]), abs=1e-4)


def test_what_is_nested_is_held_at_every_depth():
    """Rings in one another, as an island within a lake within an island."""
    loops = [circle((0, 0), 2 * r) for r in (100, 90, 80, 70, 60, 50, 40)]
    found = held(metal_of(loops), Ties(4.0))
    assert len(pieces(found.metal)) == 1
    assert [b.key.rpartition(".")[0] for b in found.bridges] == [f"{k}.1" for k in (1, 1, 2, 2, 3, 3)]


def test_pieces_that_lie_side_by_side_are_joined_only_when_asked():
    apart = metal_from(shapely.union_all([shapely.box(x, 0, x + 30, 40) for x in (0, 36, 72)]))
    assert held(apart, Ties(5.0)).metal == apart
    found = held(apart, Ties(5.0, frame="one"))
    assert len(pieces(found.metal)) == 1
    assert all(math.dist(b.start, b.end) == pytest.approx(6) for b in found.bridges)


def test_a_bridge_moved_by_hand_stands_where_it_was_put_and_the_others_stay():
    metal = plate(ring(40, 12))
    found = held(metal, Ties(3.0), {"1.1.top": 0.25, "1.1.left": 0.1, "1.1.bottom": 0.7, "7.1.top": 0.0})
    at = {b.key: b for b in found.bridges}
    assert at["1.1.top"].start[0] == pytest.approx(0.25 * 56, abs=1e-6)
    assert at["1.1.top"].offset == pytest.approx(0.25)
    assert at["1.1.bottom"].offset == pytest.approx(0, abs=1e-6)
    assert found.unmoved == ("1.1.bottom", "1.1.left", "7.1.top")
    assert len(pieces(found.metal)) == 1


def test_flush_bridges_stand_in_line_with_a_stem_and_not_with_a_round():
    counter = shapely.box(0, 0, 30, 60)
    with_stem = plate(shapely.box(-12, -10, 42, 70) - counter)
    for metal, x in ((with_stem, 1.5), (plate(ring(40, 12)), 0.0)):
        found = held(metal, Ties(3.0, style="flush"))
        assert [bridge.start[0] for bridge in found.bridges] == pytest.approx([x] * 2, abs=1e-6)
        assert len(pieces(found.metal)) == 1


def test_many_pieces_in_one_opening_hang_together():
    rings = [ring(10, 3, (16 * i + 8 * (j % 2), 15 * j)) for i in range(7) for j in range(7)]
    found = held(plate(shapely.union_all(rings)), Ties(2.0))
    assert len(pieces(found.metal)) == 1
    assert 49 <= len(found.bridges) <= 70
    assert found.loose == ()


def test_no_nook_beside_a_bridge_is_left_that_the_jet_cannot_enter():
    """A triangle's counter, whose sides meet a bridge at 37 degrees: lost-detail's depth is allowed at 49 or more."""
    outer, inner = (shapely.Polygon([(-r, -r), (3 * r, 2 * r), (-r, 2 * r)]) for r in (60, 38))
    found = held(plate(outer - inner), Ties(4.0, 1.5))
    rings = [r for piece in found.metal.geoms for r in (piece.exterior, *piece.interiors)]
    loops = [Loop.through([(x, y, 0.0) for x, y in r.coords[:-1]]) for r in rings]
    deepest = max((p.depth for p in pockets(loops, 0.75, math.radians(130))), default=0.0)
    near = [shapely.LineString([b.start, b.end]).buffer(4) for b in found.bridges]
    places = [shapely.Point(p.stretch[0].start) for p in pockets(loops, 0.75, math.radians(130))]
    assert deepest == 0 or not any(area.contains(place) for area in near for place in places)


def test_a_speck_is_dropped_and_told():
    speck = shapely.box(-0.5, -0.5, 0.5, 0.5)
    found = held(plate(shapely.box(-20, -20, 20, 20) - speck), Ties(3.0))
    assert found.dropped == (Dropped((0.0, 0.0), 1.0),)
    assert (len(pieces(found.metal)), found.bridges) == (1, ())


@pytest.mark.parametrize("ties", [{"width_mm": 0.0}, {"width_mm": 3.0, "kerf_mm": -1.0}])
def test_bridges_without_a_width_are_refused(ties):
    with pytest.raises(GeometryError, match="0"):
        Ties(**ties)
