"""The page that traces a picture of one's own."""

import json
import re

import pytest

from parts.tracing import FORMATS
from tests.unit.test_pictures import KINDS, NOISY, encoded
from tests.unit.test_pictures import REFUSED as UNOPENED
from tests.web.test_check import hidden, post

DISC = KINDS["grey"]


def sent(client, data=DISC, name="disc.png", **fields):
    return post(client, data, name, "/trace", **({"thickness": "3 mm", "width": "200"} | fields))


def test_the_form_says_what_it_takes(client):
    page = client.get("/trace")
    assert page.status_code == 200
    assert 'enctype="multipart/form-data"' in page.text
    assert ".svg, .dxf, .png, .jpg, .jpeg, .webp, up to 20 MB." in page.text
    assert 'href="/trace"' in client.get("/").text


def test_a_picture_is_shown_with_the_outline_over_it_and_goes_with_the_page(client):
    page = sent(client)
    assert page.status_code == 200
    assert '<image href="data:image/png;base64,' in page.text
    assert "img-src 'self' blob: data:;" in page.headers["Content-Security-Policy"]
    assert "data:" not in client.get("/").headers["Content-Security-Policy"]
    assert "Can be cut" in page.text
    kept = hidden(page)
    assert kept["kept_name"] == "disc.png"
    again = sent(client, None, mount="frame", **kept)
    assert "Held what would fall out" not in again.text  # it stands on the frame's foot
    loose = sent(client, None, mount="frame", stands="off", **kept)
    assert "Held what would fall out by" in loose.text
    assert len(re.findall('<line class="bridge"[^>]+><title>bridge ', loose.text)) > 0
    assert "data:image/jpeg" not in loose.text
    hung = sent(client, None, hang="rusted", **kept)
    assert re.search(
        '<img src="data:image/jpeg;base64,[^"]{5000,}" alt="The finished piece as it will look">', hung.text
    )
    assert '<option value="rusted" selected>' in hung.text


def test_the_size_is_asked_for_and_the_picture_shown_meanwhile(client):
    page = sent(client, width="0")
    assert page.status_code == 422
    assert "isn&#39;t given: say how wide the finished piece shall be, as 300 mm or 12 in" in page.text
    assert '<image href="data:image/png;base64,' in page.text
    assert hidden(page)["kept"]


def test_a_file_too_large_for_the_page_goes_with_it_in_grey(client, monkeypatch):
    padded = DISC + bytes(NOISY.integers(0, 255, 30_000, dtype="uint8"))
    whole = sent(client, padded)
    monkeypatch.setattr("webapp.forms.carried_file.LARGEST_KEPT", 20_000)
    kept = hidden(sent(client, padded))
    assert 0 < len(kept["kept"]) <= 20_000 < len(hidden(whole)["kept"])
    outlines = [re.findall(r'<path d="(M[^"]+Z)"/></svg>', page.text) for page in (whole, sent(client, None, **kept))]
    assert outlines[0] == outlines[1] != []


@pytest.mark.parametrize("kind", FORMATS)
def test_every_file_is_handed_over(client, kind):
    answer = sent(client, **{"as": kind})
    assert answer.status_code == 200
    assert re.search(rf'filename="disc_traced\w*\.{kind}"', answer.headers["Content-Disposition"])
    if kind == "json":
        found = json.loads(answer.data)
        assert found["measures"]["width_mm"] == pytest.approx(200, abs=1e-6)
        assert found["template"] == "own-outline"
        assert found["traced"]["scale_mm"] == pytest.approx(200 / 80, rel=0.01)


def test_what_is_refused_is_said_in_a_sentence_beside_its_row(client):
    noise = encoded(_noise())
    for data, name, said in (
        (UNOPENED["GIF"][0], "a.gif", "a.gif can&#39;t be traced: it is a GIF; save it as PNG, JPEG or WebP."),
        (UNOPENED["a bomb"][0], "b.png", "b.png can&#39;t be traced: it unfolds to far more than 50 million pixels."),
        (UNOPENED["cut short"][0], "c.png", "c.png can&#39;t be traced: it is cut short; send the whole file."),
        (
            b"hello",
            "d.txt",
            "d.txt can&#39;t be traced: it is no PNG, JPEG or WebP picture, and no SVG or DXF drawing.",
        ),
        (b"", "e.png", "e.png can&#39;t be traced: it is empty."),
        (noise, "f.png", "than can be cut"),
    ):
        page = sent(client, data, name)
        assert page.status_code == 422, name
        assert said in page.text
    assert "Choose a picture, an SVG or a DXF." in sent(client, None).text
    for field, value, said in (
        ("width", "wide", "“wide”"), ("threshold", "120", "must be at most 98."),
        ("mount", "pole", "must be one of none, plate, frame, bar, stake"), ("height", "90", "give one of them"),
    ):  # fmt: skip
        page = sent(client, **{field: value})
        assert page.status_code == 422
        row = page.text.split(f'data-parameter="{field}"')[1].split("</div>")[0]
        assert said in row.replace("&#39;", "'") or 'class="message"' in row, field


def _noise():
    from PIL import Image

    return Image.fromarray(NOISY.integers(0, 255, (900, 900), dtype="uint8"))
