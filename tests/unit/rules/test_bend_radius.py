"""Bend radius just under, at and just over the least of the metal, by published rows, and as a template draws it."""

import math

import pytest
from hypothesis import given

import parts
from parts.cutting.process import cut_for
from parts.finding import Finding
from parts.forming.brake import brake_at
from parts.geometry import Line, rectangle
from parts.profile import Bend, Profile
from parts.rules import bend_radius
from parts.shop.numbers import BUILT_IN_EDITION
from tests.depth import tried
from tests.jobs import job
from tests.property.same_drawing import assert_same, drawings

PLATE = rectangle((0, 0), 200, 100)
LOW, HIGH = Line((0, 30), (200, 30)), Line((0, 70), (200, 70))


def in_stock(material, thickness):
    return job(cut_for("waterjet", material, thickness), brake=brake_at(BUILT_IN_EDITION, material))


def flat(*radii):
    bends = (Bend(line, math.pi / 2, radius) for line, radius in zip((LOW, HIGH), radii, strict=False))
    return Profile((PLATE,), (), tuple(bends))


def check(*radii, material="mild-steel", thickness=6.0):
    return tuple(bend_radius.check(flat(*radii), in_stock(material, thickness)))


SHARP = {
    "over": (8.01, ()),
    "at": (8.0, ()),
    "at but for rounding": (8.0 - 1e-10, ()),
    "under": (7.99, (Finding(
        "bend-radius", "warn", (100, 30), 7.99, 8.0,
        "The bend line is bent to 7.99 mm inside; S235 mild steel of 6 mm wants 8 mm, or it may crack on the outside.",
        "Bend it to 8 mm or more; where it has to be sharper, go by the mill's own figure, bend across the rolling and "
        "try a strip first."),)),
}  # fmt: skip


@pytest.mark.parametrize(("radius", "expected"), SHARP.values(), ids=SHARP.keys())
def test_a_bend(radius, expected):
    assert check(radius) == expected


def test_all_bends_that_are_too_sharp_are_one_finding_at_the_sharpest():
    (one,) = check(5, 3)
    assert (one.at, one.measured, one.also) == ((100, 70), 3, ((100, 30),))
    assert one.message.startswith("Every bend is bent to 3 mm inside;")
    (one,) = check(9, 3)
    assert one.message.startswith("Bend line 2 is bent to 3 mm inside;")


@pytest.mark.parametrize(
    ("material", "thickness", "least"),
    [("mild-steel", 10, 16), ("mild-steel", 3, 3), ("aluminium", 3.175, 4.7625), ("aluminium", 12.7, 25.4),
     ("aluminium", 0.5, 0), ("stainless-steel", 2, 2), ("copper", 6, 0), ("brass", 6, 0)],
)  # fmt: skip
def test_the_least_is_the_metals(material, thickness, least):
    """EN 10025-2 for S235 (memory), Aluminum Association for 5052-H32 (V1+memory); copper and brass have no row."""
    found = check(max(least - 0.01, 0.01), material=material, thickness=float(thickness))
    assert [f.limit for f in found] == ([pytest.approx(least)] if least else [])


@pytest.mark.parametrize("material", ["mild-steel", "stainless-steel", "aluminium", "copper"])
@pytest.mark.parametrize("thickness", [0.6, 1, 2, 3, 4, 6, 8, 10, 12, 20])
def test_a_radius_left_to_itself_is_never_too_sharp(material, thickness):
    assert check(0.0, material=material, thickness=float(thickness)) == ()


def test_as_a_template_draws_it_with_a_remedy():
    part = parts.draw("bracket-bent-angle", bend_radius=3)
    assert [f.rule for f in part.findings] == ["bend-radius"]
    (remedy,) = part.solved
    assert part.mended(remedy).findings == ()


@tried(40)
@given(drawings())
def test_however_it_is_drawn(drawing):
    drawn, place = drawing
    profile, stock = flat(5, 3), in_stock("mild-steel", 6.0)
    assert_same(tuple(bend_radius.check(profile, stock)), tuple(bend_radius.check(drawn(profile), stock)), place)
