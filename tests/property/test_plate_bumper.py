"""Bumper face plate: area and edge as the sum of pieces worked out by hand, loops against shapely."""

import math

import pytest
from hypothesis import given

from parts.templates.plate.bumper import TEMPLATE
from tests.depth import tried
from tests.property.flattened import SOURCE, published_hole
from tests.property.tabbed import notch_of, relieved
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


def openings_of(part):
    """Area and edge of each opening."""
    v = part.record.parameters
    if v["lamps"] == "round":
        yield from [hole_of(v["lamp_width"])] * 2
    elif v["lamps"] == "rectangle":
        yield from [window_of(v["lamp_width"], v["lamp_height"], v["lamp_radius"])] * 2
    if v["tow"] == "fairlead":
        yield window_of(v["winch_width"], v["winch_height"], v["winch_radius"])
        yield from [slot_of(v["winch_slot"], published_hole(v, "winch_bolt", "winch_hole"))] * (
            4 if v["winch_rows"] else 2
        )
    elif v["tow"] == "tow-hooks":
        more = 2 * v["hook_clearance"]
        wide, high = v["hook_width"] or v["hook_tab"] + more, v["hook_height"] or v["hook_neck"] + more
        as_tab = relieved(part, wide, high)
        yield from [window_of(wide, high, v["hook_radius"]) if v["hook_width"] else as_tab] * 2
    if v["slots"] != "none":
        yield from [slot_of(v["slot_length"], published_hole(v, "bolt", "hole"))] * 4
    if v["plate_holes"]:
        yield from [hole_of(v["plate_hole"])] * 2
    kinds = sum(v[f"{kind}_slots"] for kind in ("wing", "mount", "gusset")) - is_notched(v)
    yield from [tab_slot_of(part)] * (2 * kinds * v["tabs"] + 2 * v["tray_slots"])
    if v["skid_holes"]:
        yield from [hole_of(published_hole(v, "skid_bolt", "skid_hole"))] * 2
    yield from [notch_of(part)] * (2 * v["tabs"] * is_notched(v))


def is_notched(v):
    return v["wing_slots"] and v["wing_joint"] == "flush"


def area(part):
    """The rectangle, the tapers' triangles and the clips off; a rounded corner loses r² (tan(t/2) - t/2)."""
    v = part.record.parameters
    taper = v["taper_rise"] * v["taper_length"]
    rounded = 2 * sum(r**2 * (math.tan(t / 2) - t / 2) for r, t in turns(v))
    return v["width"] * v["height"] - taper - v["clip"] ** 2 - rounded - sum(a for a, _ in openings_of(part))


def edge(part):
    """Each straight edge from corner to corner; a rounded corner is r (2 tan(t/2) - t) shorter."""
    v = part.record.parameters
    rise, clip = v["taper_rise"], v["clip"]
    along = v["taper_length"] if rise else 0.0
    straight = 2 * (v["width"] - along - clip) + 2 * (v["height"] - rise - clip)
    slanting = 2 * math.hypot(rise, along) + 2 * math.sqrt(2) * clip
    rounded = 2 * sum(r * (2 * math.tan(t / 2) - t) for r, t in turns(v))
    return straight + slanting - rounded + sum(p for _, p in openings_of(part))


@tried(200)
@given(parts_of(TEMPLATE))
def test_area_and_edge_are_those_worked_out_by_hand(part):
    v = part.record.parameters
    assert part.measures.area_mm2 == pytest.approx(area(part), rel=1e-9), SOURCE
    assert part.measures.cut_length_mm == pytest.approx(edge(part), rel=1e-9), SOURCE
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
    upright = any(v[f"{kind}_slots"] for kind in kinds)
    tabbed, skid = upright or v["tray_slots"], v["skid_holes"]
    used = {
        "width": True, "height": True, "taper_rise": v["taper_rise"] > 0, "taper_length": v["taper_rise"] > 0,
        "clip": v["clip"] > 0, "corner_radius": v["corner_radius"] > 0, "top_radius": v["top_radius"] > 0,
        "lamp_spacing": v["lamps"] != "none", "lamp_up": v["lamps"] != "none", "lamp_width": v["lamps"] != "none",
        "lamp_height": rectangle, "lamp_radius": rectangle and v["lamp_radius"] > 0, "tow_up": fairlead or hooks,
        "winch_width": fairlead, "winch_height": fairlead, "winch_radius": fairlead and v["winch_radius"] > 0,
        "winch_hole": fairlead and v["winch_bolt"] == "by-diameter", "winch_slot": fairlead and v["winch_slot"] > 0,
        "winch_bolts": fairlead, "winch_rows": fairlead, "hook_spacing": hooks, "hook_tab": hooks,
        "hook_neck": hooks, "hook_clearance": hooks and v["hook_clearance"] > 0,
        "hook_width": hooks and v["hook_width"] > 0, "hook_height": hooks and v["hook_height"] > 0,
        "hook_radius": hooks and v["hook_width"] > 0 and v["hook_radius"] > 0, "horn_spacing": slots,
        "slot_up": slots, "slot_pair": slots, "hole": slots and v["bolt"] == "by-diameter",
        "slot_length": slots and v["slot_length"] > 0, "plate_spacing": v["plate_holes"],
        "plate_up": v["plate_holes"], "plate_hole": v["plate_holes"],
        **{f"{kind}_{place}": v[f"{kind}_slots"] for kind in kinds for place in ("spacing", "up")},
        "wing_spacing": v["wing_slots"] and not is_notched(v),
        "tray_spacing": v["tray_slots"], "tray_up": v["tray_slots"], "skid_spacing": skid, "skid_up": skid,
        "skid_hole": skid and v["skid_bolt"] == "by-diameter",
        "tab_length": tabbed, "tab_pitch": upright and v["tabs"] > 1, "tab_first": upright,
        "tab_thickness": tabbed and v["tab_thickness"] > 0,
        "tab_clearance": tabbed and v["tab_clearance"] > 0,
    }  # fmt: skip
    assert sorted(used) == sorted(TEMPLATE.letters.keys() - optional_of(TEMPLATE))
    assert sorted(d.parameter for d in part.profile.dimensions) == sorted(name for name in used if used[name])
