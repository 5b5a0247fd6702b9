"""The ring, disc and sector against sums made by hand: shares of circles less what their corners lose."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.plate.ring import TEMPLATE
from tests.depth import tried
from tests.property.flattened import points, published_hole
from tests.strategies import parts_of

many = tried(200)


@many
@given(parts_of(TEMPLATE))
def test_area_is_that_of_the_circles_less_corners_and_holes(part):
    """Exact but of a sector's corners, each of which loses less than the square of its radius."""
    v = part.record.parameters
    inner = 0 if v["form"] == "disc" else v["bore"]
    whole = math.pi / 4 * (v["od"] ** 2 - inner**2) - v["holes"] * math.pi / 4 * published_hole(v, "bolt", "hole") ** 2
    if v["form"] != "sector":
        assert part.measures.area_mm2 == pytest.approx(whole, rel=1e-9)
        return
    share = v["sweep"] / 360
    full = math.pi / 4 * (v["od"] ** 2 - inner**2) * share
    lost = full - v["holes"] * math.pi / 4 * published_hole(v, "bolt", "hole") ** 2 - part.measures.area_mm2
    assert -1e-6 <= lost <= 4 * v["corner_radius"] ** 2
    assert bool(lost > 1e-6) == bool(v["corner_radius"] > 0.01)


@pytest.mark.parametrize(("sweep", "n"), [(90, 4), (120, 3), (36, 10), (180, 2)])
def test_sectors_side_by_side_make_a_ring_with_its_holes_evenly_round(sweep, n):
    """Sharp sectors have the area of the whole ring; turned by the sweep their holes stand 360 / (2 n) apart."""
    part = parts.draw(
        "plate-ring", form="sector", sweep=sweep, corner_radius=0, holes=2, od=900, bore=700, bolt_circle=800
    )
    assert n * part.measures.area_mm2 == pytest.approx(
        math.pi / 4 * (900**2 - 700**2) - 2 * n * math.pi / 4 * 11**2, rel=1e-9
    )
    # the middle of the circles lies as far below the top of the edge as the outer radius
    x, y = part.measures.width_mm / 2, part.measures.height_mm - 450
    angles = sorted(math.atan2(b - y, a - x) for a, b in (o.loop.circle.centre for o in part.profile.inside))
    assert angles[1] - angles[0] == pytest.approx(2 * math.pi / (2 * n), abs=1e-9)
    assert math.pi / 2 + math.radians(sweep) / 2 - angles[1] == pytest.approx(math.pi / (2 * n), abs=1e-9)


def test_corners_of_a_sector_run_on_into_its_edges():
    part = parts.draw("plate-ring", form="sector", sweep=70, corner_radius=12)
    (loop,) = part.profile.outside
    assert max(map(abs, loop.turns)) < 1e-9
    assert len(points(loop)) > 8
    round_ones = [s.radius for s in loop.segments if hasattr(s, "radius")]
    assert sorted(round(r, 9) for r in round_ones) == [12, 12, 12, 12, 100, 150]


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"bore": 300}, "bore"),
        ({"bore": 0}, "bore"),
        ({"holes": 4, "bolt_circle": 290}, "bolt_circle"),
        ({"holes": 4, "bolt_circle": 210}, "bolt_circle"),
        ({"holes": 72, "bolt": "M12"}, "bolt_circle"),
        ({"form": "sector", "corner_radius": 26}, "corner_radius"),
    ],
)
def test_what_does_not_go_together_is_named(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("plate-ring", **values)
    assert [problem.parameter for problem in refused.value.problems] == [named]
