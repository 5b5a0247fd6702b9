"""U-bolt, caster and fixture plates: where their holes stand, by sums made apart from the drawing."""

import math
from itertools import pairwise

import pytest
from hypothesis import given

import parts
from parts.templates.plate import caster, fixture, u_bolt
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.strategies import parts_of

many = tried(200)
RODS = {"M8": 8, "M10": 10, "3/8": 9.525, "1/2": 12.7}


def centres(part):
    return [opening.loop.circle.centre for opening in part.profile.inside]


def plate(v):
    return v["width"] * v["height"] - (4 - math.pi) * v["corner_radius"] ** 2


@pytest.mark.parametrize("bolt", RODS)
@pytest.mark.parametrize("tube", [33.7, 60.3])
def test_legs_of_a_u_bolt_stand_beside_the_tube(bolt, tube):
    """From centre to centre the tube, a rod and the play on both sides: the inner sides of the legs are beside it."""
    part = parts.draw("plate-u-bolt", tube=tube, play=0.5, bolt=bolt, pitch=70)
    (a, b, c, d) = centres(part)
    assert b[0] - a[0] == pytest.approx(tube + RODS[bolt] + 1, abs=1e-9)
    assert (c[1] - a[1], d[1] - b[1]) == pytest.approx((70, 70), abs=1e-9)
    assert (a[0] + b[0]) / 2 == pytest.approx(part.measures.width_mm / 2, abs=1e-9)


@many
@given(parts_of(u_bolt.TEMPLATE))
def test_a_u_bolt_plate_has_two_holes_a_bolt(part):
    v = part.record.parameters
    holes = 2 * v["u_bolts"] + (4 if v["cross_tube"] else 0)
    area = plate(v) - holes * math.pi / 4 * published_hole(v, "bolt", "hole") ** 2
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9, abs=1e-6)


@many
@given(parts_of(caster.TEMPLATE))
def test_slots_of_a_caster_plate_run_from_pattern_to_pattern(part):
    v, size = part.record.parameters, published_hole(part.record.parameters, "bolt", "hole")
    run = math.dist((v["along"], v["across"]), (v["to_along"], v["to_across"])) / 2 if v["holes"] == "slots" else 0.0
    area = plate(v) - 4 * (math.pi / 4 * size**2 + run * size) - math.pi / 4 * v["middle"] ** 2
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9, abs=1e-5)


def test_both_bolts_of_a_slotted_caster_plate_pass_its_slots():
    part = parts.draw("plate-caster", holes="slots", to_along=90, to_across=70)
    for along, across in ((105, 80), (90, 70)):
        for sx in (-1, 1):
            for sy in (-1, 1):
                at = 70 + sx * along / 2, 55 + sy * across / 2
                reach = [min(math.dist(s.nearest(at), at) for s in o.loop.segments) for o in part.profile.inside]
                assert min(reach) == pytest.approx(5.5, abs=1e-9), "the round end is about the bolt"


@many
@given(parts_of(fixture.TEMPLATE))
def test_a_fixture_plate_has_its_grid(part):
    v = part.record.parameters
    staggered = v["rows"] == "staggered" and v["holes_y"] > 1
    rows = [v["holes_x"] - (1 if staggered and j % 2 else 0) for j in range(v["holes_y"])]
    area = plate(v) - sum(rows) * math.pi / 4 * published_hole(v, "bolt", "hole") ** 2
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9, abs=1e-5)
    assert len(part.profile.inside) == sum(rows)


def test_plates_side_by_side_carry_on_the_grid():
    """Half a pitch in from the edges: the last hole of one and the first of the next are a pitch apart."""
    part = parts.draw("plate-fixture")
    across = sorted({round(x, 9) for x, _ in centres(part)})
    assert across[0] + 500 - across[-1] == pytest.approx(50)
    assert {round(b - a, 9) for a, b in pairwise(across)} == {50}


@pytest.mark.parametrize(
    ("slug", "values", "named"),
    [
        ("plate-u-bolt", {"width": 80}, "width"),
        ("plate-u-bolt", {"pitch": 132}, "height"),
        ("plate-u-bolt", {"cross_tube": 60.3, "cross_pitch": 74}, "cross_pitch"),
        ("plate-caster", {"along": 130}, "along"),
        ("plate-caster", {"holes": "slots", "to_across": 100}, "to_across"),
        ("plate-caster", {"middle": 125}, "middle"),
        ("plate-fixture", {"holes_x": 11}, "width"),
        ("plate-fixture", {"pitch_y": 15}, "pitch_y"),
    ],
)
def test_what_does_not_go_together_is_named(slug, values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw(slug, **values)
    assert named in [problem.parameter for problem in refused.value.problems]
