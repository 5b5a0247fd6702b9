"""The plumb line of what hangs: upright through hole and centre of mass, which shapely finds another way."""

import math

import pytest
import shapely

import parts
from parts.drawing import Path, hanging, lay_out
from parts.geometry import Line, circle, rectangle
from parts.profile import Opening, Profile
from tests import library
from tests.depth import some_of
from tests.property.flattened import points

HANGING = [slug for slug in library.SLUGS if slug.startswith("silhouette-")]


def weight(profile):
    """The centroid of the figure as a polygon of many corners."""
    (edge,) = profile.outside
    return shapely.Polygon(points(edge), [points(opening.loop) for opening in profile.inside]).centroid


@pytest.mark.parametrize("slug", some_of(6, HANGING))
def test_a_figure_hangs_straight_by_its_centre_of_mass(slug):
    profile = library.part(slug).profile
    found = hanging(profile)
    if found is None:
        return
    assert found.mass[1] == pytest.approx(weight(profile).y, abs=0.05)
    assert found.said.startswith("It hangs straight")
    if sum(opening.name == "hanging hole" for opening in profile.inside) == 1:
        assert weight(profile).x == pytest.approx(found.at[0], abs=0.2)


def test_the_line_stands_upright_on_the_drawing():
    drawing = lay_out(library.part("silhouette-leaf").record, library.WIDTH, library.HEIGHT)
    lines = [item.segments[0] for group in drawing.groups if group.kind == "centres" for item in group.items
             if isinstance(item, Path) and isinstance(item.segments[0], Line)]  # fmt: skip
    tall = max(lines, key=lambda line: line.length)
    assert tall.start[0] == pytest.approx(tall.end[0], abs=0.1)
    assert tall.length > 10


@pytest.mark.parametrize(
    ("x", "said", "lean"), [(50, "straight", 0), (10, "is to the right", 1), (90, "is to the left", -1)]
)
def test_a_hole_off_the_middle_lets_it_lean(x, said, lean):
    """A plate of 100 by 60 with a hole of 6 at the top: by hand, the hole's area taken off about the middle."""
    hole = math.pi * 9
    found = hanging(Profile((rectangle((0, 0), 100, 60),), (Opening(circle((x, 50), 6), "hanging hole", "hole"),)))
    assert found.mass[0] == pytest.approx((6000 * 50 - hole * x) / (6000 - hole))
    assert said in found.said
    assert math.copysign(1, found.lean) == lean or not lean
    assert hanging(parts.draw("gusset-triangle").profile) is None
