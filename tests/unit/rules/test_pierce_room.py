"""Room to pierce just under, at and just over its limits; the largest circle against closed forms."""

import math
from dataclasses import replace

import pytest

from parts.cutting.process import PROCESSES, cut_for
from parts.finding import Finding
from parts.geometry.draft import circle, polygon, rectangle, slot
from parts.geometry.loop import Loop
from parts.geometry.motion import rotation
from parts.geometry.room import room_in
from parts.profile import Opening, Profile
from parts.rules import pierce_room
from tests.jobs import job

CUT = replace(
    cut_for("air-plasma", "mild-steel", 6.0), kerf_mm=2.0, smallest_hole_mm=9.0, pierce_diameter_mm=6.0, lead_in_mm=6.0
)
JOB = job(CUT)
ANY_HOLE = job(replace(CUT, smallest_hole_mm=0.0))  # so that `hole-to-thickness`, which speaks first, has no say
PLATE = rectangle((0, 0), 100, 60)


def check(*inside, outside=(PLATE,), job=JOB):
    return tuple(pierce_room.check(Profile(tuple(outside), tuple(Opening(loop, "window") for loop in inside)), job))


def warned(across):
    said, missing = JOB.say(across, 8), JOB.say(8 - across)
    return Finding(
        "pierce-room", "warn", pytest.approx((50, 30)), pytest.approx(across), 8.0,
        f"The window has room for a circle of {said}; a pierce by air plasma in 6 mm plate wants 8 mm, "
        "to keep its crater off the edge.", f"Pierce right in the middle of it, or make it {missing} wider.",
    )  # fmt: skip


def stopped(across):
    said, missing = JOB.say(across, 6), JOB.say(8 - across)
    return Finding(
        "pierce-room", "stop", pytest.approx((50, 30)), pytest.approx(across), 6.0,
        f"The window has room for a circle of {said}; a pierce by air plasma in 6 mm plate blows a crater of 6 mm.",
        f"Make it {missing} wider, or start it from a drilled hole.",
    )  # fmt: skip


WIDTHS = {
    "over the crater and a kerf": (8.01, None), "at them": (8.0, None), "at them but for rounding": (8 - 1e-10, None),
    "under them": (7.99, warned(7.99)), "at the crater": (6.0, warned(6.0)), "under the crater": (5.99, stopped(5.99)),
}  # fmt: skip


def regular(count, width):
    """As many sides, the circle that touches them of a width."""
    out = width / 2 / math.cos(math.pi / count)
    turns = [0.2 + k * 2 * math.pi / count for k in range(count)]
    return polygon([(50 + out * math.cos(turn), 30 + out * math.sin(turn)) for turn in turns])


SHAPES = {
    "slot": lambda w: slot((50, 30), 40, w),
    "leaning slot": lambda w: slot((50, 30), w + 1e-3, w, 0.5),
    "square": lambda w: rectangle((50 - w / 2, 30 - w / 2), w, w),
    "rounded": lambda w: rectangle((50 - w / 2, 30 - w / 2), w, w, 1.0),
    "six-sided": lambda w: regular(6, w),
    "three-sided": lambda w: regular(3, w),
}


@pytest.mark.parametrize(("width", "expected"), WIDTHS.values(), ids=WIDTHS.keys())
@pytest.mark.parametrize("shape", SHAPES.values(), ids=SHAPES.keys())
def test_an_opening(shape, width, expected):
    found = check(shape(width), job=ANY_HOLE)
    if expected is None or shape is not SHAPES["leaning slot"]:
        assert found == ((expected,) if expected else ())
    else:  # it may be pierced anywhere along it
        (one,) = found
        assert (one.severity, one.measured) == (expected.severity, pytest.approx(width, abs=1e-6))


@pytest.mark.parametrize(
    ("diameter", "crater", "severity"),
    [(9.0, 6.0, None), (9.0, 9.0, None), (9.0, 9.01, "stop"), (8.99, 9.01, None), (30, 6, None)],
    ids=["fits", "just fits", "too small for the crater", "hole-to-thickness has said it", "large"],
)
def test_a_round_hole(diameter, crater, severity):
    job = replace(JOB, cut=replace(CUT, pierce_diameter_mm=crater))
    assert [f.severity for f in check(circle((50, 30), diameter), job=job)] == ([severity] if severity else [])


@pytest.mark.parametrize("thickness", [1.5, 3.0, 6.0, 10.0, 20.0, 25.0])
@pytest.mark.parametrize("process", PROCESSES)
def test_the_smallest_hole_of_every_process_has_room(process, thickness):
    """So `hole-to-thickness` and this rule never say opposite things of a hole."""
    if process == "oxy-fuel" and thickness < 3:
        return
    cut = cut_for(process, "mild-steel", thickness)
    assert check(circle((50, 30), cut.smallest_hole_mm), job=replace(JOB, cut=cut)) == ()


@pytest.mark.parametrize(
    ("width", "limit", "severity"),
    [(1.99, 6, None), (2.0, 6, "stop"), (5.99, 6, "stop"), (6.0, 6, "warn"), (6.0, 7, None), (7.0, 7, "warn")],
    ids=["no jet fits in", "the jet does, no crater", "nearly a crater", "a crater", "slot-width warns", "it doesn't"],
)
def test_a_slot_is_named_with_slot_width_only_where_the_crater_is_wider(width, limit, severity):
    job = replace(ANY_HOLE, cut=replace(ANY_HOLE.cut, narrowest_slot_mm=limit))
    assert [f.severity for f in check(slot((50, 30), 40, width), job=job)] == ([severity] if severity else [])


@pytest.mark.parametrize(
    "opening", [rectangle((40, 20), 7, 7), regular(6, 8.99), slot((50, 30), 40, 5.9)], ids=["square", "hexagon", "slot"]
)
def test_an_opening_that_hole_to_thickness_stops_is_not_named_again(opening):
    assert check(opening) == ()


def test_a_wedge_that_no_jet_fits_in_is_no_slot():
    assert [f.severity for f in check(polygon([(50, 30), (53, 30), (50, 33)]), job=ANY_HOLE)] == ["stop"]


# ------------------------------------------------------------------------------------- the largest circle


def shield(width, radius):
    """A flat top, two upright sides and a round bottom."""
    return Loop.through([(-width / 2, 0, math.tan(math.asin(width / 2 / radius) / 2)), (width / 2, 0, 0),
                         (width / 2, 50, 0), (-width / 2, 50, 0)])  # fmt: skip


CIRCLES = {
    "right triangle: (a + b - c) / 2": (polygon([(0, 0), (3, 0), (0, 4)]), 1.0),
    "triangle: 2 area / perimeter": (polygon([(0, 0), (13, 0), (5, 12)]), 2 * 78 / (13 + 13 + math.hypot(8, 12))),
    "L: the corner's circle, r + r / sqrt 2 = width": (
        polygon([(0, 0), (20, 0), (20, 5), (5, 5), (5, 20), (0, 20)]), 5 * math.sqrt(2) / (1 + math.sqrt(2))),
    "half disc": (Loop.through([(-5, 0, 0), (5, 0, 1)]), 2.5),
    "quarter disc: R / (1 + sqrt 2)": (
        Loop.through([(0, 0, 0), (10, 0, math.tan(math.pi / 8)), (0, 10, 0)]), 10 / (1 + math.sqrt(2))),
    "lens: its half width": (Loop.through([(-5, 0, 0.4), (5, 0, 0.4)]), 2.0),
    "shield": (shield(10, 20), 5.0),
    "crescent: its half width": (
        Loop.through([(-5, 0, 0.8), (5, 0, -0.2)]), (4.0 - 1.0) / 2),
}  # fmt: skip


@pytest.mark.parametrize("angle", [0.0, 0.7, 2.5])
@pytest.mark.parametrize(("loop", "radius"), CIRCLES.values(), ids=CIRCLES.keys())
def test_the_largest_circle(loop, radius, angle):
    room = room_in(rotation(angle).loop(loop))
    assert room.radius == pytest.approx(radius, abs=1e-7)


def test_the_largest_circle_beside_an_island():
    room = room_in(circle((0, 0), 20), [rectangle((-1, -6), 2, 12)])
    assert room.radius == pytest.approx(4.5, abs=1e-7)  # from the island's side at 1 to the hole's at 10


def test_a_loop_that_crosses_itself_has_no_inside():
    assert room_in(Loop.through([(0, 0, 0), (10, 10, 0), (10, 0, 0), (0, 20, 0)])) is None
    assert check(Loop.through([(40, 10, 0), (50, 20, 0), (50, 10, 0), (40, 30, 0)])) == ()


# ------------------------------------------------------------------------------------- outside


def grid(gap):
    return [rectangle((i * (20 + gap), j * (20 + gap)), 20, 20) for j in range(3) for i in range(3)]


def test_one_piece_and_pieces_at_the_rim_have_room():
    assert check() == ()
    assert check(outside=[rectangle((0, 0), 20, 20), rectangle((20.5, 0), 20, 20)]) == ()


def test_a_piece_hemmed_in_by_others():
    (found,) = check(outside=grid(2))
    assert found == Finding(
        "pierce-room", "warn", (22, 22), None, 6.0,
        "There is no room to start beside the edge of piece 5: a pierce wants to be 6 mm from it, and its crater of "
        "6 mm clear of the others.", "Move the pieces further apart, or leave out what is around it.",
    )  # fmt: skip


@pytest.mark.parametrize(("room", "found"), [(8.99, 1), (9.0, 0), (9.01, 0)], ids=["under", "at", "over"])
def test_a_round_piece_in_a_round_opening(room, found):
    """The pierce stands 6 mm off the piece, its crater reaches 3 mm further, all round."""
    said = check(circle((0, 0), 40 + 2 * room), outside=[circle((0, 0), 200), circle((0, 0), 40)])
    assert [f.rule for f in said if "start beside" in f.message] == ["pierce-room"] * found


@pytest.mark.parametrize(("half", "found"), [(16.9, 0), (17.1, 1)], ids=["room", "none"])
def test_room_off_the_middle_of_a_side(half, found):
    """Beside a square of 40 in the middle of others only 17 to 20 mm from the middle of a side is free of craters."""
    at_sides = [rectangle((22, -half), 8, 2 * half), rectangle((-30, -half), 8, 2 * half),
                rectangle((-half, 22), 2 * half, 8), rectangle((-half, -30), 2 * half, 8)]  # fmt: skip
    at_corners = [rectangle((x, y), 8, 8) for x in (23, -31) for y in (23, -31)]
    said = check(outside=[rectangle((-20, -20), 40, 40), *at_sides, *at_corners])
    assert ["beside the edge of piece 1" in f.message for f in said].count(True) == found
