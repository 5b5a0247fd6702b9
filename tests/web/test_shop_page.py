"""The page of the shop's own numbers: what it shows, what it writes, what it refuses."""

import io
import json
import re
import tomllib
from html import unescape
from itertools import product

import pytest
from pydantic import BaseModel

import parts
from parts import shop
from parts.cutting.process import cut_for
from parts.shop.editing import file as shop_file
from tests.depth import one_in
from tests.web.test_page import Page
from webapp import create_app
from webapp.pages.shop.page import GROUPS

HERE = {"Sec-Fetch-Site": "same-origin"}
PLASMA = "/shop/air-plasma?group=steel&units=mm"


def form(client, address):
    """The fields of the page's form, as a browser would send them untouched."""
    answer = client.get(address)
    assert answer.status_code == 200
    page = Page(answer.text)
    names = {field["name"]: field.get("value", "") for field in page.of("input") if "name" in field}
    names.pop("file", None)
    return names


def send(client, address, **typed):
    fields = form(client, address)
    unknown = typed.keys() - fields.keys() - {"back"}
    assert not unknown
    return client.post(address, data={**fields, **typed}, headers=HERE)


def cell(client, thickness, quantity, address=PLASMA):
    """The name of the field of a quantity at a thickness."""
    fields = form(client, address)
    place = next(
        name.split(".")[0] for name, text in fields.items() if name.endswith(".thickness") and text == thickness
    )
    return f"{place}.{quantity}"


def tree(path):
    return tomllib.loads(path.read_text(encoding="utf-8"))


def test_a_bed_is_saved_and_holds_from_the_next_drawing_on(client, own_file):
    answer = send(client, "/shop?units=in", **{"bed.x_mm": "48", "bed.source": "tape"})
    assert (answer.status_code, answer.location) == (303, "/shop?units=in&saved=1")
    assert tree(own_file) == {"bed": {"x": "48 in", "source": "tape"}}
    assert "Saved in" in client.get(answer.location).text
    assert Page(client.get("/parts/gusset-triangle?units=in").text).fields["bed_x"] == "48"


def test_comments_and_unknown_order_stay(client, own_file):
    own_file.write_text('# ours\n[machine]\nslat_pitch_mm = 70 # sagging\n\n# bed last\n[bed]\nx = "52 in"\n')
    send(client, "/shop", **{"machine.slat_pitch_mm": "75"})
    assert (
        own_file.read_text() == '# ours\n[machine]\nslat_pitch = "75 mm" # sagging\n\n# bed last\n[bed]\nx = "52 in"\n'
    )


def test_one_cell_makes_its_column_the_shops_own_and_carries_the_others_over(client, own_file):
    name = cell(client, "6.4", "kerf")
    assert send(client, PLASMA, **{name: "1.4", "source": "slot gauge"}).status_code == 303
    rows = tree(own_file)["processes"]["air-plasma"]["kerf"]["steel"]["rows"]
    built_in = shop_rows("air-plasma", "kerf", "steel")
    assert [row["thickness_mm"] for row in rows] == [row["thickness_mm"] for row in built_in]
    (mine,) = (row for row in rows if row["thickness_mm"] == 6.4)
    assert mine == {"thickness_mm": 6.4, "kerf": "1.4 mm", "source": "slot gauge"}
    others = [row for row in rows if row is not mine]
    assert all(row["source"].startswith("built-in: ") for row in others)
    cut = cut_for("air-plasma", "mild-steel", 6.4)
    assert cut.kerf_mm == 1.4
    assert "kerf: shop's own file: slot gauge" in cut.sources
    assert cut_for("air-plasma", "mild-steel", 3.0).kerf_mm == 1.65
    assert set(tree(own_file)["processes"]["air-plasma"]) == {"kerf"}


def shop_rows(process, quantity, group):
    from parts.shop.tree import builtin

    return builtin()["processes"][process][quantity][group]["rows"]


def test_a_new_thickness_is_sorted_in_and_a_touched_file_row_keeps_the_others(client, own_file):
    own_file.write_text(
        '[processes.laser.kerf.steel]\nrows = [\n  { thickness = "1 mm", kerf = "0.2 mm" }, # thin\n'
        '  { thickness = "1/2 in", kerf = "0.4 mm" }, # thick\n]\n'
    )
    address = "/shop/laser?group=steel&units=mm"
    spare = max(int(name.split(".")[0]) for name in form(client, address) if name.endswith(".thickness"))
    send(client, address, **{f"{spare}.thickness": "1/8", f"{spare}.kerf": "0.25"})
    text = own_file.read_text()
    assert [row["thickness"] for row in tree(own_file)["processes"]["laser"]["kerf"]["steel"]["rows"]] == [
        "1 mm", "1/8", "1/2 in",
    ]  # fmt: skip
    assert "# thin" in text
    assert "# thick" in text


def test_a_feed_is_typed_in_the_unit_of_the_page(client, own_file):
    address = "/shop/air-plasma?group=steel&units=in"
    name = cell(client, "1/2", "feed", address)
    send(client, address, **{name: "20"})
    rows = tree(own_file)["processes"]["air-plasma"]["feed"]["steel"]["rows"]
    assert {"thickness_mm": 12.7, "feed_in_min": 20} in rows
    assert form(client, address)[name] == "20"
    assert form(client, PLASMA)[cell(client, "12.7", "feed")] == "508"


def single_numbers(of, path=()):
    """The path of every number that stands alone in the schema, with the built-in entries filled in."""
    for name, field in type(of).model_fields.items():
        value = getattr(of, name)
        if isinstance(value, float):
            yield ".".join((*path, field.alias or name))
        for key, below in value.items() if isinstance(value, dict) else [("", value)]:
            if isinstance(below, BaseModel) and not isinstance(below, shop.Series):
                yield from single_numbers(below, (*path, name, *[key] * bool(key)))


def charts(process):
    """Every series of a process in the schema: quantity, group and how many rows."""
    for name in type(process).model_fields:
        value = getattr(process, name)
        for group, series in value.items() if isinstance(value, dict) else ():
            if isinstance(series, shop.Series):
                yield name, group, len(series.rows)


def test_the_page_has_a_field_for_every_number_that_the_file_may_hold(client):
    data = shop.built_in()
    numbers = list(single_numbers(data))
    assert {"sheet.y_mm", "brake.k_factor", "materials.brass.density_kg_per_m3"} <= set(numbers)
    assert "processes.laser.straight_strip.floor_mm" in numbers
    missing = {name for name in numbers if not name.startswith("processes.")} - form(client, "/shop").keys()
    for slug, process in data.processes.items():
        found = list(charts(process))
        assert len(found) >= 4
        pages = {group: form(client, f"/shop/{slug}?group={group}") for group in GROUPS}
        missing |= {name for name in numbers if name.startswith(f"processes.{slug}.")} - pages["steel"].keys()
        for quantity, group, count in found:
            cells = [name for name, text in pages[group].items() if text and name.endswith(f".{quantity}")]
            thicknesses = [cell.replace(quantity, "thickness") for cell in cells]
            whole = len(cells) == count and all(pages[group][name] for name in thicknesses)
            missing |= set() if whole else {f"{slug}.{quantity}.{group}"}
    assert not missing


def test_every_group_of_materials_has_its_link(client):
    groups = {material.group for material in shop.built_in().materials.values()}
    assert set(GROUPS) == groups | {shop.ANY}
    page = unescape(client.get("/shop/laser").text)
    assert all(f'"/shop/laser?group={group}&units=mm"' in page for group in GROUPS)


@pytest.mark.parametrize(
    ("address", "field", "typed", "held"),
    [
        ("/shop?units=in", "sheet.x_mm", "60", lambda data: data.sheet.x_mm == 1524),
        ("/shop", "brake.v_opening_ratio", "6", lambda data: data.brake.v_opening_ratio == 6),
        ("/shop", "brake.k_factor", "0.44", lambda data: data.brake.k_factor == 0.44),
        ("/shop", "brake.hole_ratio", "3", lambda data: data.brake.hole_ratio == 3),
        ("/shop", "materials.brass.density_kg_per_m3", "8490",
         lambda data: data.materials["brass"].density_kg_per_m3 == 8490),
        # 0.307 lb/in3 of 0.45359237 kg in 25.4 mm cubed
        ("/shop?units=in", "materials.brass.density_kg_per_m3", "0.307",
         lambda data: data.materials["brass"].density_kg_per_m3 == pytest.approx(0.307 * 0.45359237 / 0.0254**3)),
        ("/shop?units=in", "machine.acceleration_mm_s2", "40",
         lambda data: data.machine.acceleration_mm_s2 == pytest.approx(1016)),
        ("/shop/laser", "processes.laser.straight_strip.ratio", "4",
         lambda data: data.processes["laser"].straight_strip.ratio == 4),
    ],
)  # fmt: skip
def test_a_number_is_saved_shown_as_ones_own_and_taken_back(client, own_file, address, field, typed, held):
    assert send(client, address, **{field: typed}).status_code == 303
    assert held(shop.load(shop.edition()))
    assert form(client, address)[field] == typed
    assert f'name="back" value="{field}"' in client.get(address).text
    assert send(client, address, back=field).status_code == 303
    assert own_file.read_text().strip() == ""


def test_a_number_out_of_bounds_is_refused_beside_its_field(client, own_file):
    answer = send(client, "/shop", **{"brake.k_factor": "0.6"})
    assert answer.status_code == 422
    assert "brake.k_factor is 0.6; it must be at most 0.5." in answer.text


def test_a_material_of_the_shops_own_has_its_field_and_nothing_to_go_back_to(client, own_file):
    own_file.write_text('[materials.wear-plate]\ntitle = "Wear plate"\ndensity_kg_per_m3 = 7800\ngroup = "steel"\n')
    field = "materials.wear-plate.density_kg_per_m3"
    assert form(client, "/shop")[field] == "7800"
    page = client.get("/shop").text
    assert "<b>Wear plate</b>" in page
    assert f'name="back" value="{field}"' not in page
    send(client, "/shop", **{field: "7850"})
    assert shop.load(shop.edition()).materials["wear-plate"].density_kg_per_m3 == 7850
    answer = send(client, "/shop", **{field: ""})
    assert answer.status_code == 422
    assert "a new one needs title, density_kg_per_m3 and group" in answer.text


UNTOUCHED = list(product(parts.cutting.process.PROCESSES, ["steel", "copper", "any"], ["mm", "in"]))


@pytest.mark.parametrize(("process", "group", "units"), one_in(5, UNTOUCHED))
def test_an_untouched_form_changes_nothing(client, own_file, process, group, units):
    own_file.write_text('[processes.laser.kerf.any]\nrows = [{ thickness = "16 mm", kerf = "0.3 mm" }]\n')
    before = own_file.read_text()
    answer = send(client, f"/shop/{process}?group={group}&units={units}")
    assert (answer.status_code, answer.location[-7:]) == (303, "saved=0")
    assert own_file.read_text() == before


def test_back_to_the_built_in_number_takes_the_entry_out(client, own_file):
    own_file.write_text('[bed]\nx = "1 m"\nsource = "tape"\n[processes.laser.lead_in]\nratio = 2\nkerfs = 3\n')
    assert send(client, "/shop", back="bed.x_mm").status_code == 303
    assert tree(own_file) == {"processes": {"laser": {"lead_in": {"ratio": 2, "kerfs": 3}}}}
    send(client, "/shop/laser", back="processes.laser.lead_in.ratio")
    assert tree(own_file)["processes"]["laser"]["lead_in"] == {"kerfs": 3}


def test_back_to_the_built_in_column(client, own_file):
    send(client, PLASMA, **{cell(client, "6.4", "kerf"): "1.4"})
    address = re.search(r'name="back" value="([^"]*kerf[^"]*)"', client.get(PLASMA).text)[1]
    send(client, PLASMA, back=address)
    assert own_file.read_text().strip() == ""
    assert cut_for("air-plasma", "mild-steel", 6.4).kerf_mm == 2.03


@pytest.mark.parametrize(
    ("address", "typed", "sentence"),
    [
        ("/shop", {"bed.x_mm": "4,5"}, "bed.x is '4,5'; "),
        ("/shop", {"bed.x_mm": "5"}, "bed.x is '5 mm'; it must be at least 100 mm."),
        ("/shop", {"machine.top_speed_mm_s": "fast"}, "machine.top_speed_mm_s is 'fast'; it must be a number."),
        ("/shop", {"machine.top_speed_mm_s": "900000"}, "top_speed_mm_min is 900000; it must be at most 5000 mm/s."),
        ("/shop/laser", {"processes.laser.lead_in.ratio": "11"}, "it must be at most 10."),
        # 5000 mm/s is 11811 in/min, 5 mm 0.19685 in: rounded to what is accepted
        ("/shop?units=in", {"machine.top_speed_mm_s": "12000"}, "12000: it must be at most 11810 in/min."),
        ("/shop?units=in", {"machine.slat_pitch_mm": "0.1"}, "0.1: it must be at least 0.1969 in."),
        ("/shop?units=in", {"materials.brass.density_kg_per_m3": "2"}, "2: it must be at most 0.9031 lb/in\u00b3."),
        ("/shop/laser", {"0.kerf": "21"}, "laser.kerf.steel row 1.kerf is '21 mm'; it must be at most 20 mm."),
        ("/shop/laser", {"0.thickness": "abc"}, "row 1.thickness is 'abc'; "),
        ("/shop/laser", {"0.thickness": ""}, "row 1.thickness_mm is missing; it must be given."),
        ("/shop/laser", {"1.thickness": "0.5"}, "has 0.5 mm after 0.5 mm: rows must go from thin to thick."),
        ("/shop/laser", {"processes.laser.thickest.thickness_mm": "0.1"}, "thinnest must be less."),
    ],
)  # fmt: skip
def test_a_slip_is_told_in_the_files_words_and_nothing_is_written(client, own_file, address, typed, sentence):
    answer = send(client, address, **typed)
    assert answer.status_code == 422
    assert own_file.read_text() == ""
    text = unescape(re.sub(r"<[^>]+>", "", answer.text))
    assert sentence in text
    page = Page(answer.text)
    shown = {field["name"]: field.get("value", "") for field in page.of("input") if "name" in field}
    assert typed.items() <= shown.items()
    (name,) = typed
    if "after" not in sentence and "less" not in sentence:
        assert [field["name"] for field in page.of("input") if field.get("aria-invalid")] == [name]


def test_a_change_by_hand_meanwhile_is_never_written_over(client, own_file):
    fields = form(client, "/shop")
    own_file.write_text("# by hand\n[bed]\nx_mm = 1000\n[machine]\nslat_pitch_mm = 60\n")
    typed = {**fields, "bed.x_mm": "1200"}
    answer = client.post("/shop", data=typed, headers=HERE)
    assert answer.status_code == 409
    assert tree(own_file)["bed"]["x_mm"] == 1000
    text = unescape(re.sub(r"<[^>]+>", " ", answer.text))
    assert "1000" in text
    assert "1200 mm" in text
    hidden = {field["name"]: field["value"] for field in Page(answer.text).of("input") if field.get("type") == "hidden"}
    assert client.post("/shop", data=hidden, headers=HERE).status_code == 303
    assert tree(own_file) == {"bed": {"x": "1200 mm"}, "machine": {"slat_pitch_mm": 60}}
    assert own_file.read_text().startswith("# by hand\n")


def test_the_check_of_the_stamp_and_the_writing_are_one_step(own_file):
    seen = shop_file.read_file().stamp
    shop_file.save("[bed]\nx_mm = 1000\n", seen)
    with pytest.raises(shop_file.OtherEdition):
        shop_file.save("[bed]\nx_mm = 1100\n", seen)
    assert tree(own_file)["bed"]["x_mm"] == 1000


def test_what_would_not_load_is_not_written(own_file):
    with pytest.raises(parts.PartsError, match=r"bed\.x_mm is -1"):
        shop_file.save("[bed]\nx_mm = -1\n", shop_file.read_file().stamp)
    assert own_file.read_text() == ""
    assert [path.name for path in own_file.parent.iterdir()] == [own_file.name]


def test_the_folder_is_made_and_two_saves_in_a_tick_are_two_editions(tmp_path, monkeypatch):
    path = tmp_path / "deep" / "folder" / "shop.toml"
    monkeypatch.setenv(shop.VARIABLE, str(path))
    seen = {""}
    for x_mm in (1001, 1002, 1003, 1004):
        shop_file.save(f"[bed]\nx_mm = {x_mm}\n", shop_file.read_file().stamp)
        assert shop.load(shop.edition()).bed.x_mm == x_mm
        seen.add(str(shop.edition()))
    assert len(seen) == 5


def test_a_link_stays_a_link_and_the_rights_stay(tmp_path, monkeypatch):
    target, link = tmp_path / "real.toml", tmp_path / "shop.toml"
    target.write_text("")
    target.chmod(0o640)
    link.symlink_to(target)
    monkeypatch.setenv(shop.VARIABLE, str(link))
    shop_file.save("[bed]\nx_mm = 1000\n", shop_file.read_file().stamp)
    assert link.is_symlink()
    assert tree(target)["bed"]["x_mm"] == 1000
    assert target.stat().st_mode & 0o777 == 0o640


def test_a_file_that_is_named_and_not_there_can_be_made_here(client, tmp_path, monkeypatch):
    path = tmp_path / "new" / "shop.toml"
    monkeypatch.setenv(shop.VARIABLE, str(path))
    assert "isn't there yet" in unescape(client.get("/shop").text)
    send(client, "/shop", **{"bed.x_mm": "1000"})
    assert tree(path) == {"bed": {"x": "1000 mm"}}


def upload(client, text, stamp=None):
    data = {"stamp": stamp or shop_file.read_file().stamp, "file": (io.BytesIO(text), "ours.toml")}
    return client.post("/shop/file", data=data, headers=HERE, content_type="multipart/form-data")


def test_the_file_is_downloaded_and_uploaded_whole(client, own_file):
    text = '# Fernhollow (invented)\n[bed]\nx = "50 in"\n'
    assert upload(client, text.encode()).status_code == 303
    assert own_file.read_text() == text
    answer = client.get("/shop/file.toml")
    assert answer.text == text
    assert "attachment" in answer.headers["Content-Disposition"]


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (b"[bed]\nx_mm = -1\n[machine]\nslat_pitch = 1\n", "ours.toml: machine.slat_pitch is 1; it must be at least"),
        (b"x = ", "ours.toml can't be read as TOML"),
        (b"\xff\xfe", "ours.toml is no UTF-8 text"),
        (b"#" * 300_000, "ours.toml has 300000 bytes"),
    ],
)  # fmt: skip
def test_an_upload_that_would_not_load_changes_nothing(client, own_file, text, sentence):
    answer = upload(client, text)
    assert answer.status_code == 422
    assert sentence in unescape(answer.text)
    assert own_file.read_text() == ""


def test_an_upload_over_another_edition_is_told(client, own_file):
    assert upload(client, b"[bed]\nx_mm = 900\n", stamp="0123").status_code == 409
    assert own_file.read_text() == ""


@pytest.mark.parametrize(
    "headers",
    [
        pytest.param({}, id="nobody says where from"),
        pytest.param({"Sec-Fetch-Site": "cross-site"}, id="another site"),
        pytest.param({"Sec-Fetch-Site": "same-site"}, id="another port"),
        pytest.param({"Sec-Fetch-Site": "cross-site", "Origin": "http://localhost"}, id="the browser knows better"),
        pytest.param({"Origin": "http://attacker.example"}, id="another origin"),
        pytest.param({"Origin": "null"}, id="no origin"),
        pytest.param({"Origin": "http://localhost:81"}, id="another port's origin"),
        pytest.param({**HERE, "Host": "attacker.example"}, id="a strange name that leads here"),
        pytest.param({**HERE, "Host": "192.168.1.9:8765"}, id="an address it isn't served on"),
        pytest.param({**HERE, "Host": "localhost.attacker.example"}, id="a longer name"),
    ],
)
@pytest.mark.parametrize("address", ["/shop", "/shop/laser", "/shop/file"])
def test_a_form_from_elsewhere_is_refused(client, own_file, address, headers):
    fields = {**form(client, "/shop"), "bed.x_mm": "1000"}
    answer = client.post(address, data=fields, headers=headers)
    assert answer.status_code == 403
    assert own_file.read_text() == ""
    if "Host" in headers and address != "/shop/file":
        assert client.get("/shop", headers=headers).status_code == 403


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://localhost"},
        {"Origin": "http://127.0.0.1:8765", "Host": "127.0.0.1:8765"},
        {"Origin": "http://[::1]:8765", "Host": "[::1]:8765"},
    ],
)
def test_a_form_of_its_own_without_fetch_headers_is_taken(client, own_file, headers):
    fields = {**form(client, "/shop"), "bed.x_mm": "1000"}
    assert client.post("/shop", data=fields, headers=headers).status_code == 303


def test_the_page_lets_a_browser_say_where_its_form_comes_from(client):
    """With no-referrer a browser sends `Origin: null` with a form (Fetch standard, 3.1: Origin header)."""
    assert client.get("/shop").headers["Referrer-Policy"] == "same-origin"


@pytest.mark.parametrize(
    ("host", "allowed", "status"), [("0.0.0.0", False, 403), ("0.0.0.0", True, 303), ("::1", False, 303)]
)
def test_where_other_machines_reach_the_page_changes_must_be_allowed(own_file, host, allowed, status):
    client = create_app({"LISTENS_ON": host, "SHARED_SHOP_EDITS": allowed}).test_client()
    fields = {**form(client, "/shop"), "bed.x_mm": "1000"}
    assert client.post("/shop", data=fields, headers=HERE).status_code == status
    page = unescape(client.get("/shop").text)
    assert ("--shop-edits" in page) == (status == 403)
    assert ("readonly" in page) == (status == 403)
    by_number = client.get("/shop", headers={"Host": "192.168.1.9:8765"}).status_code
    assert by_number == (403 if host == "::1" else 200)
    assert client.get("/shop", headers={"Host": "attacker.example"}).status_code == 403


def test_a_file_that_is_broken_by_hand_can_be_mended_here(client, own_file):
    own_file.write_text("[bed]\nx_mm = 5\n")
    page = client.get("/shop")
    assert page.status_code == 200
    assert "bed.x_mm is 5; it must be at least 100 mm" in page.text
    assert send(client, "/shop", **{"bed.x_mm": "1000"}).status_code == 303
    own_file.write_text("[bed\n")
    page = client.get("/shop/laser")
    assert page.status_code == 200
    assert "can't be read as TOML" in unescape(page.text)
    assert upload(client, b"").status_code == 303


@pytest.mark.parametrize("address", ["/shop/lazer", "/shop/file", "/shop/"])
def test_there_is_no_other_process(client, address):
    assert client.get(address).status_code == 404


@pytest.mark.parametrize(
    "typed",
    [
        {"was": "[]"},
        {"was": "x"},
        {"was": "{}", "999999999999.kerf": "1"},
        {"was": '{"0.kerf": 1}', "back": "a.b.c"},
        {"was": "{}", "back": "processes.laser.kerf.steel.rows", "stamp": "x"},
        {"was": "{}", "back": ".rows"},
    ],
    ids=json.dumps,
)
def test_a_form_that_is_not_this_pages_is_answered_calmly(client, own_file, typed):
    stamp = shop_file.read_file().stamp
    assert client.post("/shop/laser", data={"stamp": stamp, **typed}, headers=HERE).status_code in (303, 400, 409, 422)
    assert own_file.read_text() == ""


def test_markup_in_the_file_stays_text(client, own_file):
    own_file.write_text("[bed]\nx_mm = 1000\nsource = '<script>alert(1)</script>'\n")
    assert "<script>alert" not in client.get("/shop").text
    answer = client.post("/shop", data={**form(client, "/shop"), "bed.x_mm": "<b>", "stamp": "x"}, headers=HERE)
    assert answer.status_code == 409
    assert "<b>&lt;" not in answer.text
    assert "&lt;b&gt;" in answer.text
