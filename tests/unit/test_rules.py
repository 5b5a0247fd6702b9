"""Each rule just under, at and just over its limit, with the whole finding."""

import math
from dataclasses import replace

import pytest

import parts
from parts.cutting.process import cut_for
from parts.finding import Finding
from parts.geometry.draft import circle, polygon, rectangle, slot
from parts.geometry.loop import Loop
from parts.geometry.motion import rotation
from parts.profile import Opening, Profile, openings
from parts.rules import RULES, RULES_OF_SOUND_LOOPS, bridge_width, findings, hole_to_thickness, loops
from parts.spec import loop_faults
from tests.jobs import job

# The limits are set here, so that a change of the data changes no expectation.
CUT = replace(cut_for("air-plasma", "mild-steel", 6.0), smallest_hole_mm=9.0, narrowest_bridge_mm=5.0)
JOB = job(CUT)
PLATE = rectangle((0, 0), 100, 60)


def plate(*inside: Opening) -> Profile:
    return Profile((PLATE,), inside)


def hole(x: float, y: float, diameter: float, name: str = "hole") -> Opening:
    return Opening(circle((x, y), diameter), name, "holes")


# ------------------------------------------------------------------------------------- hole to thickness


def small(diameter: float, said: str, name: str = "The hole", at: tuple[float, float] = (50, 30)) -> Finding:
    return Finding(
        "hole-to-thickness", "stop", at, pytest.approx(diameter, abs=1e-12), 9.0,
        f"{name} is {said} in 6 mm plate; air plasma wants 9 mm.",
        "Drill it instead, or make it 9 mm or more.", (("small_holes", "drill"),),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("diameter", "expected"),
    [
        (8.99, (small(8.99, "8.99 mm"),)),
        (9.0 - 1e-7, (small(9.0 - 1e-7, "8.9999999 mm"),)),
        (9.0 - 1e-10, ()),
        (9.0, ()),
        (9.01, ()),
    ],
    ids=["under", "a hair under", "at but for rounding", "at", "over"],
)
def test_hole_to_thickness(diameter, expected):
    assert tuple(hole_to_thickness.check(plate(hole(50, 30, diameter)), JOB)) == expected


def regular(count: int, across: float) -> Loop:
    """As many sides, their flats as far apart (of an odd number twice as far from the middle), about (50, 30)."""
    r = across / 2 / math.cos(math.pi / count)
    turns = [0.2 + 2 * math.pi * k / count for k in range(count)]
    return polygon([(50 + r * math.cos(turn), 30 + r * math.sin(turn)) for turn in turns])


NOT_ROUND = {
    "square": lambda w: rectangle((50 - w / 2, 30 - w / 2), w, w),
    "rectangle": lambda w: rectangle((50 - w * 0.7, 30 - w / 2), 1.4 * w, w),
    "rounded": lambda w: rectangle((50 - w / 2, 30 - w / 2), w, w, w / 5),
    "hexagon": lambda w: regular(6, w),
    "triangle": lambda w: regular(3, w),
    "nut of twelve sides": lambda w: regular(12, w),
    "short slot": lambda w: slot((50, 30), 1.7 * w, w),
    "star": lambda w: polygon(
        [(50 + r * math.cos(math.pi * k / 5), 30 + r * math.sin(math.pi * k / 5))
         for k in range(10) for r in [_star_reach(w) * (1.6 if k % 2 else 1)]]),
}  # fmt: skip
"""Openings by their width, the largest circle in them, that are no slots."""


def _star_reach(width: float) -> float:
    """How far the valleys of a star are from its middle: the largest circle goes through them."""
    return width / 2


LONG = {
    "slot": lambda w: slot((50, 30), 4 * w, w),
    "short slot": lambda w: slot((50, 30), 1.8 * w, w),
    "tab slot": lambda w: rectangle((50 - w, 30 - w / 2), 1.5 * w, w),
    "half disc": lambda w: Loop.through([(50 - w, 30, 0), (50 + w, 30, 1)]),
    "leaning": lambda w: rotation(0.7).loop(rectangle((30, -w / 2), 5 * w, w)),
    "L": lambda w: polygon([(40, 20), (40 + 5 * w, 20), (40 + 5 * w, 20 + w), (40 + w, 20 + w), (40 + w, 20 + 5 * w),
                            (40, 20 + 5 * w)]),
}  # fmt: skip


def wide(severity_of: Loop) -> list:
    found = hole_to_thickness.check(plate(Opening(severity_of, "opening")), JOB)
    return [(f.severity, pytest.approx(f.measured, abs=1e-6), f.limit, f.changes) for f in found]


@pytest.mark.parametrize("shape", NOT_ROUND.values(), ids=NOT_ROUND.keys())
def test_an_opening_that_is_not_round_is_held_to_the_smallest_hole_by_its_width(shape):
    assert wide(shape(8.99)) == [("stop", 8.99, 9.0, ())]
    assert wide(shape(3.0)) == [("stop", 3.0, 9.0, ())]
    assert wide(shape(9.0)) == wide(shape(9.01)) == []


@pytest.mark.parametrize("shape", LONG.values(), ids=LONG.keys())
def test_a_slot_is_held_to_the_narrowest_slot(shape):
    within = 2 * math.sqrt(2) / (1 + math.sqrt(2)) if shape is LONG["L"] else 1  # the circle in the corner of an L
    assert wide(shape(5.99 / within)) == [("stop", 5.99, 6.0, ())]
    assert wide(shape(6.0001 / within)) == wide(shape(8 / within)) == []


def test_an_opening_with_a_piece_in_it_is_as_wide_as_the_ring_between():
    ring = Profile((PLATE, circle((50, 30), 30)), (Opening(circle((50, 30), 41), "window"),))
    (found,) = hole_to_thickness.check(ring, JOB)
    assert (found.measured, found.limit, found.changes) == (pytest.approx(5.5, abs=1e-6), 6.0, ())
    assert found.message == "The window is 5.5 mm wide in 6 mm plate; air plasma wants 6 mm."


def test_hole_to_thickness_names_each_hole():
    profile = plate(
        *openings([circle((20, 30), 8), circle((40, 30), 10), circle((60, 30), 8)], "hole in leg A", "holes_a"),
    )
    assert tuple(hole_to_thickness.check(profile, JOB)) == (
        small(8.0, "8 mm", "Hole 1 in leg A", (20, 30)),
        small(8.0, "8 mm", "Hole 3 in leg A", (60, 30)),
    )


def test_a_drilled_hole_is_no_finding_and_one_at_the_limit_is_cut():
    """What the rule passes isn't exchanged for a drill centre, rounding included."""
    profile = plate(hole(20, 30, 8.99), hole(50, 30, 9.0 - 1e-10), hole(80, 30, 9.0)).drilled_below(9.0)
    assert [opening.loop.circle.centre for opening in profile.inside] == [(50, 30), (80, 30)]
    assert [(mark.at, mark.diameter) for mark in profile.marks] == [((20, 30), pytest.approx(8.99))]
    assert not tuple(hole_to_thickness.check(profile, JOB))


# ------------------------------------------------------------------------------------- bridge width


def narrow(width: float, at: tuple[float, float], between: str, remedy: str) -> Finding:
    said = JOB.say(width, 5)
    return Finding(
        "bridge-width", "stop", at, pytest.approx(width), 5.0,
        f"Only {said} is left {between}; air plasma in 6 mm plate wants 5 mm.", remedy,
    )  # fmt: skip


def at(x: float, y: float) -> object:
    return pytest.approx((x, y))


@pytest.mark.parametrize(
    ("gap", "expected"),
    [
        (4.99, (narrow(4.99, at(50, 2.495), "between the hole and the edge",
                       "Move the hole further in by 0.01 mm, or make it smaller."),)),
        (5.0, ()),
        (5.01, ()),
    ],
    ids=["under", "at", "over"],
)  # fmt: skip
def test_bridge_between_a_hole_and_the_edge(gap, expected):
    assert tuple(bridge_width.check(plate(hole(50, 10 + gap, 20)), JOB)) == expected


@pytest.mark.parametrize(
    ("gap", "expected"),
    [
        (4.99, (narrow(4.99, at(50, 30), "between hole 2 and hole 1",
                       "Move them 0.01 mm further apart, or make one smaller."),)),
        (5.0, ()),
        (5.01, ()),
    ],
    ids=["under", "at", "over"],
)  # fmt: skip
def test_bridge_between_two_holes(gap, expected):
    centres = (50 - 5 - gap / 2, 30), (50 + 5 + gap / 2, 30)
    assert tuple(bridge_width.check(plate(*(hole(*c, 10) for c in centres)), JOB)) == expected


@pytest.mark.parametrize(
    ("width", "expected"),
    [
        (4.99, (narrow(4.99, at(50, 27.505), "across a neck of the edge", "Widen it by 0.01 mm."),)),
        (5.0, ()),
        (5.01, ()),
    ],
    ids=["under", "at", "over"],
)  # fmt: skip
def test_bridge_across_a_neck(width, expected):
    neck = [(0, 0), (45, 0), (50, 30 - width), (55, 0), (100, 0), (100, 60), (55, 60), (50, 30), (45, 60), (0, 60)]
    found = tuple(bridge_width.check(Profile((polygon(neck),)), JOB))
    assert found == expected


def test_bridges_of_a_piece_in_several_name_the_piece():
    two = Profile((rectangle((0, 0), 40, 4), rectangle((0, 20), 40, 30)))
    (found,) = bridge_width.check(two, JOB)
    assert found.message.startswith("Only 4 mm is left across a neck of the edge of piece 1;")


def test_inches_are_said_in_inches():
    (found,) = bridge_width.check(plate(hole(50, 10 + 3.175, 20)), replace(JOB, units="in"))
    assert found.message == (
        "Only 1/8 in is left between the hole and the edge; air plasma in 0.236 in plate wants 0.197 in."
    )


# ------------------------------------------------------------------------------------- loops


APART = "Move or shrink one of them until metal stays between them."
ONCE = "Draw it once around, with metal or a gap between any two places of it."


def fault(at: object, message: str, remedy: str = APART) -> Finding:
    return Finding("loops", "stop", at, None, None, message, remedy)


BOW = Loop.through([(0, 0, 0), (10, 10, 0), (10, 0, 0), (0, 20, 0)])
SPUR = [(0, 0), (40, 0), (40, 20), (70, 20), (40, 20), (40, 40), (0, 40)]
INNER = Opening(rectangle((40, 20), 20, 20), "window", "window")
FAULTS = {
    "sound": (plate(hole(50, 30, 20)), ()),
    "a hole apart from the edge by more than rounding": (plate(hole(50, 10 + 1e-6, 20)), ()),
    "a hole that touches the edge": (
        plate(hole(50, 10, 20)), (fault(pytest.approx((50, 0), abs=1e-3), "The hole touches the edge."),)),
    "a hole through the edge, told once": (
        plate(hole(50, 5, 20)), (fault(pytest.approx((50, 0), abs=10), "The hole runs over the edge.",
               "Move it in, or make it smaller, until metal stays all around it."),)),
    "holes that touch": (
        plate(hole(40, 30, 20), hole(60, 30, 20)),
        (fault(pytest.approx((50, 30), abs=1e-3), "Hole 2 touches hole 1."),)),
    "a hole outside": (plate(hole(150, 30, 10)), (
        fault((155, 30), "The hole lies outside the part.", "Move it onto the part, or leave it out."),)),
    "a hole in a window": (
        plate(INNER, hole(50, 30, 6)), (fault((53, 30), "The hole lies inside the window.",
                                                 "Leave one of them out: the inner one drops out with the other."),)),
    "an outline that crosses itself": (
        Profile((BOW,)), (fault(pytest.approx((20 / 3, 20 / 3)), "The edge crosses itself.", ONCE),)),
    "an outline that touches itself": (
        Profile((polygon([(0, 0), (40, 0), (20, 20), (40, 40), (0, 40), (20, 20)]),)),
        (fault(pytest.approx((20, 20)), "The edge touches itself.", ONCE),)),
    "an outline that runs back over itself": (
        Profile((Loop.through([(*p, 0) for p in SPUR]),)),
        (fault(pytest.approx((40, 20), abs=31), "The edge runs back over itself.", ONCE),)),
    "a piece in a piece": (
        Profile((PLATE, rectangle((40, 20), 10, 10))),
        (fault((40, 20), "The edge of piece 2 lies inside the edge of piece 1.",
               "Make it an opening, or move it off the other piece."),)),
}  # fmt: skip


@pytest.mark.parametrize(("profile", "expected"), FAULTS.values(), ids=FAULTS.keys())
def test_loops(profile, expected):
    assert tuple(loops.check(profile, JOB)) == expected


def test_a_fault_names_the_parameter_that_set_the_opening():
    assert [f.parameter for f in loop_faults(plate(hole(50, 5, 20)))] == ["holes"]
    assert [f.parameter for f in loop_faults(Profile((BOW,)))] == [""]


# ------------------------------------------------------------------------------------- all together


def test_findings_come_stop_first_then_in_order_of_the_rules():
    profile = Profile((rectangle((0, 0), 1500, 60),), (hole(500, 30, 8), hole(800, 12, 20)))
    found = findings(profile, JOB)
    assert [(f.rule, f.severity) for f in found] == [
        ("hole-to-thickness", "stop"), ("bridge-width", "stop"), ("bed-fit", "note")
    ]  # fmt: skip
    assert found[1].measured == 2.0
    assert found[1].at == pytest.approx((800, 1))


def test_rules_of_sound_loops_leave_only_the_loops_out():
    assert set(RULES) - set(RULES_OF_SOUND_LOOPS) == {loops}
    assert {"loops", "hole-to-thickness", "bridge-width", "bed-fit"} <= {rule.RULE for rule in RULES}


# ------------------------------------------------------------------------------------- bridges of a real part
# A gusset of 100 by 100 in 6 mm plate, cut by air plasma: narrowest bridge 6 mm (common practice: one
# thickness). Bolt holes of 11 mm (M10, ISO 273 medium) stand 20 mm from the leg unless moved.


def bridges(**values: object) -> list[float]:
    part = parts.draw("gusset-triangle", **values)
    return [f.measured for f in part.findings if f.rule == "bridge-width"]


GUSSETS = {
    "as it comes": ({"holes_a": 2}, []),
    "hole to the leg, under": ({"holes_a": 1, "back_mark": 11.49}, [5.99]),
    "hole to the leg, at": ({"holes_a": 1, "back_mark": 11.5}, []),
    "hole to the leg, over": ({"holes_a": 1, "back_mark": 11.51}, []),
    "hole to hole, under": ({"holes_a": 2, "pitch": 16.99}, [5.99]),
    "hole to hole, at": ({"holes_a": 2, "pitch": 17}, []),
    "three holes, both gaps": ({"holes_a": 3, "pitch": 16}, [5, 5]),
    # the first holes of both legs are (first_hole - back_mark) * sqrt 2 apart, less 11
    "round the root": ({"holes_a": 1, "holes_b": 1, "first_hole": 35}, []),
    "round the root, near": (
        {"holes_a": 1, "holes_b": 1, "first_hole": 31, "back_mark": 20}, [11 * math.sqrt(2) - 11]),
    # the snipe is the line x + y = 15: the hole at (20, 13) is 18 / sqrt 2 off it, less 5.5
    "hole to the snipe": (
        {"holes_a": 1, "first_hole": 11.8, "back_mark": 11.8}, [(23.6 - 15) / math.sqrt(2) - 5.5]),
    # the long edge is the line x + y = 112 (toe 12): the lightening hole is centred where a circle has
    # most room, at (c, c) with c = 112 / (2 + sqrt 2); of 54 it leaves c - 27 on all three sides
    "lightening hole": (
        {"lightening": 54}, [112 / (2 + math.sqrt(2)) - 27] * 3),
}  # fmt: skip


@pytest.mark.parametrize(("values", "expected"), GUSSETS.values(), ids=GUSSETS.keys())
def test_bridges_of_a_gusset(values, expected):
    assert bridges(**values) == pytest.approx(sorted(expected), abs=1e-8)
