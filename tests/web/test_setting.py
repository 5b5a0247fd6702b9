"""What a shop works with: asked once, kept in the browser, spoken by every page, and never asked for by a file."""

import json
import re
from html import unescape
from io import BytesIO
from urllib.parse import parse_qs, quote, urlencode, urlsplit

import pytest

import parts
from parts.spec import default_of
from webapp import create_app
from webapp.cli import main

GUSSET = "/parts/gusset-triangle"
ANSWERS = {"units": "in", "process": "laser", "material": "stainless-steel", "bed_x": "60", "bed_y": "120 in"}
SAID = {"units": "in", "process": "laser", "material": "stainless-steel", "bed_x": "60 in", "bed_y": "120 in"}


@pytest.fixture
def browser():
    return create_app({}).test_client()


@pytest.fixture
def inches(browser):
    """A browser in which the question was answered."""
    browser.post("/setting?back=/", data=ANSWERS)
    return browser


def values(address):
    return {name: text for name, (text,) in parse_qs(urlsplit(unescape(address)).query).items()}


def links(page, start):
    return [unescape(found) for found in re.findall(rf'href="({re.escape(start)}[^"]*)"', page.text)]


def cut_of(part):
    """What is cut; numbers that are scribed beside it are in the working units."""
    return [loop.segments for loop in part.profile.boundary]


def fields(page):
    chosen = re.findall(
        r'<select id="(\w+)"[^>]*>\s*(?:<option[^>]*>[^<]*</option>)*?<option value="([^"]*)" selected', page.text
    )
    return dict(re.findall(r'<input id="([\w.]+)" name="[\w.]+" value="([^"]*)"', page.text)) | dict(chosen)


def test_the_question_is_asked_on_the_list_until_it_is_answered_or_put_aside(browser):
    first = browser.get("/")
    assert "What do you work with?" in first.text
    assert "Cookie" in first.headers["Vary"]
    assert browser.get(GUSSET).status_code == 200, "without an answer an address is what it was"
    assert links(first, GUSSET) == [GUSSET]
    assert "What do you work with?" not in browser.get(GUSSET).text
    aside = browser.post("/setting?back=/", data={"units": "mm", "only": "show"})
    assert (aside.status_code, aside.location) == (303, "/")
    assert "What do you work with?" not in browser.get("/").text
    assert links(browser.get("/"), GUSSET) == [GUSSET]
    browser.post("/setting?back=/", data={"units": "in", "bed_x": "60", "only": "show"})
    assert links(browser.get("/"), GUSSET) == [f"{GUSSET}?units=in"], "shown in the units that were chosen"


def test_the_answer_is_kept_a_year_for_this_site_alone(browser):
    kept = browser.post("/setting?back=/", data=ANSWERS).headers["Set-Cookie"]
    assert "Max-Age=31536000" in kept
    assert "SameSite=Lax" in kept
    assert "HttpOnly" in kept


def test_every_link_says_what_the_shop_works_with(inches):
    listed = inches.get("/")
    assert "What do you work with?" not in listed.text
    for slug in parts.templates():
        (link,) = links(listed, f"/parts/{slug}?")
        assert values(link) == SAID
    assert values(inches.get(GUSSET).location) == SAID
    page = inches.get(inches.get(GUSSET).location)
    assert fields(page)["leg_a"] == "4"
    assert fields(page)["bed_x"] == "60 in"
    assert "1 in to 59 in" in page.text
    dxf, dimensioned = sorted(links(page, f"{GUSSET}.dxf"), key=len)
    assert values(dimensioned) == {**values(dxf), "shows": "drawing"}
    whole = parts.draw("gusset-triangle", **values(dxf))
    assert (whole.record.units, whole.record.job.cut.process) == ("in", "laser")
    assert (whole.record.parameters["bed_x"], whole.record.parameters["leg_a"]) == (1524, 101.6)
    for preset in links(page, f"{GUSSET}?")[:4]:
        assert {name: values(preset)[name] for name in SAID} == SAID
    assert "leg_a=2-1/2&" in links(page, f"{GUSSET}?")[0]


@pytest.mark.parametrize(
    ("sought", "slug", "said"),
    [
        ("gusset 4 x 6", "gusset-triangle", {"leg_a": "4", "leg_b": "6"}),
        ("gusset 100 x 150", "gusset-triangle", {"leg_a": "100 mm", "leg_b": "150 mm"}),
        ("nema 23", "plate-motor", {"circle": "2-5/8", "pilot": "1-1/2"}),
        ("dn50 flange", "flange-round", {"od": "165 mm", "bolt_circle": "125 mm"}),
    ],
)
def test_a_search_fills_in_the_units_that_are_worked_in(inches, sought, slug, said):
    (link,) = links(inches.get(f"/?q={quote(sought)}"), f"/parts/{slug}?")
    given = values(link)
    assert {name: given[name] for name in {**said, **SAID}} == {**SAID, **said}
    assert inches.get(link).status_code == 200


def test_an_address_without_units_is_the_part_it_was_shown_in_inches(inches):
    there = inches.get(f"{GUSSET}?leg_a=120&leg_b=5in&holes_a=1").location
    assert values(there)["leg_a"] == "120 mm"
    assert values(there)["leg_b"] == "5in"
    assert (
        parts.draw("gusset-triangle", **values(there)).profile
        == parts.draw("gusset-triangle", leg_a=120, leg_b="5in", holes_a=1).profile
    )
    assert inches.get(f"{GUSSET}?leg_a=120&units=mm").status_code == 200
    refused = inches.get(inches.get(f"{GUSSET}?leg_a=wide").location)
    assert (refused.status_code, 'value="wide"' in refused.text) == (422, True)
    assert inches.get(f"{GUSSET}?leg_a=1&leg_a=2").status_code == 422


def test_files_and_json_read_no_cookie(inches, browser):
    plain = create_app({}).test_client()
    asks = ("dxf?leg_a=120", "json", "svg?units=in", "json?leg_a=5in&units=in")
    for ask in asks:
        address = f"{GUSSET}.{ask}"
        assert inches.get(address).data == plain.get(address).data
    assert inches.get(f"{GUSSET}/remedies.json").json == plain.get(f"{GUSSET}/remedies.json").json
    drawn = BytesIO(b'<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="60mm" viewBox="0 0 90 60">'
                    b'<rect width="90" height="60"/></svg>')  # fmt: skip
    sent = [
        client.post("/check.json", data={"file": (BytesIO(drawn.getvalue()), "a.svg"), "thickness": "6"})
        for client in (inches, plain)
    ]
    assert sent[0].data == sent[1].data
    shown = inches.post("/check", data={"file": (BytesIO(drawn.getvalue()), "a.svg"), "thickness": "1/4 in"})
    assert "<dd>3.543 by 2.362 in</dd>" in shown.text
    in_mm = inches.post("/check", data={"file": (drawn, "a.svg"), "thickness": "1/4 in", "say": "mm"})
    assert "<dd>90 by 60 mm</dd>" in in_mm.text


def test_the_other_pages_speak_it_too(inches):
    assert fields(inches.get("/check"))["thickness"] == "1/4 in"
    assert '<option value="laser" selected>' in inches.get("/check").text
    for address in ("/true", "/true/bend", "/true/sheet"):
        there = inches.get(address).location
        assert values(there)["units"] == "in"
        page = inches.get(there)
        assert 'aria-pressed="true" title="Inches"' in page.text
    assert 'name="nominal.0" value="12"' in inches.get(inches.get("/true").location).text
    assert 'aria-pressed="true" title="Inches"' in inches.get("/shop").text
    assert 'placeholder="52"' in inches.get("/shop").text
    assert inches.get("/true/sheet.toml").text == create_app({}).test_client().get("/true/sheet.toml").text


@pytest.mark.parametrize("slug", ["gusset-triangle", "plate-bearing", "gauge-kerf-comb"])
def test_the_switch_keeps_the_part_and_what_was_typed(browser, slug):
    page = browser.get(f"/parts/{slug}")
    sent = {"typed_in": "mm", **fields(page), "thickness": "10"}
    there = browser.post(f"/setting?back=/parts/{slug}", data={**sent, "now": "in"})
    assert there.status_code == 303
    given = values(there.location)
    assert (given["units"], given["thickness"]) == ("in", "10 mm")
    cut = cut_of(parts.draw(slug, thickness=10))
    assert cut_of(parts.draw(slug, **given)) == cut
    assert browser.get(f"/parts/{slug}").location == f"/parts/{slug}?units=in", "it is kept"
    back = browser.post(f"/setting?{urlencode({'back': there.location})}", data={"now": "mm"})
    assert values(back.location) == {"units": "mm", "thickness": "10 mm"}
    assert cut_of(parts.draw(slug, **values(back.location))) == cut


@pytest.mark.parametrize(
    ("back", "leads"),
    [
        ("/shop/laser?group=steel&units=mm", "/shop/laser?group=steel&units=in"),
        ("/?q=tray", "/?q=tray"),
        ("https://elsewhere.example/", "/"),
        ("//elsewhere.example/", "/"),
        ("/\\elsewhere.example", "/"),
        ("", "/"),
        ("/parts/nothing?leg=1", "/parts/nothing?leg=1"),
        ("/true?template=square-test&units=mm", "/true?template=square-test&units=in"),
    ],
)
def test_the_switch_leads_back_within_this_site_alone(browser, back, leads):
    where = browser.post(f"/setting?{urlencode({'back': back})}", data={"now": "in"}).location
    assert where.split("?")[0] == leads.split("?")[0]
    assert values(leads).items() <= values(where).items()


def test_what_cannot_be_is_refused_by_name_and_not_kept(browser):
    wrong = browser.post("/setting?back=/", data={"units": "ells", "process": "saw", "bed_x": "wide"})
    assert wrong.status_code == 422
    assert "Set-Cookie" not in wrong.headers
    assert 'value="wide"' in wrong.text, "what was typed stays, to be mended"
    assert 'action="/setting?back=/"' in wrong.text
    for sentence in (
        "Working units 'ells': must be one of mm, in",
        "Process 'saw': must be",
        "Bed travel in X 'wide': ",
    ):
        assert sentence in unescape(wrong.text)
    assert browser.post("/setting?back=/", data={"units": "in", "more": "x" * 200_000}).status_code == 413
    other = browser.post("/setting?back=/", data=ANSWERS, headers={"Sec-Fetch-Site": "cross-site"})
    assert (other.status_code, "Set-Cookie" in other.headers) == (403, False)


def test_a_cookie_that_makes_no_sense_is_nothing(browser):
    for text in ("units=ells&process=saw&bed_x=wide&asked=1", "%%%", "x" * 3000, "units=in&process=saw"):
        browser.set_cookie("shop", text)
        assert browser.get("/").status_code == 200
        assert browser.get("/shop").status_code == 200
    browser.set_cookie("shop", "units=in&process=saw&bed_x=48in")
    assert values(browser.get(GUSSET).location) == {"units": "in", "bed_x": "48in"}


def test_the_shops_own_file_says_it_for_pages_and_command(browser, own_file, tmp_path, capsys):
    own_file.write_text('[usual]\nunits = "in"\nprocess = "laser"\n')
    assert values(browser.get(GUSSET).location) == {"units": "in", "process": "laser"}
    assert "What do you work with?" not in browser.get("/").text
    assert browser.get(f"{GUSSET}.json").json["units"] == "mm", "a file's address says it all"
    assert main(["draw", "gusset-triangle", "leg_a=5", "-o", str(tmp_path / "a.json")]) == 0
    assert json.loads((tmp_path / "a.json").read_text())["parameters"]["leg_a"] == 127.0
    assert main(["list", "gusset", "4", "x", "6"]) == 0
    assert "leg_a=4 leg_b=6 units=in" in capsys.readouterr().out
    assert default_of(parts.templates()["gusset-triangle"].parameters.specs()["leg_a"], "in") == 101.6


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ('units = "ells"', "usual.units"),
        ('process = "lazer"', "laser"),
        ('material = "wood"', "usual.material"),
        ('colour = "red"', "accepted: units, process, material"),
    ],
)
def test_a_slip_in_it_is_told(browser, own_file, text, sentence):
    own_file.write_text(f"[usual]\n{text}\n")
    page = browser.get("/")
    assert page.status_code == 200
    assert sentence in unescape(page.text)
