"""The sunburst against half rays worked out by halving, on complex numbers; slots as bent strips."""

import cmath
import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

import parts
from parts.templates.silhouette.sunburst import TEMPLATE
from tests.depth import tried
from tests.property.leaf_reference import halved, polygon
from tests.strategies import parts_of

many = tried(40)
few = tried(15)


def half_ray(v, reach):
    """Area and edge of half a ray's sector of the figure: ray along x, half a pitch to the left.

    The flank's lean is halved until it passes half a ray's width off the axis at the disc, the round's place until
    it is its radius off the disc.
    """
    t, r, disc, pitch = v["tip_radius"], v["fillet_radius"], v["disc_diameter"] / 2, 2 * math.pi / v["rays"]

    def flank(lean, away):  # the point of the flank `away` mm on from the tip's round, toward the disc
        return reach - t + t * cmath.rect(1, math.pi / 2 - lean) - away * cmath.rect(1, -lean)

    def width(lean):
        start = flank(lean, 0.0)
        return start.imag + (start.real - disc) * math.tan(lean)

    lean = halved(0.0, math.pi / 2 - 1e-9, lambda h: width(h) <= v["ray_width"] / 2)
    out = r * cmath.rect(1, math.pi / 2 - lean)
    away = halved(0.0, reach, lambda a: abs(flank(lean, a) + out) >= disc + r)
    foot = flank(lean, away)
    centre = foot + out
    on_disc = centre * disc / abs(centre)
    corners = [0j, complex(reach, 0), flank(lean, 0.0), foot, on_disc, disc * cmath.rect(1, pitch / 2)]
    turns = [(t, math.pi / 2 - lean), (-r, 0.0), (disc, pitch / 2 - cmath.phase(on_disc))]
    if r:
        turns[1] = (-r, abs(cmath.phase((on_disc - centre) / (foot - centre))))
    area = polygon(corners) + sum(math.copysign(x**2, x) * (a - math.sin(a)) / 2 for x, a in turns)
    return area, away + sum(abs(x) * a for x, a in turns)


def cut_out(v):
    """Area and edge of the slots, strips along their middle with round ends, and of the opening."""
    area, edge = math.pi / 4 * v["middle"] ** 2, math.pi * v["middle"]
    if n := v["ties"]:
        w, radius = v["slot_width"], v["ring"] / 2
        middle = radius * (2 * math.pi / n - 2 * math.asin((v["tie"] + w) / (2 * radius)))
        area, edge = area + n * (middle * w + math.pi / 4 * w**2), edge + n * (2 * middle + math.pi * w)
    return area, edge


@tried(200)
@given(parts_of(TEMPLATE, overall_width=0, overall_height=0, hang="none"))
def test_area_and_edge_are_those_by_hand(part):
    v = part.record.parameters
    if v["foot"] != "none":
        part = parts.draw("silhouette-sunburst", **{name: value for name, value in v.items() if name != "foot"})
    full, short, chance = v["diameter"] / 2, v["short_diameter"] / 2, random.Random(v["seed"])
    reaches = [(full, short)[i % 2] for i in range(v["rays"])]
    if v["seed"]:
        reaches[2:] = [short + (full - short) * chance.random() for _ in reaches[2:]]
    halves = [half_ray(v, reach) for reach in reaches]
    lost, cut = cut_out(v)
    assert part.measures.area_mm2 == pytest.approx(2 * sum(area for area, _ in halves) - lost, rel=1e-7)
    assert part.measures.cut_length_mm == pytest.approx(2 * sum(edge for _, edge in halves) + cut, rel=1e-7)


@few
@given(st.integers(1, 9998))
def test_a_variant_is_always_the_same_and_has_one_ray_of_each_length(seed):
    one, again = (parts.draw("silhouette-sunburst", seed=seed, hang="none") for _ in range(2))
    assert one.profile == again.profile
    assert one.measures.height_mm <= 360 + 1e-9
    assert parts.draw("silhouette-sunburst", seed=seed + 1).profile != one.profile


@pytest.mark.parametrize("values", [{"short_diameter": 400}, {"rays": 48}, {"ties": 2}, {"ties": 24, "tie": 12},
                                    {"ring": 170}, {"middle": 130}, {"fillet_radius": 40},
                                    {"tip_radius": 11}])  # fmt: skip
def test_what_has_no_room_is_refused(values):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("silhouette-sunburst", **values)
    assert {p.parameter for p in refused.value.problems} & {*values, "ray_width", "ring", "fillet_radius"}
