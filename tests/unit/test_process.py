"""How processes cut: `parts/cutting/process.py`."""

import itertools
import math
from functools import cache

import pytest

import parts
from parts.cutting import stock
from parts.cutting.process import PROCESSES, Cut, cut_for, thickness_range
from parts.errors import DataError, Problem, Refused
from parts.shop import numbers as shop
from parts.shop import tree as shop_tree
from parts.units import format_both
from tests.depth import several

GROWS = ("kerf_mm", "smallest_hole_mm", "narrowest_bridge_mm", "pierce_diameter_mm", "pierce_time_s")
MATERIALS = tuple(shop_tree.builtin()["materials"])
LISTED = "There are: air-plasma, fine-plasma, oxy-fuel, laser, waterjet."


def problems(*args):
    with pytest.raises(Refused) as refused:
        cut_for(*args)
    return refused.value.problems


RANGES = [
    ("air-plasma", "mild-steel", 0.5, 25.4),
    ("air-plasma", "galvanised-steel", 0.5, 25.4),
    ("air-plasma", "stainless-steel", 0.5, 25.4),
    ("air-plasma", "aluminium", 0.5, 25.4),
    ("fine-plasma", "mild-steel", 0.5, 38.1),
    ("fine-plasma", "stainless-steel", 0.5, 38.1),
    ("fine-plasma", "aluminium", 0.5, 38.1),
    ("oxy-fuel", "mild-steel", 3.0, 76.2),
    ("oxy-fuel", "weathering-steel", 3.0, 76.2),
    ("laser", "mild-steel", 0.5, 25.4),
    ("laser", "stainless-steel", 0.5, 12.7),
    ("laser", "aluminium", 0.5, 12.7),
    ("waterjet", "mild-steel", 0.5, 101.6),
    ("waterjet", "copper", 0.5, 101.6),
    ("waterjet", "brass", 0.5, 101.6),
]


def test_slugs_are_those_of_the_contract():
    assert dict(PROCESSES) == {
        "air-plasma": "Air plasma",
        "fine-plasma": "Fine plasma",
        "oxy-fuel": "Oxy-fuel",
        "laser": "Laser",
        "waterjet": "Abrasive waterjet",
    }


def test_six_millimetres_of_mild_steel_by_air_plasma():
    cut = cut_for("air-plasma", "mild-steel", 6.0)
    assert cut == Cut(
        process="air-plasma",
        title="Air plasma",
        material="mild-steel",
        thickness_mm=6.0,
        kerf_mm=pytest.approx(1.65 + (6.0 - 3.0) / (6.4 - 3.0) * (2.03 - 1.65)),
        smallest_hole_mm=9.0,
        narrowest_bridge_mm=6.0,
        narrowest_slot_mm=6.0,
        inside_radius_mm=3.0,
        straight_strip_mm=30.0,
        lead_in_mm=6.0,
        square_side="right",
        probe_time_s=3.0,
        pierce_diameter_mm=6.0,
        pierce_time_s=0.45,
        feed_mm_s=pytest.approx(52 + (6.0 - 3.0) / (6.4 - 3.0) * (29.6 - 52)),
        cautions=cut.cautions,
        origins=cut.origins,
    )


def test_each_number_says_where_it_is_from():
    sources = cut_for("air-plasma", "mild-steel", 6.4).sources
    assert [source.split(":")[0] for source in sources] == [
        "kerf",
        "smallest hole",
        "narrowest bridge",
        "narrowest slot",
        "inside radius",
        "straight strip",
        "lead-in",
        "pierce diameter",
        "pierce time",
        "feed",
        "square side",
        "height probe",
        "thinnest",
        "thickest",
    ]
    assert sources[9].startswith("feed: The Fabricator")
    assert sources[7] == "pierce diameter: between 6 and 12.7 mm, from memory"


HEAT = (
    ("fire", "35 ft (10.7 m)", "fire watch", "hot", "sharp", "tip up"),
    ("fume", "gas", "downdraught", "water table", "manual", "local limits"),
)
PLASMA = (*HEAT, ("ultraviolet", "filter shade", "hearing", "volts", "switch off", "licensed"))
WARNED_OF = {
    "air-plasma": PLASMA,
    "fine-plasma": PLASMA,
    "oxy-fuel": (*HEAT, ("oil and grease", "chain cylinders", "flashback", "tank or drum", "licensed")),
    "laser": (*HEAT, ("enclosed", "interlocks", "eye protection", "wavelength", "manual", "local")),
    "waterjet": (
        ("through skin", "hospital at once", "high-pressure"),
        ("pressure", "loud", "ear protection", "manual", "trained", "local"),
    ),
}


@pytest.mark.parametrize("process", PROCESSES)
def test_what_can_hurt_is_said_of_every_process_and_shortly(process):
    """What 29 CFR 1910.252 and .253, HSE OC 668/22 and ANSI Z49.1 warn of; laser and jet from memory."""
    cautions = cut_for(process, "mild-steel", 6.0).cautions
    assert len(cautions) == len(WARNED_OF[process]) <= 3
    for text, words in zip(cautions, WARNED_OF[process], strict=True):
        assert [word for word in words if word not in text] == []
        assert text[0].isupper()
        assert text.endswith(".")
        assert text.count(". ") <= 1  # one sentence or two
        assert len(text) <= 330


def test_a_cold_process_warns_of_no_heat():
    assert not any("heat" in text for text in cut_for("waterjet", "mild-steel", 6.0).cautions)


def test_every_caution_is_shown_with_something_and_says_who_warns_of_it():
    tree = shop_tree.builtin()
    used = {key for group in ("materials", "processes") for of in tree[group].values() for key in of["cautions"]}
    assert used == set(tree["cautions"])
    assert all(len(of["source"]) >= len("from memory") for of in tree["cautions"].values())


def test_a_part_shows_the_cautions_of_template_material_and_process_in_this_order():
    values = {"material": "stainless-steel", "process": "laser", "thickness": "3 mm"}
    part = parts.draw("gusset-triangle", **values)
    (chromium,) = stock.materials()["stainless-steel"].cautions
    own = parts.templates()["gusset-triangle"].cautions
    assert part.cautions == (*own, chromium, *cut_for("laser", "stainless-steel", 3.0).cautions)


def test_the_shop_words_adds_and_drops_cautions(own_file):
    fire, fume, arc = cut_for("air-plasma", "mild-steel", 6.0).cautions
    own_file.write_text('[cautions.plasma-arc]\ntext = "Ask Wren first."\n')
    assert cut_for("air-plasma", "mild-steel", 6.0).cautions == (fire, fume, "Ask Wren first.")
    own_file.write_text(
        '[processes.air-plasma]\ncautions = ["plasma-arc", "ours"]\n[cautions.ours]\ntext = "Open the roller door."\n'
    )
    assert cut_for("air-plasma", "mild-steel", 6.0).cautions == (arc, "Open the roller door.")
    assert cut_for("fine-plasma", "mild-steel", 6.0).cautions == (fire, fume, arc)
    own_file.write_text("[processes.air-plasma]\ncautions = []\n")
    assert cut_for("air-plasma", "mild-steel", 6.0).cautions == ()


@pytest.mark.parametrize(("process", "material", "low", "high"), RANGES)
def test_thickness_range_just_inside_at_and_just_outside(process, material, low, high):
    assert thickness_range(process, material) == (low, high)
    for inside in (low, low + 1e-6, high - 1e-6, high, low - 1e-10, high + 1e-10):
        assert cut_for(process, material, inside).thickness_mm == inside
    for outside in (low - 1e-6, high + 1e-6):
        (problem,) = problems(process, material, outside)
        assert problem.parameter == "thickness"
        title = stock.materials()[material].title.lower()
        assert problem.message.startswith(f"{PROCESSES[process]} cuts {title} from ")


CUTS = {
    "air-plasma": {"mild-steel", "weathering-steel", "galvanised-steel", "stainless-steel", "aluminium"},
    "fine-plasma": {"mild-steel", "weathering-steel", "galvanised-steel", "stainless-steel", "aluminium"},
    "oxy-fuel": {"mild-steel", "weathering-steel"},
    "laser": {"mild-steel", "weathering-steel", "galvanised-steel", "stainless-steel", "aluminium"},
    "waterjet": set(MATERIALS),
}


@pytest.mark.parametrize(("process", "material"), list(itertools.product(CUTS, MATERIALS)))
def test_a_pair_is_either_cut_or_refused_by_its_material(process, material):
    if material in CUTS[process]:
        low, high = thickness_range(process, material)
        assert 0 < low < high
    else:
        with pytest.raises(Refused) as refused:
            thickness_range(process, material)
        assert [(p.parameter, p.value) for p in refused.value.problems] == [("material", material)]


def test_a_thickness_too_great_names_what_would_cut_it():
    message = (
        f"Laser cuts mild steel from {format_both(0.5)} to {format_both(25.4)} here. "
        "Choose fine plasma, oxy-fuel or abrasive waterjet."
    )
    assert problems("laser", "mild-steel", 30.0) == (Problem("thickness", "30 mm", message),)


@pytest.mark.parametrize("thickness", [0.0, -6.0, math.nan, math.inf, 1e9])
def test_no_thickness_is_refused_by_name(thickness):
    (problem,) = problems("waterjet", "mild-steel", thickness)
    assert problem.parameter == "thickness"
    assert "Choose" not in problem.message


@pytest.mark.parametrize(
    ("process", "material", "message"),
    [
        (
            "oxy-fuel",
            "aluminium",
            "Oxy-fuel cuts mild steel by burning it; aluminium only melts under an oxide skin that the flame "
            "can't break. Choose air plasma, fine plasma, laser or abrasive waterjet.",
        ),
        (
            "laser",
            "copper",
            "Copper throws much of the beam back and can spoil the laser. Choose abrasive waterjet.",
        ),
        (
            "air-plasma",
            "brass",
            "There are no numbers here for cutting brass by air plasma. Choose abrasive waterjet.",
        ),
    ],
)
def test_a_material_it_can_not_cut(process, material, message):
    assert problems(process, material, 6.0) == (Problem("material", material, message),)


def test_unknown_process_and_material_are_both_named_in_form_order():
    unknown = (
        Problem("process", "lazer", f"There is no process 'lazer'. Did you mean laser? {LISTED}"),
        Problem(
            "material",
            "zzz",
            f"There is no material 'zzz'. There are: {', '.join(stock.materials())}.",
        ),
    )
    assert problems("lazer", "zzz", 6.0) == unknown


STEPS = several(100, deep=400)


@cache
def sweep(process, material):
    low, high = thickness_range(process, material)
    return [cut_for(process, material, low + (high - low) * step / STEPS) for step in range(STEPS + 1)]


@pytest.mark.parametrize(("process", "material"), [row[:2] for row in RANGES])
def test_thicker_is_slower_and_never_finer(process, material):
    cuts = sweep(process, material)
    for thin, thick in itertools.pairwise(cuts):
        assert thick.feed_mm_s < thin.feed_mm_s
        for grows in GROWS:
            assert getattr(thick, grows) >= getattr(thin, grows)


@pytest.mark.parametrize(("process", "material"), [row[:2] for row in RANGES])
def test_the_smallest_hole_takes_in_its_pierce_and_its_kerf(process, material):
    for cut in sweep(process, material):
        assert cut.kerf_mm <= cut.pierce_diameter_mm <= cut.smallest_hole_mm


@pytest.mark.parametrize(
    ("thickness", "hole", "bridge"),
    [
        pytest.param(0.5, 2.5 * 1.27, 3.0, id="hole by kerfs, bridge by floor"),
        pytest.param(2.999, 1.5 * 2.999, 3.0, id="bridge just under its floor"),
        pytest.param(3.0, 4.5, 3.0, id="bridge at its floor"),
        pytest.param(3.001, 1.5 * 3.001, 3.001, id="bridge just over its floor"),
        pytest.param(12.7, 19.05, 12.7, id="both by thickness"),
    ],
)
def test_least_sizes_of_air_plasma(thickness, hole, bridge):
    cut = cut_for("air-plasma", "mild-steel", thickness)
    assert cut.smallest_hole_mm == pytest.approx(hole)
    assert cut.narrowest_bridge_mm == pytest.approx(bridge)


def test_a_row_is_met_exactly_and_values_near_it_are_on_the_line():
    assert cut_for("air-plasma", "mild-steel", 6.4).feed_mm_s == 29.6
    under, over = (cut_for("air-plasma", "mild-steel", t).feed_mm_s for t in (6.4 - 1e-3, 6.4 + 1e-3))
    assert under - 29.6 == pytest.approx(1e-3 * (52 - 29.6) / (6.4 - 3.0))
    assert 29.6 - over == pytest.approx(1e-3 * (29.6 - 19) / (9.5 - 6.4))


def test_aluminium_is_cut_faster_and_stainless_slower_than_mild_steel():
    steel, stainless, aluminium = (
        cut_for("air-plasma", material, 6.0) for material in ("mild-steel", "stainless-steel", "aluminium")
    )
    assert stainless.feed_mm_s < steel.feed_mm_s < aluminium.feed_mm_s
    assert steel.kerf_mm < stainless.kerf_mm == aluminium.kerf_mm


def test_asking_again_gives_the_same_record_without_another_reading():
    first = cut_for("air-plasma", "mild-steel", 5.0)
    before = shop.load.cache_info().misses
    assert all(cut_for("air-plasma", "mild-steel", 5.0) is first for _ in range(100))
    assert shop.load.cache_info().misses == before


def test_the_shops_own_numbers_hold_at_once(own_file):
    assert cut_for("air-plasma", "mild-steel", 6.0).smallest_hole_mm == 9.0
    own_file.write_text("[processes.air-plasma.smallest_hole]\nratio = 2\n")
    cut = cut_for("air-plasma", "mild-steel", 6.0)
    assert cut.smallest_hole_mm == 12.0
    assert cut.sources[1].startswith("smallest hole: shop's own file; the rest common practice")
    own_file.write_text("")
    assert cut_for("air-plasma", "mild-steel", 6.0).smallest_hole_mm == 9.0


def test_the_shop_can_cut_what_the_built_in_numbers_can_not(own_file):
    own_file.write_text(
        "[materials.copper.not_cut_by]\nlaser = false\n[processes.laser.feed.copper]\n"
        'rows = [{ thickness = "1 mm", feed_mm_min = 6000 }, { thickness = "3 mm", feed_mm_min = 1200 }]\n'
    )
    cut = cut_for("laser", "copper", 2.0)
    assert cut.feed_mm_s == pytest.approx(60.0)
    assert "feed: between 1 and 3 mm, shop's own file" in cut.sources
    assert thickness_range("laser", "copper") == (1.0, 3.0)
    (problem,) = problems("laser", "copper", 3.001)
    assert problem.parameter == "thickness"


def test_rows_limit_a_range_that_the_shop_has_widened(own_file):
    own_file.write_text('[processes.air-plasma]\nthickest = { thickness = "50 mm" }\n')
    assert thickness_range("air-plasma", "mild-steel") == (0.5, 25.4)


def test_an_unusable_file_is_one_sentence(own_file):
    own_file.write_text("[processes.air-plasma.smallest_hole]\nratio = -1\n")
    with pytest.raises(DataError) as error:
        cut_for("air-plasma", "mild-steel", 6.0)
    assert str(error.value) == (f"{own_file}: processes.air-plasma.smallest_hole.ratio is -1; it must be at least 0.")
