"""Bumper face plate: area and edge as the sum of pieces worked out by hand, loops against shapely."""

import math

import pytest
from hypothesis import given

from parts.templates.plate.bumper import TEMPLATE
from tests.depth import tried
from tests.property.flattened import SOURCE, published_hole
from tests.property.tabbed import slot_of as tab_slot_of
from tests.strategies import optional_of, parts_of

many = tried(150)


def turns(v):
    """Radius and turn of each rounded corner of the right half."""
    rise = math.atan2(v["taper_rise"], v["taper_length"])
    lower = [math.pi / 2 - rise] + ([rise] if v["taper_rise"] else [])
    upper = [math.pi / 4] * 2 if v["clip"] else [math.pi / 2]
    return [(v["corner_radius"], turn) for turn in lower] + [(v["top_radius"], turn) for turn in upper]


def hole_of(d):
    return math.pi * d**2 / 4, math.pi * d


def slot_of(length, d):
    area, edge = hole_of(d)
    straight = length - d if length else 0.0
    return area + straight * d, edge + 2 * straight


def window_of(w, h, r):
    return w * h - (4 - math.pi) * r**2, 2 * (w + h) - (8 - 2 * math.pi) * r


def openings_of(v):
    """Area and edge of each opening."""
    if v["lamps"] == "round":
        yield from [hole_of(v["lamp_width"])] * 2
    elif v["lamps"] == "rectangle":
        yield from [window_of(v["lamp_width"], v["lamp_height"], v["lamp_radius"])] * 2
    if v["tow"] == "fairlead":
        yield window_of(v["winch_width"], v["winch_height"], v["winch_radius"])
        yield from [slot_of(v["winch_slot"], published_hole(v, "winch_bolt", "winch_hole"))] * 4
    elif v["tow"] == "tow-hooks":
        yield from [window_of(v["hook_width"], v["hook_height"], v["hook_radius"])] * 2
    if v["slots"] != "none":
        yield from [slot_of(v["slot_length"], published_hole(v, "bolt", "hole"))] * 4
    if v["plate_holes"]:
        yield from [hole_of(v["plate_hole"])] * 2
    kinds = sum(v[f"{kind}_slots"] for kind in ("wing", "mount", "gusset"))
    yield from [tab_slot_of(v)] * (2 * kinds * v["tabs"])


def area(v):
    """The rectangle, the tapers' triangles and the clips off; a rounded corner loses r² (tan(t/2) - t/2)."""
    taper = v["taper_rise"] * v["taper_length"]
    rounded = 2 * sum(r**2 * (math.tan(t / 2) - t / 2) for r, t in turns(v))
    return v["width"] * v["height"] - taper - v["clip"] ** 2 - rounded - sum(a for a, _ in openings_of(v))


def edge(v):
    """Each straight edge from corner to corner; a rounded corner is r (2 tan(t/2) - t) shorter."""
    rise, clip = v["taper_rise"], v["clip"]
    along = v["taper_length"] if rise else 0.0
    straight = 2 * (v["width"] - along - clip) + 2 * (v["height"] - rise - clip)
    slanting = 2 * math.hypot(rise, along) + 2 * math.sqrt(2) * clip
    rounded = 2 * sum(r * (2 * math.tan(t / 2) - t) for r, t in turns(v))
    return straight + slanting - rounded + sum(p for _, p in openings_of(v))


@tried(200)
@given(parts_of(TEMPLATE))
def test_area_and_edge_are_those_worked_out_by_hand(part):
    v = part.record.parameters
    assert part.measures.area_mm2 == pytest.approx(area(v), rel=1e-9), SOURCE
    assert part.measures.cut_length_mm == pytest.approx(edge(v), rel=1e-9), SOURCE
    assert part.measures.width_mm == pytest.approx(v["width"], rel=1e-12)
    assert part.measures.height_mm == pytest.approx(v["height"], rel=1e-12)


@many
@given(parts_of(TEMPLATE))
def test_the_face_is_the_same_left_and_right(part):
    middle = part.record.parameters["width"] / 2
    boxes = [loop.box for loop in (*part.profile.outside, *(o.loop for o in part.profile.inside))]
    swapped = [(2 * middle - x1, y0, 2 * middle - x0, y1) for x0, y0, x1, y1 in boxes]
    for box in swapped:
        assert any(box == pytest.approx(other, abs=1e-9) for other in boxes)


@many
@given(parts_of(TEMPLATE))
def test_each_length_in_use_is_measured(part):
    v = part.record.parameters
    fairlead, hooks, slots = v["tow"] == "fairlead", v["tow"] == "tow-hooks", v["slots"] != "none"
    rectangle = v["lamps"] == "rectangle"
    kinds = ("wing", "mount", "gusset")
    tabbed = any(v[f"{kind}_slots"] for kind in kinds)
    used = {
        "width": True, "height": True, "taper_rise": v["taper_rise"] > 0, "taper_length": v["taper_rise"] > 0,
        "clip": v["clip"] > 0, "corner_radius": v["corner_radius"] > 0, "top_radius": v["top_radius"] > 0,
        "lamp_spacing": v["lamps"] != "none", "lamp_up": v["lamps"] != "none", "lamp_width": v["lamps"] != "none",
        "lamp_height": rectangle, "lamp_radius": rectangle and v["lamp_radius"] > 0, "tow_up": fairlead or hooks,
        "winch_width": fairlead, "winch_height": fairlead, "winch_radius": fairlead and v["winch_radius"] > 0,
        "winch_hole": fairlead and v["winch_bolt"] == "by-diameter", "winch_slot": fairlead and v["winch_slot"] > 0,
        "winch_bolts": fairlead, "winch_rows": fairlead, "hook_spacing": hooks, "hook_width": hooks,
        "hook_height": hooks, "hook_radius": hooks and v["hook_radius"] > 0, "horn_spacing": slots,
        "slot_up": slots, "slot_pair": slots, "hole": slots and v["bolt"] == "by-diameter",
        "slot_length": slots and v["slot_length"] > 0, "plate_spacing": v["plate_holes"],
        "plate_up": v["plate_holes"], "plate_hole": v["plate_holes"],
        **{f"{kind}_{place}": v[f"{kind}_slots"] for kind in kinds for place in ("spacing", "up")},
        "tab_length": tabbed, "tab_pitch": tabbed and v["tabs"] > 1, "tab_first": tabbed,
        "tab_relief": tabbed and v["tab_relief"] > 0, "tab_thickness": tabbed and v["tab_thickness"] > 0,
        "tab_clearance": tabbed and v["tab_clearance"] > 0,
    }  # fmt: skip
    assert sorted(used) == sorted(TEMPLATE.letters.keys() - optional_of(TEMPLATE))
    assert sorted(d.parameter for d in part.profile.dimensions) == sorted(name for name in used if used[name])
