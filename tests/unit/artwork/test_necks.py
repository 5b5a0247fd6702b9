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
