"""Bumper face plate: each limit just under, at and just over, and what a default gives."""

import math

import pytest

import parts
from parts.errors import Problem
from parts.templates.plate.bumper import TEMPLATE
from tests.property.flattened import assert_can_be_cut, assert_measured
from tests.unit import limits
from tests.unit.limits import STEP, said

BARE = {"lamps": "none", "tow": "none", "slots": "none", "plate_holes": "off"}
SHARP = BARE | {"corner_radius": 0, "top_radius": 0}
ROUND, RECTANGLE = BARE | {"lamps": "round"}, BARE | {"lamps": "rectangle"}
FAIRLEAD, HOOKS = BARE | {"tow": "fairlead", "tow_up": 125}, BARE | {"tow": "tow-hooks", "tow_up": 125}
LEVEL, UPRIGHT = BARE | {"slots": "horizontal"}, BARE | {"slots": "vertical"}
PLATE = BARE | {"plate_holes": "on"}

# By default the taper rises 90 in 300, the clip is 45, the face 1800 by 250.
WIDE = {"hook_width": 32, "hook_height": 90}
SLOPE = math.hypot(90, 300)
INSIDE = "to stay inside the ends at this height"

# Each limit worked out by hand. UNDER: must be less; MOST: may be as much; OVER: must be more.
UNDER = [
    (SHARP | {"clip": 0}, "taper_rise", 250, "250 mm below the upper edge"),
    (SHARP, "taper_length", 900, "900 mm for a lower edge to be left"),
    (SHARP, "clip", 160, "160 mm to leave an end and an upper edge"),
    (ROUND | {"lamp_up": 125, "lamp_spacing": 600}, "lamp_width", 250, "250 mm in the height of the face"),
    (RECTANGLE | {"lamp_up": 125, "lamp_spacing": 600}, "lamp_height", 250, "250 mm in the height of the face"),
    (ROUND | {"lamp_spacing": 900}, "lamp_up", 205, "205 mm for the lamp openings to clear the upper edge"),
    (ROUND, "lamp_spacing", 1710, f"1710 mm for the lamp openings {INSIDE}"),  # the end: 2 (900 - 45)
    # the clip, x + y = 900 + 250 - 45, is 45 from the centre: x = 1105 - 200 - 45 sqrt 2
    (ROUND | {"lamp_up": 200}, "lamp_spacing", 1810 - 90 * math.sqrt(2), f"1682.72 mm for the lamp openings {INSIDE}"),
    # the taper, (x - 600) 0.3 = y, is 45 from the centre: x = 600 + 100 / 0.3 - 45 SLOPE / 90
    (ROUND | {"lamp_up": 100}, "lamp_spacing", 1200 + 200 / 0.3 - SLOPE, f"1553.457 mm for the lamp openings {INSIDE}"),
    (FAIRLEAD, "winch_height", 250, "250 mm in the height of the face"),
    (FAIRLEAD, "winch_rows", 236.5, "236.5 mm in the height of the face"),
    (FAIRLEAD, "tow_up", 218.25, "218.25 mm for the fairlead bolt holes to clear the upper edge"),
    (HOOKS | WIDE, "hook_height", 250, "250 mm in the height of the face"),
    (HOOKS | WIDE, "tow_up", 205, "205 mm for the tow-hook slots to clear the upper edge"),
    (LEVEL, "slot_pair", 236.5, "236.5 mm in the height of the face"),
    (UPRIGHT, "slot_pair", 215, "215 mm in the height of the face"),
    (LEVEL, "slot_up", 193.25, "193.25 mm for the mounting slots to clear the upper edge"),
    (PLATE, "plate_up", 245.5, "245.5 mm for the number-plate holes to clear the upper edge"),
]
MOST = [
    # a fillet takes r tan(turn / 2) of the end's 250 - 90 - 45; tan of half of 90 degrees less the slope
    (SHARP, "corner_radius", 115 * 300 / (SLOPE - 90), "154.563 mm at the lower corners"),
    # two fillets share the clip, 45 sqrt 2, each r tan(22.5 degrees) of it
    (BARE, "top_radius", 45 * (1 + math.sqrt(0.5)), "76.819 mm at the top corners"),
    (SHARP | {"clip": 0}, "top_radius", 160, "160 mm at the top corners"),
    (SHARP | {"clip": 0, "taper_rise": 0}, "corner_radius", 250, "250 mm at the lower corners"),
    (RECTANGLE, "lamp_radius", 30, "30 mm in the lamp opening"),
    (FAIRLEAD, "winch_radius", 30, "30 mm in the window"),
    (HOOKS | WIDE, "hook_radius", 16, "16 mm in the slot"),
]
OVER = [
    (ROUND, "lamp_spacing", 90, "90 mm to keep metal on the middle"),
    (ROUND | {"lamp_spacing": 900}, "lamp_up", 45, "45 mm for the lamp openings to clear the lower edge"),
    (FAIRLEAD, "tow_up", 31.75, "31.75 mm for the fairlead bolt holes to clear the lower edge"),
    (FAIRLEAD, "winch_rows", 13.5, "13.5 mm to keep metal between them"),
    # beside the window: 180 + 13.5
    (FAIRLEAD | {"winch_rows": 30}, "winch_bolts", 193.5, "193.5 mm to clear the fairlead window"),
    (HOOKS | WIDE, "hook_spacing", 32, "32 mm to keep metal on the middle"),
    (LEVEL, "slot_pair", 13.5, "13.5 mm to keep metal between them"),
    (UPRIGHT, "slot_pair", 35, "35 mm to keep metal between them"),
    (LEVEL | {"slot_length": 100}, "horn_spacing", 100, "100 mm to keep metal on the middle"),
    (PLATE | {"plate_hole": 40}, "plate_up", 20, "20 mm for the number-plate holes to clear the lower edge"),
    # beside the window: 180 + 9
    (FAIRLEAD | {"plate_holes": "on", "plate_up": 125, "winch_bolts": 400}, "plate_spacing", 189,
     "189 mm to clear the fairlead window"),
]  # fmt: skip


def draw(**values):
    return parts.draw("plate-bumper", **values)


def refusal(**values):
    return limits.refusal("plate-bumper", **values)


@pytest.mark.parametrize("case", UNDER, ids=limits.name_of)
def test_must_be_less(case):
    limits.must_be_less("plate-bumper", case)


@pytest.mark.parametrize("case", MOST, ids=limits.name_of)
def test_may_be_as_much(case):
    limits.may_be_as_much("plate-bumper", case)


@pytest.mark.parametrize("case", OVER, ids=limits.name_of)
def test_must_be_more(case):
    limits.must_be_more("plate-bumper", case)


@pytest.mark.parametrize(("name", "kind"), [("winch_slot", FAIRLEAD), ("slot_length", LEVEL)])
def test_a_slot_is_as_long_as_wide_or_more(name, kind):
    for value in (0, 13.5, 13.501):
        assert_can_be_cut(draw(**kind | {name: value}))
    problem = Problem(name, "13.499 mm", "must be 0, or at least the hole's 13.5 mm.")
    assert refusal(**kind | {name: 13.499}) == (problem,)


def test_a_pair_may_stand_inside_or_outside_another():
    # mounting slot, core 21.5 wide and ends of 6.75, 20 below the lamp of radius 45: 10.75 + sqrt(51.75² - 20²)
    needed = 2 * (10.75 + math.sqrt(51.75**2 - 20**2))
    for spacing in (1300 - needed - STEP, 1300 + needed + STEP):
        assert_can_be_cut(draw(horn_spacing=spacing))
    words = "must be less than 1183.041 mm or more than 1416.959 mm to clear the lamp openings."
    for spacing in (1300 - needed, 1300, 1300 + needed):
        assert refusal(horn_spacing=spacing) == (Problem("horn_spacing", said(spacing), words),)


def test_a_window_wider_than_the_face_is_named():
    narrow = FAIRLEAD | {"width": 300, "taper_rise": 0, "winch_bolts": 100, "winch_rows": 120}
    assert_can_be_cut(draw(**narrow, winch_width=299.999))
    problem = Problem("winch_width", "300 mm", "must be less than 300 mm to stay inside the ends at this height.")
    assert refusal(**narrow, winch_width=300) == (problem,)


def test_lamps_too_wide_for_the_face_are_named():
    narrow = RECTANGLE | {"width": 300, "taper_rise": 0, "clip": 0, "lamp_spacing": 149.9995}
    assert_can_be_cut(draw(**narrow, lamp_width=149.999))
    words = "can't be: the face is too narrow for the lamp openings at this height."
    assert refusal(**narrow, lamp_width=150) == (Problem("lamp_spacing", "150 mm", words),)


def test_the_default_raises_no_stop():
    part = draw()
    # it fits turned a quarter; the lamps' drop-outs may tip, which is routine
    assert [(f.rule, f.severity) for f in part.findings] == [("bed-fit", "note")]
    assert [f.rule for f in part.routine] == ["slat-tip"]
    assert (part.measures.width_mm, part.measures.height_mm) == (1800, 250)
    names = ["lamp opening"] * 2 + ["fairlead window"] + ["fairlead bolt hole"] * 4 + ["mounting slot"] * 4
    assert [o.name for o in part.profile.inside] == [*names, "number-plate hole", "number-plate hole"]
    assert all(o.parameter in TEMPLATE.letters for o in part.profile.inside)
    assert_measured(part)


@pytest.mark.parametrize("tow", ["none", "fairlead", "tow-hooks"])
@pytest.mark.parametrize("lamps", ["none", "round", "rectangle"])
@pytest.mark.parametrize("slots", ["none", "horizontal", "vertical"])
def test_each_choice_alone_raises_no_stop(tow, lamps, slots):
    part = draw(tow=tow, lamps=lamps, slots=slots)
    assert {f.severity for f in part.findings} == {"note"}
    assert_measured(part)


@pytest.mark.parametrize(("slots", "size"), [("horizontal", (35, 13.5)), ("vertical", (13.5, 35))])
def test_mounting_slots_stand_in_pairs_at_the_frame_horns(slots, size):
    boxes = [o.loop.box for o in draw(**BARE | {"slots": slots}).profile.inside]
    middles = [((x0 + x1) / 2 - 900, (y0 + y1) / 2) for x0, y0, x1, y1 in boxes]
    assert middles == [pytest.approx(at) for at in [(-425, 75), (425, 75), (-425, 175), (425, 175)]]
    assert all((x1 - x0, y1 - y0) == pytest.approx(size) for x0, y0, x1, y1 in boxes)


def test_it_cautions_about_vehicles():
    text = " ".join(draw().cautions)
    for words in ("Local vehicle rules", "sensors", "Lamps and the number plate", "rated design"):
        assert words in text
