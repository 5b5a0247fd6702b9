"""Shop words: a process or a material is understood as a shop calls it, and told as what it was taken for."""

import re

import pytest

import parts
from parts import true_table
from parts.cutting import PROCESSES, materials
from parts.errors import Refused
from parts.shop import Ambiguous, taken_for
from parts.shop.words import _MATERIALS, _PROCESSES, _SEVERAL
from parts.truing.instruments import METALS

KNOWN = {"process": tuple(PROCESSES), "material": tuple(materials()), "metal": METALS}
WORDS = [
    ("process", {
        "air-plasma": "plasma|Plasma|plasma cutter|PLASMA_CUTTING|air|air plasma",
        "fine-plasma": "hd|HD plasma|hi-def plasma|hidef plasma|high definition plasma|fine",
        "oxy-fuel": "oxy|torch|flame|oxyfuel|oxy fuel|oxy-acetylene|flame cutting|gas",
        "laser": "Laser|laser cutter|fiber laser|fibre-laser|CO2",
        "waterjet": "water jet|Water-Jet|water_jet|abrasive waterjet|water",
    }),
    ("material", {
        "mild-steel": "steel|ms|MS|mild|Mild Steel|A36|ASTM A36|S235|s235jr|S235JR+AR|S275|A572-50|1018|crs|hot rolled",
        "stainless-steel": "ss|stainless|304|304L|316|AISI 304|1.4301|1.4404|430|ss316|Stainless Steel",
        "aluminium": "alu|aluminum|5052|6061|6061-T6|5052-H32|EN AW 5754|aluminium sheet|6082",
        "galvanised-steel": "galv|galvanized|galvanized steel",
        "weathering-steel": "weathering|A588|S355J2W",
        "copper": "cu|C110", "brass": "C260|CZ108",
    }),
    ("metal", {"steel": "mild steel|A36|galv|iron|steel", "stainless": "304|ss|inox", "aluminium": "6061|alu"}),
]  # fmt: skip
EACH = [(kind, word, name) for kind, names in WORDS for name, words in names.items() for word in words.split("|")]


@pytest.mark.parametrize(("kind", "word", "name"), EACH)
def test_what_a_shop_says_is_understood(kind, word, name):
    assert taken_for(kind, word, KNOWN[kind]) == name


@pytest.mark.parametrize("kind", KNOWN)
def test_every_name_stands_for_itself_in_any_spelling(kind):
    for name in KNOWN[kind]:
        for word in (name, name.upper(), name.replace("-", " "), name.replace("-", "_"), f" {name} "):
            assert taken_for(kind, word, KNOWN[kind]) == name


@pytest.mark.parametrize("kind", ["process", "material"])
def test_no_word_stands_for_two_and_each_leads_somewhere(kind):
    table = _PROCESSES if kind == "process" else _MATERIALS
    every = [word for words in table.values() for word in words.split()]
    assert len(every) == len(set(every))
    assert set(table) <= set(KNOWN[kind])
    assert not set(every) & (set(_SEVERAL[kind]) | set(KNOWN[kind]))
    assert {name for names in _SEVERAL[kind].values() for name in names.split()} <= set(KNOWN[kind])


@pytest.mark.parametrize(
    ("kind", "word", "choices"),
    [
        ("process", "jet", ("air-plasma", "fine-plasma", "waterjet")),
        ("process", "thermal cutting", ("air-plasma", "fine-plasma", "oxy-fuel", "laser")),
        ("material", "metal", ("mild-steel", "stainless-steel", "aluminium")),
        ("material", "1050", ("aluminium", "mild-steel")),  # an alloy by EN 573-3, and a steel by SAE J403
        ("metal", "metal", ("steel", "stainless", "aluminium")),
    ],
)
def test_what_may_be_several_is_asked(kind, word, choices):
    with pytest.raises(Ambiguous) as error:
        taken_for(kind, word, KNOWN[kind])
    assert error.value.choices == choices
    assert all(choice in str(error.value) for choice in choices)


@pytest.mark.parametrize(
    ("kind", "word"), [("process", "saw"), ("material", "wood"), ("material", ""), ("metal", "tin")]
)
def test_what_is_none_of_them_is_none(kind, word):
    assert taken_for(kind, word, KNOWN[kind]) is None


def test_a_material_of_the_shops_own_is_not_hidden_by_a_word():
    assert taken_for("material", "A36", ("mild-steel", "a36")) == "a36"


@pytest.mark.parametrize(
    ("given", "meant"), [("plasma", "air-plasma"), ("water jet", "waterjet"), ("HD", "fine-plasma")]
)
def test_a_part_is_drawn_by_it(given, meant):
    said = parts.draw("gusset-triangle", process=given, material="A36", thickness="6 mm")
    named = parts.draw("gusset-triangle", process=meant, material="mild-steel", thickness="6 mm")
    assert said.record.parameters == named.record.parameters
    assert said.to_dxf().replace(said.record.address, "") == named.to_dxf().replace(named.record.address, "")


def test_a_refusal_names_the_choices():
    with pytest.raises(Refused) as refused:
        parts.draw("gusset-triangle", process="jet", material="metal")
    assert [(p.parameter, p.message) for p in refused.value.problems] == [
        ("material", "may be mild-steel, stainless-steel or aluminium here; say which."),
        ("process", "may be air-plasma, fine-plasma or waterjet here; say which."),
    ]


def test_gauges_are_those_of_the_material_that_is_meant():
    for word, name in (("ss", "stainless-steel"), ("alu", "aluminium"), ("galv", "galvanised-steel")):
        said, named = (parts.draw("gusset-triangle", material=m, thickness="16 ga") for m in (word, name))
        assert said.record.job.cut.thickness_mm == named.record.job.cut.thickness_mm


MEASURED = """
[piece]
metal = "{metal}"
temperature = "40 °C"
[[reading]]
kind = "centres"
direction_deg = 0
nominal = "300 mm"
measured = "300.12 mm"
u = "0.02 mm"
"""


@pytest.mark.parametrize(("word", "name"), [("A36", "steel"), ("304", "stainless"), ("aluminum", "aluminium")])
def test_a_file_of_measurements_says_its_metal_so(word, name):
    said, named = (true_table(MEASURED.format(metal=metal)) for metal in (word, name))
    assert said.solution.estimates == named.solution.estimates


def test_a_file_of_measurements_is_told_what_a_metal_may_be():
    with pytest.raises(Refused, match=re.escape("may be steel, stainless or aluminium here; say which.")):
        true_table(MEASURED.format(metal="sheet"))
