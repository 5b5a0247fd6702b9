"""The gear against half teeth and half windows of which each round's place is halved, on complex numbers."""

import cmath
import math

import pytest
from hypothesis import given

import parts
from parts.templates.silhouette.gear import TEMPLATE
from tests.depth import tried
from tests.property.leaf_reference import halved, polygon
from tests.strategies import parts_of

many = tried(60)


def cap(radius, turn):
    return radius**2 * (turn - math.sin(turn)) / 2


def half_tooth(v):
    """Area and edge of half a tooth's sector of the wheel: tooth along x, half a pitch to the left.

    The flank is walked from its sharp end at the tip by its angle; the rounds are where the point a radius inside it
    is a radius inside the tips' circle, and the point a radius outside it is a radius outside the feet's.
    """
    tip, f, t, r = v["diameter"] / 2, v["flank_radius"], v["tip_radius"], v["fillet_radius"]
    root, pitch = tip - v["tooth_height"], 2 * math.pi / v["teeth"]
    a, b = (cmath.rect(x, math.asin(w / 2 / x)) for x, w in ((tip, v["tip_width"]), (root, v["tooth_width"])))
    centre = (a + b) / 2 + 1j * (b - a) / abs(b - a) * math.sqrt(f**2 - abs(b - a) ** 2 / 4)

    def from_a(reach, turn):
        return centre + (a - centre) * reach / f * cmath.rect(1, turn)

    whole = cmath.phase((b - centre) / (a - centre))
    high = halved(0.0, whole, lambda turn: abs(from_a(f - t, turn)) >= tip - t)
    low = halved(0.0, whole, lambda turn: abs(from_a(f + r, turn)) >= root + r)
    at_tip, at_foot = from_a(f - t, high), from_a(f + r, low)
    over, under = at_tip / abs(at_tip) * tip, at_foot / abs(at_foot) * root
    above, below = from_a(f, high), from_a(f, low)
    corners = [0j, complex(tip, 0), over, above, below, under, root * cmath.rect(1, pitch / 2)]
    rounded = cmath.phase((above - at_tip) / (over - at_tip))
    hollow = abs(cmath.phase((under - at_foot) / (below - at_foot))) if r else 0.0
    turns = [(tip, cmath.phase(over)), (t, rounded), (f, low - high), (root, pitch / 2 - cmath.phase(under))]
    area = polygon(corners) + sum(cap(x, turn) for x, turn in turns) - cap(r, hollow)
    return area, sum(x * turn for x, turn in [*turns, (r, hollow)])


def window(v):
    """Area and edge of a window: its sharp sector between two spokes, less what each corner's round leaves.

    A corner's round leaves the figure between its centre's feet on spoke and circle and the sharp corner.
    """
    half, r, turn = v["spoke_width"] / 2, v["window_radius"], math.pi / v["spokes"]
    area, edge = 0.0, 0.0
    out, hub = v["diameter"] / 2 - v["tooth_height"] - v["rim"], v["hub_diameter"] / 2
    along = {}
    for circle, sign in ((out, 1), (hub, -1)):
        angle = halved(0.0, math.pi / 2, lambda a, c=circle - sign * r: c * math.sin(a) <= half + r)
        centre = cmath.rect(circle - sign * r, angle)
        at_circle, at_spoke = cmath.rect(circle, angle), complex(centre.real, half)
        bend = abs(cmath.phase((at_circle - centre) / (at_spoke - centre)))
        # half the window's sector beyond the line from the middle to the touched point, the round's cap added
        area += sign * circle**2 * (turn - angle) / 2 + cap(r, bend)
        area += sign * abs((at_spoke.conjugate() * at_circle).imag) / 2
        edge += circle * (turn - angle) + r * bend
        along[sign] = at_spoke
    area += (along[-1].conjugate() * along[1]).imag / 2
    return 2 * area, 2 * (edge + along[1].real - along[-1].real)


@tried(200)
@given(parts_of(TEMPLATE, overall_width=0, overall_height=0, hang="none", foot="none"))
def test_area_and_edge_are_those_by_hand(part):
    v = part.record.parameters
    (area, edge), n = half_tooth(v), 2 * v["teeth"]
    area, edge = n * area - math.pi / 4 * v["bore"] ** 2, n * edge + math.pi * v["bore"]
    if v["spokes"]:
        lost, cut = window(v)
        area, edge = area - v["spokes"] * lost, edge + v["spokes"] * cut
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-7)
    assert part.measures.cut_length_mm == pytest.approx(edge, rel=1e-7)
    assert part.measures.pierces == 1 + v["spokes"] + bool(v["bore"])


def test_flanks_go_over_into_tip_and_foot_without_a_corner():
    (edge,) = parts.draw("silhouette-gear", hang="none").profile.outside
    assert len(edge.segments) == 16 * 8
    assert [turn for turn in edge.corners if abs(turn) > 1e-6] == []


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"tooth_height": 130}, "tooth_height"),
        ({"tip_width": 32}, "tip_width"),
        ({"tip_radius": 15}, "tip_radius"),
        ({"tip_radius": 30, "flank_radius": 50}, "tip_radius"),
        ({"teeth": 30}, "tooth_width"),
        ({"flank_radius": 20}, "flank_radius"),
        ({"fillet_radius": 20}, "fillet_radius"),
        ({"tooth_height": 3, "tooth_width": 18}, "tooth_height"),
        ({"spokes": 2}, "spokes"),
        ({"spokes": 16}, "hub_diameter"),
        ({"rim": 80}, "rim"),
        ({"bore": 100}, "bore"),
        ({"bore": 260, "spokes": 0}, "bore"),
    ],
)
def test_what_has_no_room_is_refused_by_name(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("silhouette-gear", **values)
    assert [p.parameter for p in refused.value.problems] == [named]
