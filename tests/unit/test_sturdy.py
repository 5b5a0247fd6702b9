"""Thin metal widened, points blunted, gaps opened or closed; all else untouched, and every change told."""

import math

import numpy as np
import pytest
import shapely

from parts.artwork.metal import metal_from, pieces
from parts.artwork.sturdy import Sturdy, sturdy
from parts.errors import GeometryError
from parts.geometry import Loop
from parts.geometry.disk import pockets
from parts.geometry.narrow import gaps, narrow, tips

LIMITS = Sturdy(bridge_mm=3.0, kerf_mm=1.5)
BAR = shapely.union_all([shapely.box(0, 0, 20, 30), shapely.box(20, 14, 40, 15.5), shapely.box(40, 0, 60, 30)])


def loops(metal):
    """Every ring as a loop of lines, the metal on its left."""
    rings = [ring for piece in metal.geoms for ring in (piece.exterior, *piece.interiors)]
    return [Loop.through([(x, y, 0.0) for x, y in ring.coords[:-1]]) for ring in rings]


def necks(metal, limit):
    return narrow(tuple(loops(metal))).under(limit)


def star(points, out, inner):
    turns = np.arange(2 * points) * math.pi / points + 0.2
    reach = np.where(np.arange(2 * points) % 2 == 0, out, inner)
    return shapely.Polygon(np.stack([reach * np.cos(turns), reach * np.sin(turns)], axis=1))


def test_a_narrow_bar_is_widened_and_the_rest_keeps_its_points():
    found = sturdy(metal_from(BAR), LIMITS)
    (change,) = found.changes
    assert (change.kind, change.was_mm) == ("widened", pytest.approx(1.5))
    assert change.at[1] == pytest.approx(14.75)
    assert found.moved_mm == change.moved_mm == pytest.approx((3 - 1.5) / 2, abs=0.06)
    assert necks(found.metal, 3.0) == []
    corners = {(0, 0), (20, 0), (20, 30), (0, 30), (40, 0), (60, 0), (60, 30), (40, 30)}
    assert corners <= set(found.metal.geoms[0].exterior.coords)  # to the last bit


@pytest.mark.parametrize(
    ("metal", "kind"),
    [
        (shapely.box(0, 0, 60, 40) - shapely.Point(30, 8).buffer(11) - shapely.Point(30, 32.5).buffer(11), "widened"),
        (shapely.Point(0, 0).buffer(20, 32) - shapely.Point(0, 0).buffer(18.5, 32), "widened"),
        (star(7, 40, 12), "blunted"),
        (shapely.box(0, 0, 60, 40) - shapely.box(10, 19.7, 50, 20.3), "opened"),
        (shapely.union_all([shapely.box(0, 0, 20, 20), shapely.box(20.8, 0, 40, 20)]), "opened"),
        (shapely.box(0, 0, 60, 40) - shapely.Polygon([(10, 40), (14, 40), (12, 10)]), "closed"),
        (shapely.box(0, 0, 60, 40) - shapely.Point(15, 8).buffer(0.4), "closed"),
    ],
    ids=["waist", "washer", "star", "slit", "two", "notch", "speck"],
)
def test_what_is_mended_has_nothing_left_that_the_rules_would_find(metal, kind):
    before = metal_from(metal)
    found = sturdy(before, LIMITS)
    assert {change.kind for change in found.changes} == {kind}
    assert len(pieces(found.metal)) == len(pieces(before))
    made = loops(found.metal)
    assert necks(found.metal, 3.0) == []
    assert [gap.width for gap in gaps(made, 1.5)] == []
    assert [pocket for pocket in pockets(made, 0.75, math.radians(130)) if pocket.depth > 0.707 * 1.5] == []
    assert [tip for loop in made for tip in tips(loop, 1.5) if math.degrees(tip.opening) < 30] == []
    far = shapely.hausdorff_distance(before.boundary, found.metal.boundary, densify=0.05)
    assert far <= found.moved_mm + 0.02


def test_what_is_sturdy_already_stays_the_very_same():
    metal = metal_from(shapely.box(0, 0, 60, 40) - shapely.Point(30, 20).buffer(10))
    assert sturdy(metal, LIMITS).metal is metal
    assert sturdy(metal_from(BAR), Sturdy(3.0, 1.5, amount=0.0)).changes == ()


def test_the_slider_goes_from_faithful_to_sturdy():
    moved = [sturdy(metal_from(BAR), Sturdy(3.0, 1.5, amount)).moved_mm for amount in (0.0, 0.5, 0.75, 1.0)]
    assert moved == pytest.approx([0, 0, (2.25 - 1.5) / 2, (3 - 1.5) / 2], abs=0.06)


def test_pieces_that_are_joined_are_told():
    """Bars that have to be widened leave no room for the gap between them."""
    bars = metal_from(shapely.union_all([shapely.box(0, y, 50, y + 1.0) for y in (0.0, 2.0)]))
    found = sturdy(bars, LIMITS)
    assert len(pieces(found.metal)) == 1
    assert [change.kind for change in found.changes].count("joined") == 1


@pytest.mark.parametrize("limits", [(-1.0, 1.0, 1.0), (1.0, -1.0, 1.0), (1.0, 1.0, 1.1)])
def test_limits_that_mean_nothing_are_refused(limits):
    with pytest.raises(GeometryError, match=r"from 0|0 mm"):
        Sturdy(*limits)
