"""The fish against a polyline of its curve by another route (no closed form), and slots as bent strips."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.silhouette.fish import TEMPLATE
from tests.depth import tried
from tests.property.biarc_reference import around, bare, figure, inside
from tests.strategies import parts_of

many = tried(60)


def fish(v):
    x, d, root, r, fin, n = (
        v[k] for k in ("overall", "depth", "tail_root", "tip_radius", "fin", "nose_radius")
    )  # fmt: skip
    h, p, t = d / 2, root / 2, v["tail_span"] / 2 - r
    slope = 0.38 * p + 0.62 * h
    lean = min(1.7 * math.degrees(math.atan(h / (0.36 * x))), 75)
    return figure([
        *around(n, 0, n, lean - 180, -lean),
        (0.36 * x, -h, 0), (0.56 * x, -0.65 * h - 0.35 * slope, 11),
        *around(0.7 * x - r, -slope - 0.6 * fin, r, -22, 112),
        *inside(0.675 * x, -0.84 * slope, r, 122, 20),
        (0.82 * x, -p, 0),
        *around(x - r, -t, r, -36, 100), *inside(0.915 * x, 0, r, 132, 48), *around(x - r, t, r, 80, 216),
        (0.82 * x, p, 180),
        *inside(0.625 * x, slope, r, 162, 64), *around(0.67 * x - r, h + fin - r, r, 54, 187),
        (0.43 * x, h + 0.46 * fin, 209), (0.34 * x, h, 186),
    ])  # fmt: skip


def slots(v):
    """Area and edge of eye, gill and stripes: a strip along an arc is as large as one straight."""
    area, edge = math.pi / 4 * v["eye_diameter"] ** 2, math.pi * v["eye_diameter"]
    n = v["stripes"]
    reaches = [0.2] * n if n == 1 else [0.27 - 0.14 * i / (n - 1) for i in range(n)]
    strips = [(reach, v["stripe_width"]) for reach in reaches] + [(0.21, v["gill_width"])] * (v["gill_width"] > 0)
    for reach, w in strips:
        along = 0.62 * v["depth"] * 2 * math.asin(reach / 0.62)
        area, edge = area + along * w + math.pi / 4 * w**2, edge + 2 * along + math.pi * w
    return area, edge


@tried(100)
@given(parts_of(TEMPLATE))
def test_area_edge_and_box_are_those_of_the_polyline(part):
    v = bare(part)
    part, flat, (area, edge) = parts.draw("silhouette-fish", **v), fish(v), slots(v)
    assert part.measures.area_mm2 == pytest.approx(flat.area - area, rel=1e-4)
    assert part.measures.cut_length_mm == pytest.approx(flat.length + edge, rel=1e-4)
    assert part.profile.outside[0].box == pytest.approx(
        [b - o for b, o in zip(flat.bounds, flat.bounds[:2] * 2, strict=True)], abs=1e-3 * v["overall"]
    )
    assert part.measures.width_mm == pytest.approx(v["overall"], rel=1e-9)


def test_the_edge_has_no_corner():
    (edge,) = parts.draw("silhouette-fish").profile.outside
    assert max(map(abs, edge.corners)) < 1e-7


@pytest.mark.parametrize(
    "values", [{"depth": 300}, {"tail_root": 70}, {"eye_diameter": 40}, {"tip_radius": 20}, {"stripe_width": 40}]
)
def test_what_has_no_room_is_refused_by_name(values):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("silhouette-fish", **values)
    assert {p.parameter for p in refused.value.problems} & set(values)
