"""The trapezoidal gusset against sums made by hand."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.gusset.trapezoid import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.property.refused import names
from tests.strategies import parts_of

many = tried(200)


def by_hand(v):
    """A strip as high as the toe under a trapezium, less what each rounded corner loses.

    A side that stands square has no toe corner. Rounding a turn t to r takes r² (tan t/2 - t/2) of the area and
    r (2 tan t/2 - t) of the edge.
    """
    base, top, height, toe = (v[name] for name in ("base", "top", "height", "toe"))
    area = base * toe + (base + top) / 2 * (height - toe)
    edge, turns = base + top, []
    for run in (v["offset"], base - top - v["offset"]):
        lean = math.atan2(run, height - toe)  # of the side, from upright
        edge += toe + math.hypot(run, height - toe)
        turns += [math.pi / 2, lean, math.pi / 2 - lean] if toe else [math.pi / 2 + lean, math.pi / 2 - lean]
    r = v["corner_radius"]
    for turn in turns:
        area -= r**2 * (math.tan(turn / 2) - turn / 2)
        edge -= r * (2 * math.tan(turn / 2) - turn)
    return area, edge


def assert_as_by_hand(part):
    v = part.record.parameters
    area, edge = by_hand(v)
    hole = published_hole(v, "bolt", "hole")
    count = v["holes_base"] + v["holes_top"]
    assert part.measures.area_mm2 == pytest.approx(area - math.pi / 4 * (count * hole**2 + v["lightening"] ** 2))
    assert part.measures.cut_length_mm == pytest.approx(edge + math.pi * (count * hole + v["lightening"]))
    assert part.measures.height_mm == pytest.approx(v["height"], abs=1e-9)
    if v["toe"]:  # else the rounded points end short of the corners
        assert part.measures.width_mm == pytest.approx(v["base"], abs=1e-9)


@many
@given(parts_of(TEMPLATE))
def test_area_and_perimeter_are_those_by_hand(part):
    assert_as_by_hand(part)


@pytest.mark.parametrize(
    "values",
    [
        {},
        {"toe": 0},
        {"offset": 0},
        {"offset": 80},
        {"top": 160, "offset": 0},
        {"holes_base": 3, "holes_top": 2},
        {"lightening": 40, "corner_radius": 0},
    ],
    ids=["default", "pointed", "square left", "square right", "rectangle", "bolted", "lightened"],
)
def test_each_kind_is_as_by_hand(values):
    assert_as_by_hand(parts.draw("gusset-trapezoid", **values))


def test_a_symmetric_one_is_its_own_mirror_image():
    loop = parts.draw("gusset-trapezoid", holes_base=0).profile.outside[0]
    ends = {(round(s.start[0], 6), round(s.start[1], 6)) for s in loop.segments}
    assert ends == {(round(160 - x, 6), y) for x, y in ends}


test_what_does_not_go_together_is_named = names(
    "gusset-trapezoid",
    ({"top": 161}, "top"),
    ({"offset": 80.1}, "offset"),
    ({"toe": 100}, "toe"),
    ({"corner_radius": 30}, "corner_radius"),
    ({"holes_top": 2, "first": 35}, "first"),
    alone=True,
)
