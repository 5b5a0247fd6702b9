"""The bird against a polyline of its curve by another route (no closed form), and its lines as bent strips."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.silhouette.bird import TEMPLATE
from tests.depth import tried
from tests.property.biarc_reference import around, bare, figure, inside
from tests.strategies import parts_of

many = tried(60)


def bird(v):
    x, h, b, w, r = (v[k] for k in ("overall", "depth", "beak", "tail_width", "tip_radius"))
    return figure([
        (0.155 * x + 0.75 * b, h, 180),
        *inside(b, 0.8 * h, r, 242, 200), *around(r, 0.72 * h, r, 200, 345), *inside(1.04 * b, 0.665 * h, r, 345, 256),
        (b + 0.003 * x, 0.44 * h, 274), (0.37 * x, 0, 0), (0.62 * x, 0.19 * h, 32),
        *around(x - r, 0.34 * h + r, r, 0, 90), *around(x - r, 0.34 * h + w - r, r, 90, 180),
        (0.52 * x, 0.74 * h, 150),
    ])  # fmt: skip


def cut_out(v):
    """Area and edge of eye and lines: a strip along an arc is as large as one straight."""
    w, d = v["line_width"], v["eye_diameter"]
    area, edge = math.pi / 4 * d**2, math.pi * d
    for k in range(v["lines"]):
        wing, less = min(v["depth"], v["overall"] / 2), k * (w + v["bridge"])
        along = math.radians(57 - 9 * k) * (0.38 * wing - less) + math.radians(57 - 5 * k) * (0.78 * wing - less)
        area, edge = area + along * w + math.pi / 4 * w**2, edge + 2 * along + math.pi * w
    return area, edge


@tried(100)
@given(parts_of(TEMPLATE))
def test_area_edge_and_box_are_those_of_the_polyline(part):
    v = bare(part)
    part, flat, (area, edge) = parts.draw("silhouette-bird", **v), bird(v), cut_out(v)
    assert part.measures.area_mm2 == pytest.approx(flat.area - area, rel=1e-4)
    assert part.measures.cut_length_mm == pytest.approx(flat.length + edge, rel=1e-4)
    assert part.measures.width_mm == pytest.approx(v["overall"], rel=1e-9)
    assert part.measures.height_mm == pytest.approx(v["depth"], rel=1e-9)
    assert len(part.profile.inside) == v["lines"] + (v["eye_diameter"] > 0)


def test_the_edge_has_no_corner():
    (edge,) = parts.draw("silhouette-bird").profile.outside
    assert max(map(abs, edge.corners)) < 1e-7


@pytest.mark.parametrize("values", [{"depth": 80}, {"depth": 250}, {"beak": 60}, {"tail_width": 80}, {"tip_radius": 12},
                                    {"eye_diameter": 40}, {"line_width": 15}, {"bridge": 30}])  # fmt: skip
def test_what_has_no_room_is_refused_by_name(values):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("silhouette-bird", **values)
    assert {p.parameter for p in refused.value.problems} & set(values)
