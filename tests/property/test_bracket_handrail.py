"""The handrail bracket: two bars and a bend by hand, and a tube of the rail's size that seats on its end."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.bracket.handrail import TEMPLATE
from tests.depth import tried
from tests.strategies import parts_of

many = tried(100)


@many
@given(parts_of(TEMPLATE))
def test_area_is_that_of_two_bars_their_bend_and_the_hollow(part):
    v = part.record.parameters
    right, of_square = v["out"] + v["end"] / 2, 1 - math.pi / 4
    hollow = v["rail"] / 2 + v["rail_gap"] if v["rail"] else 0.0
    half = math.asin(v["end"] / 2 / hollow) if hollow else 0.0
    shoulder = v["up"] - hollow * math.cos(half)
    area = right * v["root"] + v["end"] * (shoulder - v["root"])
    area += of_square * (v["inner_radius"] ** 2 - v["outer_radius"] ** 2)
    area -= hollow**2 * (half - math.sin(half) * math.cos(half))
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9, abs=1e-6)
    assert part.measures.width_mm == pytest.approx(right, abs=1e-9)
    assert part.measures.height_mm == pytest.approx(max(shoulder, v["root"]), abs=1e-9)


def test_a_rail_of_its_size_seats_with_the_gap_all_along_the_hollow():
    part = parts.draw("bracket-handrail", rail=48.3, rail_gap=1)
    at = 80, 90
    nearest = min(math.dist(segment.nearest(at), at) for segment in part.profile.outside[0].segments)
    (hollow,) = [s for s in part.profile.outside[0].segments if getattr(s, "radius", 0) == pytest.approx(25.15)]
    assert nearest == pytest.approx(48.3 / 2 + 1, abs=1e-9)
    assert hollow.centre == pytest.approx(at, abs=1e-9)


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"end": 45}, "end"),
        ({"up": 50}, "up"),
        ({"inner_radius": 60}, "inner_radius"),
        ({"outer_radius": 90}, "outer_radius"),
    ],
)
def test_what_does_not_go_together_is_named(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("bracket-handrail", **values)
    assert named in [problem.parameter for problem in refused.value.problems]
