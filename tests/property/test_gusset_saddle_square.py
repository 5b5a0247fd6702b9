"""The saddle gusset of a square tube against sums made by hand, and against a square laid into it."""

import math

import pytest
import shapely
from hypothesis import given

from parts.templates.gusset.saddle import TEMPLATE
from tests.depth import tried
from tests.property.flattened import points, published_hole
from tests.property.refused import names
from tests.property.saddles import with_rounded_corners
from tests.strategies import parts_of

many = tried(200)
SQUARE = {"section": "square", "tube": 50, "foot": 120, "lip": 15}


def by_hand(v):
    """Two strips up to the lips, less a rectangle or a square V, less what reliefs and rounded corners take.

    A relief in a square corner is half a disc less the triangle under its diameter, r²; along the edge pi r stands for
    2 sqrt 2 r.
    """
    flat = v["seat"] == "flat"
    half = v["tube"] / 2 + v["gap"] if flat else v["depth"]
    out, foot, top, toe = half + v["lip"], v["foot"] / 2, v["below"] + v["depth"], v["toe"]
    area = 2 * (foot * toe + (foot + out) / 2 * (top - toe)) - (2 * half * v["depth"] if flat else v["depth"] ** 2)
    edge = 2 * (foot + toe + math.hypot(foot - out, top - toe) + v["lip"])
    edge += 2 * (half + v["depth"]) if flat else 2 * math.sqrt(2) * v["depth"]
    reliefs = 2 if flat else 1
    area -= reliefs * v["relief"] ** 2 * (math.pi / 2 - 1)
    edge += reliefs * v["relief"] * (math.pi - 2 * math.sqrt(2))
    return with_rounded_corners(area, edge, v, top, out)


def assert_as_by_hand(part):
    v = part.record.parameters
    area, edge = by_hand(v)
    hole = published_hole(v, "bolt", "hole")
    assert part.measures.area_mm2 == pytest.approx(area - v["holes"] * math.pi / 4 * hole**2, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge + v["holes"] * math.pi * hole, rel=1e-9)


@many
@given(parts_of(TEMPLATE, section="square"))
def test_area_and_perimeter_are_those_by_hand(part):
    assert_as_by_hand(part)


@many
@given(parts_of(TEMPLATE, section="square", seat="corner"))
def test_on_its_corner_too(part):
    assert_as_by_hand(part)


@many
@given(parts_of(TEMPLATE, section="square") | parts_of(TEMPLATE, section="square", seat="corner"))
def test_the_tube_itself_goes_into_the_seat(part):
    """A sharp square as large as the tube, upright or on its corner, stands on the seat's bottom without overlap."""
    v = part.record.parameters
    middle = (part.profile.box[0] + part.profile.box[2]) / 2
    tube = shapely.box(middle - v["tube"] / 2, v["below"], middle + v["tube"] / 2, v["below"] + v["tube"])
    if v["seat"] == "corner":
        tube = shapely.affinity.rotate(tube, 45, origin="centroid")
        tube = shapely.affinity.translate(tube, 0, v["below"] - tube.bounds[1])
    plate = shapely.Polygon(points(part.profile.outside[0]))
    assert plate.intersection(tube).area <= 1e-3 * (v["tube"] + 1)


test_what_does_not_go_together_is_named = names(
    "gusset-saddle",
    ({**SQUARE, "relief": 18}, "relief"),
    ({**SQUARE, "foot": 50}, "foot"),
    ({**SQUARE, "lip": 2, "relief": 8}, "lip"),
    ({**SQUARE, "toe": 75}, "toe"),
    ({**SQUARE, "corner_radius": 40}, "corner_radius"),
    ({**SQUARE, "seat": "corner", "depth": 36}, "depth"),
    ({**SQUARE, "seat": "corner", "relief": 26}, "relief"),
    ({**SQUARE, "holes": 2, "first": 55}, "first"),
    alone=True,
)
