"""The slotted shim against sums made by hand: boxes, each corner rounded off or filled in."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.plate.shim import TEMPLATE
from tests.depth import tried
from tests.property.flattened import published_hole
from tests.strategies import parts_of

many = tried(200)
OFF = 1 - math.pi / 4
"""What rounding a square corner to r takes of its area, and fills in an inside one, over r²."""
SHORT = 2 - math.pi / 2
"""What either takes of the edge, over r."""


@many
@given(parts_of(TEMPLATE))
def test_area_and_cut_length_are_those_by_hand(part):
    v = part.record.parameters
    w, h, r, n = v["width"], v["height"], v["corner_radius"], v["slots"]
    slot, depth = published_hole(v, "bolt", "hole"), v["slot_depth"]
    area = w * h - n * slot * depth + n * 2 * OFF * (slot / 2) ** 2 - (4 + 2 * n) * OFF * r**2
    edge = 2 * (w + h) + n * 2 * depth - n * 2 * SHORT * slot / 2 - (4 + 2 * n) * SHORT * r
    eye = 0.0
    if v["tab_length"]:
        root, eye = v["tab_root"], v["tab_hole"]
        area += v["tab_width"] * v["tab_length"] - 2 * OFF * r**2 + 2 * OFF * root**2 - math.pi / 4 * eye**2
        edge += 2 * v["tab_length"] - 2 * SHORT * (r + root) + math.pi * eye
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9, abs=1e-6)
    assert part.measures.cut_length_mm == pytest.approx(edge, rel=1e-9)
    assert part.profile.box == pytest.approx((0, 0, w, h + v["tab_length"]), abs=1e-9)


@many
@given(parts_of(TEMPLATE))
def test_the_bolts_go_in_from_the_foot_to_the_ends_of_the_slots(part):
    """Half a bolt's hole above the foot, and at its seat in the end of the slot, there is room; beside it is metal."""
    v = part.record.parameters
    (edge,) = part.profile.outside
    half = published_hole(v, "bolt", "hole") / 2
    for i in range(v["slots"]):
        x = v["width"] / 2 + (i - (v["slots"] - 1) / 2) * v["pitch"]
        for y in (0.01, v["slot_depth"] / 2, v["slot_depth"] - half, v["slot_depth"] - 0.01):
            assert not edge.contains((x, y))
        seat = v["slot_depth"] - half
        around = [(x + 0.999 * half * math.cos(a), seat + 0.999 * half * math.sin(a)) for a in (0.3, 1.2, 1.9, 2.8)]
        assert not any(edge.contains(at) for at in around)
        assert edge.contains((x, v["slot_depth"] + 1e-6))


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"slot_depth": 80}, "slot_depth"),
        ({"slot_depth": 11}, "slot_depth"),
        ({"width": 17}, "width"),
        ({"slots": 2, "pitch": 65}, "pitch"),
        ({"slots": 2, "pitch": 17}, "pitch"),
        ({"corner_radius": 20, "tab_width": 50}, "corner_radius"),
        ({"tab_width": 80}, "tab_width"),
        ({"tab_root": 23, "width": 120}, "tab_root"),
        ({"tab_root": 28}, "tab_root"),
        ({"tab_hole": 30}, "tab_hole"),
    ],
    ids=["through", "short", "narrow", "over the side", "meet", "radius", "wide tab", "beside", "below", "eye"],
)
def test_what_does_not_go_together_is_named(values, named):
    if named == "tab_root" and "width" in values:
        values = {**values, "tab_length": 25}
    with pytest.raises(parts.Refused) as refused:
        parts.draw("plate-shim", **values)
    assert named in {problem.parameter for problem in refused.value.problems}
