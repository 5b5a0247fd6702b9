"""What goes wrong is answered calmly: the contract's shape for programs, a page with a way on for people."""

import logging
import re
from html import unescape

import pytest

from parts.part import Part
from tests.web.refusals import assert_refusal
from webapp import create_app

GUSSET = "/parts/gusset-triangle"


@pytest.mark.parametrize("ending", [".dxf", ".svg", ".pdf", ".step", ".json", ".dwg"])
def test_an_unknown_template_for_a_program(client, ending):
    assert_refusal(client.get(f"/parts/nothing-here{ending}"), 404, "template")


@pytest.mark.parametrize("address", ["/parts/nothing-here", "/nowhere", f"{GUSSET}/", "/parts/%2e%2e%2fsetup"])
def test_an_unknown_address_for_a_person(client, address):
    answer = client.get(address)
    assert answer.status_code == 404
    assert answer.mimetype == "text/html"
    assert "Nothing here" in answer.text
    assert 'href="/"' in answer.text


def test_a_markup_in_an_address_stays_text(client):
    for address in ("/parts/<script>alert(1)</script>", f"{GUSSET}?toe=<script>1</script>&<b>=1", "/?q=<script>"):
        assert "<script>" not in client.get(address).text.replace('<script type="module"', "")
        assert "<b>=" not in client.get(address).text


@pytest.mark.parametrize("method", ["put", "delete", "patch"])
def test_nothing_can_be_put_at_an_address_or_taken_from_it(client, method):
    answer = getattr(client, method)(f"{GUSSET}.dxf")
    assert_refusal(answer, 405, "address")
    assert "GET" in answer.headers["Allow"]
    assert getattr(client, method)(GUSSET).status_code == 405
    assert getattr(client, method)("/numbers").status_code == 405


def test_what_nobody_foresaw_is_logged_and_told_calmly(monkeypatch, caplog):
    def broken(*_, **__):
        raise ZeroDivisionError("secret detail")

    monkeypatch.setattr(Part, "__init__", broken)
    client = create_app().test_client()
    with caplog.at_level(logging.ERROR):
        for_people, for_programs = client.get(GUSSET), client.get(f"{GUSSET}.dxf")
    assert for_people.status_code == for_programs.status_code == 500
    assert "not with what you typed" in for_people.text
    assert "secret" not in for_people.text + for_programs.text
    assert "Traceback" not in for_people.text
    assert "secret detail" in caplog.text
    assert_refusal(for_programs, 500, "server")


@pytest.mark.parametrize("written", ["[materials.mild-steel]\ndensity_kg_per_m3 = -1\n", "[bed\n", "\x00", None])
def test_an_unusable_file_of_the_shops_own_is_named_and_the_built_in_numbers_go_on(client, own_file, written):
    by_built_in = client.get(f"{GUSSET}.json").get_json()
    if written is None:
        own_file.unlink()
    else:
        own_file.write_text(written)
    for address in ("/", GUSSET, "/check", "/shop", "/shop/laser", "/true", "/true/history", "/true/sheet", "/nowhere"):
        answer = client.get(address)
        assert answer.status_code == (404 if address == "/nowhere" else 200)
        (told,) = re.findall(r'<p class="trouble" role="alert">(.*?)</p>', answer.text)
        assert own_file.name in told
        assert told.endswith("all is drawn and judged by the built-in numbers.")
    found = client.get(f"{GUSSET}.json").get_json()
    assert own_file.name in found["cautions"].pop(0)
    assert found == by_built_in
    own_file.write_text("[bed]\nx_mm = 900\n")
    assert "trouble" not in client.get(GUSSET).text
    assert client.get(f"{GUSSET}.json").get_json()["parameters"]["bed_x"] == 900


@pytest.mark.parametrize(
    ("address", "size", "limit"),
    [
        ("/check", 40_000_000, "a drawing may have 20 MB"),
        ("/shop/file", 600_000, "a file of a shop's own numbers may have 256 kB"),
        ("/true", 2_100_000, "a form or a file of measurements may have 2 MB"),
        ("/true/keep", 2_100_000, "a form or a file of measurements may have 2 MB"),
        ("/true/history/load", 20_100_000, "a file of entries may have 20 MB"),
    ],
)
def test_more_than_an_address_allows_is_told_its_own_limit(client, address, size, limit):
    form = "multipart/form-data; boundary=x"
    answer = client.post(address, data=b"0" * size, content_type=form, headers={"Sec-Fetch-Site": "same-origin"})
    assert answer.status_code == 413
    assert f"That is too much: {limit}." in unescape(answer.text)
