"""Oval and square flanges against sums made by hand."""

import math

import pytest
import shapely
from hypothesis import given

import parts
from parts.templates.flange import oval, square
from tests.depth import tried
from tests.property.flattened import CHORD_ERROR_MM, published_hole
from tests.strategies import parts_of

many = tried(200)


def slot_area(length, width):
    return math.pi / 4 * width**2 + max(length - width, 0) * width


@many
@given(parts_of(oval.TEMPLATE))
def test_an_oval_flange_is_the_hull_of_three_discs(part):
    """The hull is made by another library, of the discs about the bolts and about the bore."""
    v = part.record.parameters
    end, hole = (v["long"] - v["spacing"]) / 2, published_hole(v, "bolt", "hole")
    discs = [(-v["spacing"] / 2, end), (0, v["height"] / 2), (v["spacing"] / 2, end)]
    hull = shapely.union_all([shapely.Point(x, 0).buffer(r, quad_segs=720) for x, r in discs]).convex_hull
    inside = math.pi / 4 * v["bore"] ** 2 + 2 * slot_area(v["slot"] or hole, hole)
    assert part.measures.area_mm2 == pytest.approx(hull.area - inside, rel=1e-5, abs=CHORD_ERROR_MM * 100)
    assert (part.measures.width_mm, part.measures.height_mm) == pytest.approx((v["long"], v["height"]), abs=1e-6)


@many
@given(parts_of(square.TEMPLATE))
def test_a_square_flange_is_a_square_less_its_openings(part):
    v = part.record.parameters
    of_corners = (4 - math.pi) * v["corner_radius"] ** 2
    opening = {"round": math.pi / 4 * v["bore"] ** 2, "none": 0.0}.get(
        v["opening"], v["bore"] ** 2 - (4 - math.pi) * v["bore_radius"] ** 2
    )
    holes = math.pi * published_hole(v, "bolt", "hole") ** 2
    assert part.measures.area_mm2 == pytest.approx(v["size"] ** 2 - of_corners - opening - holes, rel=1e-9, abs=1e-6)
    assert (part.measures.width_mm, part.measures.height_mm) == pytest.approx((v["size"], v["size"]), abs=1e-9)


@pytest.mark.parametrize(
    ("slug", "values", "named"),
    [
        ("flange-oval", {"spacing": 62}, "spacing"),
        ("flange-oval", {"spacing": 114}, "long"),
        ("flange-oval", {"bore": 80, "height": 90}, "spacing"),
        ("flange-oval", {"slot": 9}, "slot"),
        ("flange-oval", {"height": 30, "bore": 20}, "height"),
        ("flange-square", {"square": 70}, "square"),
        ("flange-square", {"square": 152}, "square"),
        ("flange-square", {"opening": "square", "bore": 118, "bore_radius": 0}, "square"),
        ("flange-square", {"corner_radius": 70}, "corner_radius"),
    ],
)
def test_what_does_not_go_together_is_named(slug, values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw(slug, **values)
    assert named in [problem.parameter for problem in refused.value.problems]
