"""The tool hanger: each opening takes its tool, by sums made by hand."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.plate.tool_hanger import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.strategies import parts_of

many = tried(100)


def sizes(v):
    steps = max(v["tools"] - 1, 1)
    return [v["smallest"] + i * (v["largest"] - v["smallest"]) / steps + v["play"] for i in range(v["tools"])]


@many
@given(parts_of(TEMPLATE))
def test_area_is_that_of_the_plate_less_its_openings(part):
    """A slot is a rectangle with half a circle at its end; a fillet takes (1 - pi / 4) r² off a corner."""
    v = part.record.parameters
    width = sum(sizes(v)) + (v["tools"] + 1) * v["web"]
    of_square = 1 - math.pi / 4
    if v["openings"] == "slots":
        cut = sum(d * (v["reach"] - d / 2) + math.pi / 8 * d**2 for d in sizes(v))
        tips = 2 + 2 * v["tools"]
    else:
        cut, tips = sum(math.pi / 4 * d**2 for d in sizes(v)), 2
    area = width * v["height"] - cut - of_square * (2 * v["corner_radius"] ** 2 + tips * v["tip_radius"] ** 2)
    area -= math.pi / 2 * published_hole(v, "bolt", "hole") ** 2
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9, abs=1e-5)
    assert part.measures.width_mm == pytest.approx(width, abs=1e-9)


def test_spanners_step_evenly():
    """8 to 18 in six: the openings are 8, 10 ... 18 and the play."""
    part = parts.draw("plate-tool-hanger")
    ends = [s for s in part.profile.outside[0].segments if getattr(s, "bulge", 0) < 0]
    assert sorted({round(2 * s.radius, 9) for s in ends}) == [9, 11, 13, 15, 17, 19]


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"reach": 9}, "reach"),
        ({"height": 44}, "height"),
        ({"inset": 4, "hole": 9}, "inset"),
        ({"tip_radius": 12}, "tip_radius"),
    ],
)
def test_what_does_not_go_together_is_named(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("plate-tool-hanger", **values)
    assert named in [problem.parameter for problem in refused.value.problems]
