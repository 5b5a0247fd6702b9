"""Bend radius just under, at and just over the least of the metal, by published rows, and as a template draws it."""

import math
import re
from fractions import Fraction

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


def everything(*radii, material="mild-steel", thickness=6.0):
    return tuple(bend_radius.check(flat(*radii), in_stock(material, thickness)))


def check(*radii, material="mild-steel", thickness=6.0):
    return tuple(f for f in everything(*radii, material=material, thickness=thickness) if not f.is_routine)


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
    assert one.message.startswith("Every bend is bent to 3 mm inside at the sharpest;")
    (one,) = check(9, 3)
    assert one.message.startswith("Bend line 2 is bent to 3 mm inside;")
    saddle = parts.draw("bracket-pipe-saddle", bend_radius=2)
    (one,) = (f for f in saddle.findings if f.rule == "bend-radius")
    assert one.message.startswith("Bend lines 1 and 3 are bent to 2 mm inside;")


@pytest.mark.parametrize(
    ("material", "thickness", "least"),
    [("mild-steel", 10, 16), ("mild-steel", 3, 3), ("aluminium", 3.175, 4.7625), ("aluminium", 12.7, 25.4),
     ("aluminium", 0.5, 0), ("stainless-steel", 2, 2)],
)  # fmt: skip
def test_the_least_is_the_metals(material, thickness, least):
    """EN 10025-2 for S235 (memory), Aluminum Association for 5052-H32 (V1+memory)."""
    found = check(max(least - 0.01, 0.01), material=material, thickness=float(thickness))
    assert [f.limit for f in found if f.severity == "warn"] == ([pytest.approx(least)] if least else [])


@pytest.mark.parametrize("material", ["mild-steel", "stainless-steel", "aluminium"])
@pytest.mark.parametrize("thickness", [0.6, 1, 2, 3, 4, 6, 8, 10, 12, 20])
def test_a_radius_left_to_itself_is_never_too_sharp(material, thickness):
    assert [f for f in check(0.0, material=material, thickness=float(thickness)) if f.severity == "warn"] == []


T6_IN = {"1/32": 1, "1/16": 1.5, "1/8": 2.5, "3/16": 3, "1/4": 3.5, "3/8": 4.5, "1/2": 5}
"""Thickness in inches to least radius in thicknesses: Aluminum Association, Aluminum Standards and Data, 6061-T6."""
S355_MM = {1.5: 2.5, 3: 5, 6: 10, 8: 16, 12: 25}
"""EN 10025-2, recommended least inside radii of S355, from memory."""
HARDER = [
    *(
        ("aluminium", "6061-T6", float(Fraction(t)) * 25.4, float(Fraction(t)) * 25.4 * times)
        for t, times in T6_IN.items()
    ),
    *(("mild-steel", "S355", t, least) for t, least in S355_MM.items()),
    ("stainless-steel", "half-hard 304", 2, 4),  # common practice, from memory
]


@pytest.mark.parametrize(("material", "metal", "thickness", "least"), HARDER)
def test_what_a_harder_grade_wants_is_told_until_there_is_room_for_it(material, metal, thickness, least):
    assert everything(least, material=material, thickness=float(thickness)) == ()
    (told,) = everything(9999, least - 0.001, material=material, thickness=float(thickness))
    assert (told.severity, told.limit, told.at) == ("note", pytest.approx(least), (100, 70))
    assert told.is_routine == (material != "aluminium")
    assert f"but {metal}" in told.message


def test_the_sentence_of_a_harder_grade():
    """5052-H32 wants 1.5 T of 1/8 in, 6061-T6 2.5 T; what is said in inches is enough once it is typed."""
    (one,) = check(5, 6, material="aluminium", thickness=3.175)
    assert one == Finding(
        "bend-radius", "note", (100, 30), 5, 7.9375,
        "Every bend is bent to 5 mm inside at the sharpest: enough for 5052-H32 aluminium of 3.175 mm, but 6061-T6 "
        "aluminium wants 7.938 mm, or it may crack on the outside.",
        "Ask which grade and temper your sheet is. Bend 6061-T6 aluminium to 7.938 mm or more, or take the softer "
        "grade; bend across the rolling and try a strip first. Where you know what your own sheet stands, give it as "
        "`ratio` under [least_bend_radius.aluminium] of your machine's numbers.",
        also=((100, 70),),
    )  # fmt: skip
    (sharp,) = check(4, material="aluminium", thickness=3.175)
    assert "wants 4.763 mm, 6061-T6 aluminium 7.938 mm, or it may crack" in sharp.message
    assert sharp.remedy.startswith("Bend it to 4.763 mm or more, 6061-T6 aluminium to 7.938 mm; where")


def test_it_reaches_every_way_out_of_a_bent_part_but_not_of_one_with_room(own_file):
    part = parts.draw("bracket-bent-angle", material="aluminium", thickness="3 mm")
    assert [(f.rule, f.severity) for f in part.findings] == [("bend-radius", "note")]
    steel = parts.draw("bracket-bent-angle", thickness="3 mm")
    assert (steel.findings, [f.rule for f in steel.routine]) == ((), ["bend-radius"])
    assert "S355 high-strength steel wants 5 mm" in steel.to_json()
    assert parts.draw("bracket-bent-angle", thickness="3 mm", bend_radius="5 mm").routine == ()
    in_inches = {"thickness": "3 mm", "material": "aluminium", "units": "in", "flange_a": "6", "flange_b": "6"}
    said = parts.draw("bracket-bent-angle", **in_inches).findings[0]
    least = re.search(r"to (0\.\d+ in) or more", said.remedy)[1]
    roomy = parts.draw("bracket-bent-angle", **in_inches, bend_radius=least)
    assert "bend-radius" not in {f.rule for f in (*roomy.findings, *roomy.routine)}
    own_file.write_text("[least_bend_radius.aluminium]\nratio = 1\n")
    assert parts.draw("bracket-bent-angle", material="aluminium", thickness="3 mm").findings == ()


def test_as_a_template_draws_it_with_a_remedy():
    part = parts.draw("bracket-bent-angle", bend_radius=3)
    assert [(f.rule, f.severity) for f in part.findings] == [("bend-radius", "warn"), ("air-radius", "note")]
    (remedy,) = part.solved
    assert part.mended(remedy).findings == ()


TRY_IT = (
    "Ask your supplier, bend across the rolling and try a strip first; or give your own, as `ratio` under "
    "[least_bend_radius.{}] of your machine's numbers."
)


@pytest.mark.parametrize("material", ["copper", "brass"])
def test_a_metal_without_a_least_radius_is_noted_at_its_sharpest_bend(material):
    """No published least radius was found for either."""
    assert check(9, 3, material=material) == (
        Finding(
            "bend-radius", "note", (100, 70), 3, None,
            f"No least bend radius is known here for {material.title()}: whether 3 mm inside cracks on the outside "
            "wasn't checked.", TRY_IT.format(material), also=((100, 30),)),
    )  # fmt: skip
    assert list(bend_radius.check(Profile((PLATE,)), in_stock(material, 6.0))) == []


WEAR_PLATE = '[materials.wear-plate]\ntitle = "Wear plate"\ndensity_kg_per_m3 = 7850\ngroup = "steel"\n'


def bent(radius, material="wear-plate"):
    part = parts.draw("bracket-bent-angle", material=material, process="waterjet", thickness=6, bend_radius=radius)
    return [f for f in part.findings if f.rule == "bend-radius"]


def test_a_material_of_the_shops_is_held_to_its_group_and_noted_until_it_has_its_own(own_file):
    own_file.write_text(WEAR_PLATE)
    (passed,), (failed,) = bent(8), bent(7.9)
    assert (passed.severity, passed.limit, passed.remedy) == ("note", 8, TRY_IT.format("wear-plate"))
    assert passed.message == (
        "No least bend radius is known here for Wear plate: by S235 mild steel, 8 mm, it is enough, but whether 8 mm "
        "inside cracks on the outside wasn't checked."
    )
    assert failed.severity == "warn"
    assert "S235 mild steel of 6 mm, in place of Wear plate of which none is known, wants 8 mm" in failed.message
    own_file.write_text(
        f"{WEAR_PLATE}[least_bend_radius.wear-plate]\nratio = 4\n[least_bend_radius.copper]\nratio = 1\n"
    )
    assert bent(24) == []
    (sharp,) = bent(23.9)
    assert (sharp.severity, sharp.limit) == ("warn", 24)
    assert "; Wear plate of 6 mm wants 24 mm" in sharp.message
    assert (bent(6, "copper"), bent(5.9, "copper")[0].limit) == ([], 6)
    assert bent(0) == []  # left to itself it is the least of the metal


def test_what_isnt_s235_is_told_as_well():
    assert bent(9, "mild-steel") == bent(9, "galvanised-steel") == []
    assert "for Weathering steel: by S235 mild steel, 8 mm" in bent(9, "weathering-steel")[0].message


@tried(40)
@given(drawings())
def test_however_it_is_drawn(drawing):
    drawn, place = drawing
    profile, stock = flat(5, 3), in_stock("mild-steel", 6.0)
    assert_same(tuple(bend_radius.check(profile, stock)), tuple(bend_radius.check(drawn(profile), stock)), place)
