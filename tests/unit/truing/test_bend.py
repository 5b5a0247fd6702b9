"""A test bend: its file read or refused by name, slips asked about, strips that disagree, and what is kept."""

import json
import math
import random
import tomllib

import pytest
import scipy.special

from parts import Refused, shop
from parts.forming import brake
from parts.shop.editing import edited
from parts.truing.bend import (
    BendReport,
    bend_from_tables,
    is_bend,
    keep_as,
    kept_bends,
    solve_bend,
    true_bend,
    without_bend,
)
from parts.truing.bend.student import most_squares
from tests.bends_read import STRIPS, tables, toml

TODAY = "2026-11-30"


def report(*strips, **common) -> BendReport:
    return true_bend(tables(*strips, **common))


def test_the_deduction_is_the_legs_less_the_flat_and_k_follows():
    """One square strip, by hand: BD = 67.8 + 87.9 - 150.08 = 5.62; K = (0.4292 R + 2 T - BD) / (1.5708 T)."""
    only = {"flat": None, "leg_a": None, "leg_b": None, "between_deg": None}
    found = report(only, {"leg_b": "87.9 mm"}, legs="mould").estimates
    assert found["deduction"].value == pytest.approx(5.62, abs=1e-9)
    assert found["k"].value == pytest.approx(
        ((2 - math.pi / 2) * 3.9 + 2 * 2.96 - 5.62) / (math.pi / 2 * 2.96), abs=1e-9
    )
    assert found["allowance"].value == pytest.approx(2 * (3.9 + 2.96) - 5.62, abs=1e-9)


def test_a_bend_that_sprang_open_is_taken_as_it_is():
    """At 89 degrees legs read over each other show L sin A + T cos A: the mould point's own sum gives the same K."""
    from dataclasses import replace

    open_by = math.radians(89.0)
    over = bend_from_tables(tables({"between_deg": "91"}, {"between_deg": "91"}))
    sine, corner = math.sin(open_by), 2.96 * math.cos(open_by)
    strips = tuple(
        replace(strip, leg_a=(strip.leg_a - corner) / sine, leg_b=(strip.leg_b - corner) / sine)
        for strip in over.strips
    )
    mould = replace(over, legs="mould", strips=strips)
    assert solve_bend(over).bent.k == pytest.approx(solve_bend(mould).bent.k, abs=2e-3)


def test_one_strip_is_told_and_two_are_surer():
    one = report({"flat": None, "leg_a": None, "leg_b": None, "between_deg": None})
    both = report()
    assert any("one strip alone" in doubt for doubt in one.doubts)
    assert one.left_out == ("1",)
    assert both.doubts == ()
    assert both.estimates["deduction"].standard_uncertainty < one.estimates["deduction"].standard_uncertainty
    assert one.estimates["deduction"].coverage > both.estimates["deduction"].coverage > 1.96


def test_a_gauged_radius_makes_k_surer_than_the_rule_for_the_v():
    gauged, by_rule = report(), report(inside_radius=None)
    assert by_rule.estimates["inside_radius"].value == pytest.approx(brake("mild-steel").radius_per_v * 24, rel=0.05)
    assert by_rule.estimates["k"].standard_uncertainty > 1.4 * gauged.estimates["k"].standard_uncertainty
    assert by_rule.estimates["deduction"].margin95 == pytest.approx(gauged.estimates["deduction"].margin95, rel=0.02)
    assert any("radius wasn't measured" in sentence for sentence in by_rule.assumed)
    assert gauged.solution.correlation > 0.8


def test_angles_not_measured_widen_the_deduction():
    without = report({"between_deg": None}, {"between_deg": None})
    assert without.estimates["deduction"].margin95 > 1.3 * report().estimates["deduction"].margin95
    assert any("no angle measured" in sentence for sentence in without.assumed)


REFUSED = [
    ({"thickness": None}, (), "bend thickness", "measure the sheet"),
    ({"stock": ""}, (), "bend stock", "what the sheet is called"),
    ({"v_opening": None}, (), "bend v_opening", "from shoulder to shoulder"),
    ({"material": "mild-steal"}, (), "bend material", "did you mean mild-steel"),
    ({"instrument": "callipers"}, (), "bend instrument", "must be one of"),
    ({"angle_deg": "170"}, (), "bend angle_deg", "must be 10"),
    ({"legs": "inside"}, (), "bend legs", "over, mould"),
    ({"date": "14 March"}, (), "bend date", "2026-03-14"),
    ({"inside_radius": None, "inside_radius_u": "0.1"}, (), "bend inside_radius_u", "goes with an inside_radius"),
    ({"confirmed": "perhaps"}, (), "bend confirmed", "must be yes"),
    ({"thicknes": "3"}, (), "bend thicknes", "did you mean thickness"),
    ({}, ({"leg_b": None},), "strip 1 leg_b", "isn't measured"),
    ({}, ({}, {"flat": "-3"}), "strip 2 flat", "more than 0"),
    ({}, ({"between_deg": "30"},), "strip 1 between_deg", "is far from 90"),
    ({"angle_deg": "60"}, ({"between_deg": "60"}, {"between_deg": "120"}), "strip 1 between_deg", "turned through"),
    ({}, ({"u": "3 m"},), "strip 1 u", "must be"),
    ({}, ({"leg_c": "3"},), "strip 1 leg_c", "isn't known"),
]


@pytest.mark.parametrize(("common", "strips", "name", "sentence"), REFUSED, ids=[f"{r[2]}" for r in REFUSED])
def test_what_cant_be_used_is_refused_by_name(common, strips, name, sentence):
    with pytest.raises(Refused) as refused:
        report(*strips, **common)
    (problem,) = [each for each in refused.value.problems if each.parameter == name]
    assert sentence in problem.message


@pytest.mark.parametrize(
    "data", [{"bend": 3, "strip": []}, {"bend": {}}, {"bend": {}, "strip": [3]}, {"bend": {}, "strip": [{}] * 60}]
)
def test_a_file_of_another_shape_is_refused(data):
    with pytest.raises(Refused):
        true_bend(data)


def test_any_lengths_are_answered_asked_about_or_refused():
    """A thousandth of a micrometre to a hundred metres in any place: an answer with finite numbers, or a refusal."""
    rng, answered = random.Random(3), 0
    names = ("thickness", "stock", "v_opening", "inside_radius", "thickness_u", "inside_radius_u", "bend_line", "cut")
    for _ in range(300):
        common = {name: rng.choice((None, 10 ** rng.uniform(-6, 5))) for name in names}
        rows = [{name: 10 ** rng.uniform(-6, 5) for name in ("flat", "leg_a", "leg_b")} for _ in STRIPS]
        if rng.random() < 0.5:
            common |= {"thickness": "3", "stock": "3", "v_opening": "24"}
        try:
            found = report(*rows, **{name: value for name, value in common.items() if value is not None})
            json.loads(found.to_json())
            answered += 1
        except Refused:
            continue
        assert found.asked or found.solution.disagreeing, "no such bend is taken without a question"
    assert answered > 50


SLIPS = {
    "both legs measured inside": (
        {}, ({"leg_a": "64.88", "leg_b": "84.89"}, {"leg_a": "64.84", "leg_b": "84.95"}), "measured inside",
    ),
    "one leg measured inside": ({}, ({"leg_a": "64.88"}, {"leg_a": "64.84"}), "was one leg measured inside"),
    "legs exchanged": (
        {}, ({"leg_a": "87.85", "leg_b": "67.84"}, {"leg_a": "87.91", "leg_b": "67.80"}), "exchanged",
    ),
    "flat of another strip": ({}, ({"flat": "140"}, {"flat": "140"}), "was drawn 150 mm"),
    "a radius gauge read as a diameter": ({"inside_radius": "10 mm"}, (), "no diameter"),
    "its own radius read as a diameter": ({"inside_radius": "7.8 mm"}, (), "is it no diameter"),
    "half the V": ({"v_opening": "12 mm"}, (), "V 12 mm from shoulder to shoulder"),
    "a V twice as wide": ({"v_opening": "48 mm"}, (), "from shoulder to shoulder"),
    "a V of another die": ({"v_opening": "100 mm"}, (), "thicknesses; dies have"),
    "another sheet": ({"stock": "4 mm"}, (), "the same sheet"),
    "K beyond any bend": ({}, ({"leg_a": "66.8", "leg_b": "87.5"}, {"leg_a": "66.8", "leg_b": "87.5"}), "K comes to"),
    "a thickness misread": ({"thickness": "2.69 mm"}, (), "was its thickness read right"),
    "one leg of one strip misread": ({}, ({}, {"leg_b": "88.18 mm"}), "angle of strip 1 or strip 2"),
    "an angle far off": ({}, ({"between_deg": "95"}, {"between_deg": "95"}), "is that so"),
}  # fmt: skip


@pytest.mark.parametrize(("common", "strips", "words"), SLIPS.values(), ids=SLIPS)
def test_what_looks_like_a_slip_is_asked_about_and_not_kept_until_confirmed(common, strips, words):
    found = report(*strips, **common)
    assert any(words in question for question in found.asked), found.asked
    assert any("confirmed" in doubt for doubt in found.doubts)
    with pytest.raises(Refused, match="Look at it first"):
        keep_as(found, {}, TODAY)
    confirmed = report(*strips, **common, confirmed="yes")
    assert confirmed.asked == ()
    assert confirmed.suspicions == found.suspicions
    if not confirmed.solution.disagreeing and 0 < confirmed.solution.bent.k < 1:
        assert keep_as(confirmed, {}, TODAY)[0].material == "mild-steel"


@pytest.mark.parametrize(
    ("stock", "mill"), [(0.5, 0.06), (1.0, 0.08), (2.0, 0.21), (3.0, 0.24), (6.0, 0.29), (30.0, 1.4)]
)
def test_a_sheet_is_asked_about_just_beyond_what_mills_keep(stock, mill):
    """EN 10131 under 1.5 mm, EN 10051 above, EN 10029 beyond 25 mm, all from memory."""
    for off, asked in ((mill, False), (mill + 0.002, True), (-mill, False), (-mill - 0.002, True)):
        questions = report(
            stock=f"{stock} mm", thickness=f"{stock + off:.4f} mm", v_opening=f"{8 * stock} mm"
        ).suspicions
        assert any("mills keep" in question for question in questions) == asked, off


def test_strips_are_asked_about_where_one_test_in_twenty_is_worse():
    """The point of chi-square by another library; of three strips the one that is off is named."""
    assert most_squares(1, 1.645) == pytest.approx(scipy.special.chdtri(1, 0.05), rel=0.03)
    for freedom in (2, 3, 5, 20):
        assert most_squares(freedom, 1.645) == pytest.approx(scipy.special.chdtri(freedom, 0.05), rel=0.01)
    for off in (0.0, 0.16, 0.18, 0.19, 0.22, 0.27):
        found = report({}, {"leg_b": f"{87.91 + off} mm"})
        beyond = found.solution.chi_square > most_squares(1, 1.645)
        assert any("beyond their uncertainty" in question for question in found.asked) == beyond, off
    three = tables()
    three["strip"] += [{**STRIPS[0], "note": "3", "leg_b": "88.0 mm"}]
    assert any("the angle of strip 3 read wrong" in question for question in true_bend(three).asked)


def test_a_usual_bend_is_asked_nothing():
    assert report().asked == report().suspicions == ()
    assert 0.3 < report().solution.bent.k < 0.5


def test_strips_that_cant_both_be_right_widen_it_and_arent_kept():
    """One leg a millimetre off: by one strip alone the deduction is 1 mm off the other's; its interval holds both."""
    found, good = report({}, {"leg_b": "88.91 mm"}), report()
    assert found.solution.disagreeing == (0, 1)
    assert any("can't both be right" in doubt for doubt in found.doubts)
    wide = found.estimates["deduction"]
    assert wide.low95 < good.estimates["deduction"].value < good.estimates["deduction"].value + 1 < wide.high95
    with pytest.raises(Refused, match="can't both be right"):
        keep_as(found, {}, TODAY)


def test_of_three_the_one_that_is_off_is_named():
    data = tables()
    data["strip"].append({**STRIPS[1], "note": "3", "leg_b": "88.91 mm"})
    data["strip"].append({**STRIPS[0], "note": "4"})
    found = true_bend(data)
    assert found.solution.disagreeing == (2,)
    assert any(doubt.startswith("Strip 3 doesn't go with the others") for doubt in found.doubts)
    good = report().estimates["deduction"]
    assert found.estimates["deduction"].low95 < good.value < found.estimates["deduction"].high95


def test_strips_that_scatter_more_than_they_say_are_told_and_widened():
    found = report({}, {"leg_b": "88.07 mm"})
    assert not found.solution.disagreeing
    assert found.solution.widened > 1.05
    assert any("fit badly" in doubt for doubt in found.doubts)
    assert found.estimates["deduction"].margin95 > report().estimates["deduction"].margin95


def test_the_json_has_all_of_it():
    said = json.loads(report().to_json())
    assert {"k", "inside_radius_mm", "deduction_mm", "allowance_mm", "correlation_k_radius", "asked"} <= said.keys()
    k = said["k"]
    assert k["low95"] == pytest.approx(k["value"] - k["coverage_factor"] * k["standard_uncertainty"])
    assert [strip["number"] for strip in said["strips"]] == [1, 2]


def test_inches_read_the_same_bend():
    data = tables()
    data["units"] = "in"
    for table in (data["bend"], *data["strip"]):
        for name, text in table.items():
            if text.endswith(" mm"):
                table[name] = float(text.removesuffix(" mm")) / 25.4
    assert true_bend(data).estimates["k"].value == pytest.approx(report().estimates["k"].value, abs=1e-9)
    assert "1/32 in" in true_bend(data).correlated


def test_a_file_is_of_a_bend_or_of_a_table():
    assert is_bend(tomllib.loads(toml()))
    assert not is_bend({"machine": {}, "reading": []})


# ------------------------------------------------------------------------------------------------------ kept


def kept_text(found, text="", today=TODAY):
    own = tomllib.loads(text)
    kept, change = keep_as(found, own, today)
    return kept, edited(text, [change])


def test_what_is_kept_gives_back_k_radius_and_deduction(own_file):
    found = report()
    kept, text = kept_text(found)
    own_file.write_text(text, encoding="utf-8")
    (row,) = shop.load(shop.edition()).test_bends["mild-steel"].rows
    assert (row.thickness_mm, row.v_opening_mm, row.strips, row.date) == (3.0, 24.0, 2, "2026-03-14")
    assert kept.bend.k == pytest.approx(found.estimates["k"].value, abs=2e-4)
    assert kept.bend.k_margin == pytest.approx(found.estimates["k"].margin95, rel=0.03)
    assert kept.bend.radius_margin == pytest.approx(found.estimates["inside_radius"].margin95, rel=0.01)
    assert kept.bend.deduction_margin(math.pi / 2) == pytest.approx(found.estimates["deduction"].margin95, rel=0.01)


def test_another_of_the_same_thickness_and_v_takes_its_place_and_others_stay():
    _, first = kept_text(report(), '# mine\n[bed]\nx = "52 in"\n')
    _, second = kept_text(report(stock="6 mm", thickness="5.9 mm", v_opening="48 mm", confirmed="yes"), first)
    again, third = kept_text(report(date="2026-05-01"), second)
    assert again.replaces is not None
    assert again.replaces.row.date == "2026-03-14"
    held = kept_bends(tomllib.loads(third))
    assert [(each.bend.row.thickness_mm, each.bend.row.date) for each in held] == [(3, "2026-05-01"), (6, "2026-03-14")]
    assert third.startswith('# mine\n[bed]\nx = "52 in"\n')
    left = edited(third, [without_bend(tomllib.loads(third), "mild-steel", 1)])
    assert [each.bend.row.thickness_mm for each in kept_bends(tomllib.loads(left))] == [6]
    none = edited(left, [without_bend(tomllib.loads(left), "mild-steel", 1)])
    assert "test_bends" not in none
    with pytest.raises(Refused):
        without_bend(tomllib.loads(left), "mild-steel", 2)


def test_a_test_without_a_date_is_of_today():
    assert kept_text(report(date=None))[0].bend.name == f"your test bend of {TODAY}"


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"deduction_mm": 56.2}, "it must be between 0 and 1"),
        ({"date": "14 March"}, "date"),
        ({"v_opening_mm": -3}, "v_opening_mm"),
    ],
)
def test_a_row_that_cant_be_is_refused_in_a_sentence(change, sentence):
    found = report()
    _, made = keep_as(found, {}, TODAY)
    row = {**made.value[0], **change}
    slips = shop.checked({"test_bends": {"mild-steel": {"rows": [row]}}})
    assert not isinstance(slips, shop.ShopData)
    assert sentence in slips[0].sentence


def test_two_of_one_thickness_and_v_or_of_no_material_are_refused():
    _, made = keep_as(report(), {}, TODAY)
    twice = shop.checked({"test_bends": {"mild-steel": {"rows": [*made.value, *made.value]}}})
    assert "keep one of them" in twice[0].sentence
    lost = shop.checked({"test_bends": {"tin": {"rows": [*made.value]}}})
    assert "test_bends.tin" in lost[0].sentence


# ------------------------------------------------------------------------------------------------------ used


@pytest.fixture
def tested(own_file):
    """The shop's brake with the usual test bend."""
    own_file.write_text(kept_text(report())[1], encoding="utf-8")
    return brake("mild-steel")


@pytest.mark.parametrize("thickness", [3.0, 2.96, 3.0378, 3.07, 2.89])
def test_it_holds_at_the_thickness_tested(tested, thickness):
    assert tested.tested(thickness) is not None
    radius = tested.inside_radius(thickness)
    line = tested.neutral(thickness, radius)
    assert (line.name, line.kind) == ("your test bend of 2026-03-14", "yours")
    assert tested.v_opening(thickness) == tested.v_opening(thickness, radius) == 24.0
    setback = radius + thickness
    assert 2 * setback - math.pi / 2 * (radius + line.k * thickness) == pytest.approx(
        report().estimates["deduction"].value, abs=1e-4
    ), "the deduction of the strips, whatever the sheet is called"


@pytest.mark.parametrize("thickness", [2.8, 3.1, 3.5, 6.0])
def test_it_holds_at_no_other_thickness(tested, thickness):
    from dataclasses import replace

    without = replace(tested, tests=())
    assert tested.tested(thickness) is None
    radius = tested.inside_radius(thickness)
    assert radius == without.inside_radius(thickness)
    assert tested.neutral(thickness, radius) == without.neutral(thickness, radius)
    assert tested.v_opening(thickness) == without.v_opening(thickness)


def test_a_radius_within_the_one_tested_keeps_the_deduction_and_another_is_the_handbooks(tested):
    near, far = tested.neutral(3.0, 4.2), tested.neutral(3.0, 7.0)
    assert near.kind == "yours"
    assert 2 * 7.2 - math.pi / 2 * (4.2 + near.k * 3) == pytest.approx(report().estimates["deduction"].value, abs=1e-4)
    assert far.kind == "published"


def test_another_material_is_the_handbooks(tested):
    assert tested.tests
    assert brake("aluminium").tests == ()
    assert brake("stainless-steel").tested(3.0) is None


def test_of_two_vs_the_one_nearest_the_usual_is_taken_or_the_one_whose_radius_is_asked_for(own_file):
    _, first = kept_text(report())
    wider = report(v_opening="40 mm", inside_radius="6.5 mm", confirmed="yes")
    _, both = kept_text(wider, first)
    own_file.write_text(both, encoding="utf-8")
    of = brake("mild-steel")
    assert len(of.tests) == 2
    assert of.v_opening(3.0) == 24.0
    assert of.v_opening(3.0, 6.4) == 40.0
    assert of.v_opening(3.0, 4.0) == 24.0


def test_of_two_sheets_called_nearly_alike_the_nearest_name_is_taken(own_file):
    """A 3 mm sheet and one of 11 gauge, 3.04 mm, each tested over the same V."""
    _, first = kept_text(report())
    _, both = kept_text(report(stock="11 ga", date="2026-06-01"), first)
    own_file.write_text(both, encoding="utf-8")
    of = brake("mild-steel")
    assert of.tested(3.0).row.date == "2026-03-14"
    assert of.tested(3.0378).row.date == "2026-06-01"
    assert of.tests[1].row.thickness_mm == pytest.approx(0.1196 * 25.4, abs=1e-3)


def test_other_angles_are_less_sure_by_the_radius(tested):
    """At 45 degrees: half the deduction's own doubt, and 2 (tan 22.5 - 1/2 tan 45) of the radius's."""
    test = tested.tested(3.0)
    half = test.deduction_margin(math.pi / 2) / 2
    by_radius = 2 * (0.5 - math.tan(math.pi / 8)) * test.radius_margin
    assert test.deduction_margin(math.pi / 4) == pytest.approx(math.hypot(half, by_radius))
