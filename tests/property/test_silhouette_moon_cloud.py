"""Moon and cloud in closed form, by another route: every round's centre found by halving, areas by hand.

Points are complex numbers. A round that touches two circles is sought by turning about the first until it touches
the second. The area is that of the polygon of the points where arcs touch, with the segment between each arc and its
chord added where the arc bows out, taken off where it bows in; a line along an arc is as large as one straight.
"""

import cmath
import math
from itertools import pairwise

import pytest
from hypothesis import given

import parts
from parts.templates.silhouette.moon_cloud import TEMPLATE
from tests.depth import tried
from tests.property.biarc_reference import bare
from tests.property.leaf_reference import halved
from tests.strategies import parts_of

many = tried(60)


def touching(a, reach, b, other, side):
    """The point `reach` from a and `other` from b, on the left (1) or right (-1) of the way from a to b."""
    toward = cmath.phase(b - a)
    turn = halved(0.0, math.pi, lambda t: abs(a + cmath.rect(reach, toward + side * t) - b) < other)
    return a + cmath.rect(reach, toward + side * turn)


def rounds(v):
    """Centre and radius, negative for a turn to the right, from the cloud's right end to its left end."""
    big, q, t, f, e = v["moon_radius"], v["hollow_radius"], v["tip_radius"], v["inside_radius"], v["end_radius"]
    hollow = cmath.rect(q + v["waist"] - big, math.radians(v["tilt"]))
    low = complex(-big - v["reach"], big - v["height"])
    w, h, r = v["cloud_width"], v["cloud_height"], v["lobe_radius"]
    s = 0.76 * r
    first, last = low + complex(e, e), low + complex(w - e, e)
    high, second = low + complex(0.43 * w, h - r), low + complex(0.7 * w, 0.74 * h - s)
    return [
        (last, e), (touching(last, e + f, second, s + f, -1), -f), (second, s),
        (touching(second, s + f, high, r + f, -1), -f), (high, r),
        (touching(high, r + f, hollow, q - f, 1), -f), (hollow, -q),
        (touching(hollow, q + t, 0j, big - t, -1), t), (0j, big), (touching(0j, big + f, first, e + f, -1), -f),
        (first, e),
    ]  # fmt: skip


def measured(v):
    made = rounds(v)
    touch = [made[0][0] - 1j * made[0][1]]
    touch += [(ra * b - rb * a) / (ra - rb) for (a, ra), (b, rb) in pairwise(made)]
    touch.append(made[-1][0] - 1j * made[-1][1])
    area = sum((a.conjugate() * b).imag for a, b in zip(touch, [*touch[1:], touch[0]], strict=True)) / 2
    edge = abs(touch[0] - touch[-1])
    for (centre, r), a, b in zip(made, touch, touch[1:], strict=False):
        sweep = math.copysign(1, r) * cmath.phase((b - centre) / (a - centre)) % (2 * math.pi)
        area += math.copysign(1, r) * r**2 * (sweep - math.sin(sweep)) / 2
        edge += abs(r) * sweep
    return area, edge


def cut_out(v):
    craters = [share * v["crater"] for share in (1, 0.5, 0.62, 0.42, 0.4)[: v["craters"]]]
    area, edge = sum(math.pi / 4 * d**2 for d in craters), sum(math.pi * d for d in craters)
    if w := v["line_width"]:
        along = math.radians(140 - 12) * (v["lobe_radius"] - v["line_inset"] - w / 2)
        area, edge = area + along * w + math.pi / 4 * w**2, edge + 2 * along + math.pi * w
    return area, edge


@tried(200)
@given(parts_of(TEMPLATE, overall_width=0, overall_height=0))
def test_area_edge_and_box_are_those_of_the_closed_form(part):
    v = bare(part)
    part, (area, edge), (cut, cut_edge) = parts.draw("silhouette-moon-cloud", **v), measured(v), cut_out(v)
    assert part.measures.area_mm2 == pytest.approx(area - cut, rel=1e-6)
    assert part.measures.cut_length_mm == pytest.approx(edge + cut_edge, rel=1e-6)
    assert part.measures.height_mm == pytest.approx(v["height"])
    if v["cloud_width"] >= 2 * v["moon_radius"] + v["reach"]:
        assert part.measures.width_mm == pytest.approx(v["cloud_width"])
    assert len(part.profile.outside) == 1
    assert len(part.profile.inside) == v["craters"] + (v["line_width"] > 0)


def test_the_edge_has_no_corner():
    (edge,) = parts.draw("silhouette-moon-cloud").profile.outside
    assert max(map(abs, edge.corners)) < 1e-7


@pytest.mark.parametrize("values", [{"hollow_radius": 119.5}, {"waist": 40}, {"tip_radius": 15}, {"cloud_width": 130},
                                    {"cloud_width": 700}, {"lobe_radius": 60}, {"end_radius": 50}, {"crater": 60},
                                    {"line_width": 30}, {"line_inset": 40}, {"inside_radius": 20}])  # fmt: skip
def test_what_has_no_room_is_refused_by_name(values):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("silhouette-moon-cloud", **values)
    assert {p.parameter for p in refused.value.problems} & set(values)
