"""How much room the holes of gussets and bent angles have: each limit just inside and beyond, worked out by hand."""

import math
import re

import pytest

import parts
from parts.export import drawing_svg

HALF_M10 = 5.5
"""Half the clearance hole of an M10 bolt: ISO 273, medium series."""
HALF = math.sqrt(0.5)
JUST_MM = 0.01
ACUTE = {"corner": 60}
COS_30, TAN_30 = math.sqrt(3) / 2, 1 / math.sqrt(3)
TRAPEZOID = {"holes_base": 2, "holes_top": 2, "height": 140, "base": 180, "top": 110, "offset": 20}
SQUARE = {"section": "square", "tube": 50, "foot": 120, "lip": 15}
NARROW = {"base": 100, "top": 30, "offset": 35}
# the sides of TRAPEZOID lean in by 20 and 50 over 128 mm; the hole stands 22 mm up, 10 above the toe
STEEP = 50 / 128 * 10 + HALF_M10 * math.hypot(50 / 128, 1)
IN_TOP = max((run / 128) * (118 - 12) + HALF_M10 * math.hypot(run / 128, 1) - run for run in (20, 50))
SADDLE_LEAN = (65 - 30.65 * math.sin(math.radians(75)) - 12) / (90 - 30.65 * math.cos(math.radians(75)) - 15)

MOST = [
    # a triangle of 100 x 100 with toes of 12: the long edge is x + y = 112, the hole 20 up
    ("gusset-triangle", {"holes_a": 1}, "first_hole", 92 - HALF_M10 / HALF),
    ("gusset-triangle", {"holes_b": 2}, "pitch", 92 - HALF_M10 / HALF - 35),
    # the largest circle in it: 2 c + c sqrt 2 = 112
    ("gusset-triangle", {}, "lightening", 2 * 112 / (2 + math.sqrt(2))),
    # a snipe of 50: the circle's middle is (2 c - 50) / sqrt 2 from it
    ("gusset-triangle", {"snipe": 50}, "lightening", 2 * HALF * (2 * 112 / (2 + math.sqrt(2)) - 50)),
    # legs of 100 at 60 degrees: the long edge is square to the line that halves the corner, through (100, 12)
    ("gusset-triangle", {**ACUTE, "holes_a": 1}, "first_hole", 100 + (12 - 20) * TAN_30 - HALF_M10 / COS_30),
    ("gusset-triangle", {**ACUTE, "holes_b": 1}, "first_hole", 100 + (12 - 20) * TAN_30 - HALF_M10 / COS_30),
    ("gusset-triangle", {"corner": 60, "leg_a": 80}, "leg_b", 2 * (80 - 12 * COS_30)),
    ("gusset-triangle", {"corner": 60, "snipe": 0, "corner_radius": 0}, "toe", 100 * TAN_30),
    ("gusset-flange-brace", {"holes_a": 1}, "first_hole", 200 - 20 - HALF_M10 / HALF),
    # a quarter circle of 108 about (120, 120)
    ("gusset-concave", {"radius": 108, "holes_a": 1}, "first_hole", 120 - math.sqrt(113.5**2 - 100**2)),
    # its sides lean in by 35 over 88 above the toe of 12
    ("gusset-trapezoid", NARROW, "lightening", 2 * (50 - 35 / 88 * 38) / math.hypot(35 / 88, 1)),
    ("gusset-trapezoid", {"base": 300, "top": 220, "height": 60}, "lightening", 60),
    ("bracket-bent-angle", {"holes_a": 3}, "first", 40 - 11),
]
LEAST = [
    ("gusset-triangle", {"holes_a": 1, "snipe": 50, "back_mark": 10}, "first_hole", 50 - 10 + HALF_M10 / HALF),
    ("gusset-triangle", {"holes_a": 1, "holes_b": 1}, "first_hole", 20 + HALF_M10 / HALF),
    ("gusset-triangle", {"holes_a": 1}, "back_mark", HALF_M10),
    ("gusset-triangle", {"holes_a": 2}, "pitch", 11),
    ("gusset-triangle", {**ACUTE, "holes_a": 1, "holes_b": 1}, "first_hole", 2 * (HALF_M10 + 20 * COS_30)),
    ("gusset-triangle", {**ACUTE, "holes_a": 1, "snipe": 0}, "first_hole", (HALF_M10 + 10) / COS_30),
    ("gusset-trapezoid", {**TRAPEZOID, "holes_top": 0}, "first", STEEP),
    ("gusset-trapezoid", {**TRAPEZOID, "holes_base": 0}, "first", max(IN_TOP, 2)),
    ("gusset-saddle", {"holes": 2}, "first", SADDLE_LEAN * 7 + HALF_M10 * math.hypot(SADDLE_LEAN, 1)),
    ("gusset-saddle", {"holes": 1}, "back_mark", HALF_M10),
    # the sides rise 60 from toe to lip, and lean in from 60 to 25.5 + 15
    ("gusset-saddle", {**SQUARE, "holes": 2}, "first", 19.5 / 60 * 7 + HALF_M10 * math.hypot(19.5 / 60, 1)),
    ("bracket-bent-angle", {"holes_a": 2}, "first", HALF_M10),
]
NOT_SO_MANY = [
    ("gusset-triangle", {"holes_a": 7}, "holes_a", "must be at most 2 at this spacing on leg A."),
    ("gusset-concave", {"holes_b": 9, "pitch": 12}, "holes_b", "must be at most 3 at this spacing on leg B."),
    ("gusset-trapezoid", {"holes_base": 12}, "holes_base", "must be at most 11 on this edge."),
    ("gusset-saddle", {"holes": 9}, "holes", "must be at most 8 on this foot."),
    ("bracket-hinge-leaf", {"rows": 3, "gauge": 30}, "rows", "must be at most 2 on this leaf."),
]


def refused(slug, values):
    with pytest.raises(parts.Refused) as caught:
        parts.draw(slug, **values)
    return [(problem.parameter, problem.message) for problem in caught.value.problems]


@pytest.mark.parametrize(("slug", "values", "name", "limit"), MOST)
def test_at_most(slug, values, name, limit):
    assert parts.draw(slug, **values, **{name: limit - JUST_MM})
    ((parameter, message),) = refused(slug, {**values, name: limit + JUST_MM})
    assert (parameter, "must be less than" in message or "must be at most" in message) == (name, True)


@pytest.mark.parametrize(("slug", "values", "name", "limit"), LEAST)
def test_at_least(slug, values, name, limit):
    assert parts.draw(slug, **values, **{name: limit + JUST_MM})
    ((parameter, message),) = refused(slug, {**values, name: limit - JUST_MM})
    assert (parameter, "must be more than" in message) == (name, True)


@pytest.mark.parametrize(("slug", "values", "name", "says"), NOT_SO_MANY)
def test_so_many_fit(slug, values, name, says):
    assert refused(slug, values) == [(name, says)]
    fitting = int(says.split()[4])
    assert parts.draw(slug, **{**values, name: fitting})
    assert refused(slug, {**values, name: fitting + 1})


def test_a_lightening_hole_clears_the_bolt_holes():
    asked = {"leg_a": 200, "leg_b": 200, "holes_a": 2, "first_hole": 40}
    c = 212 / (2 + math.sqrt(2))
    limit = 2 * min(math.dist((c, c), (x, 20)) for x in (40, 75)) - 11
    assert parts.draw("gusset-triangle", **asked, lightening=limit - JUST_MM)
    ((parameter, message),) = refused("gusset-triangle", {**asked, "lightening": limit + JUST_MM})
    assert (parameter, "to clear the bolt holes" in message) == ("lightening", True)


def test_a_truss_plate_says_how_far_the_diagonals_must_be_set_back():
    ((parameter, message),) = refused("gusset-truss", {"setback": 12})
    assert parameter == "setback"
    assert "make it" in message
    assert parts.draw("gusset-truss", setback=message.split("make it ")[1].split(" or more")[0])


@pytest.mark.parametrize("slug", ["bracket-flat-t", "bracket-flat-cross"])
def test_the_like_holes_of_one_drawing_are_lettered_alike(slug):
    """9/16 in is 14.2875 mm, which rounds either way by the last digit of a float."""
    preset = parts.templates()[slug].presets[1]
    part = parts.draw(slug, **preset.values)
    said = re.findall(r"Ø([\d.]+)", drawing_svg.write(part.record))
    assert len(said) > 1
    assert set(said) == {"14.3"}
