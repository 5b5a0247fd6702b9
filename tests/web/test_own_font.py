"""A part in a font of someone's own: the page, its files and its remedies by what is sent, and by the command."""

import html
import io
import json

import pytest

from parts.data import FOLDER
from tests.web.refusals import assert_refusal
from webapp.cli import main

FONT = FOLDER / "fonts/oswald/oswald-latin-600-normal.woff"
PAGE = "/parts/sign-plate"


def sent(client, address, data=None, **others):
    font = FONT.read_bytes() if data is None else data
    return client.post(address, data={"font_file": (io.BytesIO(font), "Mine.woff"), **others}, buffered=True)


@pytest.fixture(scope="module")
def page(client):
    """The page that answers a form with a font."""
    return sent(client, PAGE, text="FERN", typed_in="mm", cap_height="80")


def test_the_page_says_whose_font_it_is_and_its_address_names_it_and_no_more(client, page):
    assert page.status_code == 200
    assert "Oswald SemiBold, a font of your own: its file isn&#39;t kept here." in page.text
    assert ">Oswald SemiBold</option>" in page.text
    assert "cuts capitals of this face from" in page.text
    assert "no-store" in page.headers["Cache-Control"]
    to = page.headers["Content-Location"]
    assert to.startswith(f"{PAGE}?text=FERN&font=own-"), "what is at its default is left out"
    alone = client.get(to)
    assert alone.status_code == 422
    assert "its file isn&#39;t here: choose it again" in alone.text
    assert '<p class="soft">No file until the marked values can be drawn.</p>' in alone.text


def test_without_scripts_the_page_carries_the_font_and_hands_over_files_in_it(client, page):
    kept = field_of(page, "kept_font")
    word = page.headers["Content-Location"].split("font=")[1]
    form = {"kept_font": kept, "kept_font_name": "Mine.woff", "text": "OAK", "font": word, "typed_in": "mm"}
    again = client.post(PAGE, data=form)
    assert again.status_code == 200
    assert again.headers["Content-Location"] == f"{PAGE}?text=OAK&font={word}"
    file = client.post(f"{PAGE}.json", data=form)
    assert file.get_json()["parameters"]["font"] == word
    other = client.post(PAGE, data={**form, "font": "slab"})
    assert other.headers["Content-Location"] == f"{PAGE}?text=OAK&font=slab"
    torn = client.post(PAGE, data={**form, "kept_font": kept[:-40]})
    assert torn.status_code == 422
    assert "has come apart on this page: choose its file again." in torn.text


def test_without_scripts_remedies_are_looked_for_and_taken_in_the_font(client, page):
    kept = field_of(page, "kept_font")
    word = page.headers["Content-Location"].split("font=")[1]
    form = {"kept_font": kept, "kept_font_name": "Mine.woff", "font": word, "typed_in": "mm", "text": "B"}
    form |= {"thickness": "10", "cap_height": "110", "tie": "8"}
    stopped = client.post(PAGE, data=form)
    assert f'form="dimensions" formaction="{PAGE}/remedies">What would mend' in stopped.text
    solved = client.post(f"{PAGE}/remedies", data=form)
    take = html.unescape(solved.text.split('class="remedy" form="dimensions" name="take" value="')[1].split('"')[0])
    assert f"font={word}" in take
    taken = client.post(PAGE, data={**form, "take": take})
    assert taken.status_code == 200
    assert taken.headers["Content-Location"] == f"{PAGE}?{take}"
    assert field_of(taken, "kept_font") == kept


def test_a_font_that_took_too_long_is_tried_again_with_fewer_letters(client, monkeypatch):
    with monkeypatch.context() as over:
        over.setattr("webapp.pages.part.page.has_overrun", lambda: True)
        given_up = sent(client, PAGE, text="FERN FERN", typed_in="mm")
    assert given_up.status_code == 422
    assert "take a plainer font, or fewer letters" in given_up.text
    form = {name: field_of(given_up, name) for name in ("kept_font", "kept_font_name", "kept_font_waits")}
    again = client.post(PAGE, data={**form, "text": "F", "font": form["kept_font_waits"], "typed_in": "mm"})
    assert "?text=F&font=own-" in again.headers["Content-Location"]
    other = client.post(PAGE, data={**form, "text": "F", "font": "narrow", "typed_in": "mm"})
    assert other.headers["Content-Location"].endswith("?text=F&font=narrow")


def field_of(page, name):
    """The value of a hidden field of a page."""
    return page.text.split(f'name="{name}" value="')[1].split('"')[0]


def test_scripts_send_the_font_beside_an_address_and_get_no_font_back(client, page):
    to = page.headers["Content-Location"]
    live = client.post(
        to, data={"font_file": (io.BytesIO(FONT.read_bytes()), "Mine.woff")}, headers={"Platewright-Live": "following"}
    )
    assert live.status_code == 200
    assert "kept_font" not in live.text
    assert len(live.data) < 80_000
    file = sent(client, to.replace(PAGE, f"{PAGE}.dxf"))
    assert file.status_code == 200
    assert file.headers["Content-Disposition"].startswith('attachment; filename="sign-plate_')
    assert sent(client, f"{PAGE}/remedies.json?text=I&process=waterjet&thickness=1").get_json()["remedies"] == []


def test_what_can_not_be_used_is_told_at_the_field(client):
    bad = sent(client, f"{PAGE}?text=FERN", b"# no font")
    assert bad.status_code == 422
    assert "is no font: a TTF, an OTF or a WOFF of one font is read." in bad.text
    assert sent(client, PAGE, b"").status_code == 422
    assert_refusal(sent(client, f"{PAGE}.dxf?text=FERN", b"# no font"), 422, "font")
    assert client.post(PAGE, data=bytes(22_000_000), content_type="multipart/form-data; boundary=x").status_code == 413
    assert client.post("/parts/gusset-triangle.dxf?leg_a=90").status_code == 200, "without a font it is what it is"


def test_the_command_reads_a_file_and_says_what_it_is_called(capsys, tmp_path):
    assert (
        main(["draw", "sign-plate", "text=I", "process=waterjet", f"font={FONT}", "-o", str(tmp_path / "oak.json")])
        == 0
    )
    assert f"font: Oswald SemiBold, of {FONT}." in capsys.readouterr().err
    assert json.loads((tmp_path / "oak.json").read_text())["parameters"]["font"].startswith("own-")
    for named, why in (
        ("./none.ttf", "can't be read: No such file"),
        (__file__, "is no font"),
        ("sanz", "must be one"),
    ):
        assert main(["draw", "sign-plate", f"font={named}", "-o", "-", "--format", "dxf"]) == 2
        assert why in capsys.readouterr().err
