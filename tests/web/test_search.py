"""The search on the page: what it found best first, links filled in with the sizes, and what was left out said."""

import gzip
import re
from html import unescape
from urllib.parse import parse_qs, urlsplit

import pytest

import parts
from tests.depth import DEEP, one_in, several
from tests.web.test_page import Page


def found(client, sought):
    """The addresses in the list, best first."""
    links = [a["href"] for a in Page(client.get("/", query_string={"q": sought}).text).of("a")]
    return [unescape(link) for link in links if link.startswith("/parts/")]


def told(client, sought):
    text = client.get("/", query_string={"q": sought}).text
    return unescape(re.search(r'class="count" role="status">(.*?)</p>', text)[1]), [
        (kind, unescape(said)) for kind, said in re.findall(r'class="(filled|left-out)">(.*?)</span>', text)
    ]


@pytest.mark.parametrize(
    ("sought", "path", "values"),
    [
        ("4 x 6 gusset 3/16", "gusset-triangle", {"leg_a": "4", "leg_b": "6", "thickness": "3/16", "units": "in"}),
        ("2x2 cap", "plate-cap", {"width": "2", "height": "2", "units": "in"}),
        ("1/4 base plate 6x6 m12", "plate-base",
         {"width": "6", "height": "6", "thickness": "1/4", "bolt": "M12", "units": "in"}),
        ("100 x 60 x 3 mm cap", "plate-cap", {"width": "100", "height": "60", "thickness": "3"}),
        ("60 mm pipe cap", "plate-cap", {"section": "round", "tube": "60"}),
        ("tray 300x200x100", "box-tray", {"length": "300", "width": "200", "height": "100"}),
    ],
)  # fmt: skip
def test_the_link_carries_the_sizes_and_draws_with_them(client, sought, path, values):
    first = urlsplit(found(client, sought)[0])
    assert first.path == f"/parts/{path}"
    assert {name: text for name, (text,) in parse_qs(first.query).items()} == values
    assert client.get(first.geturl()).status_code == 200


def test_it_says_what_it_filled_in(client):
    assert ("filled", "4 by 6 in, 3/16 thick") in told(client, "4 x 6 gusset 3/16")[1]


def test_it_says_what_it_left_out_and_why(client):
    (kind, said), *_ = told(client, "2x2 base plate")[1]
    assert kind == "left-out"
    assert said.startswith("2 by 2 in isn't filled in: ")
    assert "1-1/4 in" in said
    assert found(client, "2x2 base plate")[0] == "/parts/plate-base"


def test_no_link_leads_to_a_refusal(client):
    """Sizes at the edge of what is accepted, over all templates: a filled form is drawn. In a deep run all of each."""
    every = ("1x1", "2000 x 10", "1/2 plate m36", "9 ft x 1/8")
    for at, template in enumerate(one_in(4, parts.templates().values())):
        for sought in every if DEEP else (every[at % len(every)],):
            for link in found(client, f"{template.title} {sought}")[: several(2, deep=3)]:
                assert client.get(link).status_code == 200, (sought, link)


def test_words_that_nothing_goes_by_are_said(client):
    assert told(client, "flibber gusset")[0].startswith("No part goes by “flibber”; by the rest go ")
    assert (
        told(client, "zzzz")[0]
        == f"0 of the {len(parts.templates())} parts go by “zzzz”, and none is called much like it."
    )
    assert told(client, "traingle")[0].startswith("“traingle” is read as triangle. ")
    assert "Show all the parts" in client.get("/?q=zzzz").text


def test_the_nearest_is_shown_where_nothing_fits(client):
    assert told(client, "flowrrs pott")[0].startswith(("No part goes by", "“"))
    assert found(client, "flowrrs")[0] == "/parts/silhouette-flower"


def test_the_list_is_at_most_100_kb_over_the_wire(client):
    answer = client.get("/", headers={"Accept-Encoding": "gzip, deflate, br"})
    assert answer.headers["Content-Encoding"] == "gzip"
    assert "Accept-Encoding" in answer.headers["Vary"]
    assert len(answer.data) < 100_000
    assert gzip.decompress(answer.data) == client.get("/").data
    assert "Content-Encoding" not in client.get("/", headers={"Accept-Encoding": "gzip;q=0"}).headers


def test_markup_in_a_search_stays_text(client):
    assert "<b>" not in client.get("/", query_string={"q": "<b>4x6</b> gusset"}).text


def test_who_looks_for_a_picture_is_led_to_tracing(client):
    leads = "makes a part of a logo"
    assert all(leads in client.get("/", query_string={"q": q}).text for q in ("trace a logo", "Photo"))
    assert all(leads not in client.get("/", query_string={"q": q}).text for q in ("", "gusset"))
