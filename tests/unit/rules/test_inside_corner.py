"""Inside corners just under, at and just over half the kerf and the trade's radius, however they are drawn."""

import math
from dataclasses import replace

import pytest

from parts.cutting.process import cut_for
from parts.finding import Finding
from parts.geometry.draft import Corner, chamfer, circle, fillet, polygon, rectangle, relief, slot
from parts.geometry.loop import Loop
from parts.profile import Opening, Profile
from parts.rules import inside_corner
from tests.jobs import job

CUT = replace(cut_for("air-plasma", "mild-steel", 6.0), kerf_mm=2.0, inside_radius_mm=3.0)
JOB = job(CUT)
LASER = replace(JOB, cut=replace(CUT, title="Laser", kerf_mm=0.3, inside_radius_mm=0.15))
PLATE = rectangle((0, 0), 100, 60)
WINDOW = ((30, 15), (70, 15), (70, 45), (30, 45))


def check(*inside, outside=PLATE, job=JOB):
    return tuple(inside_corner.check(Profile((outside,), tuple(Opening(loop, "window") for loop in inside)), job))


def one_corner(corner: Corner):
    """A window with one corner as given, the others well rounded."""
    return polygon([corner, *(fillet(*at, 5) for at in WINDOW[1:])])


def found_at(severity, at, radius, limit, said, verb):
    return Finding(
        "inside-corner", severity, pytest.approx(at), pytest.approx(radius, abs=1e-9), limit,
        f"An inside corner of the window {said}; air plasma in 6 mm plate {verb} {JOB.say(limit)}.",
        "Round it to 3 mm or more; where a square edge has to seat, a relief hole 2 mm across or more clears it.",
    )  # fmt: skip


def back(radius):
    """The middle of the arc of a fillet at the lower left corner."""
    return 30 + radius * (1 - math.sqrt(0.5)), 15 + radius * (1 - math.sqrt(0.5))


RADII = {
    "sharp": (0, found_at("warn", (30, 15), 0, 1.0, "is sharp", "leaves")),
    "under half the kerf": (0.99, found_at("warn", back(0.99), 0.99, 1.0, "has a radius of 0.99 mm", "leaves")),
    "at half the kerf": (1.0, found_at("note", back(1), 1.0, 3.0, "has a radius of 1 mm", "wants")),
    "over half the kerf": (1.01, found_at("note", back(1.01), 1.01, 3.0, "has a radius of 1.01 mm", "wants")),
    "under the trade's radius": (2.99, found_at("note", back(2.99), 2.99, 3.0, "has a radius of 2.99 mm", "wants")),
    "at the trade's radius": (3.0, None),
    "at it but for rounding": (3.0 - 1e-10, None),
    "over the trade's radius": (3.01, None),
}


@pytest.mark.parametrize(("radius", "expected"), RADII.values(), ids=RADII.keys())
def test_a_rounded_corner(radius, expected):
    assert check(one_corner(fillet(30, 15, radius))) == ((expected,) if expected else ())


def test_a_window_with_sharp_corners_is_one_calm_finding():
    (found,) = check(rectangle((30, 15), 40, 30))
    assert found == Finding(
        "inside-corner", "warn", (30, 15), 0.0, 1.0,
        "4 inside corners of the window are sharp; air plasma in 6 mm plate leaves 1 mm.",
        "Round them to 3 mm or more; where a square edge has to seat, a relief hole 2 mm across or more clears it.",
        (), found.also,
    )  # fmt: skip
    assert {found.at, *found.also} == set(WINDOW)


def test_a_process_that_leaves_next_to_nothing_gives_a_note():
    (found,) = check(rectangle((30, 15), 40, 30), job=LASER)
    assert (found.severity, found.limit) == ("note", 0.15)


@pytest.mark.parametrize(("turn", "found"), [(3, 0), (59.9, 0), (60, 1), (60.1, 1), (120, 1)])
def test_a_gentle_kink_is_no_corner(turn, found):
    """An outline with one inside corner of a turn."""
    x, y = 50 + 40 * math.cos(math.radians(turn)), 30 + 40 * math.sin(math.radians(turn))
    outside = polygon([(0, 0), (120, 0), (120, 100), (x, y), (50, 30), (10, 30)] if turn < 90 else
                      [(0, 0), (120, 0), (120, 100), (x, y + 40), (x, y), (50, 30), (10, 30)])  # fmt: skip
    sharp = [f for f in check(outside=outside) if f.at == pytest.approx((50, 30))]
    assert len(sharp) == found


# ------------------------------------------------------------------------------------- drawn otherwise


def test_a_small_chamfer_is_the_corner_it_cuts_off():
    """Cut back by c, a fillet of the same depth has the radius r - (hypot(r, r - c) - r) / (sqrt 2 - 1)."""
    (found,) = check(one_corner(chamfer(30, 15, 0.3)))
    depth = math.hypot(1, 0.7) - 1
    assert found.severity == "warn"
    assert found.measured == pytest.approx(1 - depth / (math.sqrt(2) - 1))


def test_a_chamfer_as_large_as_the_radius_is_two_gentle_corners():
    assert check(one_corner(chamfer(30, 15, 8))) == ()


def arc_in_chords(radius, count):
    """The lower left corner of the window, rounded by so many chords; the corners lie on the arc."""
    turns = [math.pi + i * math.pi / 2 / count for i in range(count + 1)]
    points = [(30 + radius * (1 + math.cos(t)), 15 + radius * (1 + math.sin(t))) for t in turns]
    return polygon([*points, *(fillet(*at, 5) for at in WINDOW[1:])])


@pytest.mark.parametrize("count", [2, 3, 8, 40])
def test_a_chain_of_tiny_chords_is_the_corner_it_rounds(count):
    (found,) = check(arc_in_chords(0.5, count))
    assert found.severity == "warn"
    assert found.measured == pytest.approx(0.5, abs=0.15)


def test_a_large_corner_in_fine_chords_is_no_corner():
    assert check(arc_in_chords(5, 40)) == ()


@pytest.mark.parametrize("radius", [1.0, 1.2, 2.0, 4.0])
def test_a_relief_hole_that_the_jet_has_room_in_clears_the_corner(radius):
    assert check(polygon(relief(*at, radius) for at in WINDOW)) == ()


def test_a_relief_hole_smaller_than_the_jet_does_not():
    (found,) = check(polygon(relief(*at, 0.8) for at in WINDOW))
    assert found.severity == "warn"
    assert found.measured == pytest.approx(0.8)


def test_a_corner_between_an_arc_and_a_line():
    """A half round window: square where its straight edge meets the arc; one of the corners is worst."""
    (found,) = check(Loop.through([(30, 20, 0), (70, 20, 1)]))
    assert found.measured == 0
    assert {found.at, *found.also} == {(30, 20), (70, 20)}


def test_only_corners_into_the_metal_count():
    outside = polygon([(0, 0), (100, 0), (100, 20), (20, 20), (20, 60), (0, 60)])
    (found,) = check(outside=outside)
    assert (found.at, found.also) == ((20, 20), ())
    assert found.message.startswith("An inside corner of the edge is sharp;")


def test_where_the_radius_has_no_room_it_is_not_asked_for():
    """A slot 5 mm wide with round ends has no corners; one with a radius of 2 mm is as round as can be."""
    assert check(slot((50, 30), 40, 5), circle((20, 20), 4), rectangle((60, 40), 30, 5, 2)) == ()


def test_the_round_end_of_a_tapering_slot_is_no_corner():
    """From 8 mm wide down to 4 over 40 mm, as a vein is drawn: both ends half round but for the taper."""
    lean = math.asin(2 / 40)
    c, s = math.cos(lean), math.sin(lean)
    fore, aft = math.tan((math.pi - 2 * lean) / 4), math.tan((math.pi + 2 * lean) / 4)
    vein = Loop.through([(30 + 4 * s, 30 - 4 * c, 0), (70 + 2 * s, 30 - 2 * c, fore), (70 + 2 * s, 30 + 2 * c, 0),
                         (30 + 4 * s, 30 + 4 * c, aft)])  # fmt: skip
    assert check(vein) == ()


def test_a_tip_that_is_lost_is_left_to_lost_detail():
    (found,) = check(polygon([(20, 20), (60, 24), (20, 28)]))
    assert {found.at, *found.also} == {(20, 20), (20, 28)}


def test_loops_that_cross_are_no_reason_to_fall_over():
    bow = Loop.through([(0, 0, 0), (10, 10, 0), (10, 0, 0), (0, 20, 0)])
    for opening in (bow, rectangle((90, 20), 40, 20), Loop.through([(5, 5, 0.5), (9, 5, -0.5)])):
        assert isinstance(check(opening, rectangle((80, 20), 40, 20), outside=bow), tuple)
