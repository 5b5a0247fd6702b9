"""A refusal offers ways on: links that lead to a part that can be drawn, and the same for programs."""

import html
import json
import re

import pytest

import parts

WAYS = re.compile(r'<span class="ways">(.*?)</span>', re.DOTALL)
LINK = re.compile(r"<a class=\"remedy\" href=\"([^\"]+)\" data-changes='([^']+)'>(.*?)</a>")


def ways(page):
    """The addresses, changes and texts of the first place with ways on."""
    return [
        (html.unescape(a), json.loads(html.unescape(c)), html.unescape(t))
        for a, c, t in LINK.findall(WAYS.search(page)[1])
    ]


@pytest.mark.parametrize(("address", "text"), [
    ("gusset-triangle?toe=400", "Blunt end of each leg: 84 mm"),
    ("gusset-triangle?toe=129.4", "Blunt end of each leg: 84 mm"),
    ("gusset-triangle?toe=4,5", "Blunt end of each leg: 12 mm"),
    ("gusset-triangle?leg_a=25&toe=24", "Snipe at the root: 0 mm"),
    ("gusset-triangle?material=brass", "Process: Abrasive waterjet"),
    ("gusset-triangle?process=lasr", "Process: Laser"),
    ("gusset-triangle?thickness=90", "Thickness: 25.4 mm"),
    ("gusset-triangle?holes_a=1&bolt=M8&hole=5", "Bolt: by diameter"),
    ("plate-bumper?lamps=rectangle&lamp_height=4000", "Lamp height: 189 mm"),
    ("gusset-triangle?colour=red", "Leave out what can\u2019t be used"),
    ("gusset-triangle?compensate=99", "Leave out what can\u2019t be used"),
])  # fmt: skip
def test_each_way_leads_to_a_part_that_is_drawn(client, address, text):
    answer = client.get(f"/parts/{address}")
    assert answer.status_code == 422
    found = ways(answer.text)
    for to, _, _ in found:
        assert client.get(to).status_code == 200
    assert found[0][2] == text


def test_programs_are_told_them_too(client):
    answer = client.get("/parts/gusset-triangle/remedies.json?toe=129.4")
    assert answer.status_code == 422
    assert answer.json["ways"][0] == {"text": "Blunt end of each leg: 84 mm", "values": {"toe": "84 mm"}}
    assert "ways" not in client.get("/parts/gusset-triangle.json?toe=129.4").json


def test_the_row_at_fault_is_in_use(client):
    page = client.get("/parts/plate-bumper?lamps=rectangle&lamp_height=4000").text
    row = re.search(r'<div class="(row[^"]*)" data-parameter="lamp_height">', page)[1]
    assert row == "row wrong"


def test_while_someone_types_they_are_left_to_be_asked_for(client):
    live = {"Platewright-Live": "1"}
    answer = client.get("/parts/gusset-triangle?typed_in=mm&leg_a=100&toe=129.4", headers=live)
    assert answer.headers["Content-Location"] == "/parts/gusset-triangle?toe=129.4"
    assert (answer.status_code, ways(answer.text)) == (422, [])
    assert client.get("/parts/gusset-triangle?typed_in=mm&toe=129.4").status_code == 302
    assert parts.draw("gusset-triangle", toe="84 mm")


def test_while_someone_types_the_fields_stay_and_what_is_hidden_is_left_out(client):
    """The rows have what is said of them; of dimensions of the second level there is that of the parameter alone."""
    of = {
        live: client.get("/parts/plate-bumper?corner_radius=33", headers={"Platewright-Live": live}).text
        for live in ("", "1", "whole", "following", "following corner_radius")
    }
    assert of[""] == of["1"] == of["whole"]
    rows = [re.findall(r'data-parameter="([a-z_]+)">\s*<span class="letter"', of[live]) for live in ("", "following")]
    assert rows[0] == [name for name in rows[1] if name != "compensate"]
    assert [("<select" in text, "<input id=" in text) for text in of.values()] == [(True, True)] * 3 + [
        (False, False)
    ] * 2
    spare = {live: set(re.findall(r'pw-spare" data-parameter="([a-z_]+)"', text)) for live, text in of.items()}
    assert spare["following corner_radius"] == {"corner_radius"} < spare["following"] == spare[""]
    assert ["pw-as-cut-line" in text and 'id="as-cut-said"' in text for text in of.values()] == [True] * 4 + [False]


def test_a_key_is_answered_without_what_would_mend_it_and_the_rest_with_that(client):
    """It takes many times as long as all else; the page asks anew where `data-brief` stands."""

    def said(live):
        headers = {"Platewright-Live": live} if live else {}
        page = client.get("/parts/bracket-strap?long=60", headers=headers).text
        return re.findall(r'class="message">([^<]*)', page), "data-brief" in page, "pw-drawing" in page

    mended = "has no room for 2 holes at each end: make “Length over all” 132 mm or more."
    assert said("following long") == (["must be less than 4.5 mm for 2 holes at each end."], True, False)
    assert said("following") == ([mended], False, False)
    assert said("") == ([mended], False, True)
