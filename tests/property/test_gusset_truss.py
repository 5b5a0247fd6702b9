"""The truss plate against Steiner's formula on shapely's hull of bolts placed with complex numbers."""

import cmath
import math

import pytest
import shapely
from hypothesis import given

import parts
from parts.templates.gusset.truss import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.property.refused import names
from tests.strategies import parts_of

many = tried(200)


def bolts_by_hand(v):
    """Centres: a grid about the middle, turned and moved out for the diagonals, mirrored for the left one."""

    def grid(n, rows, start):
        return [start + i * v["pitch"] + 1j * (j - (rows - 1) / 2) * v["gauge"] for i in range(n) for j in range(rows)]

    every = grid(v["chord_bolts"], v["chord_rows"], -(v["chord_bolts"] - 1) * v["pitch"] / 2)
    diagonal = grid(v["diagonal_bolts"], v["diagonal_rows"], v["setback"])
    every += [z * cmath.rect(1, math.radians(v["slope"])) for z in diagonal]
    if v["diagonals"] == "two":
        every += [-(z * cmath.rect(1, math.radians(v["other_slope"]))).conjugate() for z in diagonal]
    return [(z.real, z.imag) for z in every]


@many
@given(parts_of(TEMPLATE, edge=40) | parts_of(TEMPLATE, edge=60, chord_rows=2, diagonal_rows=2))
def test_area_and_perimeter_are_those_of_the_hull_grown(part):
    v = part.record.parameters
    bolts, e, hole = bolts_by_hand(v), v["edge"], published_hole(v, "bolt", "hole")
    hull = shapely.MultiPoint(bolts).convex_hull
    area = hull.area + hull.length * e + math.pi * e**2 - len(bolts) * math.pi / 4 * hole**2
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(hull.length + 2 * math.pi * e + len(bolts) * math.pi * hole)
    assert part.measures.pierces == len(bolts) + 1
    x0, y0, x1, y1 = hull.bounds
    assert part.measures.width_mm == pytest.approx(x1 - x0 + 2 * e)
    assert part.measures.height_mm == pytest.approx(y1 - y0 + 2 * e)


def test_two_alike_diagonals_make_it_its_own_mirror_image():
    part = parts.draw("gusset-truss")
    width = part.measures.width_mm
    centres = [opening.loop.circle.centre for opening in part.profile.inside]
    assert all(min(math.dist((width - x, y), other) for other in centres) <= 1e-9 for x, y in centres)


test_what_does_not_go_together_is_named = names(
    "gusset-truss",
    ({"pitch": 17}, "pitch"),
    ({"chord_rows": 2, "gauge": 15}, "gauge"),
    ({"edge": 8}, "edge"),
    ({"edge": 0, "hole": 18}, "edge"),
    ({"setback": 12}, "setback"),
    alone=True,
)
