"""The tow tab against sums made by hand."""

import math

import pytest
from hypothesis import given

import parts
from parts.profile import Drill
from parts.templates.bumper.tow_tab import TEMPLATE
from tests.depth import tried
from tests.strategies import parts_of

many = tried(200)


def eye(v):
    """Area and edge before the neck, as seen from the pin: a triangle on the neck, one on each flank, a sector."""
    before, half, r = v["reach"] - v["block"] - v["neck"], v["height"] / 2, v["eye_radius"]
    flank = math.sqrt(before**2 + half**2 - r**2)
    half_sector = math.pi - math.atan2(half, before) - math.atan2(flank, r)
    return before * half + r * flank + r**2 * half_sector, 2 * (flank + r * half_sector)


def by_hand(v):
    """Area and edge: the base with its rounded corners and two half circles out of it, the neck, the eye."""
    out, r = v["shoulder"], v["corner_radius"]
    cut = (v["relief"] or 0.3 * v["thickness"]) if out else 0.0
    corners = 4 if out else 2
    high = v["height"] + 2 * out
    area, edge = eye(v)
    area += high * v["block"] + v["height"] * v["neck"] - corners * (1 - math.pi / 4) * r**2 - math.pi * cut**2
    edge += high + 2 * (v["block"] + v["neck"] + out) - corners * (2 - math.pi / 2) * r + 2 * (math.pi - 2) * cut
    return area, edge


@many
@given(parts_of(TEMPLATE))
def test_area_edge_and_box_are_those_by_hand(part):
    v = part.record.parameters
    area, edge = by_hand(v)
    assert part.measures.area_mm2 == pytest.approx(area, rel=1e-9)
    assert part.measures.cut_length_mm == pytest.approx(edge, rel=1e-9)
    assert part.measures.width_mm == pytest.approx(v["reach"] + v["eye_radius"], rel=1e-12)
    high = max(v["height"] + 2 * v["shoulder"], 2 * v["eye_radius"])
    assert part.measures.height_mm <= high + 1e-9


@many
@given(parts_of(TEMPLATE))
def test_flanks_touch_the_eye_and_the_pin_is_drilled_at_its_centre(part):
    v = part.record.parameters
    (pin,) = [mark for mark in part.profile.marks if isinstance(mark, Drill)]
    assert pin.diameter == v["pin"]
    assert pin.at[0] == pytest.approx(v["reach"])
    (outside,) = part.profile.outside
    turns = [(abs(t), s) for t, s in zip(outside.corners, outside.unsplit, strict=True)]
    at_eye = [t for t, s in turns if math.dist(s.start, pin.at) == pytest.approx(v["eye_radius"], abs=1e-6)]
    assert sorted(at_eye)[:2] == pytest.approx([0, 0], abs=1e-6)
    assert outside.contains(pin.at)


@pytest.mark.parametrize(
    ("values", "name"),
    [
        ({"reach": 84}, "reach"),
        ({"pin": 70}, "pin"),
        ({"shoulder": 12}, "shoulder"),
        ({"block": 6, "corner_radius": 1}, "block"),
        ({"corner_radius": 14}, "corner_radius"),
        ({"shoulder": 0, "corner_radius": 45}, "corner_radius"),
    ],
)
def test_what_does_not_go_together_is_named(values, name):
    with pytest.raises(parts.Refused) as caught:
        parts.draw("bumper-tow-tab", **values)
    assert name in [problem.parameter for problem in caught.value.problems]


def test_it_cautions_about_recovery():
    text = " ".join(parts.draw("bumper-tow-tab").cautions)
    for words in ("can kill", "qualified engineer", "no rating", "Drill"):
        assert words in text
