"""Lost detail just under, at and just over its limit, against the closed form of a tip between straight flanks."""

import math
from dataclasses import replace

import pytest

from parts.cutting.process import cut_for
from parts.finding import Finding
from parts.geometry.draft import fillet, polygon, rectangle, slot
from parts.geometry.loop import Loop
from parts.profile import Opening, Profile
from parts.rules import inside_corner, lost_detail, slot_width
from tests.jobs import job

CUT = replace(cut_for("air-plasma", "mild-steel", 6.0), kerf_mm=2.0, narrowest_slot_mm=4.0, smallest_hole_mm=0.0)
JOB = job(CUT)
PLATE = rectangle((-20, -60), 160, 120)
LIMIT = math.sqrt(2)  # (sqrt 2 - 1) / 2 + 1/2 kerfs of 2 mm
AT_LIMIT = 2 * math.asin(1 / (1 + LIMIT))  # r (1 / sin(a/2) - 1) = LIMIT for r = 1


def check(*inside, outside=PLATE, rule=lost_detail):
    return tuple(rule.check(Profile((outside,), tuple(Opening(loop, "window") for loop in inside)), JOB))


def pennant(angle, tip=lambda x, y: (x, y)):
    """A window with one tip of an angle, pointing left at the origin; its other corners are rounded."""
    half = 80 * math.tan(angle / 2)
    return polygon([tip(0, 0), fillet(80, -half, 2), fillet(80, half, 2)])


def test_the_limit_is_an_angle_of_49_degrees():
    assert math.degrees(AT_LIMIT) == pytest.approx(48.94, abs=0.01)


ANGLES = {"sharper": (AT_LIMIT - 1e-3, True), "at": (AT_LIMIT, False), "at but for rounding": (AT_LIMIT - 1e-12, False),
          "blunter": (AT_LIMIT + 1e-3, False), "a needle": (math.radians(8), True)}  # fmt: skip


@pytest.mark.parametrize(("angle", "lost"), ANGLES.values(), ids=ANGLES.keys())
def test_a_tip(angle, lost):
    depth = 1 / math.sin(angle / 2) - 1
    expected = Finding(
        "lost-detail", "warn", (0, 0), pytest.approx(depth, abs=1e-9), pytest.approx(LIMIT),
        f"The cut ends {JOB.say(depth)} short of a tip of the window: the jet of air plasma is 2 mm wide there.",
        "End it blunt, 2 mm wide or more, or with a radius of 1 mm.",
    )  # fmt: skip
    assert check(pennant(angle)) == ((expected,) if lost else ())


def test_a_rounded_tip_loses_less():
    """A fillet of q leaves (r - q) (1 / sin(a/2) - 1): at 20 degrees 4.76 mm for each mm of r - q."""
    angle = math.radians(20)
    for radius in (0.0, 0.3, 0.7, 0.71, 1.0):
        due = (1 - radius) * (1 / math.sin(angle / 2) - 1)
        found = check(pennant(angle, lambda x, y, r=radius: fillet(x, y, r)))
        assert [f.measured for f in found] == ([pytest.approx(due)] if due > LIMIT else [])


def test_a_tip_cut_off_blunt_narrower_than_the_jet_is_measured_at_its_end():
    """Cut off at x = 3, where it is w wide: its corners are hypot(c - 3, w / 2) from the disc at c = r / sin(a/2)."""
    angle = math.radians(20)
    half = 3 * math.tan(angle / 2)
    window = polygon([(3, half), (3, -half), fillet(80, -80 * math.tan(angle / 2), 2),
                      fillet(80, 80 * math.tan(angle / 2), 2)])  # fmt: skip
    (found,) = check(window)
    assert found.measured == pytest.approx(math.hypot(1 / math.sin(angle / 2) - 3, half) - 1)


def test_the_angles_of_square_corners_and_triangles_are_no_matter():
    assert check(rectangle((0, 0), 40, 30), polygon([(60, 0), (100, 0), (80, 40 * math.sqrt(0.75))])) == ()


def test_a_star_is_one_finding():
    points = [(50 + r * math.cos(k * math.pi / 5), r * math.sin(k * math.pi / 5)) for k in range(10)
              for r in [20 if k % 2 else 7]]  # fmt: skip
    (found,) = check(polygon(points))
    assert len(found.also) == 4
    assert found.message.startswith("The cut ends up to ")
    assert "short of 5 tips of the window" in found.message


def test_a_notch_narrower_than_the_kerf_at_its_mouth():
    """The disc rests on the lips, 1.5 mm apart, so 1 - sqrt(1 - 0.75²) below the edge."""
    notched = polygon([(0, 0), (60, 0), (60, 40), (30.75, 40), (30, 36), (29.25, 40), (0, 40)])
    (found,) = check(outside=notched)
    assert found.at == (30, 36)
    assert found.measured == pytest.approx(4 + math.sqrt(1 - 0.75**2) - 1)


def scalloped(*radii):
    """A plate with a half-round notch of each radius in its upper edge, 20 mm apart."""
    points = [(0, 0, 0), (20 * (len(radii) + 1), 0, 0), (20 * (len(radii) + 1), 40, 0)]
    for n, r in reversed(list(enumerate(radii, start=1))):
        points += [(20 * n + r, 40, -1), (20 * n - r, 40, 0)]
    return Loop.through([*points, (0, 40, 0)])


def test_a_half_round_notch_narrower_than_the_kerf():
    """The disc of 1 mm rests on the lips of R = 0.7, its foot 1 - sqrt(1 - 0.7²) below the edge."""
    assert check(outside=scalloped(0.7)) == (
        Finding(
            "lost-detail", "warn", (pytest.approx(20), pytest.approx(39.3)), pytest.approx(1.4), 2.0,
            "The jet of air plasma, 2 mm wide, doesn't get into a notch in the edge, 1.4 mm wide: "
            "the cut goes past it.",
            "Make it 2 mm wide or more, or leave it out.",
        ),
    )  # fmt: skip


def test_several_notches_are_one_finding_with_the_narrowest_first():
    (found,) = check(outside=scalloped(0.9, 0.5, 3.0, 0.7))
    assert found.measured == pytest.approx(1.0)
    assert found.at == (pytest.approx(40), pytest.approx(39.5))
    assert len(found.also) == 2
    assert "doesn't get into 3 notches in the edge, 1 mm or more wide" in found.message


@pytest.mark.parametrize("radius", [1.0, 1.001, 5.0])
def test_a_notch_as_wide_as_the_kerf_is_cut(radius):
    assert check(outside=scalloped(radius)) == ()


def test_a_notch_that_loses_next_to_nothing_isnt_told():
    """A jet of radius 1 mm leaves R - 1 + sqrt(1 - R²) of a half-round of R: 0.2 mm, a tenth of the kerf."""
    # R - 1 + sqrt(1 - R²) = 0.2, so 2 R² - 2.4 R + 0.44 = 0
    just = (2.4 - math.sqrt(2.4**2 - 4 * 2 * 0.44)) / 4
    assert check(outside=scalloped(just - 1e-3)) == ()
    assert len(check(outside=scalloped(just + 1e-3))) == 1


def test_a_tip_between_two_arcs():
    """Two arcs of R = 40 meet at an angle: the disc's centre is R - r from both their centres."""
    sagitta = math.tan(math.radians(40) / 4)  # each turns 40 degrees, so they meet at 40
    window = Loop.through([(0, 0, sagitta), (80, 0, sagitta)])
    radius = 80 * (1 + sagitta**2) / (4 * sagitta)
    off = math.sqrt(radius**2 - 40**2)
    centre = 40 - math.sqrt((radius - 1) ** 2 - off**2)
    (found,) = check(window)
    assert found.measured == pytest.approx(centre - 1)
    assert {found.at, *found.also} == {(0, 0), (80, 0)}


# ------------------------------------------------------------------------------------- told once


SHUT = {
    "slot": slot((40, 0), 40, 1.5),
    "slot with square ends": rectangle((20, 0), 40, 1.5),
    "keyhole with a slit": polygon(
        [(0, -10), (20, -10), (20, -0.7), (50, -0.7), (50, 0.7), (20, 0.7), (20, 10), (0, 10)]
    ),
}


@pytest.mark.parametrize("opening", SHUT.values(), ids=SHUT.keys())
def test_a_slot_narrower_than_the_kerf_is_left_to_slot_width(opening):
    assert check(opening) == ()
    (found,) = check(opening, rule=slot_width)
    assert found.severity == "stop"


@pytest.mark.parametrize("angle", [10, 30, 48, 50, 70, 90])
def test_a_tip_is_either_lost_or_a_sharp_corner(angle):
    opening = pennant(math.radians(angle))
    both = [f for rule in (lost_detail, inside_corner) for f in check(opening, rule=rule)]
    assert [f.rule for f in both if f.at == (0, 0) or (0, 0) in f.also] == [
        "lost-detail" if angle < 49 else "inside-corner"
    ]


def test_loops_that_cross_are_no_reason_to_fall_over():
    bow = Loop.through([(0, 0, 0), (10, 10, 0), (10, 0, 0), (0, 20, 0)])
    assert isinstance(check(bow, pennant(0.2), pennant(0.3), outside=bow), tuple)
