"""The page of a test bend: typed in, worked out, shown before it is kept, kept by this page alone, and used."""

import html
import io
import re

import pytest

from parts import shop
from tests.bends_read import HERE, form, toml


def shown_in(page):
    """What the page says it would keep, as its form sends it along."""
    return html.unescape(re.search(r'name="shown" value="([^"]*)"', page)[1])


def answered(client, *strips, **common):
    return client.post("/true/bend", data=form(*strips, **common))


def keep(client, *strips, headers=HERE, shown=None, **common):
    fields = form(*strips, **common)
    shown = shown_in(client.post("/true/bend", data=fields).text) if shown is None else shown
    return client.post("/true/bend/keep", data=fields | {"shown": shown}, headers=headers)


def test_the_form_is_of_the_strips_that_the_address_draws(client):
    page = client.get("/true/bend?thickness=3&strips=3&material=aluminium&bend_line=50").text
    assert len(re.findall(r'name="flat\.\d"', page)) == 3
    for field in ('value="3"', '<option value="aluminium" selected>', 'name="bend.bend_line" value="50"'):
        assert field in page
    assert "/parts/gauge-test-bend?thickness=3" in html.unescape(page)
    assert "A press brake crushes" in page


def test_values_that_draw_no_strip_are_refused_on_the_page(client):
    answer = client.get("/true/bend?bend_line=900")
    assert answer.status_code == 422
    assert "must be" in answer.text


def test_what_the_strips_say_is_shown_with_what_would_be_kept(client, own_file):
    page = answered(client).text
    for text in ("Bend deduction", "95 % interval", "K and the inside radius go together", "Machinery"):
        assert text in page
    assert shown_in(page).startswith("mild steel, 3 mm over a V of 24 mm: your test bend of 2026-03-14, K 0.419 ")
    assert not own_file.read_text(), "nothing is written by that"


def test_it_is_kept_and_drawn_by_and_named_on_every_part_it_suits(client, own_file):
    before = client.get("/parts/bracket-bent-u?thickness=3").text
    assert "your test bend" not in before
    assert "/true/bend?template=gauge-test-bend&amp;thickness=3mm" in before
    answer = keep(client)
    assert answer.status_code == 303
    assert answer.headers["Location"] == "/shop?units=mm&bend=mild-steel#test-bends"
    machine = client.get("/shop?bend=mild-steel").text
    assert "Mild steel, 3 mm over a V of 24 mm: your test bend of 2026-03-14" in machine
    assert "Bent parts it suits are drawn by it" in machine
    part = client.get("/parts/bracket-bent-u?thickness=3").text
    assert "K: your test bend of 2026-03-14. V opening: 24 mm." in part
    assert "Expected deviation by that test, 95 %: the deduction of a bend" in part
    assert "both bends together" in part
    said = client.get("/parts/bracket-bent-u.json?thickness=3").get_json()["bends"]
    assert {bend["k_kind"] for bend in said} == {"yours"}
    assert all(bend["deduction"] == pytest.approx(5.64, abs=0.03) for bend in said)
    assert all(0.05 < bend["deduction_margin95"] < 0.15 for bend in said)
    other = client.get("/parts/bracket-bent-u?thickness=4").text
    assert "your test bend" not in other


def test_kept_again_it_says_whose_place_it_takes(client, own_file):
    keep(client)
    page = answered(client, date="2026-04-01").text
    assert "It takes the place of mild steel, 3 mm over a V of 24 mm: your test bend of 2026-03-14" in shown_in(page)
    assert "Test bends kept so far" in page


def test_what_was_not_shown_is_not_written(client, own_file):
    answer = keep(client, shown="mild steel: something else")
    assert answer.status_code == 200
    assert "Nothing was written" in answer.text
    assert not own_file.read_text()
    shown = shown_in(answered(client).text)
    changed = keep(client, {"leg_a": "67.70 mm"}, shown=shown)
    assert "Nothing was written" in changed.text
    assert not own_file.read_text()


@pytest.mark.parametrize("headers", [{}, {"Origin": "http://elsewhere.example"}, {"Sec-Fetch-Site": "cross-site"}])
@pytest.mark.parametrize("address", ["/true/bend/keep", "/true/bend/forget"])
def test_no_other_page_writes(client, own_file, headers, address):
    assert client.post(address, data=form() | {"shown": "x"}, headers=headers).status_code == 403
    assert not own_file.read_text()


def test_a_slip_is_asked_about_and_kept_once_it_is_ticked(client, own_file):
    slip = ({"leg_a": "87.85 mm", "leg_b": "67.84 mm"}, {"leg_a": "87.91 mm", "leg_b": "67.80 mm"})
    page = answered(client, *slip).text
    assert "Are they exchanged" in page
    assert 'name="bend.confirmed"' in page
    assert "Keep it with" not in page
    assert keep(client, *slip).status_code == 422
    assert not own_file.read_text()
    ticked = answered(client, *slip, confirmed="yes").text
    assert "Keep it with" in ticked
    assert "Are they exchanged" in ticked, "what was confirmed still stands beside its tick"
    assert keep(client, *slip, confirmed="yes").status_code == 303


def test_a_leg_of_one_strip_misread_is_asked_about_as_well(client, own_file):
    misread = ({}, {"leg_b": "88.18 mm"})
    page = answered(client, *misread).text
    assert "Was a leg, the flat or the angle of strip 1 or strip 2 read wrong?" in page
    assert "Keep it with" not in page
    assert keep(client, *misread).status_code == 422
    assert not own_file.read_text()
    assert keep(client, *misread, confirmed="yes").status_code == 303


def test_it_is_taken_out_again_where_the_file_is_the_one_looked_at(client, own_file):
    keep(client)
    stamp = re.search(r'name="stamp" value="([^"]*)"', client.get("/shop").text)[1]
    gone = {"material": "mild-steel", "number": "1", "units": "in"}
    stale = client.post("/true/bend/forget", data=gone | {"stamp": "0"}, headers=HERE)
    assert stale.status_code >= 400
    assert "has been changed since" in stale.text
    assert (
        client.post("/true/bend/forget", data=gone | {"stamp": stamp, "number": "7"}, headers=HERE).status_code == 422
    )
    answer = client.post("/true/bend/forget", data=gone | {"stamp": stamp}, headers=HERE)
    assert answer.status_code == 303
    assert not shop.load(shop.edition()).test_bends
    assert "None yet" in client.get("/shop").text


def test_what_cant_be_used_is_told_beside_its_field(client):
    answer = answered(client, {"leg_b": None}, {"between_deg": "30"}, thickness=None, v_opening="wide")
    assert answer.status_code == 422
    for name in ("leg_b.0", "between_deg.1", "bend.thickness", "bend.v_opening"):
        assert f'id="say-{name}"' in answer.text
    empty = client.post("/true/bend", data={"units": "mm", "do": "solve"})
    assert "Type in what you measured" in empty.text


def test_the_file_comes_back_as_it_was_and_fills_the_form_in(client):
    made = client.post("/true/bend", data=form() | {"do": "toml"})
    assert made.mimetype == "application/toml"
    for text in (made.text, toml()):
        filled = client.post("/true/bend", data={"do": "file", "file": (io.BytesIO(text.encode()), "bend.toml")})
        assert filled.status_code == 200
        assert "your test bend of 2026-03-14" in shown_in(filled.text)


@pytest.mark.parametrize(
    "text", ["[machine]\n[[reading]]\nkind = 'centres'\n", "not toml [", "", "bend = 3\n", "units = 'ft'\n[bend]\n"]
)
def test_a_file_of_something_else_is_refused(client, text):
    answer = client.post("/true/bend", data={"do": "file", "file": (io.BytesIO(text.encode()), "bend.toml")})
    assert answer.status_code == 422
    assert "Not in order yet" in answer.text


def test_more_strips_and_other_units(client):
    more = client.post("/true/bend", data=form() | {"do": "more"}).text
    assert len(re.findall(r'name="flat\.\d"', more)) == 4
    inches = client.post("/true/bend", data=form() | {"do": "in"}).text
    assert 'name="flat.0" value="150.04 mm"' in inches
    assert 'name="bend.v_opening" value="24 mm"' in inches


def test_programs_get_what_the_command_prints(client):
    said = client.post("/true.json", data=toml()).get_json()
    assert said["k"]["low95"] < said["k"]["value"] < said["k"]["high95"]
    assert client.post("/true.json", json={"bend": {}, "strip": []}).status_code == 422


def test_the_page_of_tables_leads_there(client):
    assert 'href="/true/bend?units=mm"' in client.get("/true").text
    assert client.get("/true?template=gauge-test-bend&thickness=3").headers["Location"].startswith("/true/bend?")
    sheet = client.get("/true/sheet?template=gauge-test-bend&strips=3").text
    for letter in ("T", "V", "R", "F1", "A3", "C3"):
        assert f'<th scope="row">{letter}</th>' in sheet
    assert "/true/bend?template=gauge-test-bend" in sheet
    assert "Measure them and set your brake" in client.get("/parts/gauge-test-bend").text


def test_the_sheet_is_printed_and_filled_in(client):
    assert client.get("/true/sheet.pdf?template=gauge-test-bend").data.startswith(b"%PDF")
    text = client.get("/true/sheet.toml?template=gauge-test-bend&thickness=3&strips=3").text
    assert text.count("[[strip]]") == 3
    blank = client.post("/true/bend", data={"do": "file", "file": (io.BytesIO(text.encode()), "sheet.toml")})
    assert blank.status_code == 200
    assert len(re.findall(r'name="flat\.\d"', blank.text)) == 3


def test_while_the_shops_file_is_broken_it_is_worked_out_and_not_kept(client, own_file):
    own_file.write_text("[bed\n", encoding="utf-8")
    assert client.get("/true/bend").status_code == 200
    page = answered(client)
    assert page.status_code == 422
    assert "can't be read as TOML" in html.unescape(page.text)
    assert "Bend deduction" in page.text
    assert "Keep it with" not in page.text
    assert keep(client, shown="x").status_code == 422
    assert own_file.read_text(encoding="utf-8") == "[bed\n"


def test_where_the_page_is_shared_it_keeps_nothing(own_file):
    from webapp import create_app

    shared = create_app({"LISTENS_ON": "0.0.0.0"}).test_client()
    page = shared.post("/true/bend", data=form(), headers={"Host": "localhost"}).text
    assert "can only be read" in page
    assert "Keep it with" not in page
    assert shared.post("/true/bend/keep", data=form(), headers=HERE).status_code == 403
