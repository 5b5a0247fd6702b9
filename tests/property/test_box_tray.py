"""The open tray: sums made by hand, and the panels put together in space."""

import math

import pytest
from hypothesis import given

import parts
from parts.templates.box.tray import TEMPLATE
from tests.depth import tried
from tests.property.assembled import by_hand, inside
from tests.strategies import parts_of

many = tried(25)


@tried(60)
@given(parts_of(TEMPLATE))
def test_area_and_cut_length_are_those_by_hand(part):
    v = part.record.parameters
    area, edge = by_hand(part)
    e = v["overcut"]
    if v["drain"]:
        area -= math.pi / 4 * (v["drain"] - e) ** 2
        edge += math.pi * (v["drain"] - e)
    if v["handle"]:
        a, b = v["handle"] - e, v["handle_width"] - e
        area -= 2 * ((a - b) * b + math.pi / 4 * b**2)
        edge += 2 * (2 * (a - b) + math.pi * b)
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge, rel=1e-9)
    assert len(part.profile.outside) == 5


@pytest.mark.parametrize("process", ["air-plasma", "fine-plasma", "laser", "waterjet"])
@pytest.mark.parametrize("thickness", [2, 3, 6, 10])
def test_every_slot_can_be_pierced_and_cut(process, thickness):
    part = parts.draw("box-tray", process=process, thickness=thickness, tab=30, relief=0.5, lip=15)
    stops = [f.message for f in part.findings if f.severity == "stop" or f.rule == "pierce-room"]
    assert stops == []


@pytest.mark.parametrize("process", ["air-plasma", "fine-plasma", "laser", "waterjet"])
@pytest.mark.parametrize("thickness", ["2", "12 ga", "1/8", "4", "1/4"])
def test_a_tray_of_any_sheet_needs_no_relief_said(process, thickness):
    part = parts.draw("box-tray", length=300, width=200, height=80, thickness=thickness, process=process)
    assert [f.message for f in part.findings if f.rule in ("inside-corner", "lost-detail", "bridge-width")] == []


def test_outside_sizes_are_the_inside_ones_and_the_walls():
    within = parts.draw("box-tray")
    v = within.record.parameters
    x, y, z, t, _ = inside(v)
    around = parts.draw(
        "box-tray", sizes="outside", length=x + 2 * t + 2 * v["lip"], width=y + 2 * t + 2 * v["lip"], height=z + t
    )
    assert around.measures.area_mm2 == pytest.approx(within.measures.area_mm2, rel=1e-12)


def test_two_tabs_locate_and_more_stand_only_on_long_edges():
    slots = [o.name for o in parts.draw("box-tray", length=900).profile.inside]
    assert slots.count("slot in the base") == 2 * 2 + 2 * 2
    slots = [o.name for o in parts.draw("box-tray", length=1100).profile.inside]
    assert slots.count("slot in the base") == 2 * 3 + 2 * 2


@pytest.mark.parametrize(
    ("values", "named"),
    [
        ({"tab": 51}, "tab"),
        ({"sizes": "outside", "length": 70}, "length"),
        ({"sizes": "outside", "height": 40}, "height"),
        ({"overcut": 3}, "overcut"),
        ({"relief": 2.3}, "relief"),
        ({"tab": 9, "side_clearance": 2.25}, "side_clearance"),
        ({"lip": 1, "corner_radius": 0, "relief": 2.1}, "lip"),
        ({"corner_radius": 13}, "corner_radius"),
        ({"tab": 11}, "tab"),
        ({"drain": 200}, "drain"),
        ({"handle": 20}, "handle_width"),
        ({"handle": 90, "handle_down": 14}, "handle_down"),
        ({"handle": 90, "handle_down": 86}, "handle_down"),
    ],
)
def test_what_does_not_go_together_is_named(values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw("box-tray", **values)
    assert named in [problem.parameter for problem in refused.value.problems]
