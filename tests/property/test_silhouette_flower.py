"""The flower against half a petal drawn with discs by shapely, slots and dots by their sums."""

import cmath
import math

import pytest
import shapely
from hypothesis import given

import parts
from parts.templates.silhouette.flower import TEMPLATE
from tests.depth import tried
from tests.property.flattened import points
from tests.property.leaf_reference import halved, straight_slot
from tests.strategies import parts_of

some = tried(60)
FINE = 512


def half_petal(v):
    """Half a petal above the x axis up to the middle of the valley: lens and tip by discs, the valley's disc taken off.

    The side's radius and the valley's place are halved, not solved for.
    """
    w, t, c, r = v["petal_width"] / 2, v["tip_radius"], v["widest"], v["valley_radius"]
    tip, half = v["diameter"] / 2 - t, math.pi / v["petals"]
    side = halved(w, 1e9, lambda s: math.hypot(tip - c, s - w) + t >= s)
    centre = complex(c, w - side)
    e = complex(math.cos(half), math.sin(half))
    near = max((centre * e.conjugate()).real, 0.0)
    valley = halved(near, 1e5, lambda g: abs(g * e - centre) <= side + r)
    at = valley * e
    seen = at - centre
    meets = centre + seen * side / abs(seen)
    start = centre + (tip - centre) * side / abs(tip - centre)

    def arc(about, a, b, turn):
        turned = cmath.phase((b - about) / (a - about))
        sweep = turned % (2 * math.pi) if turn > 0 else -(-turned % (2 * math.pi))
        way = [about + (a - about) * cmath.rect(1, sweep * i / FINE) for i in range(FINE + 1)]
        return [(p.real, p.imag) for p in way]

    flat = [
        (0.0, 0.0),
        *arc(complex(tip, 0), complex(tip + t, 0), start, 1),
        *arc(centre, start, meets, 1),
        *arc(at, meets, (valley - r) * e, -1),
    ]
    return shapely.Polygon(flat), valley - r


@tried(200)
@given(parts_of(TEMPLATE, overall_width=0, overall_height=0, slot_turn=0, hang="none"))
def test_area_and_edge_are_those_of_the_petals(part):
    v = part.record.parameters
    if v["foot"] != "none":
        part = parts.draw("silhouette-flower", **{name: value for name, value in v.items() if name != "foot"})
    petal, valley = half_petal(v)
    n = v["petals"]
    area, edge = 2 * n * petal.area, 2 * n * (petal.length - v["diameter"] / 2 - valley)
    dots = v["dots"] * (v["dot"] ** 2) + v["middle"] ** 2
    area, edge = area - math.pi / 4 * dots, edge + math.pi * (v["dots"] * v["dot"] + v["middle"])
    slots = [opening.loop for opening in part.profile.inside if opening.name == "slot"]
    assert len(slots) == (n if v["slot_width"] else 0)
    if slots:  # the first is the upright one
        foot, end, (_, y0, _, y1) = v["slot_width"] / 2, v["slot_end"] / 2, slots[0].box
        one, around = straight_slot(y1 - y0 - foot - end, foot, end)
        assert [loop.area for loop in slots] == pytest.approx([one] * n)
        area, edge = area - n * one, edge + n * around
    assert part.measures.area_mm2 == pytest.approx(area, rel=2e-4)
    assert part.measures.cut_length_mm == pytest.approx(edge, rel=2e-4)


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"tip_radius": 36}, "tip_radius"),
        ({"petal_width": 12, "tip_radius": 3}, "petal_width"),
        ({"widest": 100}, "widest"),
        ({"dot_ring": 80}, "dot_ring"),
        ({"slot_from": 10, "dots": 0, "middle": 0}, "slot_width"),
        ({"dots": 30}, "dot_ring"),
        ({"petals": 6, "valley_radius": 25, "petal_width": 22, "tip_radius": 6}, "slot_from"),
    ],
)
def test_what_has_no_room_is_refused_by_name(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("silhouette-flower", **values)
    assert named in {p.parameter for p in refused.value.problems}


def test_the_bridge_beyond_a_slot_is_as_asked_where_valleys_cut_into_the_petal():
    """Against shapely: the slot's end is that far from the whole edge, not from the circle of the petal's side."""
    part = parts.draw(
        "silhouette-flower", petal_width=62, widest=16, tip_radius=2, slot_end=1, valley_radius=71.2, hang="none"
    )
    edge = shapely.Polygon(points(part.profile.outside[0])).exterior
    slot = next(opening for opening in part.profile.inside if opening.name == "slot")
    assert shapely.Polygon(points(slot.loop)).distance(edge) == pytest.approx(8, abs=1e-3)
