"""The waves in closed form, by another route: radii and tips found by halving, areas as segments of circles by hand.

Points are complex numbers. Of one wave over the water: the polygon of the points where its arcs touch, and the
segment between each arc and its chord, added where the arc bows out.
"""

import cmath
import math

import pytest
from hypothesis import given

import parts
from parts.templates.silhouette.wave import TEMPLATE
from tests.depth import tried
from tests.property.biarc_reference import bare
from tests.property.leaf_reference import halved
from tests.strategies import parts_of

many = tried(60)


def wave(v, pitch):
    """Area over the water and length of one wave, its curl at 0 and the water's level at height 0."""
    h, big, r, t = v["height"], v["crest_radius"], v["curl"] / 2, v["tip_radius"]
    crest, curl = complex(v["lean"], h - big), 1j * r
    back_radius = halved(0.0, 1e9, lambda b: abs(complex(pitch, b) - crest) > b + big)
    back = complex(pitch, back_radius)
    away = cmath.phase(crest - curl)  # the tip's centre turns away from it until it is near the crest's edge
    turn = halved(0.0, math.pi, lambda a: abs(curl + cmath.rect(r + t, away + a) - crest) < big - t)
    tip = curl + cmath.rect(r + t, away + turn)
    touch = [
        complex(pitch), back + back_radius * (crest - back) / abs(crest - back),
        crest + big * (tip - crest) / abs(tip - crest), curl + r * (tip - curl) / abs(tip - curl), 0j,
    ]  # fmt: skip
    area = sum((a.conjugate() * b).imag for a, b in zip(touch, [*touch[1:], touch[0]], strict=True)) / 2
    length = 0.0
    for a, b, centre, radius, side in zip(
        touch, touch[1:], (back, crest, tip, curl), (back_radius, big, t, r), (-1, 1, 1, -1), strict=False
    ):
        sweep = side * cmath.phase((b - centre) / (a - centre)) % (2 * math.pi)
        area += side * radius**2 * (sweep - math.sin(sweep)) / 2
        length += radius * sweep
    return area, length, (back, crest, back_radius)


def line(v, shape):
    """Area and edge of the line: a strip along an arc is as large as one straight."""
    w = v["line_width"]
    if not w:
        return 0.0, 0.0
    back, crest, radius = shape
    share = cmath.phase((-1j) / (crest - back)) % (2 * math.pi)  # of a turn, from the crest to straight down
    along = (0.92 - 0.22) * share * (radius + v["line_inset"] + w / 2)
    return along * w + math.pi / 4 * w**2, 2 * along + math.pi * w


@tried(200)
@given(parts_of(TEMPLATE, overall_width=0, overall_height=0, variation=0))
def test_area_and_edge_are_those_of_the_closed_form(part):
    v = bare(part)
    part, n, q = parts.draw("silhouette-wave", **v), v["waves"], v["corner_radius"]
    area, length, shape = wave(v, (v["overall"] - 2 * v["lead"]) / n)
    cut, edge = line(v, shape)
    base = v["overall"] * v["water"] - (4 - math.pi) * q**2
    around = v["overall"] + 2 * v["water"] + 2 * v["lead"] - (8 - 2 * math.pi) * q
    assert part.measures.area_mm2 == pytest.approx(base + n * (area - cut), rel=1e-6)
    assert part.measures.cut_length_mm == pytest.approx(around + n * (length + edge), rel=1e-6)
    assert part.profile.outside[0].box == pytest.approx((0, 0, v["overall"], v["water"] + v["height"]))
    assert len(part.profile.inside) == (n if v["line_width"] else 0)
    assert len(part.profile.outside[0].segments) == 4 * n + 9


def test_the_edge_has_no_corner():
    (edge,) = parts.draw("silhouette-wave").profile.outside
    assert max(map(abs, edge.corners)) < 1e-7


@pytest.mark.parametrize("values", [{"curl": 80}, {"crest_radius": 70}, {"lean": 0}, {"lean": 60}, {"tip_radius": 12},
                                    {"line_width": 30}, {"line_inset": 30}, {"lead": 3, "corner_radius": 1},
                                    {"height": 200}])  # fmt: skip
def test_what_has_no_room_is_refused_by_name(values):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("silhouette-wave", **values)
    assert {p.parameter for p in refused.value.problems} & set(values)
