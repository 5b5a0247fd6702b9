"""The data files: numbers that stand nowhere else, each with its source, read when needed, refused in one sentence."""

import copy
import dataclasses
import subprocess
import sys
from pathlib import Path

import pytest

from parts.artwork.face_table import FaceTable
from parts.artwork.lettering import Alphabet
from parts.boltup.assumed import BoltUpNumbers
from parts.catalogue.shop_words import ShopWords
from parts.cutting import PROCESSES, Bed, Job, Sheet, materials
from parts.cutting.expected import DeviationTable
from parts.cutting.machine import Machine
from parts.data import FOLDER, files, load, read, threshold
from parts.data.choices import Choices
from parts.errors import DataError
from parts.fasteners.bolts import BoltTables
from parts.fasteners.distances import Bolting
from parts.fasteners.making import HoleMaking
from parts.forming import Brake
from parts.forming.air_bending import AirBending, RadiusPerV
from parts.forming.neutral import KFactors
from parts.shop import built_in
from parts.spec import Parameters
from parts.truing.bend.reading import BendTestNumbers
from parts.truing.instruments import METALS, InstrumentTable
from parts.units.gauge import GaugeTables
from parts.units.inch_sizes import InchSizes

MODELS = {
    "air_bending.toml": AirBending,
    "bend_test.toml": BendTestNumbers,
    "bolt_up.toml": BoltUpNumbers,
    "bolts.toml": BoltTables,
    "choices.toml": Choices,
    "edge_distance.toml": Bolting,
    "fonts.toml": FaceTable,
    "gauges.toml": GaugeTables,
    "hole_making.toml": HoleMaking,
    "inch_sizes.toml": InchSizes,
    "instruments.toml": InstrumentTable,
    "iso9013.toml": DeviationTable,
    "k_factors.toml": KFactors,
    "lettering.toml": Alphabet,
    "shop_words.toml": ShopWords,
}
SHOP = {"bending.toml", "materials.toml", "processes.toml", "setup.toml"}
FILES = {path.name: path for path in FOLDER.glob("*.toml")}


THRESHOLDS = {"rules.toml"}
"""Read as it stands, for rules know their numbers once they are imported; each is asked for by its name."""


def test_every_file_has_its_model():
    assert set(FILES) == {*MODELS, *SHOP, *THRESHOLDS}


def test_a_threshold_that_isnt_there_or_is_no_number_is_told():
    assert threshold("finger", "lost_kerfs") == 2
    with pytest.raises(DataError, match=r"rules\.toml: finger\.lost is None; it must be a number\.$"):
        threshold("finger", "lost")
    with pytest.raises(DataError, match=r"rules\.toml: finger\.source is 'from memory'; it must be a number\.$"):
        threshold("finger", "source")


# ---------------------------------------------------------------------------------------------- numbers once


@pytest.mark.parametrize("record", [Bed, Sheet, Machine, Brake])
def test_a_record_of_the_shop_has_no_number_of_its_own(record):
    assert all(field.default is dataclasses.MISSING for field in dataclasses.fields(record))
    assert all(field.default_factory is dataclasses.MISSING for field in dataclasses.fields(record))


def test_a_job_is_told_all_but_its_units():
    assert {field.name for field in dataclasses.fields(Job) if field.default is not dataclasses.MISSING} == {"units"}


def test_the_defaults_of_bed_and_sheet_are_the_datas():
    data = built_in()
    defaults = {name: field.default for name, field in Parameters.model_fields.items()}
    assert (defaults["bed_x"], defaults["bed_y"]) == (data.bed.x_mm, data.bed.y_mm)
    assert (defaults["sheet_x"], defaults["sheet_y"]) == (data.sheet.x_mm, data.sheet.y_mm)


def test_names_in_one_file_are_those_of_the_others():
    groups = {material.group for material in materials().values()}
    k = load("k_factors.toml", KFactors)
    assert {*k.handbook.c, *k.by_likeness.c} == groups
    assert not k.handbook.c.keys() & k.by_likeness.c.keys()
    assert set(RadiusPerV.model_fields) - {"source"} == groups
    assert set(load("air_bending.toml", AirBending).least_radius) <= groups
    assert set(load("iso9013.toml", DeviationTable).processes.usual_class) == set(PROCESSES) - {"waterjet"}
    assert set(METALS) == {material.group for material in materials().values()}


# ---------------------------------------------------------------------------------------------------- sources


def unsourced(tree, where="", sourced=False):
    """Where numbers stand without a source, in their own table or one around it, or one of their own in `sources`."""
    if isinstance(tree, dict):
        sourced = sourced or bool(str(tree.get("source", "")).strip())
        for key, value in tree.items():
            own = str(tree.get("sources", {}).get(key, "")).strip()
            yield from unsourced(value, f"{where}.{key}".lstrip("."), sourced or bool(own))
    elif isinstance(tree, list):
        for value in tree:
            yield from unsourced(value, where, sourced)
    elif isinstance(tree, int | float) and not sourced:
        yield where


def test_the_walk_sees_a_number_without_a_source():
    tree = {"a": {"source": "s", "b": 1}, "rows": [{"c": 2, "source": " "}, {"c": 3, "source": "t"}], "t": "text"}
    assert list(unsourced(tree)) == ["rows.c"]
    assert list(unsourced({"d": 1, "e": 2, "sources": {"e": "u"}})) == ["d"]


@pytest.mark.parametrize("name", FILES)
def test_every_number_has_its_source(name):
    assert not list(unsourced(read(FILES[name])))


def sources(tree, path=()):
    """The path of every source in a file."""
    if isinstance(tree, dict):
        yield from [(*path, "source")] * ("source" in tree)
    items = tree.items() if isinstance(tree, dict) else enumerate(tree) if isinstance(tree, list) else ()
    for key, value in items:
        yield from sources(value, (*path, key))


@pytest.mark.parametrize("name", sorted(MODELS.keys() - {"choices.toml", "shop_words.toml"}))  # words have none
def test_a_table_without_its_source_is_refused(monkeypatch, name):
    tree = read(FILES[name])
    paths = list(sources(tree))
    assert len(paths) >= 1
    for path in paths:
        for given in (None, " "):
            wrong = copy.deepcopy(tree)
            table = wrong
            for key in path[:-1]:
                table = table[key]
            table["source"] = given
            if given is None:
                del table["source"]
            monkeypatch.setattr(files, "read", lambda path, wrong=wrong: wrong)
            with pytest.raises(DataError, match=r"source is (missing; it must be given|' '; it must not be empty)\.$"):
                load(name, MODELS[name])


# -------------------------------------------------------------------------------------------- what is refused

GROW = "must grow from diameter through close and normal to loose"
M4 = "diameter_mm = 4, close_mm = 4.3, normal_mm = 4.5, loose_mm = 4.8"
L = "[[[0, 6], [0, 0], [3.5, 0]]]"
TERMS = "write a length such as 100 mm, 3/16 in, 1-1/2 in or 2 ft 3 in"
WRONG = [
    ("bolts.toml", "[metric.sizes]", "[metric.other]", "metric has no entry other: accepted: source, sizes"),
    ("bolts.toml", "[inch]", "[inches]", "the file has no entry inches: did you mean inch"),
    ("bolts.toml", "loose_mm = 4.8", "loose = 4.8", "metric.sizes.M4 has no entry loose: did you mean loose_mm"),
    ("bolts.toml", "loose_mm = 4.8", "loose_mm = 4.5", f"metric.sizes.M4 {GROW}"),
    ("bolts.toml", "close_mm = 4.3", "close_mm = 4", f"metric.sizes.M4 {GROW}"),
    ("bolts.toml", "diameter_mm = 3,", "diameter_mm = 0,", f"metric.sizes.M3 {GROW}"),
    ("bolts.toml", "diameter_mm = 4,", "diameter_mm = true,",
     "metric.sizes.M4.diameter_mm is True; it must be a number"),
    ("bolts.toml", M4, "diameter_mm = 3.5, close_mm = 4, normal_mm = 5, loose_mm = 6",
     "metric has M4 after M3.5: bolts must stand in ascending order"),
    ("bolts.toml", '"9/32"', '"9/0"',
     f"inch.sizes.1/4.normal_in is '9/0'; '9/0' divides by zero: {TERMS}"),
    ("edge_distance.toml", "edge_mm = 26", "edge_mm = 19",
     "metric row 2 must have an edge distance of at least its bolt"),
    ("edge_distance.toml", "bolt_mm = 20", "bolt_mm = 16", "metric has a bolt of 16 mm after 16 mm: rows must ascend"),
    ("edge_distance.toml", "edge_mm = 28", "edge_mm = 25.99",
     "metric has a bolt of 22 mm after 20 mm: rows must ascend"),
    ("edge_distance.toml", "beyond_ratio = 1.25", "beyond_ratio = 0.99",
     "metric.beyond_ratio is 0.99; it must be at least 1"),
    ("edge_distance.toml", '"8/3"', '"8 in"', "spacing.least is '8 in'; Invalid literal for Fraction: '8 in'"),
    ("gauges.toml", "[steel]", "[steal]", "the file has no entry steal: did you mean steel"),
    ("gauges.toml", "4 = 0.2242", "4 = 0.2391",
     "steel.thickness_in has gauge 4 after 3: numbers must rise and thicknesses fall"),
    ("gauges.toml", "4 = 0.2242", "2 = 0.2242",
     "steel.thickness_in has gauge 2 after 3: numbers must rise and thicknesses fall"),
    ("gauges.toml", "4 = 0.2242", "4 = 0.0", "steel.thickness_in.4 is 0.0; it must be over 0 in"),
    ("gauges.toml", "3 = 0.2391", "3 = 1.0", "steel.thickness_in.3 is 1.0; it must be less than 1 in"),
    ("gauges.toml", "4 = 0.2242", "4 = nan", "steel.thickness_in.4 is nan; it must be a finite number"),
    ("gauges.toml", "4 = 0.2242", "four = 0.2242", "steel.thickness_in.four is 'four'; it must be a whole number"),
    ("gauges.toml", "name = \"Manufacturers' Standard Gauge\"", "name = 3",
     "steel.name is 3; it must be text in quotes"),
    ("iso9013.toml", "class = 1\n", "class = 3\n", "row 1.class is 3; it must be at most 2"),
    ("iso9013.toml", "to_mm = 1\n", "to_mm = 0\n", "the file has a row 1 of over 0 to 0 mm: to must be more"),
    ("iso9013.toml", "0 = 0.075, 3 =", "0 = 0.075, 4 =",
     "the file has a limit at 4 mm in row 1: sizes.from_mm doesn't list it"),
    ("iso9013.toml", "0 = 0.075", "0 = 0", "row 1.limits_mm.0 is 0; it must be over 0 mm"),
    ("iso9013.toml", "[0, 3, 10", "[0, 3, 3", "sizes must have sizes that rise from 0 to under_mm"),
    ("iso9013.toml", "[0, 3, 10", "[1, 3, 10", "sizes must have sizes that rise from 0 to under_mm"),
    ("iso9013.toml", "laser = 1", "laser = 1.5", "processes.class.laser is 1.5; it must be a whole number"),
    ("k_factors.toml", "stainless = 0.71", "stainless = 0.9",
     "by_likeness.c.stainless is 0.9; it must be at most 0.8"),
    ("k_factors.toml", "slope = 0.5\n", "", "din_6935.slope is missing; it must be given"),
    ("air_bending.toml", "thickness_mm = 9.5, times", "thickness_mm = 8, times",
     "v_openings has 8 after 8: rows must go from thin to thick"),
    ("air_bending.toml", "thickness_mm = 6, radius", "thickness_mm = 5, radius",
     "least_radius.steel has 5 after 5: rows must go from thin to thick"),
    ("air_bending.toml", "times = 12", "times = 3", "v_openings row 4.times is 3; it must be at least 4"),
    ("air_bending.toml", "stainless = 0.20", "stainless = 2", "radius_per_v.stainless is 2; it must be at most 0.5"),
    ("lettering.toml", "top = 6", "top = 0", "top is 0; it must be over 0"),
    ("lettering.toml", "gap = 1.5", 'gap = "wide"', "gap is 'wide'; it must be a number"),
    ("lettering.toml", "[letters]", "[letterz]", "the file has no entry letterz: did you mean letters"),
    ("lettering.toml", "\nL = {", "\nLL = {", "letters.LL is 'LL'; it must be of 1 character"),
    ("lettering.toml", "L = { width = 3.5,", "L = {", "letters.L.width is missing; it must be given"),
    ("lettering.toml", L, "[[[0, 6]]]",
     "letters.L.strokes number 1 is [[0, 6]]; a stroke must be a list of two points or more"),
    ("lettering.toml", L, "[[[0, 6], [3.6, 0]]]",
     "the file has the point [3.6, 0] in letter L: it must lie within 3.5 by 6"),
    ("lettering.toml", L, '[[[0, 6], ["3", 0]]]',
     "letters.L.strokes number 1 number 2 is ['3', 0]; a point must be [x, y] or [x, y, turn in degrees]"),
    ("lettering.toml", L, "3", "letters.L.strokes is 3; it must be a list in square brackets"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "found", "written", "sentence"), WRONG)
def test_what_is_wrong_is_told_in_one_sentence(tmp_path, name, found, written, sentence):
    text = FILES[name].read_text(encoding="utf-8")
    assert found in text
    wrong = tmp_path / name
    wrong.write_text(text.replace(found, written, 1), encoding="utf-8")
    with pytest.raises(DataError) as refusal:
        load(wrong, MODELS[name])
    assert str(refusal.value) == f"{wrong}: {sentence}."


@pytest.mark.parametrize("name", MODELS)
def test_a_file_that_cant_be_read_is_told(tmp_path, name):
    gone = tmp_path / "gone.toml"
    with pytest.raises(DataError) as refusal:
        load(gone, MODELS[name])
    assert str(refusal.value) == f"{gone} can't be read: No such file or directory."
    gone.write_text("a = ")
    with pytest.raises(DataError, match=r"gone\.toml can't be read as TOML: Invalid value"):
        load(gone, MODELS[name])


# ---------------------------------------------------------------------------------------- read when needed

OPENED = """
import sys
opened = set()
sys.addaudithook(lambda event, args: opened.add(str(args[0]).replace("\\\\", "/").rpartition("/")[2])
                 if event == "open" and str(args[0]).endswith(".toml") else None)
import parts
print(*sorted(opened))
opened.clear()
parts.draw("gusset-triangle")
print(*sorted(opened))
"""


def test_a_file_is_read_when_it_is_needed():
    root = Path(__file__).parents[2]
    done = subprocess.run([sys.executable, "-c", OPENED], cwd=root, capture_output=True, text=True, check=True)
    at_import, at_draw = (set(line.split()) & set(FILES) for line in done.stdout.splitlines())
    assert at_import <= SHOP | THRESHOLDS
    assert not at_draw & {"lettering.toml", "iso9013.toml", "k_factors.toml", "air_bending.toml", "gauges.toml"}
