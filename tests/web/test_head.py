"""What every page has: the same head, with the place one is at marked; and how much of it goes over the wire."""

import gzip
import re

import pytest

PLACES = {
    "/": "Parts", "/jobs": "Jobs", "/check": "Your drawing", "/trace": "Trace a picture", "/true": "True your table",
    "/shop": "Your machine",
}  # fmt: skip
HEAD = re.compile(r"<header class=\"strip\">.*?</header>", re.DOTALL)


@pytest.mark.parametrize(("page", "place"), [
    ("/", "/"), ("/?q=gusset", "/"), ("/parts/gusset-triangle", "/"), ("/parts/gusset-triangle?toe=400", "/"),
    ("/jobs", "/jobs"), ("/check", "/check"), ("/trace", "/trace"), ("/true", "/true"), ("/true/sheet", "/true"),
    ("/true/bend", "/true"), ("/true/history", "/true"), ("/shop", "/shop"),
    ("/shop/laser", "/shop"), ("/numbers", "/shop"), ("/nothing", ""),
])  # fmt: skip
def test_every_page_has_the_same_head_and_says_where_it_is(client, page, place):
    (head,) = HEAD.findall(client.get(page).get_data(as_text=True))
    links = re.findall(r'<a href="([^"]+)"( aria-current="\w+")?>(.*?)</a>', head)
    assert {address: re.sub("<[^>]+>", "", text) for address, _, text in links} == PLACES
    here = {address: current for address, current, _ in links if current}
    is_the_place = page.split("?")[0] == place
    assert here == ({place: f' aria-current="{"page" if is_the_place else "true"}"'} if place else {})


@pytest.mark.parametrize(
    "part", ["box-closed", "plate-bumper?lamp_spacing=1100&thickness=8&lamp_up=198", "square-test"]
)
def test_a_part_is_at_most_80_kb_over_the_wire(client, part):
    plain = client.get(f"/parts/{part}")
    packed = client.get(f"/parts/{part}", headers={"Accept-Encoding": "gzip, deflate, br"})
    assert packed.headers["Content-Encoding"] == "gzip"
    assert len(packed.data) < 80_000
    assert gzip.decompress(packed.data) == plain.data
