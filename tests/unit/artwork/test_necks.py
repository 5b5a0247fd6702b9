"""Necks that come of joining are as wide as asked once lines and arcs are fitted; those of a part alone stay."""

import pytest
import shapely
from shapely import box

from parts.artwork import metal_from, metal_of
from parts.artwork.pipeline import Steps, made

LEFT, RIGHT = box(0, 0, 20, 20), box(30, 0, 50, 20)
CORNER, WEB, WEDGE = box(19, 18, 40, 40), box(20, 9, 30, 11), shapely.Polygon([(20, 5), (32, 10), (20, 15)])


@pytest.mark.parametrize(
    ("pieces", "own", "at_least"),
    [
        ((LEFT, CORNER), (LEFT, CORNER), 3.0),  # lapping over each other by 1 mm by 2
        ((LEFT, RIGHT, WEB), (LEFT, RIGHT), 3.0),  # joined by a web 2 mm wide and 10 long
        ((LEFT, RIGHT, WEDGE), (LEFT, RIGHT, WEDGE), 3.0),  # the point of one that ends in another
        ((LEFT, RIGHT, WEB), (), 2.0),  # drawn as one
    ],
)
def test_a_neck_is_as_wide_as_asked_where_parts_were_joined(pieces, own, at_least):
    """What hangs together still with half the width taken off all round has no neck narrower: by GEOS."""
    whole = metal_from(shapely.union_all(pieces))
    found = made(whole, Steps(neck_mm=3.0), own)
    metal = metal_of([*found.outside, *found.inside])
    assert shapely.buffer(metal, -at_least / 2 + 0.01).geom_type == "Polygon"
    if at_least < 3.0:
        assert shapely.buffer(metal, -1.49).geom_type == "MultiPolygon", "and no wider than it was"


@pytest.mark.parametrize(("gap", "windows"), [(1.0, 0), (1.75, 1)])
def test_parts_that_nearly_meet_at_a_corner_are_joined_where_a_jet_has_no_room(gap, windows):
    """Corners 1.41 mm apart; what opens on both sides is a window of the metal once they are joined: by GEOS."""
    other, link = box(21, 21, 40, 40), shapely.union(box(2, 18, 6, 36), box(2, 32, 25, 36))
    own = (LEFT, other, link)
    found = made(metal_from(shapely.union_all(own)), Steps(neck_mm=3.0, gap_mm=gap), own)
    metal = metal_of([*found.outside, *found.inside])
    grown = shapely.buffer(metal, gap / 2 - 0.01)
    assert len(metal.geoms[0].interiors) == len(shapely.get_parts(grown)[0].interiors) == windows
    assert shapely.buffer(metal, -1.49).geom_type == "Polygon"
