"""What the jet leaves, against closed forms of plane geometry."""

import math
from dataclasses import replace

import pytest

import parts
from parts.cutting.as_cut import as_cut
from parts.cutting.process import cut_for
from parts.geometry.disk.closing import closed_by
from parts.geometry.disk.offset import piece
from parts.geometry.draft import circle, fillet, polygon, rectangle, slot
from parts.geometry.loop import Loop
from parts.geometry.motion import mirror, rotation, translation
from parts.geometry.segment import distance
from parts.profile import Opening, Profile
from parts.tolerance import JET_SLACK_MM
from tests import library
from tests.depth import some_of

R = 2.0
CUT = replace(cut_for("air-plasma", "mild-steel", 6.0), kerf_mm=2 * R)
PLATE = rectangle((0, 0), 200, 100)
CLOSE = 1e-4
"""What JET_SLACK_MM may make of an area here: the slack times the length of a few fillets."""


def in_plate(*loops: Loop) -> Profile:
    return Profile((PLATE,), tuple(Opening(loop) for loop in loops))


def lost(profile: Profile, kerf: float = 2 * R) -> float:
    return as_cut(profile, replace(CUT, kerf_mm=kerf)).lost_area_mm2


def corner_loss(angle: float, r: float = R) -> float:
    """Between two lines at `angle` and the circle of radius r in their corner: a kite less a sector."""
    return r * r * (1 / math.tan(angle / 2) - (math.pi - angle) / 2)


@pytest.mark.parametrize("r", [0.05, 1.0, 2.0, 9.9])
def test_a_square_corner_loses_a_quarter_of_what_a_square_has_over_a_circle(r):
    left = as_cut(in_plate(rectangle((50, 30), 60, 20)), replace(CUT, kerf_mm=2 * r))
    assert left.lost_area_mm2 == pytest.approx(4 * (1 - math.pi / 4) * r * r, abs=CLOSE)
    assert left.smallest_inside_radius_mm == r
    assert left.kerf_mm == 2 * r


def test_outside_corners_stay_sharp_and_nothing_is_lost_of_a_plate():
    left = as_cut(in_plate(), CUT)
    assert left.loops == (PLATE,)
    assert left.lost_area_mm2 == 0.0
    assert left.smallest_inside_radius_mm is None


@pytest.mark.parametrize("degrees", [10, 45, 90, 150, 179])
def test_a_notch_keeps_the_radius_at_its_root(degrees):
    """From the root to the circle between the flanks: r (1 / sin(a/2) - 1)."""
    angle = math.radians(degrees)
    depth = 40.0
    half = depth * math.tan(angle / 2) if degrees < 100 else 40.0
    root = (100.0, 100 - half / math.tan(angle / 2))
    outline = polygon([(0, -60), (200, -60), (200, 100), (100 + half, 100), root, (100 - half, 100), (0, 100)])
    left = as_cut(Profile((outline,)), CUT)
    nearest = min(distance(root, segment.nearest(root)) for segment in left.loops[0].segments)
    assert nearest == pytest.approx(R * (1 / math.sin(angle / 2) - 1), abs=CLOSE)
    assert left.lost_area_mm2 == pytest.approx(corner_loss(angle), abs=CLOSE)


@pytest.mark.parametrize(
    ("radius", "loss"),
    [(1.0, corner_loss(math.pi / 2) - corner_loss(math.pi / 2, 1.0)), (R - 1e-3, 0.0), (R, 0.0), (5.0, 0.0)],
    ids=["tighter", "just tighter", "at", "wider"],
)
def test_a_rounded_corner_loses_what_is_tighter_than_the_jet(radius, loss):
    outline = polygon([(0, 0), (80, 0), (80, 30), fillet(30, 30, radius), (30, 90), (0, 90)])
    assert lost(Profile((outline,))) == pytest.approx(loss, abs=2e-3)


@pytest.mark.parametrize(
    ("opening", "kept"),
    [
        (circle((50, 50), 2 * R), True),
        (circle((50, 50), 2 * R - 1e-3), False),
        (circle((50, 50), 30), True),
        (slot((50, 50), 40, 2 * R), True),
        (slot((50, 50), 40, 2 * R, 0.7), True),
        (slot((50, 50), 40, 2 * R - 1e-3), False),
        (rectangle((50, 50), 40, 2 * R - 1e-3), False),
        (polygon([(50, 50), (58, 50), (54, 54)]), False),
    ],
    ids=["hole at", "hole under", "hole", "slot at", "turned slot at", "slot under", "window under", "triangle"],
)
def test_what_the_jet_just_fits_into_is_cut_and_what_it_does_not_is_lost(opening, kept):
    profile = in_plate(opening)
    left = as_cut(profile, CUT)
    assert len(left.loops) == (2 if kept else 1)
    assert left.lost_area_mm2 == pytest.approx(0.0 if kept else opening.area, abs=CLOSE)


def test_an_untouched_circle_is_the_very_same_circle():
    profile = in_plate(circle((50, 50), 30))
    (_, left), (_, drawn) = as_cut(profile, CUT).loops, profile.boundary
    assert left.circle == drawn.circle


@pytest.mark.parametrize("width", [0.5, 2.0, 3.9])
def test_the_jet_dips_into_the_mouth_of_a_slot_it_does_not_enter(width):
    """It rests on both lips: what it takes is the cap of its circle over the slot's width."""
    depth, half = 30.0, width / 2
    outline = polygon([(0, 0), (80, 0), (80, 60), (40 + half, 60), (40 + half, 30), (40 - half, 30), (40 - half, 60),
                       (0, 60)])  # fmt: skip
    cap = R * R * math.asin(half / R) - half * math.sqrt(R * R - half * half)
    assert lost(Profile((outline,))) == pytest.approx(width * depth - cap, abs=CLOSE)


@pytest.mark.parametrize("gap", [1.2, 2.0, 3.9, 4.1, 9.0])
def test_points_facing_each_other_closer_than_the_jet_is_wide_are_left_points(gap):
    """It reaches in from both sides and meets itself: only the window's own corners are lost."""
    height = 20 - gap / 2
    tooth = [(35.0, 0.0), (40.0, height), (45.0, 0.0)]
    lower = [(0.0, 0.0), *tooth, (80.0, 0.0)]
    upper = [(80 - x, 40 - y) for x, y in lower]
    window = polygon([(x + 60, y + 30) for x, y in (*lower, *upper)])
    base = math.pi - math.atan2(height, 5)
    expected = 4 * corner_loss(math.pi / 2) + 4 * corner_loss(base)
    assert lost(in_plate(window)) == pytest.approx(expected, abs=CLOSE)


@pytest.mark.parametrize("gap", [0.5, 2.0, 3.0, 3.99])
def test_between_round_bumps_the_jet_comes_from_both_sides(gap):
    """Between each bump and the two discs that rest on both a sliver stays; found by summing thin slices."""
    bump = 10.0
    half = bump + gap / 2
    loop = Loop.through([
        (60, 50 - half, 0.0), (90, 50 - half, -1.0), (110, 50 - half, 0.0), (140, 50 - half, 0.0),
        (140, 50 + half, 0.0), (110, 50 + half, -1.0), (90, 50 + half, 0.0), (60, 50 + half, 0.0),
    ])  # fmt: skip
    expected = 4 * corner_loss(math.pi / 2) + 4 * foot_loss(bump) + slivers(bump, gap)
    assert lost(in_plate(loop)) == pytest.approx(expected, abs=2e-3)


def foot_loss(bump: float) -> float:
    """Between a line, a half circle standing on it and the jet beside both: a triangle less two sectors."""
    reach = math.sqrt((bump + R) ** 2 - R**2)
    angle = math.atan2(R, reach)
    return reach * R / 2 - angle * bump**2 / 2 - (math.pi / 2 - angle) * R**2 / 2


def slivers(bump: float, gap: float, slices: int = 200_000) -> float:
    """Area between both bumps and both discs near the middle."""
    half = bump + gap / 2
    centre = math.sqrt((bump + R) ** 2 - half**2)
    foot = centre * bump / (bump + R)
    step, total = foot / slices, 0.0
    for i in range(slices):
        x = (i + 0.5) * step
        wall = half - math.sqrt(bump**2 - x**2)
        disc = math.sqrt(max(R**2 - (centre - x) ** 2, 0.0))
        total += (wall - disc) * step
    return 4 * total


def test_pieces_nearer_to_each_other_than_the_kerf_grow_together():
    """The jet can't go between them; it dips in at both ends of the gap."""
    two = Profile((rectangle((0, 0), 30, 30), rectangle((33, 0), 30, 30)))
    left = as_cut(two, CUT)
    cap = R * R * math.asin(1.5 / R) - 1.5 * math.sqrt(R * R - 1.5**2)
    assert len(left.loops) == 1
    assert left.lost_area_mm2 == pytest.approx(3 * 30 - 2 * cap, abs=CLOSE)


def test_loops_that_meet_have_no_answer_or_one_but_nothing_breaks():
    crossing = in_plate(rectangle((190, 40), 30, 20), rectangle((150, 30), 45, 20))
    left = as_cut(crossing, CUT)
    assert left is None or left.lost_area_mm2 >= 0


SHAPE = Profile(
    (polygon([(0, 0), (90, 0), (90, 40), fillet(50, 40, 1), (48, 90), (46, 45), (20, 60), (0, 90)]),),
    (Opening(rectangle((10, 10), 20, 3.5)), Opening(rectangle((40, 8), 20, 20)), Opening(circle((75, 20), 9))),
)


@pytest.mark.parametrize("motion", [rotation(1.234, (3, 4)), mirror((1, 2), 0.3)], ids=["turned", "mirrored"])
def test_turning_and_mirroring_change_nothing(motion):
    assert lost(SHAPE.moved(motion)) == pytest.approx(lost(SHAPE), abs=1e-6)


def test_splitting_segments_changes_nothing():
    halves = [tuple(p for s in loop.segments for p in (piece(s, 0.0, 0.37), piece(s, 0.37, 1.0)))
              for loop in SHAPE.boundary]  # fmt: skip
    outside, *inside = (Loop(segments) for segments in halves)
    assert lost(Profile((outside,), tuple(map(Opening, inside)))) == pytest.approx(lost(SHAPE), abs=1e-6)


@pytest.mark.parametrize("slug", some_of(32, library.SLUGS, 1))
def test_every_template_has_an_answer(slug):
    profile = library.part(slug).profile
    for kerf in (0.2, 1.5, 6.0):
        left = as_cut(profile, replace(CUT, kerf_mm=kerf))
        again = closed_by(left.loops, kerf / 2)
        area = sum(loop.signed_area for loop in left.loops)
        assert sum(loop.signed_area for loop in again) == pytest.approx(area), kerf


def test_the_slack_is_far_below_what_anyone_measures():
    assert JET_SLACK_MM <= 1e-5


def test_a_file_to_cut_carries_the_part_as_drawn():
    """The machine's own program allows for the kerf: a file as cut would allow for it twice."""
    part = parts.draw("bracket-flat-l", inside_radius="0")
    assert part.record.as_cut.lost_area_mm2 > 0
    assert "as-cut" not in part.to_dxf() + part.to_svg() + part.to_json()


def test_a_cusp_of_metal_stays_and_a_cusp_of_void_is_filled():
    """A half circle of radius b comes back tangent to a line: the disk between both touches the line 2 sqrt(b r) off.

    (Two circles of radii b and r that touch each other and a line touch it 2 sqrt(b r) apart.)
    """
    b = 10.0
    outline = Loop.through(
        [(-40, 0, 0.0), (0, 0, -1.0), (0, 2 * b, 0.0), (40, 2 * b, 0.0), (40, 60, 0.0), (-40, 60, 0.0)]
    )
    spike = Profile((outline,))
    assert lost(spike) == pytest.approx(0.0, abs=CLOSE)
    moved = translation(100, 20).loop(outline)
    apart = 2 * math.sqrt(b * R)
    trapezium, steep = (b + R) / 2 * apart, math.atan2(apart, b - R)
    filled = trapezium - steep * b * b / 2 - (math.pi - steep) * R * R / 2
    assert lost(in_plate(moved)) == pytest.approx(filled + 4 * corner_loss(math.pi / 2), abs=CLOSE)
