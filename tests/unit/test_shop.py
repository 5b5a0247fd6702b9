"""The shop's own file over the built-in numbers: `parts/shop/numbers.py`, `shop_data.py` and `shop_tree.py`."""

import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from parts.errors import DataError
from parts.shop import numbers as shop
from parts.shop import schema as shop_data
from parts.shop import tree as shop_tree

ROOT = Path(__file__).parents[2]
STEEL_FEED = "[processes.air-plasma.feed.steel]\n"
ROW_6_MM = "{ thickness_mm = 6, feed_mm_s = 9 }"


def load(path, text):
    path.write_text(text, encoding="utf-8")
    return shop.load(shop.edition())


def refusal(path, text):
    with pytest.raises(DataError) as error:
        load(path, text)
    return str(error.value)


def test_no_test_sees_a_persons_own_file():
    """Held by conftest.py; a server that a test starts takes the same environment."""
    at = shop.edition()
    assert (at.path, at.size) == (os.environ[shop.VARIABLE], 0)
    ask = "from parts import shop; at = shop.edition(); print(at.path, at.size)"
    done = subprocess.run([sys.executable, "-c", ask], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == f"{at.path} 0"


def test_an_empty_file_changes_nothing(own_file):
    assert load(own_file, "") == shop_data.ShopData.model_validate(shop_tree.builtin())


@pytest.mark.parametrize(
    ("text", "x_mm"),
    [
        ('x = "52 in"', 1320.8),
        ('x = "1300 mm"', 1300.0),
        ('x = "4 ft"', 1219.2),
        ('x = "1300"', 1300.0),
        ("x = 1300", 1300.0),
        ("x_mm = 1300.5", 1300.5),
        ('x_mm = "50 in"', 1270.0),
    ],
)
def test_a_length_is_shop_text_or_millimetres(own_file, text, x_mm):
    bed = load(own_file, f"[bed]\n{text}\n").bed
    assert bed.x_mm == pytest.approx(x_mm, abs=1e-12)
    assert bed.y_mm == 2489.2
    assert bed.source == f"shop's own file; the rest {shop_tree.builtin()['bed']['source']}"


@pytest.mark.parametrize(
    ("text", "mm_s"), [("feed_in_min = 60", 25.4), ("feed_mm_min = 60", 1.0), ("feed_mm_s = 7", 7)]
)
def test_a_feed_is_given_as_the_chart_has_it(own_file, text, mm_s):
    data = load(own_file, f'{STEEL_FEED}rows = [{{ thickness = "1/4 in", {text} }}]')
    (row,) = data.processes["air-plasma"].feed["steel"].rows
    assert (row.thickness_mm, row.source) == (6.35, shop_tree.OWN)
    assert row.value == pytest.approx(mm_s, rel=1e-12)


def test_tables_merge_and_rows_replace(own_file):
    thin, thick = (
        '{ thickness_mm = 2, kerf_mm = 1.5, source = "slot gauge" }',
        "{ thickness_mm = 9, kerf_mm = 2 }",
    )
    data = load(own_file, f"[processes.air-plasma.kerf.steel]\nrows = [{thin}, {thick}]")
    built_in = shop_data.ShopData.model_validate(shop_tree.builtin())
    kerf = data.processes["air-plasma"].kerf
    assert [(row.thickness_mm, row.value, row.source) for row in kerf["steel"].rows] == [
        (2.0, 1.5, "shop's own file: slot gauge"),
        (9.0, 2.0, "shop's own file"),
    ]
    assert kerf["any"] == built_in.processes["air-plasma"].kerf["any"]
    assert data.processes["air-plasma"].feed == built_in.processes["air-plasma"].feed
    assert data.processes["laser"] == built_in.processes["laser"]
    assert data.materials == built_in.materials


RULE = shop_tree.builtin()["processes"]["air-plasma"]["smallest_hole"]["source"]


@pytest.mark.parametrize(
    ("text", "source"),
    [
        pytest.param("ratio = 2", f"shop's own file; the rest {RULE}", id="some"),
        pytest.param('ratio = 2\nsource = "coupons"', f"shop's own file: coupons; the rest {RULE}", id="some, named"),
        pytest.param('ratio = 2\nfloor = "4 mm"\nkerfs = 3', "shop's own file", id="all"),
        pytest.param('source = "checked"', "shop's own file: checked", id="only the source"),
        pytest.param("", RULE, id="nothing"),
    ],
)
def test_the_source_says_whose_number_it_is(own_file, text, source):
    data = load(own_file, f"[processes.air-plasma.smallest_hole]\n{text}")
    assert data.processes["air-plasma"].smallest_hole.source == source


def test_a_title_is_no_number_and_leaves_the_source(own_file):
    material = load(own_file, '[materials.aluminium]\ntitle = "5052"').materials["aluminium"]
    assert (material.title, material.source) == (
        "5052",
        shop_tree.builtin()["materials"]["aluminium"]["source"],
    )


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("bed = 3", "bed is 3; it must be a table with source, x_mm, y_mm"),
        (
            '[bed]\nx = "52 in"\nx_mm = 1300',
            "bed has both x and x_mm: give one of them",
        ),
        (
            "[jigs]\na = 1",
            "the file has no entry jigs: accepted: bed, sheet, machine, brake, drawing, blank, lifting, rates, "
            "title_block, usual, "
            "cautions, materials, processes, test_bends, least_bend_radius",
        ),
        (
            "[processes.air-plazma]\na = 1",
            "the file has no entry processes.air-plazma: did you mean air-plasma",
        ),
        ("[processes.air-plasma]\nkerff = 1", "processes.air-plasma has no entry kerff: did you mean kerf"),
        ("[processes.air-plasma]\nfeed = 3", "processes.air-plasma.feed is 3; it must be a table"),
        (
            "[processes.air-plasma.feed.steal]\nrows = [{ thickness_mm = 6, feed_mm_s = 30 }]",
            "the file has no entry processes.air-plasma.feed.steal: did you mean steel",
        ),
        (
            "[materials.aluminum]\ndensity_kg_per_m3 = 2680",
            "the file has no entry materials.aluminum: did you mean aluminium "
            "(a new one needs title, density_kg_per_m3 and group)",
        ),
        (
            '[processes.laser]\ncautions = ["laser-beem"]',
            "the file has no entry processes.laser.cautions.laser-beem: did you mean laser-beam",
        ),
        (
            "[processes.laser]\ncautions = [1]",
            "processes.laser.cautions number 1 is 1; it must be text in quotes",
        ),
        ("[cautions.laser-beam]\ntext = ''", "cautions.laser-beam.text is ''; it must not be empty"),
        (
            "[cautions.ours]\nsource = 'us'",
            "cautions.ours.text is missing; it must be given",
        ),
        (f"{STEEL_FEED}rows = []", "processes.air-plasma.feed.steel.rows is []; it must have at least 1 row"),
        (
            f"{STEEL_FEED}rows = [[6, 30]]",
            "processes.air-plasma.feed.steel row 1 is [6, 30]; it must be a table with "
            "thickness_mm, feed_mm_s, current_a, power_kw, quality, source",
        ),
        (
            f"{STEEL_FEED}rows = [{{ thickness_mm = 6 }}]",
            "processes.air-plasma.feed.steel row 1.feed_mm_s is missing; it must be given",
        ),
        (
            f"{STEEL_FEED}rows = [{ROW_6_MM}, {{ thickness_mm = 7, feed_in_min = 900000 }}]",
            "processes.air-plasma.feed.steel row 2.feed_in_min is 900000; it must be at most 2000 mm/s",
        ),
        (
            f"{STEEL_FEED}rows = [{{ thickness_mm = 6, feed_in_min = true }}]",
            "processes.air-plasma.feed.steel row 1.feed_in_min is True; it must be a number",
        ),
    ],
)
def test_what_is_wrong_is_named_in_one_sentence(own_file, text, sentence):
    assert refusal(own_file, text) == f"{own_file}: {sentence}."


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ("density_kg_per_m3 = true", "materials.brass.density_kg_per_m3 is True; it must be a number"),
        ('density_kg_per_m3 = "8"', "materials.brass.density_kg_per_m3 is '8'; it must be a number"),
        ("density_kg_per_m3 = nan", "materials.brass.density_kg_per_m3 is nan; it must be a finite number"),
        ("density_kg_per_m3 = inf", "materials.brass.density_kg_per_m3 is inf; it must be a finite number"),
        ('title = " "', "materials.brass.title is ' '; it must not be empty"),
        ("title = 1", "materials.brass.title is 1; it must be text in quotes"),
        ('cautions = "x"', "materials.brass.cautions is 'x'; it must be a list in square brackets"),
        (
            'cautions = ["zinc"]',
            "the file has no entry materials.brass.cautions.zinc: did you mean zinc-fume",
        ),
        ('group = "bras"', "the file has no entry materials.brass.group.bras: did you mean brass"),
        (
            "not_cut_by.lazer = 'x'",
            "the file has no entry materials.brass.not_cut_by.lazer: did you mean laser",
        ),
        (
            'gauge = "steal"',
            "materials.brass.gauge is 'steal'; accepted: 'steel', 'galvanized', 'stainless', 'aluminium' or 'none'",
        ),
    ],
)
def test_what_is_wrong_with_a_material_is_named_in_one_sentence(own_file, line, sentence):
    assert refusal(own_file, f"[materials.brass]\n{line}") == f"{own_file}: {sentence}."


def test_text_that_is_no_length_is_answered_in_the_words_for_lengths(own_file):
    said = refusal(own_file, '[bed]\nx = "52 inn"')
    assert said.startswith(f"{own_file}: bed.x is '52 inn'; ")
    assert "write a length such as" in said


@pytest.mark.parametrize(
    ("table", "key", "low", "high", "unit"),
    [
        ("bed", "x_mm", 100, 50_000, " mm"),
        ("materials.brass", "density_kg_per_m3", 500, 25_000, " kg/m3"),
        ("processes.laser.smallest_hole", "ratio", 0, 10, ""),
        ("processes.laser.smallest_hole", "kerfs", 0, 20, ""),
        ("processes.laser.narrowest_bridge", "floor_mm", 0, 100, " mm"),
    ],
)
def test_bounds_just_inside_at_and_just_outside(own_file, table, key, low, high, unit):
    for inside in (low, low + 0.001, high - 0.001, high):
        load(own_file, f"[{table}]\n{key} = {inside}")
    for outside, limit in ((low - 0.001, f"at least {low}"), (high + 0.001, f"at most {high}")):
        sentence = f"{own_file}: {table}.{key} is {outside!r}; it must be {limit}{unit}."
        assert refusal(own_file, f"[{table}]\n{key} = {outside}") == sentence


@pytest.mark.parametrize(("time", "limit"), [(-0.001, "at least 0 s"), (1200.001, "at most 1200 s")])
def test_a_pierce_may_take_no_time_but_not_less(own_file, time, limit):
    text = "[processes.laser.pierce_time.any]\nrows = [{{ thickness_mm = 6, time_s = {} }}]"
    for inside in (0, 0.001, 1199.999, 1200):
        load(own_file, text.format(inside))
    entry = "processes.laser.pierce_time.any row 1.time_s"
    assert refusal(own_file, text.format(time)) == f"{own_file}: {entry} is {time}; it must be {limit}."


@pytest.mark.parametrize(
    ("quantity", "key", "high", "unit"),
    [
        ("kerf", "kerf_mm", 20, "mm"),
        ("pierce_diameter", "diameter_mm", 100, "mm"),
        ("feed", "feed_mm_s", 2000, "mm/s"),
    ],
)
def test_values_of_rows_are_over_nothing_and_sensible(own_file, quantity, key, high, unit):
    text = f"[processes.laser.{quantity}.steel]\nrows = [{{{{ thickness_mm = 6, {key} = {{}} }}}}]"
    entry = f"{own_file}: processes.laser.{quantity}.steel row 1.{key}"
    for inside in (1e-9, high):
        load(own_file, text.format(inside))
    assert refusal(own_file, text.format(0)) == f"{entry} is 0; it must be over 0 {unit}."
    assert refusal(own_file, text.format(high + 0.1)) == f"{entry} is {high + 0.1}; it must be at most {high} {unit}."


@pytest.mark.parametrize(("thickness", "accepted"), [(0, "over 0 mm"), (-1, "over 0 mm"), (300.01, "at most 300 mm")])
def test_thickness_of_a_row_is_sensible(own_file, thickness, accepted):
    said = refusal(own_file, f"{STEEL_FEED}rows = [{{ thickness_mm = {thickness}, feed_mm_s = 9 }}]")
    entry = "processes.air-plasma.feed.steel row 1.thickness_mm"
    assert said == f"{own_file}: {entry} is {thickness}; it must be {accepted}."
    load(own_file, f"{STEEL_FEED}rows = [{{ thickness_mm = 300, feed_mm_s = 9 }}]")


@pytest.mark.parametrize(("second", "good"), [(5.999, False), (6.0, False), (6.001, True)])
def test_rows_go_from_thin_to_thick(own_file, second, good):
    text = f"{STEEL_FEED}rows = [{ROW_6_MM}, {{ thickness_mm = {second}, feed_mm_s = 8 }}]"
    if good:
        assert len(load(own_file, text).processes["air-plasma"].feed["steel"].rows) == 2
    else:
        assert refusal(own_file, text) == (
            f"{own_file}: processes.air-plasma.feed.steel has {second:g} mm after 6 mm: "
            "rows must go from thin to thick."
        )


@pytest.mark.parametrize(("thickest", "good"), [(0.499, False), (0.5, False), (0.501, True)])
def test_a_process_starts_thinner_than_it_ends(own_file, thickest, good):
    text = f"[processes.air-plasma]\nthickest = {{ thickness_mm = {thickest} }}"
    if good:
        assert load(own_file, text).processes["air-plasma"].thickest.thickness_mm == thickest
    else:
        assert refusal(own_file, text) == (
            f"{own_file}: processes.air-plasma is thinnest at 0.5 mm and thickest at {thickest:g} mm: "
            "thinnest must be less."
        )


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("x = ", id="half an entry"),
        pytest.param("x = 1\nx = 2", id="an entry twice"),
        pytest.param("x = " + "[" * 5000 + "]" * 5000, id="nested too deep"),
        pytest.param("x = " + "9" * 5000, id="a number too long to read"),
        pytest.param("a" + ".a" * 5000 + " = 1", id="tables too deep"),
    ],
)
def test_a_file_that_can_not_be_read_is_one_sentence(own_file, text):
    said = refusal(own_file, text)
    assert said.startswith(str(own_file))
    assert said.endswith(".")
    assert "\n" not in said


def test_bytes_that_are_no_text_are_refused(own_file):
    own_file.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(DataError, match=r"can't be read as TOML: it isn't text in UTF-8\.$"):
        shop.load(shop.edition())


def test_a_byte_order_mark_is_read_over(own_file):
    own_file.write_bytes(b"\xef\xbb\xbf[bed]\nx_mm = 900\n")
    assert shop.load(shop.edition()).bed.x_mm == 900


def test_a_long_value_is_cut_short(own_file):
    said = refusal(own_file, f"[materials.brass]\ndensity_kg_per_m3 = {'9' * 400}")
    assert said == f"{own_file}: materials.brass.density_kg_per_m3 is {'9' * 60}...; it must be a number."


def test_the_named_file_must_be_there(tmp_path, monkeypatch):
    gone = tmp_path / "gone.toml"
    monkeypatch.setenv(shop.VARIABLE, str(gone))
    with pytest.raises(DataError) as error:
        shop.edition()
    assert str(error.value) == f"{shop.VARIABLE} names {gone}, which isn't there; name a file or unset it."


def test_a_folder_is_no_file(tmp_path, monkeypatch):
    monkeypatch.setenv(shop.VARIABLE, str(tmp_path))
    with pytest.raises(DataError, match=r"can't be read: Is a directory\.$"):
        shop.load(shop.edition())


@pytest.mark.parametrize("named", [None, ""], ids=["unset", "empty"])
@pytest.mark.skipif(os.name == "nt" or os.uname().sysname == "Darwin", reason="only Linux is moved by XDG_CONFIG_HOME")
def test_the_usual_place(tmp_path, monkeypatch, named):
    monkeypatch.delenv(shop.VARIABLE, raising=False)
    if named is not None:
        monkeypatch.setenv(shop.VARIABLE, named)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    assert shop.edition() == shop.Edition("", 0, 0)
    path = tmp_path / "platewright" / "shop.toml"
    path.parent.mkdir()
    path.write_text("[bed]\nx_mm = 800\n")
    assert shop.edition().path == str(path)
    assert shop.load(shop.edition()).bed.x_mm == 800


def test_an_edit_shows_at_once_and_is_read_once(own_file, monkeypatch):
    readings = []
    read = tomllib.loads
    monkeypatch.setattr(tomllib, "loads", lambda text: readings.append(text) or read(text))
    for x_mm in (801, 802):
        own_file.write_text(f"[bed]\nx_mm = {x_mm}\n")
        os.utime(own_file, ns=(x_mm, x_mm))  # whatever the grain of the file system's clock
        assert [shop.load(shop.edition()).bed.x_mm for _ in range(50)] == [x_mm] * 50
    assert len(readings) == 2
