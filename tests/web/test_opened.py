"""The page that opens a file again, and the page of drawings that knows one: to the part, or what was edited."""

from io import BytesIO

import pytest

import parts
from tests import library
from tests.files import foreign
from webapp import create_app
from webapp.forms import carried_file

ADDRESS = "/parts/gusset-triangle?leg_a=150mm"


@pytest.fixture
def client():
    return create_app().test_client()


def post(client, data, name, address="/open", **fields):
    return client.post(address, data={"file": (BytesIO(data), name), **fields})


def edited(part):
    return (
        part.to_svg()
        .replace('<g id="OUTSIDE"', '<path d="M 20 90 L 40 90" fill="none" stroke="#000"/><g id="OUTSIDE"')
        .encode()
    )


def test_a_file_as_it_was_written_leads_to_its_part(client):
    part = parts.draw("gusset-triangle", leg_a=150)
    for kind in ("dxf", "pdf", "json"):
        answer = post(client, part.file(kind), f"g.{kind}")
        assert (answer.status_code, answer.headers["Location"]) == (303, ADDRESS)
    assert client.get("/open").status_code == 200


def test_an_edited_file_shows_where_and_goes_on_either_way(client):
    part = parts.draw("gusset-triangle", leg_a=150)
    answer = post(client, edited(part), "g.svg")
    assert answer.status_code == 200
    for said in ("edited since it was written", "In the file alone", "Off by", f'href="{ADDRESS}"', "pw-aside"):
        assert said in answer.text, said
    assert 'name="thickness" value="6mm"' in answer.text
    assert carried_file.packed(edited(part)) in answer.text
    on = client.post(
        "/check", data={"kept": carried_file.packed(edited(part)), "kept_name": "g.svg", "thickness": "6mm"}
    )
    assert on.status_code == 200


@pytest.mark.parametrize(
    ("given", "leads_to"),
    [
        (ADDRESS, ADDRESS),
        (f" http://fernhollow.local:8765{ADDRESS} ", ADDRESS),
        ("https://shop.example/under/parts/plate-base", "/parts/plate-base"),
        ("/parts/gusset-triangle.pdf?leg_a=150mm", ADDRESS),
    ],
)
def test_the_address_on_a_drawing_leads_to_its_part(client, given, leads_to):
    answer = client.post("/open", data={"address": given})
    assert (answer.status_code, answer.headers["Location"]) == (303, leads_to)


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ("gusset", "must be the address of a part"),
        ("/parts/gusset-rhomb", "is of no template here"),
        ("//[/", "must be"),
    ],
)
def test_an_address_of_no_part_is_refused(client, given, said):
    answer = client.post("/open", data={"address": given})
    assert answer.status_code == 422
    assert said in answer.text


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "is empty"),
        (b"%PDF-1.4", "doesn&#39;t say what part it is of"),
        (
            b'<svg><metadata>{"platewright_version": "1", "template": "gusset-triangle", "parameters": {"leg_a": "1"}}'
            b"</metadata></svg>",
            "must be at least",
        ),
    ],
)
def test_what_can_not_be_opened_says_why(client, data, said):
    answer = post(client, data, "<x>.pdf")
    assert answer.status_code == 422
    assert said in answer.text
    assert "<x>" not in answer.text
    assert client.post("/open").status_code == 422


def test_the_page_of_drawings_knows_a_file_of_ours(client):
    part = library.part("gusset-triangle")
    for kind in ("dxf", "pdf"):
        page = post(client, part.file(kind), f"g.{kind}", "/check", thickness="6mm").text
        assert "Platewright wrote this file: Triangular gusset." in page
        assert 'formaction="/open"' in page
    theirs = foreign.svg('<rect width="50" height="50"/>')
    assert "Platewright wrote" not in post(client, theirs, "t.svg", "/check", thickness="6mm").text
