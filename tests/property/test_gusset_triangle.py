"""The triangular gusset against sums made by hand."""

import cmath
import itertools
import math

import pytest
from hypothesis import given

import parts
from parts.templates.gusset.triangle import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.strategies import parts_of

many = tried(200)
PUBLISHED = {"M10": 11.0, "M8": 9.0, "1/2": 9 / 16 * 25.4}
"""Normal clearance holes in mm: ISO 273:1979 medium; ASME B18.2.8 normal."""


def by_hand(v):
    """Area and perimeter of the edge: the corners as complex numbers, less what rounding those at the toes takes.

    Rounding a corner of turn t to r takes r² (tan t/2 - t/2) of the area, and r (2 tan t/2 - t) of the edge.
    """
    a, b, toe, snipe = (v[name] for name in ("leg_a", "leg_b", "toe", "snipe"))
    way = cmath.rect(1, math.radians(v["corner"]))
    root, ends = [snipe * way, snipe], [a, a + 1j * toe, (b - 1j * toe) * way, b * way]
    corners = [complex(z) for z in (*root, *ends)]
    sides = [after - at for at, after in zip(corners, (*corners[1:], corners[0]), strict=True)]
    area = sum((at.conjugate() * side).imag for at, side in zip(corners, sides, strict=True)) / 2
    edge = sum(map(abs, sides))
    real = [side for side in sides[1:] if abs(side) > 0]  # a toe of nothing has no end, and one corner
    for side, after in itertools.pairwise(real):
        turn = cmath.phase(after / side)
        half = math.tan(turn / 2)
        area -= v["corner_radius"] ** 2 * (half - turn / 2)
        edge -= v["corner_radius"] * (2 * half - turn)
    return area, edge


def assert_as_by_hand(part, hole):
    v = part.record.parameters
    area, edge = by_hand(v)
    count = v["holes_a"] + v["holes_b"]
    holes = math.pi / 4 * (count * hole**2 + v["lightening"] ** 2)
    assert part.measures.area_mm2 == pytest.approx(area - holes, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge + math.pi * (count * hole + v["lightening"]), rel=1e-9)


@many
@given(parts_of(TEMPLATE))
def test_area_and_perimeter_are_those_by_hand(part):
    v = part.record.parameters
    assert_as_by_hand(part, published_hole(v, "bolt", "hole"))


@pytest.mark.parametrize(("bolt", "hole"), PUBLISHED.items())
@pytest.mark.parametrize(
    "values",
    [
        {},
        {"toe": 0},
        {"snipe": 0},
        {"toe": 0, "snipe": 0, "corner_radius": 0},
        {"lightening": 40, "holes_a": 0},
        {"corner": 60, "first_hole": 60},
        {"corner": 120, "lightening": 40},
    ],
    ids=["default", "pointed", "full root", "bare", "lightened", "acute", "obtuse"],
)
def test_holes_are_the_published_ones(bolt, hole, values):
    asked = {"leg_a": 250, "leg_b": 180, "holes_a": 2, "holes_b": 1, "bolt": bolt, **values}
    assert_as_by_hand(parts.draw("gusset-triangle", **asked), hole)
